"""What a job was read as, told to the person who typed it: counts, films, what is withheld and why.

Only fields are looked at, nothing is computed: a check stays quick.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import codes, english, translatable
from reportkit.base.units import SQUARE_FEET_PER_M2, mm_told
from reportkit.job.model import FilmSpec, Job, Pane
from reportkit.job.model.typed import looks_like_a_date
from reportkit.job.reading.rates import rates_told
from reportkit.job.reading.reader import LoadedJob
from reportkit.job.reading.specs import shown

#: Sides of panes that differ by less are those of one size [mm] (common practice, no source).
ALIKE = 25
#: What a room lacks whose heat is not computed, as it is written.
_AREA = "{floor_area: ...}"
#: One and more of what a job has.
_COUNTED = {
    "panes": (english("{count} pane"), english("{count} panes")),
    "rows": (english("{count} row"), english("{count} rows")),
    "rooms": (english("{count} room"), english("{count} rooms")),
    "faces": (english("{count} face"), english("{count} faces")),
    "films": (english("{count} film"), english("{count} films")),
}


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
        *(translatable("{place}: {what}.", place=note.place, what=note.rule) for note in loaded.taken),
        *_bearings(loaded),
        *(line for name, read in loaded.lines.items() for line in shown(name, read)),
        *(line for film in job.films if film.id in job.compare for line in _gaps(film)),
        *rates_told(loaded.defaults),
        *_withheld(job),
        *_doubted(job),
    ]


def _counts(job: Job) -> str:
    """Return how much there is: ``22 panes in 11 rows, 4 rooms, 2 faces, 212 ft2 of glass, 3 films``."""
    panes, rows = sum(pane.quantity for pane in job.panes), len({pane.row for pane in job.panes})
    area = sum(pane.area_mm2 * pane.quantity for pane in job.panes) / 1e6
    glass = (
        translatable("{area:.0f} ft2", area=area * SQUARE_FEET_PER_M2)
        if job.units == "us"
        else translatable("{area:.1f} m2", area=area)
    )
    return translatable(
        "Read: {panes} in {rows}, {rooms}, {faces}, {glass} of glass, {films}.",
        panes=_many(panes, "panes"),
        rows=_many(rows, "rows"),
        rooms=_many(len(job.rooms), "rooms"),
        faces=_many(len(job.faces), "faces"),
        glass=glass,
        films=_many(len(job.compare), "films"),
    )


def _many(count: int, what: str) -> str:
    return translatable(_COUNTED[what][count != 1], count=count)


def _bearings(loaded: LoadedJob) -> Iterator[str]:
    """Yield the bearings that were found in another way than in degrees."""
    for note in loaded.defaults:
        if note.field.startswith("faces.") and note.field.endswith(".bearing"):
            face = note.field.split(".", 1)[1].removesuffix(".bearing")
            yield translatable(
                "{face} looks to {bearing}, {why}.", face=face, bearing=note.value, why=note.why
            )


def _gaps(film: FilmSpec) -> Iterator[str]:
    """Yield what a film's sheet does not tell, with what that changes."""
    if film.spectrum is not None:
        return
    rated, kept = film.rated, film.claims.solar_absorptance_percent
    solar = (rated.solar_transmittance_percent, rated.solar_reflectance_glass_side_percent, kept)
    gain = (rated.shgc, rated.tser_percent, film.claims.shading_coefficient, film.claims.light_to_solar_gain)
    if sum(value is not None for value in solar) < 2:
        what = translatable(
            english("told as a range of the films that have its SHGC or g")
            if any(value is not None for value in gain)
            else english("told as a wide range: nothing on the sheet tells it")
        )
        yield translatable(
            "{film} lacks two of solar transmittance, reflectance and absorptance: the sun's heat is {what}.",
            film=film.id,
            what=what,
        )
    if not any(value is not None for value in gain):
        yield translatable(
            "{film} lacks SHGC or g, and TSER: its sheet cannot be checked against what is computed.",
            film=film.id,
        )
    if rated.visible_reflectance_glass_side_percent is None:
        yield translatable(
            "{film} lacks visible reflectance: how mirrored it looks is taken from the whole sun.",
            film=film.id,
        )
    if rated.uv_transmittance_percent is None:
        yield translatable(
            "{film} lacks ultraviolet transmittance: no number of ultraviolet is told.", film=film.id
        )


def _withheld(job: Job) -> Iterator[str]:
    """Yield what the documents will not tell, and for want of what."""
    bare = [room.id for room in job.rooms if room.heat is None]
    if job.weather.use == "clear_days":
        yield translatable("Withheld: a year's sun, heat, energy and money; weather is clear days.")
    elif len(bare) == len(job.rooms):
        yield translatable(
            "Withheld: rooms' temperatures, energy and money; no room has heat: {fields}.", fields=_AREA
        )
    elif bare:
        yield translatable(
            "Withheld: temperatures and energy of {rooms}; no heat: {fields} there.",
            rooms=", ".join(bare),
            fields=_AREA,
        )
    lacking = {
        "no_energy_price": english("no price of the energy that its rooms use"),
        "no_cooling_no_heating": english("no room says that it is cooled or heated"),
    }
    why = job.unpriced
    if why and job.weather.use != "clear_days" and len(bare) < len(job.rooms):
        yield translatable("Withheld: savings in money; {why}.", why=translatable(lacking[why]))
    if job.fitting.date is None:
        yield translatable("Withheld: times of the fitting day; no fitting: {fields}.", fields="{date: ...}")


def _doubted(job: Job) -> Iterator[str]:
    """Yield what may be a slip of the pen, and may not: nothing is changed."""
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
