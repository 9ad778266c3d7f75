"""What the sheets of a job's films claim, checked against each other, the sun and the client's glass.

References: `reportkit.physics.glass.sheet`, `reportkit.physics.glass.claims`; the spectrum is ASTM G173-03.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit import climate
from reportkit.base.translatable import english, translatable
from reportkit.physics import glass
from reportkit.physics.glass.rating import CLEAR_3MM_GAIN
from reportkit.physics.glass.sheet import ON_GLASS
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.job.model import FilmSpec
    from reportkit.study.filmed import Filmed

#: Visible transmittances at which the limits of a film's gain are worked out [1].
LIGHTS = (0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)

#: What is left out of a sheet and makes its gain on other glass a range.
OPEN = ("t_solar", "r_solar_glass", "r_solar_film")


@dataclass(frozen=True)
class OnGlass:
    """SHGC with a film on one of the job's glazings: least and most that agree with the sheet [1]."""

    glazing: str
    low: float
    high: float


@dataclass(frozen=True)
class Checked:
    """One film's sheet: what it says of itself, and what it leaves open on the job's glass."""

    film: str
    findings: tuple[glass.Finding, ...]
    ranges: tuple[OnGlass, ...]


@cache
def spectrum() -> Mapping[str, Any]:
    """Return the reference sun as arguments."""
    sun = climate.reference_spectrum()
    return {"wavelength": sun.wavelength, "irradiance": sun.global_tilt}


def checked(spec: FilmSpec, filmed: Filmed, conditions: str) -> Checked:
    """Return what can be said of a film's sheet.

    Parameters
    ----------
    spec
        The film.
    filmed
        Every glazing of the job bare and with each film.
    conditions
        Rating conditions of the job.
    """
    printed = translate.sheet(spec)
    findings = glass.check(printed, **spectrum())
    ranges = []
    if spec.spectrum is None and set(printed.gaps) & set(OPEN):
        for (name, film_id), glazed in filmed.items():
            bare = filmed[name, None].glazing
            if film_id != spec.id or glazed.glazing is None or bare is None:
                continue
            inside = glass.gain_range(bare, glass.believed(printed), conditions)
            if inside is not None:
                ranges.append(OnGlass(name, inside.low, inside.high))
    return Checked(spec.id, findings, tuple(ranges))


def on_glass(spec: FilmSpec, rating: glass.Rating) -> glass.Finding | None:
    """Compare the SHGC that a sheet prints with the one on the client's glass; None where it prints none."""
    printed = translate.sheet(spec)
    gain = printed.gain
    if gain is None:
        return None
    differs = abs(gain - rating.shgc) > ON_GLASS
    return glass.Finding(
        "ask" if differs else "note",
        english("SHGC on your glass"),
        translatable(
            "the sheet says {printed:.2f} on {glass} glass; on this glass it is {here:.2f} "
            "(SC {sc:.2f}, TSER {tser:.2f})",
            printed=gain,
            glass=printed.rated_on.name,
            here=rating.shgc,
            sc=rating.shgc / CLEAR_3MM_GAIN,
            tser=1 - rating.shgc,
        ),
        english("What are the values on my glass?") if differs else "",
    )


def limits() -> dict[str, np.ndarray]:
    """Return the least SHGC that a film of some visible transmittance can have, by three limits [1].

    Each array has one value for each of ``visible_transmittance``: ``flat`` for a film equally clear to all
    visible light, ``neutral`` for one of exactly neutral colour, ``any`` for any colour.
    """
    gains = [glass.gain_limits(light, **spectrum()) for light in LIGHTS]
    return {
        "visible_transmittance": np.array(LIGHTS),
        "flat": np.array([1 - one.flat for one in gains]),
        "neutral": np.array([1 - one.neutral for one in gains]),
        "any": np.array([1 - one.any_colour for one in gains]),
    }
