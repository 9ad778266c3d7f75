"""Pieces to cut, rolls to cut them from, and the plan that joins them.

A roll lies along its length; a **crosscut** makes a strip as long as the pull and as wide as the roll;
each strip is then trimmed lengthwise into pieces, and each piece is trimmed to its own length. A piece
that is not turned has its width across the roll. Lengths are exact: ints, Fractions of a mm, or floats.
Nothing here knows glass, allowances or gaps: a piece's size is what has to come off the roll.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

from reportkit.base.translatable import english, translatable

Length = Fraction | int | float
CENT = Decimal("0.01")


def exact(value: Length) -> Fraction:
    """Return a length as an exact fraction, a float read to a thousandth of a mm [mm]."""
    if isinstance(value, float):
        return Fraction(round(value * 1000), 1000)
    return Fraction(value)


def number(value: Length) -> int | float:
    """Return a length as the plainest JSON number [mm]."""
    fraction = exact(value)
    return fraction.numerator if fraction.denominator == 1 else float(fraction)


def money(value: Fraction | Decimal) -> Decimal:
    """Return an amount rounded once to hundredths [currency]."""
    if isinstance(value, Fraction):
        value = Decimal(value.numerator) / Decimal(value.denominator)
    return value.quantize(CENT, rounding=ROUND_HALF_UP)


@dataclass(frozen=True)
class Piece:
    """One size of film to be cut, `quantity` times.

    Parameters
    ----------
    id : str
        The pane or piece it is for.
    width_mm, length_mm : Fraction, int or float
        Size of film needed; the width lies across the roll unless the piece is turned [mm].
    quantity : int
        How many, at least 1 [-].
    turn : bool
        Whether it may be cut turned by 90 degrees.
    group : str
        Pieces of one view group come from one batch in one direction; empty for none.
    film : str
        The film it must be cut from; matches `Roll.film`.
    label : str
        Room or place, so that pieces of one room lie together.
    seams_mm : tuple
        Where butt seams go if one is needed, from the left edge of the piece [mm].
    seam_lines_mm : tuple
        Transom or mullion lines along which a seam would be least visible, from the left edge [mm].
    glass_mm2 : float, optional
        Area of the glass that one piece covers; the piece's own area where not given [mm2].
    part, parts : int
        Which part of a seamed piece this is, counted from 1; 0 of 1 for a whole piece [-].
    copy : int
        Which of several panes of one id the part is of, counted from 1; 0 for a whole piece [-].
    spare_of : str
        Of a spare piece, the id of the piece it is a spare of; else empty.
    batch : bool
        Whether it comes only from rolls that are bought, as part of a view group that takes several.
    """

    id: str
    width_mm: Length
    length_mm: Length
    quantity: int = 1
    turn: bool = True
    group: str = ""
    film: str = ""
    label: str = ""
    seams_mm: tuple[Length, ...] = ()
    seam_lines_mm: tuple[Length, ...] = ()
    glass_mm2: float | None = None
    part: int = 0
    parts: int = 1
    copy: int = 0
    spare_of: str = ""
    batch: bool = False

    @property
    def pane(self) -> str:
        """Return the id of the pane it is for: of a spare, that of the piece it is a spare of."""
        return self.spare_of or self.id

    @property
    def tie(self) -> str:
        """Return what keeps it on one roll with others: its view group, else the seams of its pane."""
        return self.group or (f"seamed {self.id}, {self.copy}" if self.parts > 1 else "")

    @property
    def area_mm2(self) -> float:
        """Return the area of one piece of film [mm2]."""
        return float(exact(self.width_mm) * exact(self.length_mm))


@dataclass(frozen=True)
class Roll:
    """A kind of roll one can buy or has on the shelf.

    Parameters
    ----------
    width_mm : Fraction, int or float
        Usable width [mm].
    length_mm : Fraction, int, float or None
        Length of a whole roll; None when film is sold by length [mm].
    price : Decimal
        Of one pack of whole rolls, or per metre when sold by length; 0 for film on the shelf [currency].
    film : str
        Which film it is.
    pack : int
        Whole rolls in one pack [-].
    stock : int, optional
        The most packs that can be had; None for no limit. Sold by length: one or none.
    step_mm : optional
        Length is ordered in multiples of this; None for any length [mm].
    most_mm : optional
        The longest length one can order, in whole order steps; None for no limit [mm].
    directional : bool
        Patterned or directional film: no piece may be turned.
    label : str
        What to call it on the sheet ("shelf", "retail pack").
    sold_in : str
        Unit in which film by length is measured out and its price is quoted, ``m`` or ``ft``.
    """

    width_mm: Length
    length_mm: Length | None
    price: Decimal = Decimal(0)
    film: str = ""
    pack: int = 1
    stock: int | None = None
    step_mm: Length | None = None
    most_mm: Length | None = None
    directional: bool = False
    label: str = ""
    sold_in: Literal["m", "ft"] = "m"

    @property
    def by_length(self) -> bool:
        """Return whether film is sold by length from this roll."""
        return self.length_mm is None

    @property
    def longest_mm(self) -> Fraction | None:
        """Return the longest pull that it allows, None for no limit [mm].

        By length it is the longest that can be ordered: whole order steps within ``most_mm``.
        """
        limit = self.most_mm if self.length_mm is None else self.length_mm
        if limit is None or self.length_mm is not None or self.step_mm is None:
            return None if limit is None else exact(limit)
        return exact(self.step_mm) * math.floor(exact(limit) / exact(self.step_mm))

    @property
    def name(self) -> str:
        """Return a short name such as ``1524 x 30500 mm`` or ``1524 mm by length``."""
        width = f"{number(self.width_mm):g}"
        size = (
            f"{width} mm by length" if self.length_mm is None else f"{width} x {number(self.length_mm):g} mm"
        )
        return " ".join(part for part in (self.film, self.label, size) if part)

    def ordered(self, used: Fraction) -> Fraction:
        """Return the length to order for a used length, rounded up to the order step [mm]."""
        if self.length_mm is not None:
            return exact(self.length_mm)
        if self.step_mm is None:
            return used
        step = exact(self.step_mm)
        return step * math.ceil(used / step)

    def cost(self, ordered: Fraction) -> Fraction:
        """Return the exact price of one roll (a share of its pack) or of an ordered length [currency]."""
        if self.length_mm is None:
            return Fraction(self.price) * ordered / 1000
        return Fraction(self.price) / self.pack


@dataclass(frozen=True)
class Placed:
    """One piece on a strip; `x_mm` from the roll's left edge, `y_mm` from the strip's start [mm]."""

    piece: Piece
    x_mm: Fraction
    width_mm: Fraction
    length_mm: Fraction
    turned: bool
    y_mm: Fraction = Fraction(0)


@dataclass(frozen=True)
class Strip:
    """One crosscut, `length_mm` long, starting `y_mm` from the outer end of the roll [mm]."""

    y_mm: Fraction
    length_mm: Fraction
    pieces: tuple[Placed, ...]


@dataclass(frozen=True)
class CutRoll:
    """One roll as bought or taken from the shelf, with its strips in the order to cut."""

    roll: Roll
    length_mm: Fraction
    price: Decimal
    strips: tuple[Strip, ...]

    @property
    def used_mm(self) -> Fraction:
        """Return the length pulled off [mm]."""
        return sum((strip.length_mm for strip in self.strips), Fraction(0))

    @property
    def left_mm(self) -> Fraction:
        """Return the length that is left on the roll [mm]."""
        return self.length_mm - self.used_mm


@dataclass(frozen=True)
class Plan:
    """Which rolls to buy and how to cut them, with what is proved about it.

    `lower_bound` is the least money any such plan can cost and `film_bound_m2` the least film any plan
    of that price pulls off its rolls; `proven` and `proven_film` say that the plan meets them.
    """

    rolls: tuple[CutRoll, ...]
    lower_bound: Decimal
    proven: bool
    film_bound_m2: float
    proven_film: bool
    stages: int = 2
    table_mm: Fraction | None = None
    keep_mm: tuple[Fraction, Fraction] = (Fraction(300), Fraction(300))
    engine: str = ""
    notes: tuple[str, ...] = field(default=())

    @property
    def price(self) -> Decimal:
        """Return what the plan costs [currency]."""
        return sum((cut.price for cut in self.rolls), Decimal(0))

    @property
    def bought_m2(self) -> float:
        """Return the film bought or taken from the shelf [m2]."""
        return sum(float(exact(cut.roll.width_mm) * cut.length_mm) for cut in self.rolls) / 1e6

    @property
    def used_m2(self) -> float:
        """Return the film pulled off the rolls, off-cuts within strips included [m2]."""
        return sum(float(exact(cut.roll.width_mm) * cut.used_mm) for cut in self.rolls) / 1e6

    @property
    def used_mm(self) -> Fraction:
        """Return the length pulled off all rolls [mm]."""
        return sum((cut.used_mm for cut in self.rolls), Fraction(0))

    @property
    def pieces(self) -> tuple[Placed, ...]:
        """Return every piece placed, in the order of cutting."""
        return tuple(piece for cut in self.rolls for strip in cut.strips for piece in strip.pieces)

    @property
    def glass_m2(self) -> float:
        """Return the glass that the pieces cover, spares not counted [m2]."""
        total = 0.0
        for placed in self.pieces:
            if not placed.piece.spare_of:
                glass = placed.piece.glass_mm2
                total += placed.piece.area_mm2 if glass is None else glass
        return total / 1e6

    @property
    def waste_fraction(self) -> float:
        """Return (bought - glass) / bought [0..1]."""
        bought = self.bought_m2
        return (bought - self.glass_m2) / bought if bought else 0.0

    @property
    def kept_m2(self) -> float:
        """Return the film that stays on the rolls and is worth keeping [m2]."""
        return sum((float(width * left) for _, width, left in self.offcuts), 0.0) / 1e6

    @property
    def lost_fraction(self) -> float:
        """Return (bought - glass - kept) / bought [0..1]: what is cut off, or left and not worth keeping."""
        bought = self.bought_m2
        return (bought - self.glass_m2 - self.kept_m2) / bought if bought else 0.0

    @property
    def gap(self) -> float:
        """Return how far the price may be above the least possible, as a share of the price [0..1]."""
        price = self.price
        return float((price - self.lower_bound) / price) if price else 0.0

    @property
    def film_gap(self) -> float:
        """Return how much of the film pulled may be more than the least possible [0..1]."""
        used = self.used_m2
        return max(0.0, (used - self.film_bound_m2) / used) if used and not self.proven_film else 0.0

    @property
    def offcuts(self) -> tuple[tuple[int, Fraction, Fraction], ...]:
        """Return (roll counted from 1, width, length) of each roll's rest that is worth keeping [mm]."""
        rests = []
        for index, cut in enumerate(self.rolls, start=1):
            width = exact(cut.roll.width_mm)
            if width >= self.keep_mm[0] and cut.left_mm >= self.keep_mm[1]:
                rests.append((index, width, cut.left_mm))
        return tuple(rests)

    @property
    def verdict(self) -> str:
        """Return one plain sentence on what is proved."""
        kind = translatable(english("two-stage") if self.stages == 2 else english("three-stage"))
        if self.proven and self.proven_film:
            return translatable(
                "Proved cheapest for {kind} cuts, and no plan at this price pulls less film.", kind=kind
            )
        if self.proven:
            return translatable(
                "Proved cheapest for {kind} cuts; it may pull up to {more:.1%} more film than the least.",
                kind=kind,
                more=_up(self.film_gap),
            )
        return translatable(
            "Not proved cheapest: at most {gap:.1%} above the least possible price for {kind} cuts.",
            gap=_up(self.gap),
            kind=kind,
        )


def _up(share: float) -> float:
    """Return a share rounded up to a tenth of a percent, so that what is open never reads as nothing."""
    return math.ceil(share * 1000 - 1e-9) / 1000
