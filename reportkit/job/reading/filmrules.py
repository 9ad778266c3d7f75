"""Rules for a film: its own numbers and words must agree, and its rolls must carry what it is chosen for.

Limits here are common practice, no source, unless a source stands beside them.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from reportkit.base.translatable import joined, translatable
from reportkit.base.units import mm_told
from reportkit.job.model import FilmSpec, Job, RollOffer
from reportkit.job.reading.rules import Rules

#: The widest gap a job may leave at an edge [mm].
WIDEST_GAP = 10


def check(rules: Rules, film: FilmSpec, index: int) -> None:
    """Report a film whose own numbers or words contradict each other."""
    rated, at = film.rated, ("films", index, "rated")
    for light in ("solar", "visible"):
        passed = getattr(rated, f"{light}_transmittance_percent")
        for side in ("glass_side", "film_side"):
            sent_back = getattr(rated, f"{light}_reflectance_{side}_percent")
            if passed is not None and sent_back is not None and passed + sent_back > 100:
                rule = translatable(
                    "must not exceed 100 together with {light}_transmittance_percent ({passed:g})",
                    light=light,
                    passed=passed,
                )
                hint = translatable("read both numbers off the film's sheet again")
                rules.fault((*at, f"{light}_reflectance_{side}_percent"), rule, f"{sent_back:g}", hint)
    exterior = film.film_class == "exterior"
    if exterior and film.side != "outside":
        rules.fault(
            ("films", index, "side"),
            translatable("must be outside for an exterior film"),
            film.side,
            translatable("write side: outside"),
        )
    if film.film_class == "low_emissivity":
        if film.side == "outside":
            hint = translatable("write side: inside, or another film_class")
            rules.fault(
                ("films", index, "side"),
                translatable("must be inside for a low-emissivity film"),
                film.side,
                hint,
            )
        if rated.emissivity > 0.5:
            rule = translatable("must be at most {most:g} for a low-emissivity film", most=0.5)
            hint = translatable("give emissivity from the film's sheet, or another film_class")
            rules.fault((*at, "emissivity"), rule, f"{rated.emissivity:g}", hint)
    widths = [roll.width for roll in film.rolls]
    for number, roll in enumerate(film.rolls):
        if roll.step is not None and roll.price_per_m is None and roll.price_per_ft is None:
            rule = translatable("must be empty for a roll sold whole")
            rules.fault(
                ("films", index, "rolls", number, "step"), rule, mm_told(roll.step), translatable("remove it")
            )
        elif roll.step is not None and roll.length is not None and roll.step > roll.length:
            rule = translatable(
                "must be at most the longest length that can be had ({length})", length=mm_told(roll.length)
            )
            rules.fault(
                ("films", index, "rolls", number, "step"),
                rule,
                mm_told(roll.step),
                translatable("read the price list again"),
            )
        same = _kind_of(roll)
        earlier = [_kind_of(other) for other in film.rolls[:number]]
        if same in earlier:
            rule = translatable("must be offered once in this width and length")
            rules.fault(
                ("films", index, "rolls", number, "width"),
                rule,
                mm_told(widths[number]),
                translatable("remove one"),
            )


def carried(rules: Rules, job: Job) -> None:
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
            size = translatable(
                "{width} wide and {height} high", width=mm_told(width), height=mm_told(height)
            )
            rule = translatable(
                "must hold a roll that can carry pane {pane_id}, {size}", pane_id=pane_id, size=size
            )
            widths = joined(", ", [mm_told(roll.width) for roll in film.rolls])
            hint = translatable("offer wider or longer rolls or a longer table, or choose none for the pane")
            rules.fault(("films", index, "rolls"), rule, translatable("widths {widths}", widths=widths), hint)


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
