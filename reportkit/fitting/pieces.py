"""Film sizes for panes: what is cut from the roll, and what stays on the glass.

The smallest reading of a pane decides the finished size, the largest the blank cut for it. A piece
cut to size on the table is smaller than the glass by an edge gap on every side; a blank trimmed on the
glass is larger by a trim allowance on every side. A pane out of square is always trimmed on the glass.

All defaults are common practice, no source, and can be set by the job. Arched and round panes are cut
from the rectangle around them; the shape itself is not covered.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from .materials import Default, table
from .records import Piece

Method = Literal["cut_to_size", "trim_on_glass"]

#: Allowances per side of a piece.
DEFAULTS: dict[str, Default] = table(
    Default("edge_gap", 1.5, "mm", "C", "gap between film and frame on each side", 1.0, 4.0),
    Default("edge_gap_safety", 3.0, "mm", "C", "gap of a safety film of 200 um or more", 1.5, 5.0),
    Default("trim_trained", 12.0, "mm", "C", "extra on each side of a blank, trained fitter", 10.0, 15.0),
    Default("trim_first_timer", 25.0, "mm", "C", "extra on each side of a blank, first-timer", 25.0, 25.0),
    Default("safety_from", 200.0, "um", "C", "a film of this thickness is a safety film"),
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
    group
        View group; empty for none.
    """

    id: str
    room: str
    width_mm: Fraction
    height_mm: Fraction
    widest_mm: Fraction
    tallest_mm: Fraction
    quantity: int = 1
    out_of_square: bool = False
    group: str = ""


@dataclass(frozen=True)
class Cut:
    """What to cut for an opening and what remains on the glass, both [mm]."""

    opening: Opening
    width_mm: Fraction
    height_mm: Fraction
    finished_width_mm: Fraction
    finished_height_mm: Fraction
    trimmed_on_glass: bool
    edge_gap_mm: Fraction


def cut_size(
    opening: Opening,
    *,
    method: Method = "trim_on_glass",
    thickness_um: float = 50.0,
    first_timer: bool = False,
    edge_gap_mm: Fraction | None = None,
    trim_mm: Fraction | None = None,
) -> Cut:
    """Return the size to cut for an opening and the finished size.

    Parameters
    ----------
    opening
        The pane as measured.
    method
        ``cut_to_size`` on the table, or ``trim_on_glass`` from a blank.
    thickness_um
        Film thickness [um]; from 200 um on, the safety film's wider gap applies.
    first_timer
        Whether the larger trim allowance applies.
    edge_gap_mm, trim_mm
        The job's own gap and allowance per side [mm]; None for the defaults.

    Returns
    -------
    Cut
        Sizes [mm].

    Raises
    ------
    ValueError
        If the gaps leave nothing of the pane.
    """
    safety = thickness_um >= DEFAULTS["safety_from"].value
    key = "edge_gap_safety" if safety else "edge_gap"
    gap = Fraction(DEFAULTS[key].value) if edge_gap_mm is None else edge_gap_mm
    trim_key = "trim_first_timer" if first_timer else "trim_trained"
    trim = Fraction(DEFAULTS[trim_key].value) if trim_mm is None else trim_mm
    finished = (opening.width_mm - 2 * gap, opening.height_mm - 2 * gap)
    if min(finished) <= 0:
        raise ValueError(f"{opening.id}: the edge gaps leave no film")
    trimmed = method == "trim_on_glass" or opening.out_of_square
    blank = (opening.widest_mm + 2 * trim, opening.tallest_mm + 2 * trim)
    return Cut(opening, *(blank if trimmed else finished), *finished, trimmed, gap)


def pieces(cuts: Iterable[Cut], *, film: str, turn: bool = True, spare: bool = False) -> tuple[Piece, ...]:
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
            glass_mm2=float(cut.opening.width_mm * cut.opening.height_mm),
        )
        for cut in cuts
    )
    if not spare or not made:
        return made
    largest = max(made, key=lambda piece: (piece.area_mm2, piece.id))
    extra = Piece(
        id=f"{largest.id} spare",
        width_mm=largest.width_mm,
        length_mm=largest.length_mm,
        turn=largest.turn,
        film=film,
        label=largest.label,
        glass_mm2=0.0,
        spare=True,
    )
    return (*made, extra)
