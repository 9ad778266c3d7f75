"""Minutes per pane and for the job: who fits, what slows the work, and how many people it takes.

All rates are common practice without a source; each is a ``Default`` with its spread, so that a job
can replace it by the fitter's own records and a report can list it. Driving, curing, remakes and
waiting for the sun to leave a face are not counted.

Panes are alike that are worked on in the same way, whatever their size: the first of them take the longer
time, all others the shorter one. As a check stands the day: a trained fitter alone does 20 to 30 m2 of
ordinary panes in eight hours, set-up included, two people 40 to 60; a first-timer with a helper six
ordinary windows in 3 to 5 hours (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from reportkit.base.translatable import Quantity, english, translatable
from reportkit.work.defaults import Default, table

_PLAIN_PANE = translatable(
    "plain pane of {small:.0f} to {large:.1f}, preparation included",
    small=Quantity(1.0, "m²"),
    large=Quantity(1.5, "m²"),
)
_MORE_PANES = english("each further pane that is worked on in the same way")

#: Minutes and multipliers. A multiplier's unit is 1.
DEFAULTS: dict[str, Default] = table(
    Default("fitter", 37.5, "min", "C", _PLAIN_PANE, 30.0, 45.0),
    Default("fitter_many", 22.5, "min", "C", _MORE_PANES, 15.0, 30.0),
    Default("first_timer", 67.5, "min", "C", _PLAIN_PANE, 45.0, 90.0),
    Default("first_timer_many", 52.5, "min", "C", _MORE_PANES, 45.0, 60.0),
    Default(
        "first_panes", 2.0, "panes", "C", english("so many of the panes alike take the longer time"), 1.0, 3.0
    ),
    Default(
        "fixed_share",
        0.5,
        "1",
        "C",
        english("part of a pane's time that does not grow with its area"),
        0.3,
        0.7,
    ),
    Default("divided", 12.5, "min", "C", english("small divided pane in timber bars, each"), 10.0, 15.0),
    Default("divided_many", 10.0, "min", "C", _MORE_PANES, 10.0, 12.5),
    Default(
        "old_film",
        20.0,
        "min/m2",
        "C",
        english("taking old film and its adhesive off, of all people together"),
        10.0,
        30.0,
    ),
    Default(
        "set_up", 37.5, "min", "C", english("carrying in, covering floors, mixing, clearing away"), 30.0, 45.0
    ),
    Default(
        "timber",
        1.45,
        "1",
        "C",
        english("timber frame or putty line: slower cleaning and trimming"),
        1.3,
        1.6,
    ),
    Default("step_ladder", 1.3, "1", "C", english("work from a step-ladder")),
    Default("tower", 1.8, "1", "C", english("work from a tower"), 1.6, 2.0),
    Default("arch", 1.75, "1", "C", english("arched or odd shape, trimmed on the glass"), 1.5, 2.0),
    Default("outside", 1.3, "1", "C", english("film on the outer face")),
    Default(
        "safety_film", 1.55, "1", "C", english("thick safety film: stiff, more water to push out"), 1.3, 1.8
    ),
    Default(
        "safety_thickness", 100.0, "um", "C", english("film thicker than this is handled as safety film")
    ),
    Default("two_people", 2.5, "m2", "C", english("a pane larger than this takes two people")),
    Default(
        "two_share",
        0.6,
        "1",
        "C",
        english("part of one person's time that a pane takes two, by the clock"),
        0.5,
        0.7,
    ),
)

#: The middle of the pane size that the base minutes describe [m2].
BASE_AREA_M2 = 1.25

#: Mark of a value that the job gives in a default's place: it is no assumption.
OWN = "J"

Who = Literal["fitter", "first_timer"]
Access = Literal["floor", "step_ladder", "tower"]


@dataclass(frozen=True)
class PaneWork:
    """What decides the time of one kind of pane.

    ``width_mm`` and ``height_mm`` [mm] over 0; ``quantity`` of equal panes; ``film_thickness_um`` [um];
    ``fill`` is the share of that rectangle that is glass [1].
    """

    id: str
    width_mm: int
    height_mm: int
    quantity: int = 1
    timber: bool = False
    arch: bool = False
    divided: bool = False
    old_film: bool = False
    outside: bool = False
    access: Access = "floor"
    film_thickness_um: float = 50.0
    fill: float = 1.0

    def __post_init__(self) -> None:
        """Refuse sizes and quantities that are not over 0."""
        if min(self.width_mm, self.height_mm, self.quantity) <= 0:
            raise ValueError(f"pane {self.id}: width, height and quantity must be over 0")
        if self.access not in ("floor", "step_ladder", "tower"):
            raise ValueError(f"pane {self.id}: access must be floor, step_ladder or tower: {self.access!r}")

    @property
    def area_m2(self) -> float:
        """Area of the glass of one pane [m2]."""
        return self.blank_m2 * self.fill

    @property
    def blank_m2(self) -> float:
        """Area of the rectangle that is handled before it is trimmed [m2]."""
        return self.width_mm * self.height_mm * 1e-6

    def slowed_by(self, defaults: Mapping[str, Default] = DEFAULTS) -> tuple[str, ...]:
        """Keys of the multipliers that slow it down; the minutes of divided panes hold their bars already."""
        slow = [
            key
            for key in ("timber", "arch", "outside")
            if getattr(self, key) and not (key == "timber" and self.divided)
        ]
        if self.access != "floor":
            slow.append(self.access)
        if self.film_thickness_um > defaults["safety_thickness"].value:
            slow.append("safety_film")
        return tuple(slow)

    def way(self, defaults: Mapping[str, Default] = DEFAULTS) -> tuple[object, ...]:
        """What panes share that are worked on in the same way."""
        return (self.divided, self.old_film, self.large(defaults), *self.slowed_by(defaults))

    def large(self, defaults: Mapping[str, Default] = DEFAULTS) -> bool:
        """Whether it takes two people."""
        return self.blank_m2 > defaults["two_people"].value


@dataclass(frozen=True)
class Minutes:
    """A time with its spread [min]."""

    low: float
    likely: float
    high: float

    def __add__(self, other: Minutes) -> Minutes:
        """Add low to low, likely to likely, high to high."""
        return Minutes(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> Minutes:
        """Return all three multiplied by one factor."""
        return Minutes(self.low * factor, self.likely * factor, self.high * factor)


@dataclass(frozen=True)
class PaneMinutes:
    """Time of one pane of a kind, how many people it takes, and which defaults made it."""

    id: str
    each: Minutes
    quantity: int
    people: int
    from_defaults: tuple[str, ...]


@dataclass(frozen=True)
class Labour:
    """The job's time.

    ``elapsed`` [min] is by the clock on site; ``person`` [min] is what is paid: the whole crew for
    the whole time. ``used_defaults`` are the keys of the defaults that took part, sorted.
    """

    panes: tuple[PaneMinutes, ...]
    set_up: Minutes
    crew: int
    elapsed: Minutes
    person: Minutes
    used_defaults: tuple[str, ...]


def with_own(own: Mapping[str, float], defaults: Mapping[str, Default] = DEFAULTS) -> dict[str, Default]:
    """Return defaults with a fitter's own values in their place, which have no spread.

    Parameters
    ----------
    own
        Values by the keys of `DEFAULTS`, in the units there; ``large`` is the time by the clock [min] that
        two people take for a pane over ``two_people``.
    defaults
        What they replace.
    """
    merged = dict(defaults)
    for key, value in own.items():
        unit = defaults[key].unit if key in defaults else "min"
        merged[key] = Default(key, value, unit, OWN, english("given by the job"))
    return merged


def pane_minutes(
    work: PaneWork,
    *,
    who: Who = "fitter",
    alike: int = 1,
    defaults: Mapping[str, Default] = DEFAULTS,
) -> PaneMinutes:
    """Return the time of one pane.

    Parameters
    ----------
    work
        The pane.
    who
        ``fitter`` or ``first_timer``.
    alike
        How many panes of the job are worked on in the same way, at least 1.
    defaults
        Minutes and multipliers, as ``DEFAULTS``.

    Returns
    -------
    PaneMinutes
        Low, likely and high by the clock [min], for each of the panes alike on average. Multipliers are
        multiplied with each other; a low time takes every low rate, a high time every high one, so the
        spread is wider than a typical job's.

    Raises
    ------
    ValueError
        If ``who`` is neither of the two, or ``alike`` under 1.

    Notes
    -----
    The base minutes hold for 1 to 1.5 m2. Outside that a fixed share of the time stays and the rest
    grows with the area; a small divided pane has its own minutes. Of n panes alike the first f take the
    longer time a, the others the shorter time m: on average m + (a - m) f / n. Old film takes its minutes of
    all people together, so two have it off in half the time.
    """
    if who not in ("fitter", "first_timer"):
        raise ValueError(f"who must be fitter or first_timer, got {who!r}")
    if alike < 1:
        raise ValueError(f"alike must be 1 or more, got {alike!r}")
    area = work.area_m2
    used: list[str] = []

    def pick(key: str) -> tuple[float, float, float]:
        if defaults[key].mark != OWN:
            used.append(key)
        return defaults[key].range

    people = 2 if work.large(defaults) else 1
    if people == 2:
        used.append("two_people")
    if people == 2 and "large" in defaults:
        base = pick("large")
    else:
        kind = "divided" if work.divided else who
        base = pick(kind)
        first = defaults["first_panes"].value
        if alike > first:
            more = pick(f"{kind}_many")
            if more != base:
                used.append("first_panes")
            share = first / alike
            low, likely, high = (m + (a - m) * share for a, m in zip(base, more, strict=True))
            base = (low, likely, high)
        scale = 1.0
        if work.divided and who == "first_timer" and defaults["divided"].mark != OWN:
            scale = defaults["first_timer"].value / defaults["fitter"].value
            used.extend(("first_timer", "fitter"))
        elif not work.divided and not 1.0 <= area <= 1.5:
            nearest = min(max(area, 1.0), 1.5)
            scale = 1.0 + (1.0 - pick("fixed_share")[1]) * (area - nearest) / BASE_AREA_M2
        base = (base[0] * scale, base[1] * scale, base[2] * scale)
        if people == 2:
            share_of = pick("two_share")
            base = (base[0] * share_of[0], base[1] * share_of[1], base[2] * share_of[2])
    for key in work.slowed_by(defaults):
        factor = pick(key)
        base = (base[0] * factor[0], base[1] * factor[1], base[2] * factor[2])
        if key == "safety_film":
            used.append("safety_thickness")
    if work.old_film:
        off = pick("old_film")
        each = area / people
        base = (base[0] + off[0] * each, base[1] + off[1] * each, base[2] + off[2] * each)
    return PaneMinutes(work.id, Minutes(*base), work.quantity, people, tuple(used))


def labour(
    panes: Iterable[PaneWork],
    *,
    who: Who = "fitter",
    crew: int | None = None,
    defaults: Mapping[str, Default] = DEFAULTS,
) -> Labour:
    """Return the time of a job.

    Parameters
    ----------
    panes
        The panes that get film, each kind once.
    who
        ``fitter`` or ``first_timer``.
    crew
        People on site; at least as many come as a pane takes. Unsaid: no more.
    defaults
        Minutes and multipliers, as ``DEFAULTS``.

    Returns
    -------
    Labour
        Panes for two people are done one after the other by two of the crew; the rest is shared out
        evenly. No time at all where there is no pane.

    Raises
    ------
    ValueError
        If the crew is under 1.
    """
    works = tuple(panes)
    alike: dict[tuple[object, ...], int] = {}
    for work in works:
        alike[work.way(defaults)] = alike.get(work.way(defaults), 0) + work.quantity
    kinds = tuple(
        pane_minutes(work, who=who, alike=alike[work.way(defaults)], defaults=defaults) for work in works
    )
    none = Minutes(0.0, 0.0, 0.0)
    needed = max((kind.people for kind in kinds), default=1)
    if crew is not None and crew < 1:
        raise ValueError(f"crew must be 1 or more, got {crew}")
    crew = max(needed, crew or 1)
    if not kinds:
        return Labour((), none, crew, none, none, ())
    set_up = Minutes(*defaults["set_up"].range)
    work_minutes = none
    longest = 0.0
    for kind in kinds:
        work_minutes = work_minutes + kind.each.times(kind.quantity * kind.people / crew)
        longest = max(longest, kind.each.likely)
    elapsed = set_up + work_minutes
    if work_minutes.likely < longest:  # more people than the panes can use at once
        elapsed = set_up + work_minutes.times(longest / work_minutes.likely)
    keys = {key for kind in kinds for key in kind.from_defaults}
    if defaults["set_up"].mark != OWN:
        keys.add("set_up")
    return Labour(kinds, set_up, crew, elapsed, elapsed.times(crew), tuple(sorted(keys)))


def overtime(elapsed: float, *, day: float, after: float) -> float:
    """Return how much of a time on site lies beyond the ordinary hours of its days [min].

    Parameters
    ----------
    elapsed
        Time on site by the clock [min].
    day
        Length of a day's work [min]; every day but the last is as long, however long the last pane takes.
    after
        Ordinary time of a day [min].

    Returns
    -------
    float
        Of one person [min].

    Raises
    ------
    ValueError
        If a day has no length.
    """
    if day <= 0:
        raise ValueError(f"day must be over 0, got {day!r}")
    whole, rest = divmod(elapsed, day)
    return whole * max(0.0, day - after) + max(0.0, rest - after)
