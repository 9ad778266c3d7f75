"""What in a job may be a slip of the pen, told to the person who typed it: nothing is changed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import codes, english, translatable
from reportkit.base.units import mm_told
from reportkit.job.model import Job, Pane
from reportkit.job.model.typed import looks_like_a_date

#: Sides of panes that differ by less are those of one size [mm] (common practice, no source).
ALIKE = 25
#: Hardly a pane is smaller both ways, or larger [mm]: 7.9 in and 10 ft (common practice, no source).
SMALL, LARGE = 200, 3048
#: Walls are square to each other within so much [deg]; what is further off is asked about (common practice,
#: no source).
SQUARE_WITHIN = 10.0


def doubted(job: Job) -> Iterator[str]:
    """Yield what may be a slip of the pen, and may not: nothing is changed.

    Parameters
    ----------
    job
        The job, checked.
    """
    for pane in _swapped(job):
        yield translatable(
            "Look again: {pane} may have width and height in each other's place "
            "({width} wide, {height} high).",
            pane=pane.id,
            width=_size(pane.width, job),
            height=_size(pane.height, job),
        )
    dates = [pane.id for pane in job.panes if looks_like_a_date(pane.id)]
    if dates:
        yield translatable(
            "Look again: a spreadsheet may have made a date of the id of {panes}.", panes=codes(dates)
        )
    yield from _other_unit(job)
    yield from _askew(job)


def _other_unit(job: Job) -> Iterator[str]:
    """Yield the panes whose sides look like another unit than the job's, those of a kind together."""
    small = [pane for pane in job.panes if max(pane.width, pane.height) < SMALL]
    if small:
        meant = translatable(
            english("feet typed for inches")
            if job.units == "us"
            else english("centimetres typed for millimetres")
        )
        yield translatable(
            "Look again: under {limit} both ways {panes} would be very small ({width} wide, {height} high): "
            "{meant}?",
            meant=meant,
            **_sizes_told(job, small, SMALL),
        )
    large = [pane for pane in job.panes if min(pane.width, pane.height) > LARGE]
    if large and job.units == "us":
        yield translatable(
            "Look again: over {limit} both ways {panes} would be very large ({width} wide, {height} high): "
            "{meant}?",
            meant=translatable("millimetres or centimetres typed for inches"),
            **_sizes_told(job, large, LARGE),
        )


def _sizes_told(job: Job, panes: list[Pane], limit: float) -> dict[str, str]:
    """Return panes, the size of the first, and a limit [mm], in the job's units."""
    return {
        "limit": _size(limit, job),
        "panes": codes(pane.id for pane in panes),
        "width": _size(panes[0].width, job),
        "height": _size(panes[0].height, job),
    }


def _askew(job: Job) -> Iterator[str]:
    """Yield the faces that stand neither square nor opposite to another, each once, the oddest first."""
    bearings = {face.id: face.bearing for face in job.faces if face.tilt not in (0, 180)}
    apart = {
        (one, other): abs((bearings[one] - bearings[other] + 180) % 360 - 180)
        for one, other in combinations(bearings, 2)
    }
    odd = {pair: turn for pair, turn in apart.items() if abs((turn + 45) % 90 - 45) > SQUARE_WITHIN}
    while odd:
        oddest = max(bearings, key=lambda face: sum(face in pair for pair in odd))
        pair, turn = next((pair, turn) for pair, turn in odd.items() if oddest in pair)
        yield translatable(
            "Look again: {one} and {other} stand {degrees:.0f}° apart, neither square nor opposite to each "
            "other: were both measured right?",
            one=pair[0],
            other=pair[1],
            degrees=turn,
        )
        odd = {pair: turn for pair, turn in odd.items() if oddest not in pair}


def _size(length: object, job: Job) -> str:
    mm = float(length)  # type: ignore[arg-type]  # a length is a fraction
    return translatable("{inches:.5g} in", inches=mm / 25.4) if job.units == "us" else mm_told(mm)


def _swapped(job: Job) -> list[Pane]:
    """Return panes whose width and height are likely to have changed places.

    Either it lies while panes of its face that are as large stand (or the other way round), more of them
    than lie with it; or it would reach through the ceiling as it is and stays below it when turned.
    """
    ceilings = {
        room.id: float(room.heat.ceiling) if "ceiling" in room.heat.model_fields_set else None
        for room in job.rooms
        if room.heat
    }
    sizes = {face.id: _sizes(job, face.id) for face in job.faces}
    swapped = []
    for pane in job.panes:
        width, height = float(pane.width), float(pane.height)
        if pane.shape is not None or abs(width - height) < 2 * ALIKE:
            continue
        ceiling = ceilings.get(pane.room)
        sill = float(pane.sill) if pane.sill is not None else 0.0
        through = ceiling is not None and sill + height > ceiling >= sill + width
        beside = sizes[pane.face]
        if _alike(beside, height, width) > _alike(beside, width, height) or through:
            swapped.append(pane)
    return swapped


def _sizes(job: Job, face: str) -> Array:
    """Return width, height [mm] and quantity of the panes of a face, those of a shape left out."""
    rows = [
        (float(pane.width), float(pane.height), pane.quantity)
        for pane in job.panes
        if pane.face == face and pane.shape is None
    ]
    return np.array(rows, dtype=float).reshape(-1, 3)


def _alike(sizes: Array, width: float, height: float) -> float:
    """Return how many panes have a size, to within `ALIKE`."""
    near = (np.abs(sizes[:, 0] - width) <= ALIKE) & (np.abs(sizes[:, 1] - height) <= ALIKE)
    return float(sizes[near, 2].sum())
