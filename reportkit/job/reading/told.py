"""What a job was read as, told to the person who typed it: counts, films, what is withheld and why.

Only fields are looked at, nothing is computed: a check stays quick.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import codes
from reportkit.base.units import SQUARE_FEET_PER_M2
from reportkit.job.model import FilmSpec, Job, Pane
from reportkit.job.model.typed import looks_like_a_date
from reportkit.job.reading.reader import LoadedJob
from reportkit.job.reading.specs import shown

#: Sides of panes that differ by less are those of one size [mm] (common practice, no source).
ALIKE = 25


def told(loaded: LoadedJob) -> list[str]:
    """Return what was read of a job, line by line, in English.

    Parameters
    ----------
    loaded
        The job, checked.
    """
    job = loaded.job
    return [
        _counts(job),
        *_bearings(loaded),
        *(line for name, read in loaded.lines.items() for line in shown(name, read)),
        *(line for film in job.films if film.id in job.compare for line in _gaps(film)),
        *_withheld(job),
        *_doubted(job),
    ]


def _counts(job: Job) -> str:
    """Return how much there is: ``22 panes in 11 rows, 4 rooms, 2 faces, 212 ft2 of glass, 3 films``."""
    panes, rows = sum(pane.quantity for pane in job.panes), len({pane.row for pane in job.panes})
    area = sum(pane.area_mm2 * pane.quantity for pane in job.panes) / 1e6
    glass = f"{area * SQUARE_FEET_PER_M2:.0f} ft2" if job.units == "us" else f"{area:.1f} m2"
    counted = (
        _many(len(job.rooms), "room"),
        _many(len(job.faces), "face"),
        f"{glass} of glass",
        _many(len(job.compare), "film"),
    )
    return f"Read: {_many(panes, 'pane')} in {_many(rows, 'row')}, {', '.join(counted)}."


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _bearings(loaded: LoadedJob) -> Iterator[str]:
    """Yield the bearings that were found in another way than in degrees."""
    for note in loaded.defaults:
        if note.field.startswith("faces.") and note.field.endswith(".bearing"):
            yield f"{note.field.split('.', 1)[1].removesuffix('.bearing')} looks to {note.value}, {note.why}."


def _gaps(film: FilmSpec) -> Iterator[str]:
    """Yield what a film's sheet does not tell, with what that changes."""
    if film.spectrum is not None:
        return
    rated, kept = film.rated, film.claims.solar_absorptance_percent
    solar = (rated.solar_transmittance_percent, rated.solar_reflectance_glass_side_percent, kept)
    gain = (rated.shgc, rated.tser_percent, film.claims.shading_coefficient, film.claims.light_to_solar_gain)
    if sum(value is not None for value in solar) < 2:
        what = "told as a range of the films that have its SHGC or g" if any(
            value is not None for value in gain
        ) else "told as a wide range: nothing on the sheet tells it"  # fmt: skip
        yield (
            f"{film.id} lacks two of solar transmittance, reflectance and absorptance: "
            f"the sun's heat is {what}."
        )
    if not any(value is not None for value in gain):
        yield f"{film.id} lacks SHGC or g, and TSER: its sheet cannot be checked against what is computed."
    if rated.visible_reflectance_glass_side_percent is None:
        yield f"{film.id} lacks visible reflectance: how mirrored it looks is taken from the whole sun."
    if rated.uv_transmittance_percent is None:
        yield f"{film.id} lacks ultraviolet transmittance: no number of ultraviolet is told."


def _withheld(job: Job) -> Iterator[str]:
    """Yield what the documents will not tell, and for want of what."""
    bare = [room.id for room in job.rooms if room.heat is None]
    if job.weather.use == "clear_days":
        yield "Withheld: a year's sun, heat, energy and money; weather is clear days."
    elif len(bare) == len(job.rooms):
        yield "Withheld: rooms' temperatures, energy and money; no room has heat: {floor_area: ...}."
    elif bare:
        yield f"Withheld: temperatures and energy of {', '.join(bare)}; no heat: {{floor_area: ...}} there."
    lacking = {
        "no_energy_price": "no price of the energy that its rooms use",
        "no_cooling_no_heating": "no room says that it is cooled or heated",
    }
    why = job.unpriced
    if why and job.weather.use != "clear_days" and len(bare) < len(job.rooms):
        yield f"Withheld: savings in money; {lacking[why]}."
    if job.fitting.date is None:
        yield "Withheld: times of the fitting day; no fitting: {date: ...}."


def _doubted(job: Job) -> Iterator[str]:
    """Yield what may be a slip of the pen, and may not: nothing is changed."""
    for pane in _swapped(job):
        yield (
            f"Look again: {pane.id} may have width and height in each other's place "
            f"({_size(pane.width, job)} wide, {_size(pane.height, job)} high)."
        )
    dates = [pane.id for pane in job.panes if looks_like_a_date(pane.id)]
    if dates:
        yield f"Look again: a spreadsheet may have made a date of the id of {codes(dates)}."


def _size(length: object, job: Job) -> str:
    mm = float(length)  # type: ignore[arg-type]  # a length is a fraction
    return f"{mm / 25.4:.5g} in" if job.units == "us" else f"{mm:g} mm"


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
