"""A table of wavelength, T and R as laboratories and makers write it, read and checked.

Any step, rising or falling, nanometres or micrometres, percent or shares, decimal points or commas. Where two
readings are possible and differ the file is refused and both are shown. Faults carry line and column.

A file must reach over almost all of the sun and not step over much of it (`LONGEST_START` and the rest, our
own rule, no source): what lies outside is held at the nearer end's value, which the report says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise

from reportkit.base.errors import Fault
from reportkit.base.translatable import Translatable, english, translatable
from reportkit.job.model.spectra import Measured
from reportkit.job.reading.files import clipped
from reportkit.job.reading.headings import BOTH, TRANSMITTED, WAVELENGTH, Heading, understood, ways_to_read
from reportkit.job.reading.table import Form, Line, header, plain_heading, read_table

#: A file begins at this or below and ends at this or above: 98 of 100 parts of the sun lie between [nm].
LATEST_START, EARLIEST_END = 350.0, 2100.0
#: The widest step up to the eye's last wavelength, and beyond it [nm].
EYE_END, STEP_OF_EYE, STEP_BEYOND = 780.0, 20.0, 100.0
#: What a meter's noise may add to 100 % or take from 0 % [1].
NOISE = 0.005
#: Sides whose reflectances differ by no more are alike [1].
ALIKE = 0.01
MOST_ROWS = 20_000
#: After so many faults of its values a file is not judged further.
MOST_FAULTS = 20
#: No pane is measured at over so many micrometres, or under so many nanometres.
_BETWEEN_UNITS = 100.0

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d{1,2})?")


#: A side of a pane as a sentence names it.
_SIDES = {
    "glass": translatable("the glass side"),
    "film": translatable("the film side"),
    "outside": translatable("the outside side"),
    "inside": translatable("the inside side"),
}


@dataclass
class _Table:
    """The numbers of a file by column, with the line of each row and the heading of each column."""

    shown: str
    lines: list[int]
    numbers: dict[str, list[float]]
    headings: dict[str, Heading]
    head: int
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int, name: str, rule: str, found: object = None, hint: str | None = None) -> None:
        column = self.headings[name].cell if name in self.headings else name
        shown = found if found is None or isinstance(found, Translatable) else clipped(found)
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(self.shown, line, clipped(column), rule, shown, hint))


def read_spectrum(
    shown: str, text: str, sides: tuple[str, str], front: str | None
) -> tuple[Measured | None, list[Fault]]:
    """Read a measured spectrum.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    text
        Its text.
    sides
        What its two sides are: ``("glass", "film")`` or ``("outside", "inside")``.
    front
        The one the job calls front, or None.

    Returns
    -------
    Measured or None
        ``r_front`` is that of the first of the sides.
    list of Fault
    """
    head, cells = header(text)
    headings = [understood(cell) for cell in cells]
    ways = ways_to_read(headings, sides, front)
    needed = _needed(sides)
    names = ways[0] if ways else ("",) * len(cells)
    given = set(names)
    if cells and (
        not ways or WAVELENGTH not in given or TRANSMITTED not in given or not _enough(given, sides)
    ):
        hint = translatable("head the columns {names}", names=", ".join(needed))
        if not any(headings):
            hint = translatable("the first row names the columns: {names}", names=", ".join(needed))
        either = _both(sides)
        if sides[0] == "outside":
            either = translatable("{sides}, or on neither", sides=either)
        rule = translatable(
            "must have columns for wavelength, T and the reflectances of light on {sides}", sides=either
        )
        return None, [Fault(shown, head, "", rule, clipped(", ".join(cells)), hint)]
    columns = tuple(name for name in dict.fromkeys(names) if name) or tuple(needed)
    synonyms = {plain_heading(cell): name for cell, name in zip(cells, names, strict=True) if name}
    form = Form(columns, columns, translatable("wavelength"), synonyms, MOST_ROWS)
    rows, faults = read_table(shown, text, form)
    if faults:
        return None, faults
    known = {name: heading for name, heading in zip(names, headings, strict=True) if name and heading}
    table = _Table(shown, [row.line for row in rows], {name: [] for name in columns}, known, head)
    _numbers(table, rows)
    if table.faults:
        return None, table.faults
    _as_nanometres(table)
    _rising(table)
    _as_shares(table)
    if table.faults:
        return None, table.faults
    _sums(table)
    _reach(table)
    if len(ways) > 1 and not table.faults:
        _one_way(table, ways, cells, sides)
    if table.faults:
        return None, table.faults
    return _measured(table, sides), []


def _needed(sides: tuple[str, str]) -> list[str]:
    return ["wavelength_nm", "T", *(f"R_{side}" for side in sides)]


def _both(sides: tuple[str, str]) -> str:
    return translatable("{one} and on {other}", one=_SIDES[sides[0]], other=_SIDES[sides[1]])


def _enough(columns: set[str], sides: tuple[str, str]) -> bool:
    """Whether the reflectances there are will do: a sheet of bare glass may come without."""
    reflected = {name for name in columns if name.startswith(BOTH)}
    return sides[0] == "outside" or reflected == {f"r_{side}" for side in sides}


def _numbers(table: _Table, rows: list[Line]) -> None:
    for row in rows:
        for name, numbers in table.numbers.items():
            text = row.cells.get(name)
            if text is None:
                table.fault(row.line, name, translatable("must be given"))
            elif not _NUMBER.fullmatch(text):
                table.fault(
                    row.line,
                    name,
                    translatable("must be a number"),
                    text,
                    translatable("digits with at most one decimal sign"),
                )
            else:
                numbers.append(float(text.replace(",", ".")))


def _as_nanometres(table: _Table) -> None:
    """Bring wavelengths to nanometres by the heading's unit, or by what they can be."""
    values = table.numbers[WAVELENGTH]
    heading_unit = table.headings[WAVELENGTH].unit
    if max(values) < _BETWEEN_UNITS:
        unit = "um"
    elif min(values) > _BETWEEN_UNITS:
        unit = "nm"
    else:
        unit = heading_unit or "nm"
    if heading_unit in ("nm", "um") and heading_unit != unit:
        rule = translatable("must be in {unit}, as its heading says", unit=heading_unit)
        found = translatable("{low:g} to {high:g}", low=min(values), high=max(values))
        table.fault(
            table.head,
            WAVELENGTH,
            rule,
            found,
            translatable("as {unit} they would be light: mend the heading", unit=unit),
        )
    if unit == "um":
        # brought to a picometre, so that no rest of the conversion stays
        table.numbers[WAVELENGTH] = [round(value * 1000.0, 3) for value in values]


def _rising(table: _Table) -> None:
    values = table.numbers[WAVELENGTH]
    falls = values[-1] < values[0]
    for number, (before, after) in enumerate(pairwise(values)):
        if (after >= before) if falls else (after <= before):
            rule = translatable(
                english("must be shorter than in the row before ({before:g} nm in line {line})")
                if falls
                else english("must be longer than in the row before ({before:g} nm in line {line})"),
                before=before,
                line=table.lines[number],
            )
            hint = translatable("put the rows in order, each wavelength once")
            table.fault(
                table.lines[number + 1], WAVELENGTH, rule, translatable("{after:g} nm", after=after), hint
            )
    if falls:
        table.lines.reverse()
        for numbers in table.numbers.values():
            numbers.reverse()


def _as_shares(table: _Table) -> None:
    """Bring T and R to shares of 1: by the heading's percent sign, else by what they can be."""
    open_ = [name for name in table.numbers if name != WAVELENGTH and table.headings[name].unit != "%"]
    values = sorted(value for name in open_ for value in table.numbers[name])
    percent = {name for name in table.numbers if table.headings[name].unit == "%"}
    labelled = [value for name in percent for value in table.numbers[name]]
    if labelled and max(labelled) <= 1.0:
        name = min(percent)
        hint = translatable("as shares they would be a pane: take the % out of the headings, or give percent")
        table.fault(
            table.head,
            name,
            translatable("must be in percent, as its heading says"),
            translatable("nothing over 1"),
            hint,
        )
        return
    if values and values[-1] > 1.0 + NOISE:
        if values[len(values) // 2] > 1.0 + NOISE:
            percent |= set(open_)
        else:
            line, name, value = next(
                (line, name, value)
                for name in open_
                for line, value in zip(table.lines, table.numbers[name], strict=True)
                if value > 1.0 + NOISE
            )
            rule = translatable("must be a share from 0 to 1 like most values here, or all values percent")
            hint = translatable(
                "{value:g} is over 100 % as a share; write % in the headings where all values are percent",
                value=value,
            )
            table.fault(line, name, rule, f"{value:g}", hint)
            return
    for name in set(table.numbers) - {WAVELENGTH}:
        whole = 100.0 if name in percent else 1.0
        top, unit = f"{whole:g}", " %" if name in percent else ""
        shares = [value / whole for value in table.numbers[name]]
        for line, share in zip(table.lines, shares, strict=True):
            if not -NOISE <= share <= 1.0 + NOISE:
                table.fault(
                    line,
                    name,
                    translatable("must be from 0 to {top}", top=f"{top}{unit}"),
                    translatable("{value:g}", value=share * whole),
                )
        table.numbers[name] = [min(max(share, 0.0), 1.0) for share in shares]


def _sums(table: _Table) -> None:
    """Report what is over 1 together; what is so within noise is taken off the reflectance."""
    passed = table.numbers[TRANSMITTED]
    for name in [name for name in table.numbers if name.startswith(BOTH)]:
        sent = table.numbers[name]
        for line, t, r in zip(table.lines, passed, sent, strict=True):
            if t + r > 1.0 + NOISE:
                rule = translatable("must be 1 at most together with T")
                found = translatable("T {t:g} + R {r:g} = {both:.3f}", t=t, r=r, both=t + r)
                table.fault(
                    line,
                    name,
                    rule,
                    found,
                    translatable("what is passed and what is sent back are parts of one light"),
                )
        table.numbers[name] = [min(r, 1.0 - t) for t, r in zip(passed, sent, strict=True)]


def _reach(table: _Table) -> None:
    """Report a range that leaves out too much of the sun, and steps that pass over too much."""
    values = table.numbers[WAVELENGTH]
    if values[0] > LATEST_START or values[-1] < EARLIEST_END:
        rule = translatable(
            "must reach from {first:g} nm or below to {last:g} nm or above",
            first=LATEST_START,
            last=EARLIEST_END,
        )
        hint = translatable(
            "the sun outside it is not measured; ask for the whole range, or leave the file out"
        )
        table.fault(
            table.lines[0],
            WAVELENGTH,
            rule,
            translatable("{first:g} to {last:g} nm", first=values[0], last=values[-1]),
            hint,
        )
    for number, (before, after) in enumerate(pairwise(values)):
        most = STEP_OF_EYE if before < EYE_END else STEP_BEYOND
        if LATEST_START <= before < EARLIEST_END and after - before > most + 1e-9:
            line = max(table.lines[number], table.lines[number + 1])
            rule = translatable("must be within {most:g} nm of the row before", most=most)
            hint = translatable(
                "more points are needed between {before:g} and {after:g} nm", before=before, after=after
            )
            table.fault(line, WAVELENGTH, rule, translatable("{nm:g} nm", nm=after - before), hint)


def _one_way(table: _Table, ways: list[tuple[str, ...]], cells: list[str], sides: tuple[str, str]) -> None:
    """Report a column that may be either side's, where it matters."""
    first, second = (table.numbers[f"r_{side}"] for side in sides)
    if max(abs(a - b) for a, b in zip(first, second, strict=True)) <= ALIKE:
        return
    number = next(n for n in range(len(cells)) if len({way[n] for way in ways}) > 1)
    either = [_SIDES[way[number].removeprefix("r_")] for way in ways[:2]]
    name = next(name for name, heading in table.headings.items() if heading.cell == cells[number])
    rule = translatable(
        "must be readable in one way: it may be the light sent back on {one} or on {other}",
        one=either[0],
        other=either[1],
    )
    hint = translatable(
        "write front: {one} or front: {other} below file:, or head the columns R_{one} and R_{other}",
        one=sides[0],
        other=sides[1],
    )
    table.fault(table.head, name, rule, cells[number], hint)


def _measured(table: _Table, sides: tuple[str, str]) -> Measured:
    numbers = table.numbers
    passed = numbers[TRANSMITTED]
    front, back = (numbers.get(f"r_{side}", numbers.get(BOTH)) for side in sides)
    return Measured(
        table.shown,
        tuple(numbers[WAVELENGTH]),
        tuple(passed),
        tuple(front or ()),
        tuple(back or ()),
    )
