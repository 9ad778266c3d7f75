"""Findings of what was measured by wavelength: each file's integrals, and what three bands would have
said."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from reportkit.findings.result import Result, Share
from reportkit.study import spectra

if TYPE_CHECKING:
    from reportkit.physics.glass import Rating
    from reportkit.study import Study


class Integrated(Result):
    """What a file comes to by the weights of the sun, the eye and fading, at normal incidence."""

    t_solar: Share
    """Solar transmittance [1]."""
    r_solar_front: Share
    """Solar reflectance of the side without film, or of the outdoor side of a sheet of glass [1]."""
    r_solar_back: Share
    """Solar reflectance of the other side [1]."""
    t_visible: Share
    """Visible transmittance [1]."""
    r_visible_front: Share
    """Visible reflectance of the side without film, or of the outdoor side [1]."""
    r_visible_back: Share
    """Visible reflectance of the other side [1]."""
    t_uv: Share
    """Ultraviolet transmittance, 300 to 380 nm [1]."""
    r_uv_front: Share
    """Ultraviolet reflectance of the side without film, or of the outdoor side [1]."""
    r_uv_back: Share
    """Ultraviolet reflectance of the other side [1]."""
    t_fading: Share
    """Transmittance weighted by how much light fades things [1]."""


class MeasuredFile(Result):
    """One file of a film or of a sheet of glass."""

    file: str
    """The file."""
    film: str | None
    """The film it is of; null for glass."""
    glazing: str | None
    """The glazing whose sheet of glass it is of; null for a film."""
    lite: int | None
    """Which sheet of it, from outside; null for a film."""
    points: int
    """How many wavelengths it has."""
    shortest_nm: float
    """The shortest of them [nm]."""
    longest_nm: float
    """The longest [nm]."""
    held: Share
    """Share of the sun outside them, where the nearer end's value is held [1]."""
    values: Integrated
    """What it comes to."""
    printed: dict[str, Share]
    """What the film's sheet prints of these, by the same names [1]."""


class Gains(Result):
    """Rated values of a glazing [1]."""

    t_solar: Share
    """Solar transmittance [1]."""
    shgc: Share
    """Solar heat gain coefficient, or g-value [1]."""
    t_visible: Share
    """Visible transmittance [1]."""
    r_visible_out: Share
    """Visible reflectance to the outside [1]."""
    t_uv: Share
    """Ultraviolet transmittance [1]."""
    t_fading: Share
    """Transmittance weighted by how much light fades things [1]."""


class ByWavelength(Result):
    """A glazing of which something was measured, computed by wavelength and by three bands."""

    glazing: str
    """The glazing."""
    film: str | None
    """The film; null for bare glass."""
    by_wavelength: Gains
    """In cells of 5 nm: what everything else here is computed with."""
    three_bands: Gains | None
    """By three bands of the same files; null where no value of a band fits them."""


class Spectra(Result):
    """What was measured by wavelength."""

    files: tuple[MeasuredFile, ...]
    """The files; none where nothing was measured."""
    glazings: tuple[ByWavelength, ...]
    """The glass they count in."""


def _gains(rating: Rating) -> Gains:
    return Gains(**{name: getattr(rating, name) for name in Gains.model_fields})


def fill_spectra(study: Study) -> Spectra:
    """Return what files of measured spectra come to, and how far three bands would have been off."""
    return Spectra(
        files=tuple(
            MeasuredFile(
                file=one.measured.shown,
                film=one.film,
                glazing=one.glazing,
                lite=one.lite,
                points=len(one.measured.wavelength),
                shortest_nm=one.measured.wavelength[0],
                longest_nm=one.measured.wavelength[-1],
                held=one.held,
                values=Integrated(**asdict(one.integrals)),
                printed=one.printed,
            )
            for one in spectra.files(study.loaded, study.films, study.filmed)
        ),
        glazings=tuple(
            ByWavelength(
                glazing=one.glazing,
                film=one.film,
                by_wavelength=_gains(one.rating),
                three_bands=None if one.banded is None else _gains(one.banded),
            )
            for one in spectra.in_bands(study.loaded, study.films, study.filmed, study.conditions)
        ),
    )
