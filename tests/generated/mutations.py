"""Files of jobs with something broken in them: a line gone, a letter changed, a number beyond all bounds.

A mutation is drawn from a seed, so that one that does harm can be made again by its number. `outcome` says
what the command ``check`` finds: faults, each with a file and a rule, or nothing; `made` what the command
``make`` comes to. Anything else is raised.
"""

from __future__ import annotations

import io
import json
import re
import shutil
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import lxml.html
from bounds import beyond
from forked import Forking

from reportkit.app.archive import runs_of
from reportkit.app.audit import audit
from reportkit.app.checks import checked as check
from reportkit.base.errors import InputError

#: What a mutation may put in place of a word or a number: nothing, other kinds, ends of ranges, hostile text.
WORDS = (
    "", "0", "-1", "1e308", "1e-308", "nan", "-inf", "1e5", "0.0001", "99999999999999999999999", "1_0", "٣",
    "true", "null", "~", "[]", "{}", "[[[[[[[[1]]]]]]]]", "*a", "&a x", "!!python/none x", "<<", "---",
    "2026-02-30", "24:60", "12 3/0 in", "5 ft 99 in", "1/0", "½", "1,5", "1.234,5", "1524 mm", "-3 m2",
    "90 C", "<script>x()</script>", "=1+1",
    "#set page()", "$x^2$", "\\\\[x\\\\]", "../../etc/passwd", "/dev/null",
    "\\u202eabc", "\u202eabc", "\ufeff", "\u0000", "\u2028", "x" * 5000, "living", "west", "grey", "L1",
    "none", "'", '"', '""', "#", ": ", "- ", "\t", "é", "\U0001f600", "￥", "arch 0 mm",
    "polygon 0 x 0", "A1:B2",
)  # fmt: skip
_TOKEN = re.compile(r"-?\d[\d.]*|[^\W\d_][\w-]*")


def _lines(text: str, random: Random) -> str:
    """Take out, repeat, swap, indent or cut off lines."""
    lines = text.split("\n")
    here, there = random.randrange(len(lines)), random.randrange(len(lines))
    way = random.randrange(6)
    if way == 0:
        del lines[here]
    elif way == 1:
        lines.insert(there, lines[here])
    elif way == 2:
        lines[here], lines[there] = lines[there], lines[here]
    elif way == 3:
        lines[here] = " " * random.randint(1, 5) + lines[here]
    elif way == 4:
        lines[here] = lines[here].lstrip()
    else:
        lines = lines[:here]
    return "\n".join(lines)


def _word(text: str, random: Random) -> str:
    """Put something else in place of a word or a number."""
    found = list(_TOKEN.finditer(text))
    if not found:
        return text + random.choice(WORDS)
    token = random.choice(found)
    return text[: token.start()] + random.choice(WORDS) + text[token.end() :]


def _swapped(text: str, random: Random) -> str:
    """Put a word of the file in place of another."""
    found = list(_TOKEN.finditer(text))
    if len(found) < 2:
        return text
    one, other = random.choice(found), random.choice(found)
    return text[: one.start()] + other.group() + text[one.end() :]


def _number(text: str, random: Random) -> str:
    """Make a number larger, smaller, negative or odd."""
    found = list(re.finditer(r"\d+(?:\.\d+)?", text))
    if not found:
        return text
    token = random.choice(found)
    by = random.choice((-1.0, 0.0, 0.001, 0.1, 0.5, 0.9, 1.1, 2.0, 3.7, 10.0, 60.0, 1000.0, 1e6))
    return text[: token.start()] + f"{float(token.group()) * by:.10g}" + text[token.end() :]


def _letter(text: str, random: Random) -> str:
    """Change, add or take out one character."""
    here = random.randrange(len(text) + 1)
    put = random.choice(("", chr(random.randrange(1, 0x250)), random.choice(":,-#'\"[]{}|>&*!%@`\t\n\r =;")))
    return text[:here] + put + text[here + random.randrange(2) :]


TEXT: tuple[Callable[[str, Random], str], ...] = (_word, _word, _number, _number, _swapped, _lines, _letter)


def _bytes(data: bytes, random: Random) -> bytes:
    """Change some bytes, whatever they are, or cut the file off."""
    if random.random() < 0.3:
        return data[: random.randrange(len(data) + 1)]
    changed = bytearray(data)
    for _ in range(random.choice((1, 1, 3, 30))):
        if changed:
            changed[random.randrange(len(changed))] = random.randrange(256)
    return bytes(changed)


def _text(data: bytes, random: Random) -> bytes:
    text = data.decode("utf-8")
    for _ in range(random.choice((1, 1, 1, 2, 5))):
        text = random.choice(TEXT)(text, random)
    return text.encode("utf-8", "surrogatepass")


def _zipped(data: bytes, random: Random) -> bytes:
    """Change one file inside a workbook."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        names = old.namelist()
        sheets = [name for name in names if "sheet" in name.lower() or "shared" in name.lower()]
        mine = random.choice(sheets if random.random() < 0.8 else names)
        for name in names:
            content = old.read(name)
            if name == mine:
                content = _cell(content, random) if random.random() < 0.7 else _text(content, random)
            new.writestr(name, content)
    return out.getvalue()


def _cell(content: bytes, random: Random) -> bytes:
    """Change what one cell of a sheet holds."""
    text = content.decode("utf-8")
    found = list(re.finditer(r"(?<=<t>)[^<]*(?=</t>)|(?<=<v>)[^<]*(?=</v>)", text))
    if not found:
        return content
    token = random.choice(found)
    put = random.choice(TEXT)(token.group() or "x", random)
    put = put.replace("&", "&amp;").replace("<", "&lt;")
    return (text[: token.start()] + put + text[token.end() :]).encode("utf-8", "surrogatepass")


def mutated(name: str, data: bytes, random: Random) -> bytes:
    """Return a file with something broken in it."""
    if random.random() < 0.08:
        return _bytes(data, random)
    return (_zipped if name.endswith(".xlsx") else _text)(data, random)


def copies(
    base: Path, where: Path, names: tuple[str, ...], first: int, count: int
) -> Iterator[tuple[int, Path]]:
    """Yield so many times (seed, folder of a job in which one of the named files is mutated)."""
    for seed in range(first, first + count):
        random = Random(seed)
        folder = where / "job"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(base, folder)
        path = folder / random.choice(names)
        path.write_bytes(mutated(path.name, path.read_bytes(), random))
        yield seed, folder


def outcome(folder: Path) -> str:
    """Return ``faults`` or ``none``, what ``check`` finds; a fault must name a file and a rule."""
    try:
        check(folder)
    except InputError as error:
        for fault in error.faults:
            assert fault.file, f"a fault without a file: {fault}"
            assert fault.rule, f"a fault without a rule: {fault}"
        return "faults"
    return "none"


def made(folder: Path, forking: Forking) -> str:
    """Return ``run`` or ``refused``, what the command ``make`` comes to: a good run, or words and no run."""
    errors = folder.with_name("errors")
    forking.start("make", folder, errors=errors)
    code, said = forking.wait(), errors.read_text("utf-8")
    assert code in (0, 2), f"exit {code}: {said}"
    if code == 2:
        assert said.strip() and not (folder / "runs").exists(), said
        return "refused"
    (run,) = runs_of(folder)
    assert audit(run).same
    results = json.loads((run / "results.json").read_text("utf-8"), parse_constant=_refused)
    wrong = beyond(results)
    assert not wrong, "\n".join(wrong[:9])
    pages = {path.stem: path for path in run.glob("*.html")}
    assert {"basis", "fitting"} <= set(pages) <= {path.stem for path in run.glob("*.pdf")}
    typed = set(_NO_NUMBER.findall(json.dumps(results["job"])))
    for path in pages.values():
        page = lxml.html.fromstring(path.read_bytes())
        for part in page.xpath("//script | //style"):
            part.drop_tree()
        assert set(_NO_NUMBER.findall(page.text_content())) <= typed, path.name
    return "run"


_NO_NUMBER = re.compile(r"(?i)\b(?:nan|inf|infinity)\b")


def _refused(name: str) -> None:
    raise AssertionError(f"{name} in results.json")
