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
from reportkit.base.translatable import english, translatable
from reportkit.job.model import FilmSpec, Job, Pane, RollOffer
from reportkit.job.model.decisions import BARE
from reportkit.job.model.singled import names_of
from reportkit.job.model.typed import earlier
from reportkit.job.reading.messages import Loc, did_you_mean
from reportkit.job.reading.positions import Positions, field_name
from reportkit.job.reading.survey import READINGS, Row

#: Readings of one side that differ by more are a mistake of reading, not a crooked window [mm].
READINGS_APART = 25
#: A diagonal further from the one computed from width and height means a misread side [mm].
DIAGONAL_OFF = 15
#: A seam is at least this far from an edge of the glass and from the next one [mm].
SEAM_APART = 50
#: Below this every pane of a metric job looks like inches typed bare [mm].
LOOKS_LIKE_INCHES = 130
#: The widest gap a job may leave at an edge [mm].
WIDEST_GAP = 10


#: What a name in the survey must be, and how the names there are said to be, by what they are of.
_NAMED = {
    "rooms": english("a room of this job"),
    "faces": english("a face of this job"),
    "glazings": english("a glazing of this job"),
    "horizons": english("a horizon of this job"),
    "films": english("a film of this job, or none"),
}
_LISTED = {
    "rooms": english("rooms are"),
    "faces": english("faces are"),
    "glazings": english("glazings are"),
    "horizons": english("horizons are"),
    "films": english("films are"),
    "panes": english("panes are"),
    "fuels": english("fuels are"),
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
        shown = None if found is None else str(found)
        self.faults.append(Fault(file, line, field_name(loc, self.raw), rule, shown, hint))

    def in_survey(
        self, row: Row, column: str, rule: str, found: object = None, hint: str | None = None
    ) -> None:
        """Add a fault about a cell of the survey."""
        shown = row.cells.get(column) if found is None else str(found)
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
            self.known(loc, name, english("a pane of this job"), "panes", rows)

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
                if name.casefold() in seen:
                    hint = f"the first is in {seen[name.casefold()]}"
                    self.fault((kind, index, "id"), english("must be an id used once"), name, hint)
                seen.setdefault(name.casefold(), self.positions.told((kind, index, "id")))
        first: dict[str, int] = {}
        for row in self.rows:
            name = row.cells.get("id", "").casefold()
            if name and name in first:
                hint = f"the first is in line {first[name]}"
                self.in_survey(row, "id", english("must be an id used once"), hint=hint)
            first.setdefault(name, row.line)

    def names_known(self) -> None:
        """Report every reference to something the job does not have."""
        rooms, faces, horizons = self.ids("rooms"), self.ids("faces"), self.ids("horizons")
        films, glazings = self.ids("films"), self.ids("glazings")
        self.known(
            ("complaint", "room"),
            self.group("complaint").get("room"),
            english("a room of this job"),
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
            self.known(at_fuel, fuel, english("electricity or a fuel of energy.fuels"), "fuels", known_fuels)
        for index, face in self.records("faces"):
            at = ("faces", index, "horizon")
            self.known(at, face.get("horizon"), english("a horizon of this job"), "horizons", horizons)
        compare = self.raw.get("compare")
        named = list(enumerate(compare)) if isinstance(compare, list) else []
        for index, name in named:
            self.known(("compare", index), name, english("a film of this job"), "films", films)
            if isinstance(name, str) and name in [other for _, other in named[:index]]:
                self.fault(
                    ("compare", index), english("must be named once"), name, english("remove one of the two")
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
        self.known((*at, "job"), choice.get("job"), english("a film of this job, or none"), "films", allowed)
        for kind in ("faces", "panes"):
            chosen = choice.get(kind)
            for name, film in chosen.items() if isinstance(chosen, dict) else ():
                here = (*at, kind, name)
                if kind == "faces":
                    self.known(here, name, english("a face of this job"), kind, self.ids("faces"))
                elif not lapsing:
                    self.known_pane(here, name)
                if film is None:
                    self.fault(here, "must name a film, or none", None, f"films are {', '.join(allowed)}")
                self.known(here, film, english("a film of this job, or none"), "films", allowed)

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
        for whole, readings in (("widths", pane.widths), ("heights", pane.heights)):
            if max(readings) - min(readings) > READINGS_APART:
                middle = sorted(readings)[len(readings) // 2]
                worst = max(range(len(readings)), key=lambda n: abs(readings[n] - middle))
                if len(readings) == 2:
                    worst = 1
                other = pane.heights if whole == "widths" else pane.widths
                hint = english("measure again")
                if any(abs(readings[worst] - side) <= READINGS_APART for side in other):
                    hint += "; width and height may stand in each other's column"
                rule = (
                    f"must agree with the other readings of the same side within {READINGS_APART} mm (1 in)"
                )
                self.in_survey(row, row.column((whole, worst)), rule, hint=hint)
        # from the smallest sides to the largest: a diagonal in between, or near, can be right
        low = math.hypot(float(min(pane.widths)), float(min(pane.heights)))
        high = math.hypot(float(max(pane.widths)), float(max(pane.heights)))
        for index, diagonal in enumerate(pane.diagonals if pane.shape is None else ()):
            if not low - DIAGONAL_OFF <= float(diagonal) <= high + DIAGONAL_OFF:
                rule = (
                    "diagonal does not match: must be about "
                    f"{(low + high) / 2:.0f} mm ({(low + high) / 50.8:.1f} in) by width and height"
                )
                hint = "width and height read wrongly, or units mixed: measure again"
                self.in_survey(row, READINGS["diagonals"][index], rule, hint=hint)
        if pane.overhang == 0 and pane.overhang_above > 0:
            hint = "give the overhang's depth, or leave overhang_above empty"
            self.in_survey(row, "overhang_above", "must be empty where there is no overhang", hint=hint)
        if pane.opens is False and pane.opens_percent is not None:
            hint = "say yes under opens, or leave opens_percent empty"
            self.in_survey(row, "opens_percent", "must be empty where the pane does not open", hint=hint)

    def seams(self, pane: Pane, row: Row) -> None:
        """Report places across a pane that are not on it, or in no order."""
        for column, positions in (("seam", pane.seam), ("mullion", pane.mullion)):
            if list(positions) != sorted(set(positions)):
                hint = "from the left edge of the glass, seen from outside"
                self.in_survey(row, column, "must rise from left to right", hint=hint)
            elif positions and not all(
                after - before >= SEAM_APART
                for before, after in pairwise([Fraction(0), *positions, min(pane.widths)])
            ):
                wide = _mm(pane.width)
                rule = f"must leave at least {SEAM_APART} mm (2 in) on each side, on a pane {wide} wide"
                self.in_survey(row, column, rule, hint="measure from the left edge, seen from outside")

    def panes_together(self, panes: list[Pane], units: str) -> None:
        """Report a whole survey that looks typed in the other units."""
        if units == "metric" and panes and all(
            max(pane.widest, pane.tallest) < LOOKS_LIKE_INCHES for pane in panes
        ):  # fmt: skip
            largest = max(max(pane.widest, pane.tallest) for pane in panes)
            rule = f"must hold at least one pane over {LOOKS_LIKE_INCHES} mm: a bare number is millimetres"
            hint = "if these are inches write in behind each, or units: us in job.yaml"
            self.faults.append(Fault(self.survey, 0, "width", rule, f"largest side {_mm(largest)}", hint))

    # ---- films ----------------------------------------------------------------------------------

    def film(self, film: FilmSpec, index: int) -> None:
        """Report a film whose own numbers or words contradict each other."""
        rated, at = film.rated, ("films", index, "rated")
        for light in ("solar", "visible"):
            passed = getattr(rated, f"{light}_transmittance_percent")
            for side in ("glass_side", "film_side"):
                sent_back = getattr(rated, f"{light}_reflectance_{side}_percent")
                if passed is not None and sent_back is not None and passed + sent_back > 100:
                    rule = f"must not exceed 100 together with {light}_transmittance_percent ({passed:g})"
                    hint = english("read both numbers off the film's sheet again")
                    self.fault((*at, f"{light}_reflectance_{side}_percent"), rule, f"{sent_back:g}", hint)
        exterior = film.film_class == "exterior"
        if exterior and film.side != "outside":
            self.fault(
                ("films", index, "side"),
                "must be outside for an exterior film",
                film.side,
                "write side: outside",
            )
        if film.film_class == "low_emissivity":
            if film.side == "outside":
                hint = "write side: inside, or another film_class"
                self.fault(
                    ("films", index, "side"), "must be inside for a low-emissivity film", film.side, hint
                )
            if rated.emissivity > 0.5:
                rule = "must be at most 0.5 for a low-emissivity film"
                hint = "give emissivity from the film's sheet, or another film_class"
                self.fault((*at, "emissivity"), rule, f"{rated.emissivity:g}", hint)
        widths = [roll.width for roll in film.rolls]
        for number, roll in enumerate(film.rolls):
            if roll.step is not None and roll.price_per_m is None and roll.price_per_ft is None:
                rule = "must be empty for a roll sold whole"
                self.fault(("films", index, "rolls", number, "step"), rule, _mm(roll.step), "remove it")
            elif roll.step is not None and roll.length is not None and roll.step > roll.length:
                rule = f"must be at most the longest length that can be had ({_mm(roll.length)})"
                self.fault(
                    ("films", index, "rolls", number, "step"),
                    rule,
                    _mm(roll.step),
                    "read the price list again",
                )
            same = _kind_of(roll)
            earlier = [_kind_of(other) for other in film.rolls[:number]]
            if same in earlier:
                rule = "must be offered once in this width and length"
                self.fault(
                    ("films", index, "rolls", number, "width"), rule, _mm(widths[number]), "remove one"
                )

    def carried(self, job: Job) -> None:
        """Report films that none of their rolls can carry on a pane they are chosen for.

        A seam helps across the roll, not along it. What lacks less than the gaps at the edges is left to
        the cut plan, which knows them.
        """
        table = job.fitting.table
        for index, film in enumerate(job.films):
            named: dict[tuple[Fraction, Fraction], str] = {}
            for pane in job.panes:
                if job.film_named(pane) == film.id:
                    width, height = (side - 2 * WIDEST_GAP for side in (pane.width, pane.height))
                    seams = [Fraction(0), *pane.seam, width]
                    part = max(b - a for a, b in pairwise(seams)) if pane.seam else Fraction(0)
                    if not any(_carries(roll, table, part, height, turn=film.turn) for roll in film.rolls):
                        named.setdefault((pane.width, pane.height), pane.id)
            for (width, height), pane_id in named.items():
                size = f"{_mm(width)} wide and {_mm(height)} high"
                rule = f"must hold a roll that can carry pane {pane_id}, {size}"
                widths = ", ".join(_mm(roll.width) for roll in film.rolls)
                hint = "offer wider or longer rolls or a longer table, or choose none for the pane"
                self.fault(("films", index, "rolls"), rule, f"widths {widths}", hint)

    def dates(self) -> None:
        """Report a day of fitting before the day of the quote."""
        quoted, fitted = self.group("quote").get("date"), self.group("fitting").get("date")
        if earlier(fitted, quoted):
            rule = f"must not be before the date of the quote ({quoted})"
            self.fault(("fitting", "date"), rule, fitted, english("check both dates"))


def _kind_of(roll: RollOffer) -> tuple[Fraction, Fraction | None, int, bool, bool]:
    """Return what tells one way to have a film from another: size, pack, by length, on the shelf alone."""
    by_length = roll.price_per_m is not None or roll.price_per_ft is not None
    return roll.width, roll.length, roll.pack, by_length, roll.price is None and not by_length


def _carries(
    roll: RollOffer, table: Fraction | None, part: Fraction, height: Fraction, *, turn: bool
) -> bool:
    """Return whether a roll can carry a part of a pane and its whole height, upright or turned."""
    limits = [limit for limit in (roll.length, table) if limit is not None]
    ways = [(part, height)] + ([(height, part)] if turn else [])
    return any(across <= roll.width and all(along <= limit for limit in limits) for across, along in ways)


def _mm(length: Fraction) -> str:
    return f"{float(length):g} mm"
