"""Glass and films measured by wavelength: what their files say, and what three bands would have made of
it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportkit.physics import glass
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, GlazingSpec, Measured
    from reportkit.study.filmed import Filmed


@dataclass(frozen=True)
class File:
    """One file, its integrals and whose it is: a film's, or that of a glazing's sheet of glass.

    ``lite`` counts sheets from outside, 1 first; None for a film. ``printed`` has what the film's sheet
    prints of the integrals, by their names [1].
    """

    measured: Measured
    integrals: glass.Integrals
    held: float
    film: str | None
    glazing: str | None
    lite: int | None
    printed: dict[str, float]


@dataclass(frozen=True)
class InBands:
    """A glazing, bare or with a film, by the wavelength and by three bands of the same files.

    ``banded`` is None where the three bands contradict each other: no single value holds in one of them.
    """

    glazing: str
    film: str | None
    rating: glass.Rating
    banded: glass.Rating | None


def files(loaded: LoadedJob, films: dict[str, FilmSpec], filmed: Filmed) -> tuple[File, ...]:
    """Return what the files of the films and glazings in use say."""
    return tuple(_files(loaded, films, {name for name, _ in filmed}))


def _files(loaded: LoadedJob, films: dict[str, FilmSpec], used: set[str]) -> Iterator[File]:
    for spec in films.values():
        if spec.spectrum is not None:
            measured = loaded.spectra[spec.spectrum.file, spec.spectrum.front]
            yield _file(measured, _printed(spec), film=spec.id)
    for glazing in loaded.job.glazings:
        for number, lite in enumerate(glazing.lites, start=1):
            if lite.spectrum is not None and glazing.id in used:
                measured = loaded.spectra[lite.spectrum.file, lite.spectrum.front]
                yield _file(measured, {}, glazing=glazing.id, lite=number)


def _file(
    measured: Measured,
    printed: dict[str, float],
    *,
    film: str | None = None,
    glazing: str | None = None,
    lite: int | None = None,
) -> File:
    known = translate.spectrum(measured)
    return File(measured, glass.integrals(known), known.held, film, glazing, lite, printed)


def _printed(spec: FilmSpec) -> dict[str, float]:
    sheet = translate.sheet(spec).closed
    values = {
        "t_solar": sheet.t_solar,
        "r_solar_front": sheet.r_solar_glass,
        "r_solar_back": sheet.r_solar_film,
        "t_visible": sheet.t_visible,
        "r_visible_front": sheet.r_visible_glass,
        "r_visible_back": sheet.r_visible_film,
        "t_uv": sheet.t_uv,
    }
    return {name: value for name, value in values.items() if value is not None}


def in_bands(
    loaded: LoadedJob, films: dict[str, FilmSpec], filmed: Filmed, conditions: str
) -> tuple[InBands, ...]:
    """Return every glazing in which something was measured, rated both ways.

    Parameters
    ----------
    loaded
        The job with its spectra.
    films
        The films by id.
    filmed
        Every glazing bare and with each film, by wavelength.
    conditions
        ``nfrc`` or ``en``.
    """
    specs = {spec.id: spec for spec in loaded.job.glazings}
    rated = []
    for (name, film_id), glazed in filmed.items():
        film = None if film_id is None else films[film_id]
        if glazed.rating is not None and _measured(specs[name], film):
            banded = _banded(specs[name], film, loaded, conditions)
            rated.append(InBands(name, film_id, glazed.rating, banded))
    return tuple(rated)


def _measured(glazing: GlazingSpec, film: FilmSpec | None) -> bool:
    return any(lite.spectrum for lite in glazing.lites) or (film is not None and film.spectrum is not None)


def _banded(
    spec: GlazingSpec, film: FilmSpec | None, loaded: LoadedJob, conditions: str
) -> glass.Rating | None:
    try:
        bare = translate.glazing(spec, loaded.spectra, by_wavelength=False)
    except ValueError:
        return None
    if film is None:
        return glass.rate(bare, conditions)
    on, _ = translate.film_on({spec.id: bare}, spec.id, film, loaded.spectra, by_wavelength=False)
    return None if on is None else glass.rate(on, conditions)
