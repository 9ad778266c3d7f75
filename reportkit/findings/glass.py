"""Findings of the glass: every glazing of the job bare and with each film, and every pane."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import numpy as np

from reportkit.findings.claims import Doubt, of_glazing
from reportkit.findings.result import Months, Result, Share, Text, WithReasons, finite
from reportkit.findings.screening import Screened, Verdict, screen
from reportkit.physics.glass.rating import ConditionsName
from reportkit.study import options as opt

if TYPE_CHECKING:
    from reportkit.physics.glass import Rating
    from reportkit.study import Study
    from reportkit.study.filmed import FilmedGlass


class Refused(Result):
    """A film that cannot go on a glazing."""

    id: str
    """The glazing."""
    film: str
    """The film."""
    refused: Text
    """Why it cannot."""


class Rated(Result):
    """A glazing, bare or with a film, at the centre of the glass and at normal incidence unless said."""

    id: str
    """The glazing."""
    film: str | None
    """The film; null for bare glass."""
    conditions: ConditionsName
    """The conditions it is computed under."""
    spectrum: Text
    """The weights of the sun's wavelengths."""
    t_solar: Share
    """Solar transmittance [1]; with the next two it adds up to 1."""
    r_solar_out: Share
    """Solar reflectance to the outside [1]."""
    a_solar: Share
    """Solar absorptance [1]."""
    a_lites: tuple[Share, ...]
    """Solar absorptance by lite, from outside [1]."""
    shgc: Share
    """Solar heat gain coefficient, or g-value [1]."""
    shgc_by_angle: dict[str, Share]
    """The same by angle of incidence [degrees] and for ``diffuse`` light [1]."""
    tser: Share
    """1 - SHGC [1]."""
    t_visible: Share
    """Visible transmittance [1]."""
    r_visible_out: Share
    """Visible reflectance to the outside [1]."""
    r_visible_in: Share
    """Visible reflectance to the room [1]."""
    t_uv: Share
    """Ultraviolet transmittance [1]."""
    t_fading: Share
    """Transmittance weighted by how much light fades things [1]."""
    u_w_m2k: float
    """Thermal transmittance under the winter conditions named [W/m2 K]."""
    lsg: float | None
    """Visible transmittance over SHGC [1]; null where SHGC is 0."""
    inward_fraction: float | None
    """Of the sun absorbed, the part that reaches the room [1]; null where nothing is absorbed."""
    inner_face_winter_c: float
    """The room face without sun under the winter conditions [degrees C]."""
    notes: tuple[Text, ...]
    """Assumptions carried from the film."""
    claims: tuple[Doubt, ...]
    """What the film's sheet says against what it does on this glass."""


class PaneFound(WithReasons):
    """A pane: its size, its gain as it is and as chosen, and its rank."""

    id: str
    """The pane."""
    room: str
    """Its room."""
    face: str
    """Its face."""
    glazing: str
    """Its glazing."""
    quantity: int
    """How many alike it stands for."""
    width_mm: float
    """Width of the glass in sight [mm]."""
    height_mm: float
    """Height of the glass in sight [mm]."""
    area_m2: float
    """Its area, of one [m2]."""
    film: str | None
    """The film it gets; null for none."""
    bare_because: Text | None
    """Why it stays bare though film was chosen; null where that is not so."""
    screen: Screened | Verdict | None
    """The breakage screen of the film it was to get; null where it was to get none."""
    peak_solar_w: float
    """Sun's heat through all of the row at the worst hour, as it is [W]."""
    peak_solar_filmed_w: float
    """The same as chosen [W]."""
    own_peak_w: float
    """Most sun's heat through all of the row in an hour, as it is [W]."""
    own_peak_time: dt.datetime
    """The middle of that hour."""
    annual_solar_kwh: float | None
    """Sun's heat in a year, as it is [kWh]."""
    annual_solar_filmed_kwh: float | None
    """The same as chosen [kWh]."""
    direct_sun_hours: Months
    """Hours of direct sun a day by month, twelve values [h]."""
    rank: int
    """Its place by bare heat at the worst hour, 1 for most."""
    shape: str | None = None
    """What it is if no rectangle: a word of the survey; width and height are those of the box around it."""
    number: int = 0
    """Which of its row it is, from the left seen from outside, where it is singled out of it; else 0."""
    outline_mm: tuple[tuple[float, float], ...] = ()
    """Its outline if no rectangle, across and up from the lower left of its box, seen from outside [mm]."""


def fill_glazings(study: Study) -> tuple[Rated | Refused, ...]:
    """Return the ratings of every glazing, bare (``film`` None) and with each film."""
    return tuple(
        Refused(id=glazed.glazing_id, film=str(glazed.film_id), refused=glazed.refusal)
        if glazed.rating is None
        else _rated(study, glazed, glazed.rating)
        for glazed in study.filmed.values()
    )


def _rated(study: Study, glazed: FilmedGlass, rating: Rating) -> Rated:
    return Rated(
        id=glazed.glazing_id,
        film=glazed.film_id,
        conditions=rating.conditions,
        spectrum=rating.spectrum,
        t_solar=rating.t_solar,
        r_solar_out=rating.r_solar_out,
        a_solar=rating.a_solar,
        a_lites=rating.a_lites,
        shgc=rating.shgc,
        shgc_by_angle={str(angle): value for angle, value in rating.shgc_by_angle},
        tser=rating.tser,
        t_visible=rating.t_visible,
        r_visible_out=rating.r_visible_out,
        r_visible_in=rating.r_visible_in,
        t_uv=rating.t_uv,
        t_fading=rating.t_fading,
        u_w_m2k=rating.u_w_m2k,
        lsg=finite(rating.lsg),
        inward_fraction=finite(rating.inward_fraction),
        inner_face_winter_c=rating.inner_face_winter,
        notes=rating.notes,
        claims=of_glazing(study, glazed),
    )


def fill_panes(study: Study) -> tuple[PaneFound, ...]:
    """Return every pane with its size, its gain as it is and as chosen, and its rank by bare gain."""
    job, record = study.job, study.weather
    at = study.bad_hour
    bare, chosen = study.nothing.gains.by_pane, study.chosen.gains.by_pane
    hot, hot_chosen = (study.peak_gains(entry).by_pane for entry in (study.nothing, study.chosen))
    order = np.argsort(-hot[at], kind="stable")
    rank = {int(index): place for place, index in enumerate(order, start=1)}
    reasons = dict(study.chosen.bare_because)
    withheld = (
        dict.fromkeys(("annual_solar_kwh", "annual_solar_filmed_kwh"), "clear_days")
        if record.kind == "clear_sky"
        else {}
    )
    panes = []
    for index, pane in enumerate(job.panes):
        peak = int(np.argmax(hot[:, index]))
        panes.append(
            PaneFound(
                id=pane.id,
                room=pane.room,
                face=pane.face,
                glazing=pane.glazing,
                quantity=pane.quantity,
                width_mm=float(pane.width),
                height_mm=float(pane.height),
                area_m2=pane.area_mm2 / 1e6,
                film=study.chosen.film_by_pane[index],
                bare_because=reasons.get(pane.id),
                screen=screen(study, index),
                peak_solar_w=float(hot[at, index]),
                peak_solar_filmed_w=float(hot_chosen[at, index]),
                own_peak_w=float(hot[peak, index]),
                own_peak_time=study.peaks.weather.times[peak],
                annual_solar_kwh=opt.energy(record, bare[:, index]),
                annual_solar_filmed_kwh=opt.energy(record, chosen[:, index]),
                direct_sun_hours=study.sun.pane_direct_hours[index].tolist(),
                rank=rank[index],
                shape=None if pane.shape is None else pane.shape.kind,
                number=pane.number,
                outline_mm=() if pane.outline is None else pane.outline.points,
                withheld=withheld,
            )
        )
    return tuple(panes)
