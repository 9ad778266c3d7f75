"""A list of pieces and rolls given to the cut planner alone: read, checked, every fault at once.

The list is a CSV file with the columns ``id,width,length,quantity,turn,group,seam``; a roll is a text such
as ``1524x30500@355`` (whole, price of the roll) or ``60 in@11.60/m`` (by length, price of a metre). A bare
number is mm; a bare fraction such as ``46 1/2`` could be inches as well, so it is refused.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

from reportkit.base.errors import CutListError, Fault
from reportkit.base.translatable import translatable
from reportkit.base.units import MM_PER_INCH, mm_told, parse_length
from reportkit.job.reading.files import clipped

COLUMNS = ("id", "width", "length", "quantity", "turn", "group", "seam")
REQUIRED = ("id", "width", "length")
YES = {
    "yes": True,
    "y": True,
    "true": True,
    "1": True,
    "": True,
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}
#: Longest text of a cell [characters], and the largest length [mm], price and number of pieces taken.
LONGEST_CELL, LARGEST_MM, DEAREST, MOST_PIECES = 200, 1_000_000, 1_000_000, 100_000
FRACTIONS = frozenset("/⁄½¼¾⅛⅜⅝⅞⅓⅔⅕⅙")
ROLL_FORM = translatable("write WIDTHxLENGTH@PRICE for whole rolls or WIDTH@PRICE/m for film by length")


@dataclass(frozen=True)
class PieceRow:
    """One row of the list; lengths exact [mm]. `line` is where it stands in the file, from 1.

    `seams_mm` are the places of butt seams, from the piece's left edge, where no roll is wide enough [mm].
    """

    id: str
    width_mm: Fraction
    length_mm: Fraction
    quantity: int
    turn: bool
    group: str
    line: int
    seams_mm: tuple[Fraction, ...] = ()


@dataclass(frozen=True)
class RollText:
    """One roll as typed; `length_mm` is None and the price is per metre for film by length [mm]."""

    width_mm: Fraction
    length_mm: Fraction | None
    price: Decimal


@dataclass(frozen=True)
class CutList:
    """What the cut planner needs: pieces, rolls, and the table's length or None [mm]."""

    file: str
    pieces: tuple[PieceRow, ...]
    rolls: tuple[RollText, ...]
    table_mm: Fraction | None

    def located(self, faults: Iterable[Fault]) -> tuple[Fault, ...]:
        """Return faults about a piece, named by its id, with this file's name and the piece's line."""
        lines = {piece.id: piece.line for piece in self.pieces}
        return tuple(
            replace(fault, file=self.file, line=fault.line or lines.get(fault.field, 0)) for fault in faults
        )


def read_cutlist(path: Path, rolls: Sequence[str], table: str | None = None) -> CutList:
    """Read a list of pieces and the texts of rolls and table.

    Parameters
    ----------
    path : Path
        The CSV file, UTF-8; a bare number is mm.
    rolls : sequence of str
        ``WIDTHxLENGTH@PRICE`` or ``WIDTH@PRICE/m``.
    table : str, optional
        The longest strip the table takes, as a length.

    Raises
    ------
    CutListError
        With every fault of the file, the rolls and the table.
    """
    faults: list[Fault] = []
    pieces = _read_pieces(path, faults)
    read = [roll for text in rolls if (roll := _read_roll(text, faults)) is not None]
    if not rolls:
        faults.append(
            Fault("--roll", 0, "", translatable("at least one roll must be given"), None, ROLL_FORM)
        )
    length = None if table is None else _length(table, "--table", 0, "", faults)
    if faults:
        raise CutListError(faults=faults)
    return CutList(path.name, tuple(pieces), tuple(read), length)


def _length(text: str, file: str, line: int, field: str, faults: list[Fault]) -> Fraction | None:
    """Read a length over 0, or note a fault."""
    try:
        value = parse_length(text)
        in_inches = parse_length(text, "in")
    except ValueError as error:
        faults.append(Fault(file, line, field, str(error).split("\n")[0], clipped(text)))
        return None
    if value <= 0:
        faults.append(Fault(file, line, field, translatable("must be over 0"), text))
        return None
    if value > LARGEST_MM:
        faults.append(
            Fault(
                file,
                line,
                field,
                translatable("must be at most {length}", length=mm_told(LARGEST_MM)),
                clipped(text),
            )
        )
        return None
    if value != in_inches and FRACTIONS & set(text):  # bare, and no one writes mm in fractions
        rule = translatable(
            "can be read as {bare:g} mm or as {turned:g} mm ({text} in)",
            bare=float(value),
            turned=float(value * MM_PER_INCH),
            text=text.strip(),
        )
        hint = translatable("write {text} in, or {bare:g} mm", text=text.strip(), bare=float(value))
        faults.append(Fault(file, line, field, rule, text, hint))
        return None
    return value


def _read_roll(text: str, faults: list[Fault]) -> RollText | None:
    """Read one roll's text, or note what is wrong."""
    size, at, cost = text.rpartition("@")
    if not at:
        faults.append(Fault("--roll", 0, "", translatable("has no price"), text, ROLL_FORM))
        return None
    cost = cost.strip()
    by_length = cost.lower().replace(" ", "").endswith("/m")
    if by_length:
        cost = cost[: cost.rindex("/")].strip()
    try:
        price = Decimal(cost)
        if not price.is_finite() or not 0 <= price <= DEAREST:
            raise InvalidOperation
    except InvalidOperation:
        rule = translatable("must be a number from 0 to {dearest}", dearest=DEAREST)
        faults.append(Fault("--roll", 0, "price", rule, clipped(text), ROLL_FORM))
        return None
    parts = [part.strip() for part in size.replace("×", "x").replace("X", "x").split("x")]
    if len(parts) != (1 if by_length else 2):
        rule = (
            translatable("film by length has a width only")
            if by_length
            else translatable("a whole roll needs a width and a length")
        )
        faults.append(Fault("--roll", 0, "size", rule, text, ROLL_FORM))
        return None
    sizes = [
        _length(part, "--roll", 0, name, faults)
        for part, name in zip(parts, ("width", "length"), strict=False)
    ]
    if any(value is None for value in sizes):
        return None
    assert sizes[0] is not None
    return RollText(sizes[0], None if by_length else sizes[1], price)


def _read_pieces(path: Path, faults: list[Fault]) -> list[PieceRow]:
    """Read the rows of the file, noting every fault."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        faults.append(Fault(path.name, 0, "", translatable("there is no such file"), str(path)))
        return []
    except (OSError, UnicodeDecodeError):
        faults.append(Fault(path.name, 0, "", translatable("cannot be read as UTF-8 text"), str(path)))
        return []
    reader = csv.reader(text.splitlines(), skipinitialspace=True)
    rows_of_cells = _cells(reader, path.name, faults)
    header = [name.strip().lower() for name in next(rows_of_cells, [])]
    for name in header:
        if name not in COLUMNS:
            near = difflib.get_close_matches(name, COLUMNS, n=1)
            hint = (
                translatable('did you mean "{word}"?', word=near[0])
                if near
                else translatable("columns are {names}", names=", ".join(COLUMNS))
            )
            faults.append(Fault(path.name, 1, name, translatable("unknown column"), name, hint))
    for name in sorted({name for name in header if header.count(name) > 1}):
        faults.append(Fault(path.name, 1, name, translatable("column given twice")))
    missing = [name for name in REQUIRED if name not in header]
    for name in missing:
        faults.append(
            Fault(
                path.name,
                1,
                name,
                translatable("column is missing"),
                None,
                translatable("columns are {names}", names=", ".join(COLUMNS)),
            )
        )
    if missing:
        return []
    before = len(faults)
    rows: list[PieceRow] = []
    lines: dict[str, int] = {}
    for cells in rows_of_cells:
        if len(cells) > len(header):
            faults.append(
                Fault(
                    path.name,
                    reader.line_num,
                    "",
                    translatable("more cells than columns"),
                    clipped(",".join(cells)),
                    translatable("put a cell that holds a comma in quotes"),
                )
            )
            continue
        row = dict(zip(header, (cell.strip() for cell in cells), strict=False))
        piece = _read_row(row, path.name, reader.line_num, faults)
        if row.get("id") and row["id"] in lines:
            faults.append(
                Fault(
                    path.name,
                    reader.line_num,
                    "id",
                    translatable("already used in line {line}", line=lines[row["id"]]),
                    row["id"],
                    translatable("raise the quantity, or give another id"),
                )
            )
        lines.setdefault(row.get("id", ""), reader.line_num)
        if piece is not None:
            rows.append(piece)
    if not lines and len(faults) == before:
        faults.append(Fault(path.name, 0, "", translatable("holds no pieces")))
    count = sum(row.quantity for row in rows)
    if count > MOST_PIECES:
        hint = translatable("plan it in several lists")
        faults.append(
            Fault(
                path.name,
                0,
                "quantity",
                translatable("must be at most {most} in all", most=MOST_PIECES),
                str(count),
                hint,
            )
        )
    return rows


def _cells(reader: Any, file: str, faults: list[Fault]) -> Iterator[list[str]]:
    """Yield the cells of each row that holds something, noting rows with a cell that is too long."""
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:  # a cell beyond what the csv module takes; it cannot go on after it
            faults.append(
                Fault(file, reader.line_num, "", translatable("cannot be read as CSV: {error}", error=error))
            )
            return
        long = [cell for cell in cells if len(cell) > LONGEST_CELL]
        if long:
            rule = translatable("a cell must be at most {count} characters", count=LONGEST_CELL)
            hint = translatable("a quote that is never closed takes in all that follows")
            faults.append(Fault(file, reader.line_num, "", rule, clipped(long[0]), hint))
        elif any(cell.strip() for cell in cells):
            yield cells


def _read_row(row: dict[str, str], file: str, line: int, faults: list[Fault]) -> PieceRow | None:
    """Read one row, noting every fault in it."""
    before = len(faults)
    if not row.get("id"):
        faults.append(Fault(file, line, "id", translatable("must not be empty")))
    sizes = []
    for name in ("width", "length"):
        if row.get(name):
            sizes.append(_length(row[name], file, line, name, faults))
        else:
            sizes.append(None)
            faults.append(Fault(file, line, name, translatable("must not be empty")))
    quantity = row.get("quantity") or "1"
    if not (quantity.isascii() and quantity.isdigit() and 0 < int(quantity) <= MOST_PIECES):
        faults.append(
            Fault(
                file,
                line,
                "quantity",
                translatable("must be a whole number from 1 to {most}", most=MOST_PIECES),
                quantity,
            )
        )
    turn = row.get("turn", "").lower()
    if turn not in YES:
        faults.append(Fault(file, line, "turn", translatable("must be yes or no"), row["turn"]))
    seams = _read_seams(row.get("seam", ""), sizes[0], file, line, faults)
    if len(faults) > before or sizes[0] is None or sizes[1] is None:
        return None
    group = row.get("group", "")
    return PieceRow(row["id"], sizes[0], sizes[1], int(quantity), YES[turn], group, line, seams)


def _read_seams(
    text: str, width: Fraction | None, file: str, line: int, faults: list[Fault]
) -> tuple[Fraction, ...]:
    """Read places across a piece such as ``600 & 1200``, noting every fault."""
    read = [_length(part.strip(), file, line, "seam", faults) for part in text.split("&")] if text else []
    positions = tuple(place for place in read if place is not None)
    if len(positions) == len(read) and width is not None:
        edges = [Fraction(0), *positions, width]
        if not all(before < after for before, after in pairwise(edges)):
            rule = translatable("must rise from the left edge, each within the width")
            faults.append(Fault(file, line, "seam", rule, text))
    return positions
