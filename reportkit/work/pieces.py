"""Film sizes for panes: what is cut from the roll, and what stays on the glass.

The smallest reading of a pane decides the finished size, the largest the blank cut for it. A piece
cut to size on the table is smaller than the glass by an edge gap on every side; a blank trimmed on the
glass is larger by a trim allowance on every side. A pane out of square is always trimmed on the glass.

All defaults are common practice, no source, and can be set by the job. A pane that is no rectangle is cut
from the rectangle around it and always trimmed on the glass or by a template, seams and all.

A butt seam is told from the left edge of the glass seen from outside. A piece is seen from the side its
film goes on, so on the inside left and right change places. Allowances and gaps are for the pane's own
edges: the parts meet at the seam without any.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from reportkit.base.translatable import english
from reportkit.cutting.records import Piece, Roll, exact
from reportkit.work.defaults import Default, table

Method = Literal["cut_to_size", "trim_on_glass"]

#: Ends the name of a spare piece, after its pane's.
SPARE = " spare"

#: Allowances per side of a piece.
DEFAULTS: dict[str, Default] = table(
    Default(
        "trim_trained", 12.0, "mm", "C", english("extra on each side of a blank, trained fitter"), 10.0, 15.0
    ),
    Default(
        "trim_first_timer", 25.0, "mm", "C", english("extra on each side of a blank, first-timer"), 25.0, 25.0
    ),
)


@dataclass(frozen=True)
class Opening:
    """The glass of one pane, or of several alike, as measured.

    Parameters
    ----------
    id, room
        Names for the cut list.
    width_mm, height_mm
        Smallest readings, over 0 [mm].
    widest_mm, tallest_mm
        Largest readings [mm].
    quantity
        Panes alike, at least 1.
    out_of_square
        Whether the diagonals say that the pane is no rectangle.
    fill
        Share of the rectangle around it that is glass [1]: under 1 for an arch, a circle and the like.
    group
        View group; empty for none.
    seams_mm, lines_mm
        Where butt seams go if one is needed, and upright lines along which one would show least, from the
        left edge of the glass seen from outside [mm].
    """

    id: str
    room: str
    width_mm: Fraction
    height_mm: Fraction
    widest_mm: Fraction
    tallest_mm: Fraction
    quantity: int = 1
    out_of_square: bool = False
    fill: float = 1.0
    group: str = ""
    seams_mm: tuple[Fraction, ...] = ()
    lines_mm: tuple[Fraction, ...] = ()


@dataclass(frozen=True)
class Cut:
    """What to cut for an opening and what remains on the glass, both [mm].

    ``reduced`` where no roll or table holds the whole allowance, see `within`.
    """

    opening: Opening
    width_mm: Fraction
    height_mm: Fraction
    finished_width_mm: Fraction
    finished_height_mm: Fraction
    trimmed_on_glass: bool
    edge_gap_mm: Fraction
    reduced: bool = False

    @property
    def size_mm(self) -> tuple[Fraction, Fraction]:
        """Width and height to cut [mm]."""
        return self.width_mm, self.height_mm

    @property
    def margin_mm(self) -> Fraction:
        """By how much the piece reaches over the glass on each side; below 0 where it is smaller [mm]."""
        glass = self.opening.widest_mm if self.trimmed_on_glass else self.opening.width_mm
        return (self.width_mm - glass) / 2

    @property
    def least_mm(self) -> tuple[Fraction, Fraction]:
        """Least width and height that still leave no more than the gap bare at any place [mm]."""
        if not self.trimmed_on_glass:
            return self.size_mm
        opening, gaps = self.opening, 2 * self.edge_gap_mm
        return opening.widest_mm - gaps, opening.tallest_mm - gaps

    def across(self, places_mm: Iterable[Fraction], *, outside: bool) -> tuple[Fraction, ...]:
        """Return places on the glass, from its left edge seen from outside, on the piece [mm].

        Parameters
        ----------
        places_mm
            Places across the glass [mm].
        outside
            Whether the film goes outside; else it is seen from inside, where left is right.

        Returns
        -------
        tuple of Fraction
            From the piece's left edge as it is fitted, rising [mm].
        """
        edges = (place + self.margin_mm for place in places_mm)
        return tuple(sorted(place if outside else self.width_mm - place for place in edges))


def cut_size(
    opening: Opening,
    *,
    edge_gap_mm: Fraction,
    method: Method = "trim_on_glass",
    first_timer: bool = False,
    trim_mm: Fraction | None = None,
) -> Cut:
    """Return the size to cut for an opening and the finished size.

    Parameters
    ----------
    opening
        The pane as measured.
    edge_gap_mm
        Bare glass left on each side [mm].
    method
        ``cut_to_size`` on the table, or ``trim_on_glass`` from a blank.
    first_timer
        Whether the larger trim allowance applies.
    trim_mm
        The job's own allowance per side [mm]; None for the default.

    Returns
    -------
    Cut
        Sizes [mm].

    Raises
    ------
    ValueError
        If the gaps leave nothing of the pane.
    """
    trim_key = "trim_first_timer" if first_timer else "trim_trained"
    trim = Fraction(DEFAULTS[trim_key].value) if trim_mm is None else trim_mm
    finished = (opening.width_mm - 2 * edge_gap_mm, opening.height_mm - 2 * edge_gap_mm)
    if min(finished) <= 0:
        raise ValueError(f"{opening.id}: the edge gaps leave no film")
    trimmed = method == "trim_on_glass" or opening.out_of_square or opening.fill < 1
    blank = (opening.widest_mm + 2 * trim, opening.tallest_mm + 2 * trim)
    return Cut(opening, *(blank if trimmed else finished), *finished, trimmed, edge_gap_mm)


def within(cut: Cut, rolls: Iterable[Roll], *, table_mm: Fraction | None = None, turn: bool = True) -> Cut:
    """Return a cut that a roll can hold, its allowance reduced where that is all that is in the way.

    A blank that is too large for every roll, on a pane that is not, is cut as large as a roll and the table
    allow: a smaller allowance is better than a seam.

    Parameters
    ----------
    cut
        What to cut for an opening.
    rolls
        The rolls of its film.
    table_mm
        Longest strip the table takes [mm]; None for no limit.
    turn
        Whether the film may be turned.

    Returns
    -------
    Cut
        The cut itself where a roll holds it, or where no roll holds even the pane; else the largest that
        one holds, upright where both ways are alike.
    """
    least = cut.least_mm
    sizes = []  # whether whole, and its size
    for roll in rolls:
        wide = exact(roll.width_mm)
        limits = [limit for limit in (table_mm, roll.longest_mm) if limit is not None]
        long = min(limits, default=None)
        width, height = _at_most(cut.width_mm, wide), _at_most(cut.height_mm, long)
        if height >= least[1]:
            # a pane wider than the roll takes a seam, which helps across the roll only
            sizes.append((True, width, height) if width >= least[0] else (False, cut.width_mm, height))
        width, height = _at_most(cut.width_mm, long), _at_most(cut.height_mm, wide)
        if turn and not roll.directional and width >= least[0] and height >= least[1]:
            sizes.append((True, width, height))
    _, width, height = max(sizes, key=lambda one: (one[0], one[1] * one[2]), default=(False, *cut.size_mm))
    reduced = (width, height) != cut.size_mm
    return replace(cut, width_mm=width, height_mm=height, reduced=True) if reduced else cut


def _at_most(side: Fraction, limit: Fraction | None) -> Fraction:
    return side if limit is None else min(side, limit)


def pieces(
    cuts: Iterable[Cut], *, film: str, turn: bool = True, spare: bool = False, outside: bool = False
) -> tuple[Piece, ...]:
    """Return the cut planner's pieces for some cuts.

    Parameters
    ----------
    cuts
        One for each opening that gets the film.
    film
        The film's id.
    turn
        Whether the film may be turned; the planner turns a view group as a whole or not at all.
    spare
        Whether to add one more piece of the largest pane.
    outside
        Whether the film goes outside: it decides what is left on a piece with a seam.

    Returns
    -------
    tuple of Piece
        In the order given, the spare last.
    """
    made = tuple(
        Piece(
            id=cut.opening.id,
            width_mm=cut.width_mm,
            length_mm=cut.height_mm,
            quantity=cut.opening.quantity,
            turn=turn,
            group=cut.opening.group,
            film=film,
            label=cut.opening.room,
            seams_mm=cut.across(cut.opening.seams_mm, outside=outside),
            seam_lines_mm=cut.across(cut.opening.lines_mm, outside=outside),
            glass_mm2=float(cut.opening.width_mm * cut.opening.height_mm) * cut.opening.fill,
        )
        for cut in cuts
    )
    if not spare or not made:
        return made
    largest = max(made, key=lambda piece: (piece.area_mm2, piece.id))
    extra = Piece(
        id=largest.id + SPARE,
        width_mm=largest.width_mm,
        length_mm=largest.length_mm,
        turn=largest.turn,
        film=film,
        label=largest.label,
        seams_mm=largest.seams_mm,
        seam_lines_mm=largest.seam_lines_mm,
        glass_mm2=0.0,
        spare_of=largest.id,
    )
    return (*made, extra)
