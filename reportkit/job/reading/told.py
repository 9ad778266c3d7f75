"""What a job was read as, told to the person who typed it: counts, films, what is withheld and why.

Only fields are looked at, nothing is computed: a check stays quick.
"""

from __future__ import annotations

from collections.abc import Iterator

from reportkit.base.translatable import codes, english, translatable
from reportkit.base.units import KM_PER_MILE, SQUARE_FEET_PER_M2
from reportkit.climate import distance, shipped_site
from reportkit.job.model import FilmSpec, Job
from reportkit.job.reading.book import BOOK_FILE, SHEETS, sheet_of
from reportkit.job.reading.defaults import trees_left_out
from reportkit.job.reading.doubts import doubted
from reportkit.job.reading.rates import CHARGED, rates_told
from reportkit.job.reading.reader import LoadedJob
from reportkit.job.reading.specs import shown

#: From here on weather of another place is told with its distance [km] (common practice, no source).
FAR_WEATHER = 100.0
#: The points of the compass, clockwise from north.
_POINTS = (
    translatable("north"),
    translatable("north-east"),
    translatable("east"),
    translatable("south-east"),
    translatable("south"),
    translatable("south-west"),
    translatable("west"),
    translatable("north-west"),
)
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
        *_rough(job),
        *trees_left_out(job),
        *([] if job.own_home else [translatable(CHARGED[job.prices.film_charged])]),
        *rates_told(loaded.defaults),
        *_far_weather(loaded),
        *_no_weather_yet(loaded),
        *_withheld(loaded),
        *doubted(job),
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
    """Yield the way that each face looks, and how that was found where it was not typed in degrees."""
    found = {note.field: note for note in loaded.defaults}
    for face in loaded.job.faces:
        if face.tilt in (0, 180):
            continue  # a flat one looks nowhere
        point = _POINTS[round(face.bearing / 45) % 8]
        note = found.get(f"faces.{face.id}.bearing")
        if note is None:
            bearing = translatable("{degrees:g}°", degrees=face.bearing)
            yield translatable(
                "{face} looks to {bearing}, {point}.", face=face.id, bearing=bearing, point=point
            )
        else:
            yield translatable(
                "{face} looks to {bearing}, {point}, {why}.",
                face=face.id,
                bearing=note.value,
                point=point,
                why=note.why,
            )


def _gaps(film: FilmSpec) -> Iterator[str]:
    """Yield what is not told of a film, with what that changes."""
    if film.thickness_um is None:
        yield translatable(
            "{film} lacks thickness_um: cut, fitted and left to dry as safety film is, which takes longest.",
            film=film.id,
        )
    if film.film_class is None:
        yield translatable(
            "{film} lacks film_class: it may hold metal, and its numbers cannot be held against its class.",
            film=film.id,
        )
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


def _rough(job: Job) -> Iterator[str]:
    """Yield the panes that get no film because nobody told which face of their outermost sheets is rough."""
    sides = {film.side for film in job.films if film.id in job.compare}
    ends = [end for end, other in ((0, "inside"), (-1, "outside")) if sides - {other}]
    rough = {glazing.id for glazing in job.glazings if any(glazing.lites[end].rough_untold for end in ends)}
    panes = [pane.id for pane in job.panes if pane.glazing in rough]
    if panes:
        yield translatable(
            "Look again: which face of the patterned glass of {panes} is rough is not told: no film is "
            "planned on it until textured of its glass is front or back.",
            panes=codes(panes),
        )


def _far_weather(loaded: LoadedJob) -> Iterator[str]:
    """Yield how far away the place of weather that ships with the program is, where that is far."""
    weather = loaded.job.weather
    if weather.use != "shipped" or weather.name is None:
        return
    site = shipped_site(weather.name)
    apart = distance(loaded.latitude, loaded.longitude, site.latitude, site.longitude)
    if apart > FAR_WEATHER:
        us = loaded.job.units == "us"
        away = (
            translatable("{miles:.0f} mi", miles=apart / KM_PER_MILE)
            if us
            else translatable("{km:.0f} km", km=apart)
        )
        yield translatable("The weather is that of {place}, {away} away.", place=site.place, away=away)


def _no_weather_yet(loaded: LoadedJob) -> Iterator[str]:
    """Yield that the weather must be fetched, where its file does not lie in the folder yet."""
    if loaded.job.weather.use == "pvgis" and loaded.weather_file is None:
        yield translatable(
            "The weather must be downloaded from PVGIS first: make does it once, and needs a network for it."
        )


def _withheld(loaded: LoadedJob) -> Iterator[str]:
    """Yield what the documents will not tell, and for want of what."""
    job = loaded.job
    bare = [room.id for room in job.rooms if room.heat is None]
    area = _written(loaded, "rooms", "heat", "floor_area")
    if job.weather.use == "clear_days":
        yield translatable("Withheld: a year's sun, heat, energy and money; weather is clear days.")
    elif len(bare) == len(job.rooms):
        yield translatable(
            "Withheld: rooms' temperatures, energy and money; no room has {field}.", field=area
        )
    elif bare:
        yield translatable(
            "Withheld: temperatures and energy of {rooms}; no {field} there.",
            rooms=", ".join(bare),
            field=area,
        )
    lacking = {
        "no_energy_price": english("no price of the energy that its rooms use"),
        "no_cooling_no_heating": english("no room says that it is cooled or heated"),
    }
    why = job.unpriced
    if why and job.weather.use != "clear_days" and len(bare) < len(job.rooms):
        yield translatable("Withheld: savings in money; {why}.", why=translatable(lacking[why]))
    if job.fitting.date is None:
        yield translatable(
            "Withheld: times of the fitting day; no {field}.", field=_written(loaded, "fitting", "date")
        )


def _written(loaded: LoadedJob, *path: str) -> str:
    """Return how a field that is not given would be written: as text, or into which row of which sheet."""
    if loaded.folder / BOOK_FILE in loaded.sources:
        sheet = sheet_of(path[0])
        row = ".".join(path if SHEETS[sheet] is None else path[1:])
        return translatable("{row} on the sheet {sheet}", row=row, sheet=sheet)
    group, field = path[-2:]
    return f"{group}: {{{field}: ...}}"
