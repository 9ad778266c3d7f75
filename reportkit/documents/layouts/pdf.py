"""A document as tagged, archival PDF, set by Typst.

Claims PDF/A-3a (ISO 19005-3) together with PDF/UA-1 (ISO 14289-1), and attaches results, inputs and the
notebook. Typst gets the template, one JSON file and the pictures: what a person typed is data there, never
markup. The date comes from the document, so the same input gives the same bytes.

Under these standards a letter no font has is an error. The system's fonts are tried next; failing those, its
plain form (Unicode NFKC: a full-width sign becomes the ordinary one); failing that, the letter becomes its
code in brackets, a note on the document says so, and the archival claim is dropped.
Letters that join within a picture (Devanagari, for one) are drawn well but cannot all be read back out of it;
the file then claims PDF/A-3b, which asks for the look alone. It is tagged all the same, and each picture
has its words.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from reportkit.base.errors import RunError
from reportkit.base.maker import scratch
from reportkit.base.visible import code, coded
from reportkit.documents.layouts.fonts import (
    FAMILY,
    SECOND_FAMILY,
    covered,
    font_folder,
    printed,
    second_folder,
    uncovered,
)
from reportkit.documents.layouts.templates import template
from reportkit.documents.runs import characters_of

if TYPE_CHECKING:
    from typst import Compiler

Standard = Literal["a-3a", "a-3b", "ua-1"]
ARCHIVAL: tuple[Standard, ...] = ("a-3a", "ua-1")
ACCESSIBLE: tuple[Standard, ...] = ("ua-1",)

#: What is claimed instead where a picture's letters cannot all be read back as text.
VISUAL: dict[tuple[Standard, ...], tuple[Standard, ...]] = {ARCHIVAL: ("a-3b",), ACCESSIBLE: ()}
MAIN = "main.typ"

#: Stands in a picture for a letter that no font has.
UNKNOWN = "?"


#: A last page filled less than this is nearly empty [share of its height]; a document that ends on one is set
#: smaller, as long as that can be read, until the page is gone or filled.
LEAST, SMALLER = 0.38, (0.97, 0.94, 0.91)


@dataclass(frozen=True)
class Attachment:
    """A file carried inside the PDF, with what PDF/A-3 asks to know about it."""

    name: str
    content: bytes
    mime: str
    relationship: Literal["source", "data", "alternative", "supplement"]
    description: str


def prepare() -> None:
    """Read what every document needs: the typesetter, and which letters the typefaces have."""
    import typst  # noqa: F401 # imported for later

    covered()


def document(page: Mapping[str, Any], attachments: Iterable[Attachment] = ()) -> bytes:
    """Return a document as PDF.

    Parameters
    ----------
    page
        The document as `reportkit.documents.layouts.assemble.assemble` makes it.
    attachments
        Files to carry along, in this order.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    RunError
        If Typst refuses the document for another reason than a missing letter.
    """
    from typst import TypstError

    files = list(attachments)
    doubtful = _doubtful(characters_of(page))
    try:
        for system_fonts in (False, True):
            lacking = [c for c in doubtful if not _prints(c, system_fonts)]
            if not lacking:
                return _compile(page, files, ARCHIVAL, system_fonts=system_fonts)
        forms = {c: _form(c) for c in lacking}
        page = _replaced(page, forms)
        coded_ones = [c for c, form in forms.items() if form == code(c)]
        if not coded_ones:
            return _compile(page, files, ARCHIVAL, system_fonts=True)
        note = page["words"]["characters"].format(characters=" ".join(map(code, coded_ones)))
        return _compile({**page, "unprintable": note}, files, ACCESSIBLE, system_fonts=True)
    except TypstError as error:
        raise RunError(f"the PDF could not be set: {error.diagnostic}") from error


def _doubtful(characters: set[str]) -> list[str]:
    """Return the letters that the shipped typefaces lack, or that no archive may have."""
    # PDF/A-3 text must not use the private use area, whatever font claims it
    private = {c for c in characters if "\ue000" <= c <= "\uf8ff" or ord(c) >= 0xF0000}
    return sorted(set(uncovered(characters)) | private)


def instead(characters: Iterable[str]) -> dict[str, str]:
    """Return what a PDF made here prints for each letter that no font has: its plain form, else its code.

    Parameters
    ----------
    characters
        The letters of a document.
    """
    return {c: _form(c) for c in _doubtful(set(characters)) if not _prints(c, system_fonts=True)}


def _form(sign: str) -> str:
    return printed(sign, code(sign))


def _compile(
    page: Mapping[str, Any],
    attachments: list[Attachment],
    standards: tuple[Standard, ...],
    *,
    system_fonts: bool,
) -> bytes:
    from typst import TypstError

    project: dict[str, bytes] = {MAIN: template("typst/document.typ").read_bytes()}
    blocks = _pictures_out(page["blocks"], project)
    listed = []
    for number, item in enumerate(attachments):
        path = f"attached/{number}"
        project[path] = item.content
        listed.append(
            {
                "path": path,
                "name": item.name,
                "mime": item.mime,
                "relationship": item.relationship,
                "description": item.description,
            }
        )
    language, _, rest = page["lang"].partition("-")
    region = next((part for part in rest.split("-") if len(part) == 2), None)
    data = {
        **page,
        "blocks": blocks,
        "language": language,
        "region": region,
        "fonts": [FAMILY, SECOND_FAMILY],
        "attachments": listed,
    }

    project["page.json"] = json.dumps(data, ensure_ascii=False).encode("utf-8")
    with _folder(project) as root:
        compiler = _compiler(root, system_fonts)
        if _ends_nearly_empty(compiler):
            smaller = (_compiler(root, system_fonts, share) for share in SMALLER)
            compiler = next((tried for tried in smaller if not _ends_nearly_empty(tried)), compiler)
        try:
            return _written(compiler, page["timestamp"], standards)
        except TypstError as error:
            if standards not in VISUAL or "codepoints" not in str(error):
                raise
            return _written(compiler, page["timestamp"], VISUAL[standards])


@contextmanager
def _folder(project: Mapping[str, bytes]) -> Iterator[Path]:
    """Write a project of files into a folder of its own that is gone afterwards."""
    root = scratch("pdf")
    try:
        for name, content in project.items():
            path = root.joinpath(*name.split("/"))
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(content)
        yield root
    finally:
        shutil.rmtree(root, ignore_errors=True)


def _compiler(root: Path, system_fonts: bool, share: float = 1.0) -> Compiler:
    """Return Typst for a project; it lays the pages out once, when it is first asked for something.

    ``share`` is that of the usual size in which letters are set.
    """
    import typst

    return typst.Compiler(
        str(root / MAIN),
        root=str(root),
        font_paths=[str(font_folder()), str(second_folder())],
        ignore_system_fonts=not system_fonts,
        sys_inputs={"share": str(share)},
    )


def _ends_nearly_empty(compiler: Compiler) -> bool:
    """Return whether a part of several pages ends on one that is nearly empty."""
    marks = json.loads(compiler.query("<chapter>", field="value"))
    parts = zip(marks[::2], marks[1::2], strict=True)
    return any(end["page"] > begin["page"] and end["down"] < LEAST for begin, end in parts)


def _written(compiler: Compiler, timestamp: int, standards: tuple[Standard, ...]) -> bytes:
    """Return a project as PDF."""
    made = compiler.compile(format="pdf", pdf_standards=list(standards), timestamp=int(timestamp))
    assert isinstance(made, bytes)  # it is a list only where pages are written as pictures
    return made


def _pictures_out(value: Any, project: dict[str, bytes]) -> Any:
    """Move each figure's picture and each photo to a file of the project; drop what only a screen can use."""
    if isinstance(value, Mapping):
        if value.get("type") == "figure":
            path = f"figures/{value['id']}.svg"
            project[path] = value["svg"].encode("utf-8")
            return {**{k: v for k, v in value.items() if k not in ("svg", "plotly")}, "path": path}
        if value.get("type") == "picture":
            content = base64.b64decode(value["data"])
            ending = value["media_type"].removeprefix("image/")
            path = f"photos/{hashlib.sha256(content).hexdigest()[:16]}.{ending}"
            project[path] = content
            return {**{k: v for k, v in value.items() if k != "data"}, "path": path}
        return {key: _pictures_out(item, project) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_pictures_out(item, project) for item in value]
    return value


_PROBE = b'#set document(title: "t")\n#set text(font: json("f.json"))\n#json("t.json")\n'


@lru_cache(maxsize=4096)
def _prints(character: str, system_fonts: bool) -> bool:
    """Whether some font reachable under ``system_fonts`` has the character, allowed in an archive."""
    from typst import TypstError

    files = {
        MAIN: _PROBE,
        "t.json": json.dumps(character).encode("utf-8"),
        "f.json": json.dumps([FAMILY, SECOND_FAMILY]).encode("utf-8"),
    }
    try:
        with _folder(files) as root:
            _written(_compiler(root, system_fonts), 0, ARCHIVAL)
    except TypstError:
        return False
    return True


def _replaced(value: Any, forms: Mapping[str, str]) -> Any:
    """Return data with another form in place of each letter that no font has."""
    plain = {ord(c): form for c, form in forms.items() if form != code(c)}
    drawn = {number: escape(form) for number, form in plain.items()}  # a picture is markup
    lacking = re.compile(f"[{re.escape(''.join(c for c in forms if ord(c) not in plain))}\\0]+")

    def within(item: Any, key: str = "") -> Any:
        if isinstance(item, str):
            if key == "svg":  # it has room for one sign, not for a code; the picture's words say which
                return lacking.sub(lambda match: UNKNOWN * len(match[0]), item.translate(drawn))
            return lacking.sub(lambda match: coded(match[0]), item.translate(plain))
        if isinstance(item, Mapping):
            return {name: within(part, name) for name, part in item.items() if name != "plotly"}
        if isinstance(item, list | tuple):
            return [within(part) for part in item]
        return item

    return within(value)
