"""Files that say what glass or film does wavelength by wavelength, and what was read from one.

A file is a table of wavelength, T and the reflectances of both sides, as a laboratory or a maker gives it. It lies
in the job's folder or in ``_shared`` and is archived with every run.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from reportkit.job.model.about import about
from reportkit.job.model.typed import Record, Text


class FilmSpectrum(Record):
    """A film measured by wavelength on the glass that ``rated`` names."""

    file: Annotated[
        Text,
        about("table of wavelength, T and R of both sides; in the job's folder or _shared", "grey-40.csv"),
    ]
    front: Annotated[
        Literal["glass", "film"] | None,
        about(
            "the side that the file calls front: the bare glass or the film; needed where it says front",
            "glass",
        ),
    ] = None
    glass_file: Annotated[
        Text | None,
        about(
            "the same table of that glass without film; left out: typical glass of its class", "clear-3.csv"
        ),
    ] = None


class LiteSpectrum(Record):
    """A sheet of glass measured by wavelength, with its coating if the glazing has one on it."""

    file: Annotated[
        Text,
        about("table of wavelength, T and R of both sides; in the job's folder or _shared", "grey-6.csv"),
    ]
    front: Annotated[
        Literal["outside", "inside"] | None,
        about("the way the side that the file calls front faces; needed where both sides differ", "outside"),
    ] = None


@dataclass(frozen=True)
class Measured:
    """What a file says: wavelengths rising [nm], T and R of both sides as shares of 1.

    Reflectances are empty where a file of bare glass has none. ``r_front`` is the reflectance of light on the outdoor side of a sheet of glass, and on the bare side of a pane
    with film.
    """

    shown: str
    wavelength: tuple[float, ...]
    t: tuple[float, ...]
    r_front: tuple[float, ...]
    r_back: tuple[float, ...]


#: What files say, by the path as typed and the side that the job calls front.
Spectra = dict[tuple[str, str | None], Measured]
