"""Rules that join several fields or several records: does this room exist, do the readings agree?

They run on whatever could be read, so a job with a misspelt currency still hears about its panes.
Limits here are common practice, no source, unless a source stands beside them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.base.units import length_told, mm_told
from reportkit.job.model import Pane
from reportkit.job.model.decisions import BARE
from reportkit.job.model.singled import names_of
from reportkit.job.model.typed import earlier
from reportkit.job.reading.messages import Loc, did_you_mean
from reportkit.job.reading.names import alike
from reportkit.job.reading.positions import Positions, field_name
from reportkit.job.reading.survey import FIRST_IN_LINE, READINGS, Row

#: Readings of one side that differ by more are a mistake of reading, not a crooked window [mm].
READINGS_APART = 25
#: A diagonal further from the one computed from width and height means a misread side [mm].
DIAGONAL_OFF = 15
#: A seam is at least this far from an edge of the glass and from the next one [mm].
SEAM_APART = 50
#: Below this every pane of a metric job looks like inches typed bare [mm].
LOOKS_LIKE_INCHES = 130


#: What a name in the survey must be, and how the names there are said to be, by what they are of.
_NAMED = {
    "rooms": translatable("a room of this job"),
    "faces": translatable("a face of this job"),
    "glazings": translatable("a glazing of this job"),
    "horizons": translatable("a horizon of this job"),
    "films": translatable("a film of this job, or none"),
}
_LISTED = {
    "rooms": translatable("rooms are"),
    "faces": translatable("faces are"),
    "glazings": translatable("glazings are"),
    "horizons": translatable("horizons are"),
    "films": translatable("films are"),
    "panes": translatable("panes are"),
    "fuels": translatable("fuels are"),
}


class Rules:
    """The rules of one job, gathered fault by fault."""

    def __init__(self, raw: dict[str, Any], positions: Positions, rows: list[Row], survey: str) -> None:
        self.raw, self.positions, self.rows, self.survey = raw, positions, rows, survey
        self.faults: list[Fault] = []
        #: Ids that ``_shared`` offers beyond those the job uses, for the mend of a misspelt one.
        self.offered: dict[str, list[str]] = {}

    def fault(self, loc: Loc, rule: str, found: object = None, hint: str | None = None) -> None:
        """Add a fault about a field of ``job.yaml`` or ``_shared``."""
        file, line = self.positions.find(loc)
        shown = found if found is None or isinstance(found, str) else str(found)
        self.faults.append(Fault(file, line, field_name(loc, self.raw), rule, shown, hint))

    def in_survey(
        self, row: Row, column: str, rule: str, found: object = None, hint: str | None = None
    ) -> None:
        """Add a fault about a cell of the survey."""
        shown = row.cells.get(column) if found is None else found if isinstance(found, str) else str(found)
        self.faults.append(Fault(self.survey, row.line, column, rule, shown, hint))

    def records(self, kind: str) -> Iterable[tuple[int, dict[str, Any]]]:
        """Yield the entries of a list that are groups of fields."""
        entries = self.raw.get(kind)
        for index, entry in enumerate(entries if isinstance(entries, list) else []):
            if isinstance(entry, dict):
                yield index, entry

    def ids(self, kind: str) -> list[str]:
        """Return the ids given in a list, in order."""
        return [entry["id"] for _, entry in self.records(kind) if isinstance(entry.get("id"), str)]

    def by_id(self, kind: str) -> dict[str, dict[str, Any]]:
        """Return the entries of a list by their id."""
        return {entry["id"]: entry for _, entry in self.records(kind) if isinstance(entry.get("id"), str)}

    def known_pane(self, loc: Loc, name: Any) -> None:
        """Report a name that is neither a pane's nor that of one of a row of several."""
        if name not in self.panes:
            rows = [row.cells["id"] for row in self.rows if "id" in row.cells]
            self.known(loc, name, translatable("a pane of this job"), "panes", rows)

    @cached_property
    def panes(self) -> frozenset[str]:
        """Every name that a pane goes by."""
        counts = ((row.cells.get("id", ""), row.cells.get("quantity", "1")) for row in self.rows)
        return names_of((name, int(n) if n.isdecimal() and len(n) < 4 else 1) for name, n in counts)

    def group(self, name: str) -> dict[str, Any]:
        """Return a group of fields, empty where it is something else."""
        value = self.raw.get(name)
        return value if isinstance(value, dict) else {}

    # ---- names ----------------------------------------------------------------------------------

    def names_used_once(self) -> None:
        """Report ids given twice; capitals do not tell two ids apart."""
        for kind in ("rooms", "faces", "horizons", "glazings", "films"):
            seen: dict[str, str] = {}
            for index, entry in self.records(kind):
                name = entry.get("id")
                if not isinstance(name, str):
                    continue
                if alike(name) in seen:
                    hint = translatable("the first is in {place}", place=seen[alike(name)])
                    self.fault((kind, index, "id"), translatable("must be an id used once"), name, hint)
                seen.setdefault(alike(name), self.positions.in_words((kind, index, "id")))
        first: dict[str, int] = {}
        for row in self.rows:
            name = alike(row.cells.get("id", ""))
            if name and name in first:
                hint = translatable(FIRST_IN_LINE, line=first[name])
                self.in_survey(row, "id", translatable("must be an id used once"), hint=hint)
            first.setdefault(name, row.line)

    def names_known(self) -> None:
        """Report every reference to something the job does not have."""
        rooms, faces, horizons = self.ids("rooms"), self.ids("faces"), self.ids("horizons")
        films, glazings = self.ids("films"), self.ids("glazings")
        self.known(
            ("complaint", "room"),
            self.group("complaint").get("room"),
            translatable("a room of this job"),
            "rooms",
            rooms,
        )
        for index, room in self.records("rooms"):
            heat = room.get("heat")
            heating = heat.get("heating") if isinstance(heat, dict) else None
            fuel = heating.get("fuel") if isinstance(heating, dict) else None
            energy = self.group("energy").get("fuels")
            fuels = [entry.get("id") for entry in energy if isinstance(entry, dict)] if energy else []
            known_fuels = ["electricity", *(name for name in fuels if isinstance(name, str))]
            at_fuel = ("rooms", index, "heat", "heating", "fuel")
            self.known(
                at_fuel, fuel, translatable("electricity or a fuel of energy.fuels"), "fuels", known_fuels
            )
        for index, face in self.records("faces"):
            at = ("faces", index, "horizon")
            self.known(at, face.get("horizon"), translatable("a horizon of this job"), "horizons", horizons)
        compare = self.raw.get("compare")
        named = list(enumerate(compare)) if isinstance(compare, list) else []
        for index, name in named:
            self.known(("compare", index), name, translatable("a film of this job"), "films", films)
            if isinstance(name, str) and name in [other for _, other in named[:index]]:
                self.fault(
                    ("compare", index),
                    translatable("must be named once"),
                    name,
                    translatable("remove one of the two"),
                )
        allowed = [*films, BARE]
        self.choice(("choice",), self.group("choice"))
        for row in self.rows:
            for column, known, what in (
                ("room", rooms, "rooms"), ("face", faces, "faces"), ("glazing", glazings, "glazings"),
                ("horizon", horizons, "horizons"), ("film", allowed, "films"),
            ):  # fmt: skip
                name = row.cells.get(column)
                if name is not None and name not in known:
                    rule = translatable("must be {what}", what=_NAMED[what])
                    self.in_survey(row, column, rule, hint=self._meant(name, known, what))

    def choice(self, at: Loc, choice: dict[str, Any], *, lapsing: bool = False) -> None:
        """Report films, faces and panes of a choice that the job does not have; no panes where they lapse."""
        allowed = [*self.ids("films"), BARE]
        self.known(
            (*at, "job"), choice.get("job"), translatable("a film of this job, or none"), "films", allowed
        )
        for kind in ("faces", "panes"):
            chosen = choice.get(kind)
            for name, film in chosen.items() if isinstance(chosen, dict) else ():
                here = (*at, kind, name)
                if kind == "faces":
                    self.known(here, name, translatable("a face of this job"), kind, self.ids("faces"))
                elif not lapsing:
                    self.known_pane(here, name)
                if film is None:
                    self.fault(
                        here,
                        translatable("must name a film, or none"),
                        None,
                        translatable("{what}: {names}", what=_LISTED["films"], names=", ".join(allowed)),
                    )
                self.known(here, film, translatable("a film of this job, or none"), "films", allowed)

    def known(self, loc: Loc, name: Any, rule: str, what: str, known: list[str]) -> None:
        """Report a name that is not among those known."""
        if isinstance(name, str) and name not in known:
            self.fault(loc, translatable("must be {what}", what=rule), name, self._meant(name, known, what))

    def _meant(self, name: str, known: list[str], what: str) -> str:
        offered = [other for other in self.offered.get(what, ()) if other not in known]
        return did_you_mean(name, [*known, *offered], _LISTED[what])

    # ---- panes ----------------------------------------------------------------------------------

    def pane(self, pane: Pane, row: Row) -> None:
        """Report readings of one pane that cannot all be right."""
        for whole, measured in (("widths", pane.widths), ("heights", pane.heights)):
            if max(measured) - min(measured) > READINGS_APART:
                middle = sorted(measured)[len(measured) // 2]
                worst = max(range(len(measured)), key=lambda n: abs(measured[n] - middle))
                if len(measured) == 2:
                    worst = 1
                other = pane.heights if whole == "widths" else pane.widths
                hint = translatable("measure again")
                if any(abs(measured[worst] - side) <= READINGS_APART for side in other):
                    hint = translatable("measure again; width and height may stand in each other's column")
                rule = translatable(
                    "must agree with the other readings of the same side within {length}",
                    length=length_told(READINGS_APART, 1),
                )
                self.in_survey(row, row.column((whole, worst)), rule, hint=hint)
        # from the smallest sides to the largest: a diagonal in between, or near, can be right
        low = math.hypot(float(min(pane.widths)), float(min(pane.heights)))
        high = math.hypot(float(max(pane.widths)), float(max(pane.heights)))
        for index, diagonal in enumerate(pane.diagonals if pane.shape is None else ()):
            if not low - DIAGONAL_OFF <= float(diagonal) <= high + DIAGONAL_OFF:
                rule = translatable(
                    "diagonal does not match: must be about {length} by width and height",
                    length=length_told(round((low + high) / 2), round((low + high) / 50.8, 1)),
                )
                hint = translatable("width and height read wrongly, or units mixed: measure again")
                self.in_survey(row, READINGS["diagonals"][index], rule, hint=hint)
        if pane.overhang == 0 and pane.overhang_above > 0:
            hint = translatable("give the overhang's depth, or leave overhang_above empty")
            self.in_survey(
                row, "overhang_above", translatable("must be empty where there is no overhang"), hint=hint
            )
        if pane.opens is False and pane.opens_percent is not None:
            hint = translatable("say yes under opens, or leave opens_percent empty")
            self.in_survey(
                row, "opens_percent", translatable("must be empty where the pane does not open"), hint=hint
            )

    def seams(self, pane: Pane, row: Row) -> None:
        """Report places across a pane that are not on it, or in no order."""
        for column, positions in (("seam", pane.seam), ("mullion", pane.mullion)):
            if list(positions) != sorted(set(positions)):
                hint = translatable("from the left edge of the glass, seen from outside")
                self.in_survey(row, column, translatable("must rise from left to right"), hint=hint)
            elif positions and not all(
                after - before >= SEAM_APART
                for before, after in pairwise([Fraction(0), *positions, min(pane.widths)])
            ):
                wide = mm_told(pane.width)
                rule = translatable(
                    "must leave at least {length} on each side, on a pane {wide} wide",
                    length=length_told(SEAM_APART, 2),
                    wide=wide,
                )
                self.in_survey(
                    row, column, rule, hint=translatable("measure from the left edge, seen from outside")
                )

    def panes_together(self, panes: list[Pane], units: str) -> None:
        """Report a whole survey that looks typed in the other units."""
        if units == "metric" and panes and all(
            max(pane.widest, pane.tallest) < LOOKS_LIKE_INCHES for pane in panes
        ):  # fmt: skip
            largest = max(max(pane.widest, pane.tallest) for pane in panes)
            rule = translatable(
                "must hold at least one pane over {length}: a bare number is millimetres",
                length=mm_told(LOOKS_LIKE_INCHES),
            )
            hint = translatable("if these are inches write in behind each, or units: us in job.yaml")
            self.faults.append(
                Fault(
                    self.survey,
                    0,
                    "width",
                    rule,
                    translatable("largest side {largest}", largest=mm_told(largest)),
                    hint,
                )
            )

    def dates(self) -> None:
        """Report a day of fitting before the day of the quote."""
        quoted, fitted = self.group("quote").get("date"), self.group("fitting").get("date")
        if earlier(fitted, quoted):
            rule = translatable("must not be before the date of the quote ({quoted})", quoted=quoted)
            self.fault(("fitting", "date"), rule, fitted, translatable("check both dates"))
