"""What sheets for people have: texts as texts, lists to choose from, what is folded away, a print layout."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from typing import Any, Protocol

LISTS = "Lists"


class Printed(Protocol):
    """The job that a sheet is printed for: its title, units, paper, and whether it is made up."""

    @property
    def title(self) -> str:
        """The job, at the head of every sheet."""

    @property
    def units(self) -> str:
        """``us`` or ``metric``."""

    @property
    def paper(self) -> str | None:
        """``letter`` or ``a4``; None: as usual with the units."""

    @property
    def invented(self) -> bool:
        """Whether the job is made up."""


def saved(book: Any) -> bytes:
    """Return a workbook as its file."""
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def write(cell: Any, text: str) -> None:
    """Put a text into a cell as a text: what starts with = must not become a formula."""
    cell.value = text
    cell.data_type = "s"


def font(sheet: Any, **changed: Any) -> Any:
    """Return the workbook's own typeface in another size or weight."""
    from openpyxl.styles import Font

    return Font(name=sheet.parent._named_styles["Normal"].font.name, **changed)


def fold(shape: Any) -> None:
    """Fold a row or column away, with a sign in the margin that shows it."""
    shape.outlineLevel = 1
    shape.hidden = True


def lists(sheet: Any, choices: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """Write words below each other in a hidden sheet, a list in a column, and return where each stands.

    A word that starts with ``=`` is a formula: the word is that of another cell.
    """
    from openpyxl.utils import get_column_letter

    positions = {}
    for index, (name, found) in enumerate(choices.items(), 1):
        letter = get_column_letter(index)
        write(sheet.cell(1, index), name.replace("_", " "))
        for line, word in enumerate(found, 2):
            write(sheet.cell(line, index), word)
            if word.startswith("="):  # no id and no word of a choice does
                sheet.cell(line, index).data_type = "f"
        positions[name] = f"{LISTS}!${letter}$2:${letter}${len(found) + 1}"
    sheet.sheet_state = "hidden"
    return positions


def drop_down(sheet: Any, cells: str, place: str, title: str, told: str) -> None:
    """Give cells a list to choose from; another word is warned of: a new room may be found on site.

    Parameters
    ----------
    sheet, cells
        Where.
    place
        Where the words of the list stand.
    title, told
        What is said where another word is typed.
    """
    from openpyxl.worksheet.datavalidation import DataValidation

    rule = DataValidation(type="list", formula1=place, allow_blank=True)
    rule.errorStyle = "warning"
    rule.showErrorMessage = True
    rule.errorTitle, rule.error = title[:32], told
    rule.add(cells)
    sheet.add_data_validation(rule)


def frame(sheet: Any, form: Printed, orientation: str, what: str, *, wide: int) -> None:
    """Set what every printed sheet has: paper, margins, the job at its head, black on white.

    Parameters
    ----------
    sheet
        The sheet.
    form
        The job it is printed for.
    orientation
        ``portrait`` or ``landscape``.
    what
        What the sheet is, at its head.
    wide
        How many sheets of paper it is wide.
    """
    from openpyxl.worksheet.properties import Outline, PageSetupProperties

    paper = form.paper or ("letter" if form.units == "us" else "a4")
    sheet.page_setup.paperSize = {"letter": 1, "a4": 9}[paper]  # codes of ISO/IEC 29500-1, 18.3.1.63
    sheet.page_setup.orientation = orientation
    sheet.page_setup.blackAndWhite = True
    sheet.page_setup.fitToWidth = wide
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.outlinePr = Outline(summaryBelow=False, summaryRight=False)
    sheet.sheet_format.outlineLevelRow = max(row.outlineLevel for row in sheet.row_dimensions.values())
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins.left = sheet.page_margins.right = 0.4  # inches
    sheet.page_margins.top, sheet.page_margins.bottom = 0.75, 0.65
    sheet.page_margins.header = sheet.page_margins.footer = 0.3
    title = " ".join(form.title.split())[:90]
    sheet.oddHeader.left.text = title.replace("&", "&&")  # & starts a code there
    sheet.oddHeader.right.text = what + (" (invented)" if form.invented else "")
    sheet.oddFooter.right.text = "&A, &P of &N"
