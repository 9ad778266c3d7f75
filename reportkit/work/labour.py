"""Minutes per pane and for the job: who fits, what slows the work, and how many people it takes.

All rates are common practice without a source; each is a ``Default`` with its spread, so that a job
can replace it by the fitter's own records and a report can list it. Driving, curing, remakes and
waiting for the sun to leave a face are not counted.
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

#: Minutes and multipliers. A multiplier's unit is 1.
DEFAULTS: dict[str, Default] = table(
    Default("fitter", 37.5, "min", "C", _PLAIN_PANE, 30.0, 45.0),
    Default("first_timer", 67.5, "min", "C", _PLAIN_PANE, 45.0, 90.0),
    Default(
        "fixed_share",
        0.5,
        "1",
        "C",
        english("part of a pane's time that does not grow with its area"),
        0.3,
        0.7,
    ),
    Default("divided", 12.5, "min", "C", english("small divided pane, each"), 10.0, 15.0),
    Default("old_film", 20.0, "min/m2", "C", english("taking old film and its adhesive off"), 10.0, 30.0),
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
)

#: The middle of the pane size that the base minutes describe [m2].
BASE_AREA_M2 = 1.25

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
            raise ValueError(
                f"pane {self.id}: access must be floor, step_ladder or tower, got {self.access!r}"
            )

    @property
    def area_m2(self) -> float:
        """Area of the glass of one pane [m2]."""
        return self.blank_m2 * self.fill

    @property
    def blank_m2(self) -> float:
        """Area of the rectangle that is handled before it is trimmed [m2]."""
        return self.width_mm * self.height_mm * 1e-6


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
    the whole time.
    """

    panes: tuple[PaneMinutes, ...]
    set_up: Minutes
    crew: int
    elapsed: Minutes
    person: Minutes

    @property
    def used_defaults(self) -> tuple[str, ...]:
        """Keys of the defaults that took part, sorted."""
        return tuple(sorted({key for pane in self.panes for key in pane.from_defaults} | {"set_up"}))


def pane_minutes(
    work: PaneWork, *, who: Who = "fitter", defaults: Mapping[str, Default] = DEFAULTS
) -> PaneMinutes:
    """Return the time of one pane.

    Parameters
    ----------
    work
        The pane.
    who
        ``fitter`` or ``first_timer``.
    defaults
        Minutes and multipliers, as ``DEFAULTS``.

    Returns
    -------
    PaneMinutes
        Low, likely and high [min]. Multipliers are multiplied with each other; a low time takes every
        low rate, a high time every high one, so the spread is wider than a typical job's.

    Raises
    ------
    ValueError
        If ``who`` is neither of the two.

    Notes
    -----
    The base minutes hold for 1 to 1.5 m2. Outside that a fixed share of the time stays and the rest
    grows with the area; a small divided pane has its own minutes.
    """
    if who not in ("fitter", "first_timer"):
        raise ValueError(f"who must be fitter or first_timer, got {who!r}")
    area = work.area_m2
    used: list[str] = []

    def pick(key: str) -> tuple[float, float, float]:
        used.append(key)
        return defaults[key].range

    if work.divided:
        base = pick("divided")
        if who == "first_timer":
            slower = defaults["first_timer"].value / defaults["fitter"].value
            base = (base[0] * slower, base[1] * slower, base[2] * slower)
            used.extend(("first_timer", "fitter"))
    else:
        share = 0.0
        if not 1.0 <= area <= 1.5:
            share = 1.0 - defaults["fixed_share"].value
            used.append("fixed_share")
        nearest = min(max(area, 1.0), 1.5)
        scale = 1.0 + share * (area - nearest) / BASE_AREA_M2
        low, likely, high = pick(who)
        base = (low * scale, likely * scale, high * scale)
    slow = [key for key in ("timber", "arch", "outside") if getattr(work, key)]
    if work.access != "floor":
        slow.append(work.access)
    if work.film_thickness_um > defaults["safety_thickness"].value:
        slow.append("safety_film")
        used.append("safety_thickness")
    for key in slow:
        factor = pick(key)
        base = (base[0] * factor[0], base[1] * factor[1], base[2] * factor[2])
    if work.old_film:
        off = pick("old_film")
        base = (base[0] + off[0] * area, base[1] + off[1] * area, base[2] + off[2] * area)
    people = 2 if work.blank_m2 > defaults["two_people"].value else 1
    if people == 2:
        used.append("two_people")
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
        People on site. Unsaid: two where a pane takes two, else one.
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
        If the crew is smaller than a pane needs, or under 1.
    """
    kinds = tuple(pane_minutes(work, who=who, defaults=defaults) for work in panes)
    none = Minutes(0.0, 0.0, 0.0)
    needed = max((kind.people for kind in kinds), default=1)
    crew = needed if crew is None else crew
    if crew < needed:
        raise ValueError(f"crew must be {needed} or more for panes of this size, got {crew}")
    if not kinds:
        return Labour((), none, crew, none, none)
    set_up = Minutes(*defaults["set_up"].range)
    work_minutes = none
    longest = 0.0
    for kind in kinds:
        work_minutes = work_minutes + kind.each.times(kind.quantity * kind.people / crew)
        longest = max(longest, kind.each.likely)
    elapsed = set_up + work_minutes
    if work_minutes.likely < longest:  # more people than the panes can use at once
        elapsed = set_up + work_minutes.times(longest / work_minutes.likely)
    return Labour(kinds, set_up, crew, elapsed, elapsed.times(crew))
