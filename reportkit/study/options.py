"""What each option does to the sun's heat, the light and the look of the panes.

An option is a film for some of the panes (or for none: doing nothing). Gains are hourly: the beam and
what surrounds the sun enter at their own angle through the glass solved with its film, sky and ground
at the hemispherical mean. The room's answer to them is not here but in the room stage.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.job.model.decisions import BARE

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, Pane
    from reportkit.study.filmed import Filmed, FilmedGlass
    from reportkit.study.screening import Screenings
    from reportkit.study.solar import Solar


#: Below this outdoor temperature sun through glass helps to heat: the base of heating degree-days in
#: British practice (15.5 C, CIBSE TM41, from memory).
HEATING_BASE_C = 15.5

NOTHING = "nothing"
CHOSEN = "chosen"


@dataclass(frozen=True, eq=False)
class Gains:
    """Heat through the panes of one option at H hours [W], summed over equal panes.

    ``by_pane`` has shape (H, P).
    """

    by_pane: Array

    def total(self, panes: Array | Mask | None = None) -> Array:
        """Return the sum over panes, or over those of a mask, shape (H,) [W]."""
        chosen = self.by_pane if panes is None else self.by_pane[:, panes]
        total: Array = chosen.sum(axis=1)
        return total


@dataclass(frozen=True)
class Excluded:
    """Why the client's limits rule an option out: pane, what is limited, its value and the limit.

    Shares are [1], the budget is [currency] and has no pane; a must-have has neither value nor limit.
    """

    pane: str
    what: str
    value: float
    limit: float


@dataclass(frozen=True, eq=False)
class Option:
    """One option and what it does.

    ``film_by_pane`` names the film on each of the P panes, None where it stays bare; ``bare_because``
    gives the reason for panes that a film of the option cannot go on. ``price`` is a shade's, typed by
    the user [currency]; what film costs is in its offer.
    """

    id: str
    film_by_pane: tuple[str | None, ...]
    gains: Gains
    bare_because: tuple[tuple[str, str], ...] = ()
    excluded: tuple[Excluded, ...] = ()
    kind: Literal["none", "film", "shade"] = "film"
    price: Decimal | None = None

    @property
    def cannot_go(self) -> bool:
        """Whether it is a film that no pane can have: it has no price."""
        return self.kind == "film" and not self.films

    @property
    def films(self) -> tuple[str, ...]:
        """The films it uses, in order of the panes."""
        return tuple(dict.fromkeys(name for name in self.film_by_pane if name))

    @property
    def film(self) -> str | None:
        """Its film, where it is one; None for none or several."""
        return self.films[0] if len(self.films) == 1 else None


def pane_gains(panes: tuple[Pane, ...], glazed: list[FilmedGlass], sun: Solar) -> Gains:
    """Return the heat through every pane with what is on it.

    Parameters
    ----------
    panes
        P panes.
    glazed
        The glass of each of them with what is on it.
    sun
        The sun on them.
    """
    on = sun.panes
    straight = on.beam + on.circumsolar
    spread = on.sky + on.ground
    result = np.empty_like(straight)
    groups: dict[int, list[int]] = {}
    for index, entry in enumerate(glazed):
        groups.setdefault(id(entry), []).append(index)
    for members in groups.values():
        table = glazed[members[0]].gains
        assert table is not None  # only film without a refusal is put on panes
        heat = straight[:, members] * table.interp(on.aoi[:, members])
        result[:, members] = heat + spread[:, members] * table.shgc_diffuse
    area = np.array([pane.area_mm2 / 1e6 * pane.quantity for pane in panes])
    return Gains(result * area)


def placed_gains(loaded: LoadedJob, filmed: Filmed, film_by_pane: Sequence[str | None], sun: Solar) -> Gains:
    """Return the heat through every pane with the film that is on it, under any hours' sun."""
    panes = loaded.job.panes
    glazed = [filmed[pane.glazing, film] for pane, film in zip(panes, film_by_pane, strict=True)]
    return pane_gains(panes, glazed, sun)


def option(
    name: str,
    wanted: tuple[str | None, ...],
    loaded: LoadedJob,
    filmed: Filmed,
    sun: Solar,
    screens: Screenings,
) -> Option:
    """Return an option from the film wanted on each pane.

    A film that must not go on a pane's glass, or that the breakage screen refuses there, leaves that pane
    bare, with the reason.
    """
    job = loaded.job
    placed: list[str | None] = []
    bare: list[tuple[str, str]] = []
    excluded: list[Excluded] = []
    darkest = job.limits.darkest_visible_transmittance_percent / 100
    mirrored = job.limits.most_mirrored_visible_reflectance_percent / 100
    for pane, film_id in zip(job.panes, wanted, strict=True):
        glazed = filmed[pane.glazing, film_id]
        refusal = screens[pane.id, film_id].refusal if film_id else ""
        if refusal:
            bare.append((pane.id, refusal))
            glazed = filmed[pane.glazing, None]
        placed.append(glazed.film_id)
        if glazed.film_id and glazed.rating:
            if glazed.rating.t_visible < darkest:
                excluded.append(Excluded(pane.id, "visible_transmittance", glazed.rating.t_visible, darkest))
            if glazed.rating.r_visible_out > mirrored:
                excluded.append(
                    Excluded(pane.id, "visible_reflectance", glazed.rating.r_visible_out, mirrored)
                )
    gains = placed_gains(loaded, filmed, placed, sun)
    kind: Literal["none", "film"] = "film" if any(wanted) else "none"
    return Option(name, tuple(placed), gains, tuple(bare), tuple(excluded), kind)


def wanted_films(loaded: LoadedJob) -> tuple[str | None, ...] | None:
    """Return the film the job names for each pane; None where it names none for any pane.

    The nearest word wins: the pane's row, then the choice by pane, by face, for the job. ``none``
    leaves a pane bare. Where some panes have a film by name and others no word, the others stay bare; where
    the only word is ``none`` for some, which film the others get is open (`left_bare`).
    """
    words = [loaded.job.film_named(pane) for pane in loaded.job.panes]
    if not any(words) or (None in words and set(words) <= {None, BARE}):
        return None
    return tuple(None if word in (None, BARE) else word for word in words)


def left_bare(loaded: LoadedJob) -> tuple[bool, ...]:
    """Return whether each pane is to stay bare whichever film the others get: no film is named for any."""
    job = loaded.job
    if wanted_films(loaded) is not None:
        return (False,) * len(job.panes)
    return tuple(job.film_named(pane) == BARE for pane in job.panes)


def films(loaded: LoadedJob) -> dict[str, FilmSpec]:
    """Return the films compared and those the job names, also in other ways, in the catalogue's order."""
    job = loaded.job
    wanted = set(wanted_films(loaded) or ()) | set(job.compare or [spec.id for spec in job.films])
    wanted |= {way.film_on(pane) for way in job.alternatives for pane in job.panes}
    return {spec.id: spec for spec in job.films if spec.id in wanted}


def complained(loaded: LoadedJob) -> Array:
    """Return a mask of the panes of the room complained of; all panes where no room is named."""
    job = loaded.job
    room = job.complaint.room
    return np.array([room is None or pane.room == room for pane in job.panes])


def bad_hour(bare: Gains, mask: Array, weather: Weather) -> int:
    """Return the hour at which most heat comes through the bare panes complained of.

    Hours colder than ``HEATING_BASE_C`` outside do not count, unless no other has sun: nobody is
    troubled by heat then. Where the temperature is not known the warmer half of the year counts.
    """
    watts = bare.total(mask)
    known = ~np.isnan(weather.temp_air)
    mild = np.isin(np.asarray(weather.times.month), summer_months(weather.latitude))
    warm = np.where(np.where(known, weather.temp_air >= HEATING_BASE_C, mild), watts, 0.0)
    return int(np.argmax(warm if warm.max() > 0 else watts))


def summer_months(latitude: float) -> tuple[int, ...]:
    """Return the six months of the year's warmer half: April to September north of the equator."""
    return (4, 5, 6, 7, 8, 9) if latitude >= 0 else (10, 11, 12, 1, 2, 3)


def energy(weather: Weather, power: Array, months: tuple[int, ...] | None = None) -> float | None:
    """Return the energy of a year or of some months [kWh]; None without a whole year of weather."""
    if weather.kind == "clear_sky":
        return None
    if months is not None:
        power = power[np.isin(np.asarray(weather.times.month), months)]
    return float(power.sum() * weather.step_hours / 1000)
