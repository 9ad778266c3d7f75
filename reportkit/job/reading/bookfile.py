"""A workbook as a file: what is refused before any of it is read, and what is left out of it.

Macros are refused, so are pictures inside the workbook (they may tell where and with what they were
taken; the ``photo`` column names a file instead), passwords, and files that unpack to far more than a
survey needs. Nothing in the file is ever computed or followed.
"""

from __future__ import annotations

import io
import lzma
import re
import warnings
import zipfile
import zlib
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.reading.files import clipped

#: The most a workbook may unpack to [bytes]; a survey of 2 000 panes is under 3 MB.
MOST_UNPACKED = 20_000_000
#: The most cells in all sheets together, empty ones counted.
MOST_CELLS = 200_000
_SAVE = translatable("save it again as an ordinary workbook (.xlsx)")
_CELL = re.compile(rb"<(?:\w+:)?c[\s/>]")
#: Parts that hold who wrote the file, when and with what.
_ABOUT = {
    "docProps/core.xml": b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<cp:coreProperties '
    b'xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"/>',
    "docProps/app.xml": b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Properties xmlns='
    b'"http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"/>',
}


def opened(shown: str, data: bytes) -> tuple[Any | None, list[Fault]]:
    """Return a workbook as openpyxl reads it, formulas as such, or None and why it is not read.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    data
        The file.
    """
    fault = refusal(shown, data)
    if fault:
        return None, [fault]
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # parts of newer spreadsheets that openpyxl leaves out
            return openpyxl.load_workbook(io.BytesIO(data), data_only=False, keep_links=False), []
    except Exception as error:  # openpyxl lets the errors of its XML and zip readers through, of any kind
        found = clipped(f"{type(error).__name__}: {error}")
        return None, [Fault(shown, 0, "", translatable("must be a workbook that can be read"), found, _SAVE)]


def refusal(shown: str, data: bytes) -> Fault | None:
    """Return why a file is not taken for a workbook at all, before any of it is interpreted."""

    def fault(rule: str, found: str | None = None, hint: str = _SAVE) -> Fault:
        return Fault(shown, 0, "", rule, found, hint)

    if data.startswith(b"\xd0\xcf\x11\xe0"):
        return fault(translatable("must be a workbook without a password, and not of the older kind (.xls)"))
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts = packed.infolist()
            size = sum(part.file_size for part in parts)
            if size > MOST_UNPACKED or len(parts) > 1_000:
                found = translatable(
                    "{parts} parts, {megabytes:.0f} MB unpacked", parts=len(parts), megabytes=size / 1e6
                )
                rule = translatable(
                    "must unpack to at most {megabytes} MB", megabytes=MOST_UNPACKED // 1_000_000
                )
                return fault(rule, found, translatable("take out what does not belong"))
            names = [part.filename.lower() for part in parts]
            types = packed.read("[Content_Types].xml") if "[content_types].xml" in names else b""
            if any("vbaproject" in name for name in names) or b"macroEnabled" in types:
                return fault(translatable("must not hold macros"))
            if any(name.startswith("xl/media/") for name in names):
                hint = translatable("put photos beside the survey and name them in the photo column")
                return fault(translatable("must not hold pictures"), None, hint)
            cells = 0
            for part in parts:
                if part.filename.lower().endswith((".xml", ".rels", ".vml")):
                    text = packed.read(part)
                    # no part may declare a document type (ISO/IEC 29500-2, 9.1.7): entities could unfold
                    if b"<!" in text.replace(b"\0", b"").replace(b"<!--", b"").replace(b"<![CDATA[", b""):
                        return fault(translatable("must hold plain XML without a document type"))
                    cells += len(_CELL.findall(text)) if "/worksheets/" in part.filename.lower() else 0
            if cells > MOST_CELLS:
                hint = translatable("clear the rows and columns outside the table")
                return fault(
                    translatable("must have at most {most_cells} cells", most_cells=MOST_CELLS),
                    str(cells),
                    hint,
                )
            if "xl/workbook.xml" not in names:
                return fault(translatable("must be a workbook (.xlsx)"), None)
    except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, RuntimeError, OSError, ValueError,
            EOFError, KeyError, zlib.error, lzma.LZMAError):  # fmt: skip
        return fault(translatable("must be a workbook (.xlsx) that is whole"))
    return None


def anonymous(data: bytes) -> bytes:
    """Return a workbook without its notes of who wrote it, when and with which program.

    Parameters
    ----------
    data
        A workbook that `refusal` has nothing against.

    Returns
    -------
    bytes
        The same sheets; the same bytes again when given what it returned.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as packed, zipfile.ZipFile(out, "w") as made:
        for part in packed.infolist():
            content = _ABOUT.get(part.filename, packed.read(part))
            entry = zipfile.ZipInfo(part.filename, (1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            made.writestr(entry, content)
    return out.getvalue()
