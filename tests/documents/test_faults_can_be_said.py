# ruff: noqa: E501 -- one case a line reads as a table
"""Every fault can be said in another language: read off the code, and tried on jobs known to be wrong."""

import ast
import importlib.util
import re
from pathlib import Path
from string import Formatter

import pytest
from small_job import JOB, SURVEY, laid, written

from reportkit.base.errors import JobError
from reportkit.base.translatable import Translatable
from reportkit.climate import SHIPPED
from reportkit.documents.language import words
from reportkit.documents.language.catalogue import PACKAGE
from reportkit.documents.language.faults import fault_in_words
from reportkit.documents.language.words import Words
from reportkit.job import load_job, schema
from reportkit.job.model.shapes import SAMPLES
from reportkit.job.reading.survey import COLUMNS
from reportkit.job.reading.terms import LABELS

#: Two words in a row, which a name or a number with its unit is not.
PROSE = re.compile(r"[a-z]{3,} [a-z]{2,}")
#: What makes a fault, or an error that a person is told, by the name of the call.
MAKERS = {
    "Fault", "JobError", "InputError", "CutListError", "UnavailableError", "MachineError", "FormatError",
    "Rough", "Wrong", "TwoReadings", "_Refused", "broken", "_refuse", "fault", "in_survey", "wrong", "known",
}  # fmt: skip
#: What a sentence of a fault is kept in before it is made.
PARTS = {"rule", "hint", "mend", "found", "why", "told"}
#: Calls that mark a sentence.
MARKS = {"translatable", "english", "words"}
#: Errors that no person is told of a job: those of commands that have no job, ours, and the writer's.
ELSEWHERE = re.compile(
    r"physics/|app/(audit|batch|cluster|commands|jobs|migrations|nursery|parcel)\.py|job/writing/(?!anonymous)|documents/desk"
)
#: Bare all the same.
COMPARED = {"no such file"}


def name_of(call):
    """Return the name of what is called."""
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def bare(node, told=False):
    """Yield the sentences of faults below a node that nothing marks, and their lines.

    Parameters
    ----------
    node
        A part of a module.
    told
        Whether a text here becomes part of a fault; one that begins with "must" always does.
    """
    if isinstance(node, ast.Call):
        if name_of(node) in MARKS:
            for each in [*node.args[1:], *(word.value for word in node.keywords)]:
                yield from bare(each, True)
            return
        told = name_of(node) in MAKERS
    elif isinstance(node, ast.Assign):
        names = {
            name.id for target in node.targets for name in ast.walk(target) if isinstance(name, ast.Name)
        }
        told = bool(names & PARTS)
    elif isinstance(node, (ast.JoinedStr, ast.Constant)):
        parts = node.values if isinstance(node, ast.JoinedStr) else [node]
        text = "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in parts)
        if text.startswith("must ") or (told and PROSE.search(text)):
            yield node.lineno, text
        return
    elif isinstance(node, (ast.stmt, ast.Compare)):
        told = False
    compared = isinstance(node, ast.Compare) or (
        isinstance(node, ast.Call) and name_of(node) in ("startswith", "removeprefix")
    )
    for each in ast.iter_child_nodes(node):
        if not compared:
            yield from bare(each, told)


def test_a_bare_sentence_is_found():
    """The check itself: marked, compared and typed texts pass, others don't, however deep they are."""
    module = """
rule = f"must be {x}"
hint = ("write it" if a else translatable("write it again")), None
fault(at, translatable("must be {x}", x=f"one of {y}"), clipped(typed), "put it there")
raise ValueError(["must be over 0"])
if fault.rule == "must be a column" or text.startswith("must be"):
    note = "any other text"
    fault(at, english("must be given"), typed, f"{name}: {value}")
"""
    assert [text for _, text in bare(ast.parse(module))] == [
        "must be {}",
        "write it",
        "one of {}",
        "put it there",
        "must be over 0",
    ]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.stem)
def test_no_fault_is_made_of_a_bare_sentence(path: Path):
    """Rule, hint and what was found are marked where they are made, or they stay English for every reader."""
    where = path.relative_to(PACKAGE).as_posix()
    if ELSEWHERE.match(where):
        return
    found = [pair for pair in bare(ast.parse(path.read_text("utf-8"))) if pair[1] not in COMPARED]
    assert found == [], f"{where}: put translatable(...) or english(...) around these"


def test_no_sentence_is_filled_with_one_that_stays_english():
    """What fills a sentence is translatable itself: one marked for a table would stay English."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and name_of(node) == "translatable":
                inner = [each for word in node.keywords for each in ast.walk(word.value)]
                names = [name_of(each) for each in inner if isinstance(each, ast.Call)]
                assert "english" not in names, f"{path.name}:{node.lineno}"


class Blank:
    """A language of which every sentence has nothing but its values."""

    def gettext(self, text):
        """Return the names in braces of a template alone."""
        parts = ((name, spec) for _, name, spec, _ in Formatter().parse(text) if name)
        return " · ".join(f"{{{name}:{spec}}}" if spec else f"{{{name}}}" for name, spec in parts) or "·"


#: Names of files, units, places and zones, and words that a survey takes.
NAMES = """
reportkit start workbook utf yaml xlsx csv jpg png heic runs results json decisions alternatives wavelength readings
windows america york miami florida therm kwh date films panes metal plastic timber putty floor ladder tower step
"""
LETTERS = re.compile(r"[a-z]{3,}")


def table():
    """Return the module of the table of wrong jobs."""
    path = Path(__file__).parents[1] / "job" / "reading" / "test_wrong_jobs.py"
    spec = importlib.util.spec_from_file_location("wrong_jobs", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def film(**fields):
    """Return the change of a job that changes its film."""
    return {"films": [laid(JOB["films"][0], fields)]}


def survey(columns, *rows):
    """Return a survey with some columns beside those that it must have."""
    return "\n".join([f"id,room,face,glazing,quantity,width,height,{columns}", *rows]) + "\n"


SPECTRUM = ["wavelength_nm,T,R_glass,R_film", *(f"{nm},0.3,0.2,0.1" for nm in range(300, 2505, 5))]
FACE = {"id": "west", "bearing": None}
READINGS = "time,meter,pane,filmed,beside,bare\n"
#: Jobs wrong in ways that the table has not: a change, the survey, and files beside them.
OTHERS = [
    *(
        (film(spec=spec), None, {})
        for spec in (
            "UV 99", "VLR 9", "VLT 42 | SHGC 0.9 | TSER 70", "VLT 420 %", "VLT < 4", "foo 12 %", "espesor 50",
            "VLT", "VLT 0.4 %; g 49", "VLT 42; VLT 52", "VLTT 42", "TET 40", "SHGC 0.1 | TSET 40", "g 3",
            "TSET 40 | TSER ext 9", "SHGC 0.4 NFRC EN 410", "VLR ext -9",
        )
    ),
    (film(side="either", spec="VLR ext 9 %"), None, {}),
    *(
        (film(spectrum={"file": "s.csv"}), None, {"s.csv": "\n".join(lines)})
        for lines in (
            [SPECTRUM[0].replace("_nm", "_um"), *SPECTRUM[1:]],
            [SPECTRUM[0], *SPECTRUM[20:200]],
            [SPECTRUM[0], *SPECTRUM[1:60], *SPECTRUM[90:]],
            [SPECTRUM[0], "300,0.9,0.2,0.1", *SPECTRUM[2:]],
            [*SPECTRUM, "400,0.3,0.2,0.1"],
            ["lambda,foo", "300,1"],
            [SPECTRUM[0], "300,x,,0.1", *SPECTRUM[2:]],
            [SPECTRUM[0], "300,1.4,0.2,0.1", *SPECTRUM[2:]],
            [SPECTRUM[0].replace("T", "T %"), *SPECTRUM[1:]],
            [],
        )
    ),
    *(
        ({}, survey("photo", f"A,office,west,one,1,900,1200,{name}"), {"x.gif": "GIF", "x.jpg": "no", "x.heic": "no"})
        for name in ("none.jpg", "x.gif", "x.jpg", "x.heic", "../x.jpg", "_shared/a/b.jpg")
    ),
    *(
        ({}, survey("shape", f"A,office,west,one,1,900,1200,{shape}"), {})
        for shape in (
            "circle", "half round", "arch", "arch 700", "arch 2000", "arch 0", "hexagon", "triangle 2000",
            "trapezoid 300 & 400", "polygon 0 x 0", "polygon 0 x 0 & 900 x 1200 & 900 x 0 & 0 x 1200",
            "polygon 0 x 0 & 700 x 0 & 0 x 1200", "polygon 0 x 0 & 990 x 0 & 0 x 1200", "circle 300",
        )
    ),
    ({}, survey("shape,diagonal_1", "A,office,west,one,1,900,900,circle,1270"), {}),
    ({}, None, {"readings.csv": READINGS + "2026-01-12 14:05,light,A,410,A,980\n2026-06-12,light,Z,4,B,x\n"}),
    ({}, None, {"readings.csv": READINGS}),
    (
        {},
        None,
        {
            "decisions.yaml": "decisions:\n- {date: 2026-03-05, films: {job: grey}}\n"
            "- {date: 2026-03-01, films: {job: gris}, panes_out: {A: }, set_points: {office: 24}}\nfoo: 1\n"
        },
    ),
    ({}, None, {"decisions.yaml": "decisions:\n- {date: 2026-03-05, films: {panes: {A: grey}}, panes_out: {A: x}}\n"}),
    ({"weather": {"use": "file", "file": "w.epw"}}, None, {"w.epw": "LOCATION,x"}),
    ({"weather": {"use": "file", "file": "w.epw"}}, None, {"w.epw": "hello"}),
    ({"faces": [{**FACE, "bearing": "265", "compass": {"reading": "200"}}]}, None, {}),
    ({"faces": [FACE]}, None, {}),
    *(
        ({"faces": [{**FACE, "street": {"points": points, "side": "left"}}]}, None, {})
        for points in ([["41.00", "12.00"], ["41.01", "12.01"]], [["51", "12"], ["51", "13"]])
    ),
    ({"faces": [{**FACE, "grazing": {"date": "2026-06-12", "time": "23:30", "sun": "comes"}}]}, None, {}),
    ({"faces": [{**FACE, "compass": {"reading": "200", "date": "1995-01-01"}}]}, None, {}),
    ({"units": "us", "rooms": [{"id": "office", "heat": {"floor_area": "0.1", "ceiling": "300"}}]}, None, {}),
    ({"status": {"offered": [{"run": "7", "date": "2026-03-03"}]}}, None, {}),
    ({"fitting": {"first_label": "99"}}, None, {}),
    ({"fitting": {"date": "2026-03-01"}}, None, {}),
    ({"business": None}, None, {}),
    *(
        (None, None, {"job.yaml": text})
        for text in (
            "", "- a", "a: [b\n", 'a: "b\n', "a: 1\n b: 2\n", "x: *foo", "x: &x [*x]", "x: @foo", "x\ny: 1\n", "[a]: b",
            "a: {b\nc: d\n", "a: 1\na: 2\n", "\ta: 1\n", "a: 1\n---\nb: 1", "a: !b c", "<<: 1\na: 1", "a: \x07", '"\\q": 1',
        )
    ),
    *(({}, text, {}) for text in ("", "# nothing\n", "id,id,foo\n1,2,3\n", 'id,room\nA,"office\n')),
    *(({}, None, {name: "x"}) for name in ("job.xlsx", "windows.xlsx", "job.ods")),
]  # fmt: skip


def faults_of(folder):
    """Return the faults of a job, none where it has none."""
    try:
        load_job(folder)
    except JobError as error:
        return error.faults
    return ()


def known_text(folder):
    """Return what needs no translation: what was typed in a job, and what its fields take."""
    texts = (path.read_text("utf-8", "replace") for path in folder.iterdir() if path.is_file())
    found = re.sub(r"(?m)(^|\s)#.*$", "", "\n".join(texts))

    def walk(node):
        if isinstance(node, dict):
            for name, part in node.items():
                yield from node[name] if name in ("properties", "$defs") else ()
                yield from walk(part)
        elif isinstance(node, list):
            for part in node:
                yield from walk(part)
        elif isinstance(node, str):
            yield node if " " not in node else " ".join(re.findall(r"\(such as (.*)\)", node))

    names = (name.replace("_", " ") for name in SAMPLES)
    return "\n".join([found, *walk(schema()), *COLUMNS, *SHIPPED, *LABELS, *names, NAMES]).lower()


def left_english(folder, blank):
    """Return what is said of a job with every sentence left blank, where a word of ours is in it."""
    known = known_text(folder)
    known_words = set(LETTERS.findall(known))
    left = []
    for fault in faults_of(folder):
        found = fault.found if isinstance(fault.found, Translatable) else None
        said = fault_in_words(type(fault)("", 0, "", fault.rule, found, fault.hint), blank)
        new = set(LETTERS.findall(said.lower())) - known_words
        new |= {text for text in PROSE.findall(said) if text not in known}
        if new:
            left.append((sorted(new), said))
    return left


def test_no_english_is_left_in_the_faults_of_wrong_jobs(tmp_path, monkeypatch):
    """With every sentence left blank, a fault holds nothing but names, numbers and what to type."""
    monkeypatch.setattr(words, "_catalogue", lambda tag: Blank())
    blank, jobs, left = Words("es"), table(), []
    for number, wrong in enumerate(jobs.TABLE):
        folder = jobs.starter(tmp_path / str(number))
        jobs.spoil(folder, wrong)
        left += left_english(folder, blank)
    assert number > 100
    assert left == []


def test_no_english_is_left_in_the_faults_of_other_files(tmp_path, monkeypatch):
    """The same of spectra, photos, lines of films, shapes, bearings, readings, decisions, weather and broken files."""
    monkeypatch.setattr(words, "_catalogue", lambda tag: Blank())
    blank, left, wrong = Words("es"), [], 0
    for number, (change, rows, files) in enumerate(OTHERS):
        folder = tmp_path / str(number)
        folder.mkdir()
        written(folder, change or {}, survey=SURVEY if rows is None else rows)
        for name, text in files.items():
            (folder / name).write_text(text, "utf-8")
        wrong += bool(faults_of(folder))
        left += left_english(folder, blank)
    assert left == []
    assert wrong > len(OTHERS) - 4
