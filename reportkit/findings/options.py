"""Findings of the comparison: doing nothing, every film, and what the job names."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

import numpy as np
from pydantic import Field

from reportkit.findings.advice import Excluded, excluded
from reportkit.findings.result import Months, Result, Share, Text, WithReasons
from reportkit.findings.rooms import Amounts, Spread, spread
from reportkit.findings.savings import DriverFound, Pays, YearsToPay, no_price, savings
from reportkit.physics.sun import monthly_sums
from reportkit.study import options as opt
from reportkit.study.asked import asked

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option


@dataclass(frozen=True)
class _Look:
    """Area-weighted means over the panes; a shade that is drawn and opened has none."""

    t_visible: float | None = None
    t_uv: float | None = None
    t_fading: float | None = None
    r_visible_out: float | None = None
    r_visible_in: float | None = None
    shgc: float | None = None
    u_w_m2k: float | None = None


@dataclass(frozen=True)
class _Use:
    """Energies and hot hours, summed over the described rooms."""

    cooling_kwh: Spread | None
    heating_kwh: Spread | None
    hot_hours: Spread | None
    hottest_c: Spread | None


LIGHT = tuple(field.name for field in fields(_Look))

ENERGIES = (
    "annual_solar_kwh",
    "summer_solar_kwh",
    "winter_solar_kwh",
    "summer_kept_out_kwh",
    "winter_kept_out_kwh",
    "monthly_solar_kwh",
    "kept_out_warm_kwh",
    "kept_out_cold_kwh",
)


class BarePane(Result):
    """A pane that an option leaves bare though film was meant for it."""

    pane: str
    """The pane."""
    why: Text
    """Why."""


class LightAtEye(Result):
    """Glare: the light at the eye."""

    light_at_eye_lx: float = Field(ge=0)
    """Mean over the daylight hours somebody is there [lx]."""


class FadingLeft(Result):
    """Fading: the light that fades things."""

    left: float = Field(ge=0)
    """What is left of what bare glass lets in [1]."""


class Shows(Result):
    """Privacy: how much shows from outside."""

    shows_by_day: Share
    """By day [1]."""
    shows_after_dark: Share
    """After dark with lights on [1]."""
    without_film: tuple[str, ...] = ()
    """The panes complained of that an option with film leaves bare: there the view stays as it is."""


class AskedFound(Result):
    """What the client asked about, over the panes complained of, by kind; heat and bills stand elsewhere."""

    glare: LightAtEye | None = None
    """Glare."""
    fading: FadingLeft | None = None
    """Fading."""
    privacy: Shows | None = None
    """Privacy."""


class OptionFound(WithReasons):
    """One option: what it lets in and keeps out, how the glass looks, what it costs and saves."""

    id: str
    """The option."""
    kind: Literal["none", "film", "shade"]
    """Doing nothing, film, or a shade."""
    film: str | None
    """Its film, where it is one."""
    films: tuple[str, ...]
    """All its films."""
    chosen: bool
    """Whether the offer is for it."""
    recommended: bool
    """Whether the rule picks it."""
    peak_solar_w: float
    """Sun's heat through the panes complained of at the worst hour [W]."""
    peak_cut_fraction: float
    """How much less that is than through bare glass [1]."""
    own_peak_w: float
    """Most sun's heat through the panes complained of in an hour [W]."""
    annual_solar_kwh: float | None
    """Sun's heat through all panes in a year [kWh]."""
    summer_solar_kwh: float | None
    """The same in the summer half [kWh]."""
    winter_solar_kwh: float | None
    """The same in the winter half [kWh]."""
    summer_kept_out_kwh: float | None
    """Kept out in the summer half, against bare glass [kWh]."""
    winter_kept_out_kwh: float | None
    """Kept out in the winter half [kWh]."""
    monthly_solar_kwh: Months | None
    """Sun's heat through all panes by month, twelve values [kWh]."""
    kept_out_warm_kwh: float | None
    """Kept out in hours at or above ``cold_below_c`` [kWh]."""
    kept_out_cold_kwh: float | None
    """Kept out in colder hours [kWh]."""
    cold_below_c: float
    """Outdoor air below which the sun helps to heat [degrees C]."""
    summer_months: tuple[int, ...]
    """The months of the summer half."""
    t_visible: float | None
    """Visible transmittance, like the next six a mean over the panes by area [1]; null for a shade."""
    t_uv: float | None
    """Ultraviolet transmittance [1]."""
    t_fading: float | None
    """Transmittance weighted by how much light fades things [1]."""
    r_visible_out: float | None
    """Visible reflectance to the outside [1]."""
    r_visible_in: float | None
    """Visible reflectance to the room [1]."""
    shgc: float | None
    """Solar heat gain coefficient [1]."""
    u_w_m2k: float | None
    """Thermal transmittance [W/m2 K]."""
    asked: AskedFound | None
    """What was asked about, as it leaves it; null for a shade."""
    panes_filmed: int
    """How many panes get film."""
    bare_because: tuple[BarePane, ...]
    """The panes that stay bare, and why."""
    excluded: tuple[Excluded, ...]
    """The limits of the client that rule it out."""
    cost: Decimal | None
    """Its price [currency]."""
    currency: str
    """ISO 4217."""
    cooling_kwh: Spread | None
    """Heat that the cooling of the described rooms takes away in a year [kWh]."""
    heating_kwh: Spread | None
    """Heat that their heating brings [kWh]."""
    hot_hours: Spread | None
    """Hours too hot in a year in the room complained of [h]."""
    hottest_c: Spread | None
    """Its hottest hour [degrees C]."""
    saving_per_year: Amounts | None
    """Saved on energy in a year [currency]."""
    years: int | None = None
    """The study period [years]."""
    payback_years: YearsToPay | None
    """Years until it has earned its price back [years]."""
    npv: Amounts | None
    """Savings less price over the study period, discounted [currency]."""
    co2_kg: Spread | None
    """Carbon dioxide saved in a year [kg]."""
    verdict: Pays | None
    """Whether it pays, by its whole range."""
    drivers: tuple[DriverFound, ...]
    """What the range of the saving depends on most."""
    cash: tuple[Amounts, ...] | None
    """Price paid, then savings added up year by year, not discounted [currency]."""


def fill_options(study: Study) -> tuple[OptionFound, ...]:
    """Return every option, doing nothing first."""
    return tuple(_option(study, index, entry) for index, entry in enumerate(study.options))


def _option(study: Study, index: int, entry: Option) -> OptionFound:
    record = study.weather
    whole, complained = entry.gains.total(), study.peak_gains(entry).total(study.complained)
    bare = study.nothing.gains.total()
    summer = opt.summer_months(study.loaded.latitude)
    winter = tuple(month for month in range(1, 13) if month not in summer)
    at = study.bad_hour
    base = float(study.peak_gains(study.nothing).total(study.complained)[at])
    warm, cold = _kept_out(study, bare - whole)
    withheld: dict[str, str] = {}
    cost = entry.price if entry.kind == "shade" else None
    if entry.kind != "shade" and not entry.cannot_go:
        cost = study.offers[entry.id].total
    look, use = _look(study, entry), _use(study, index, withheld)
    money = savings(study, entry, withheld)
    if record.kind == "clear_sky":
        withheld |= dict.fromkeys(ENERGIES, "clear_days")
    if cost is None:
        withheld["cost"] = no_price(entry)
    if entry.kind == "shade":
        withheld |= dict.fromkeys((*LIGHT, "asked"), "shade")
    return OptionFound(
        id=entry.id,
        kind=entry.kind,
        film=entry.film,
        films=entry.films,
        chosen=entry is study.chosen,
        recommended=entry is study.recommended,
        peak_solar_w=float(complained[at]),
        peak_cut_fraction=1 - float(complained[at]) / base if base > 0 else 0.0,
        own_peak_w=float(complained.max()),
        annual_solar_kwh=opt.energy(record, whole),
        summer_solar_kwh=opt.energy(record, whole, summer),
        winter_solar_kwh=opt.energy(record, whole, winter),
        summer_kept_out_kwh=opt.energy(record, bare - whole, summer),
        winter_kept_out_kwh=opt.energy(record, bare - whole, winter),
        monthly_solar_kwh=None
        if record.kind == "clear_sky"
        else monthly_sums(record.times, whole, step_hours=record.step_hours).tolist(),
        kept_out_warm_kwh=warm,
        kept_out_cold_kwh=cold,
        cold_below_c=opt.HEATING_BASE_C,
        summer_months=summer,
        t_visible=look.t_visible,
        t_uv=look.t_uv,
        t_fading=look.t_fading,
        r_visible_out=look.r_visible_out,
        r_visible_in=look.r_visible_in,
        shgc=look.shgc,
        u_w_m2k=look.u_w_m2k,
        asked=None if entry.kind == "shade" else AskedFound.model_validate(asked(study, entry)),
        panes_filmed=sum(
            pane.quantity for pane, film in zip(study.job.panes, entry.film_by_pane, strict=True) if film
        ),
        bare_because=tuple(BarePane(pane=pane, why=why) for pane, why in entry.bare_because),
        excluded=excluded(entry),
        cost=cost,
        currency=study.job.currency,
        cooling_kwh=use.cooling_kwh,
        heating_kwh=use.heating_kwh,
        hot_hours=use.hot_hours,
        hottest_c=use.hottest_c,
        saving_per_year=money.saving,
        years=money.years,
        payback_years=money.payback,
        npv=money.npv,
        co2_kg=money.co2,
        verdict=money.verdict,
        drivers=money.drivers,
        cash=money.cash,
        withheld=withheld,
    )


def _kept_out(study: Study, power: np.ndarray) -> tuple[float | None, float | None]:
    """Return the energy kept out in hours at or above the heating base, and below it [kWh]."""
    record = study.weather
    if record.kind == "clear_sky":
        return None, None
    cold = record.temp_air < opt.HEATING_BASE_C
    scale = record.step_hours / 1000
    return float(power[~cold].sum() * scale), float(power[cold].sum() * scale)


def _look(study: Study, entry: Option) -> _Look:
    """Return area-weighted means over the panes of the light let in and thrown back."""
    if entry.kind == "shade":
        return _Look()
    job = study.job
    ratings = [
        study.filmed[pane.glazing, film].rating
        for pane, film in zip(job.panes, entry.film_by_pane, strict=True)
    ]
    area = np.array([pane.area_mm2 * pane.quantity for pane in job.panes])

    def mean(name: str) -> float:
        values = np.array([getattr(rating, name) for rating in ratings])
        return float(np.average(values, weights=area))

    return _Look(**{name: mean(name) for name in LIGHT})


def _use(study: Study, index: int, withheld: dict[str, str]) -> _Use:
    """Return an option's energies and hot hours, summed over the described rooms; say what is withheld."""
    bodies = {room.id: room.heat for room in study.job.rooms}

    def energy(name: str, has: str) -> Spread | None:
        mine = [year for year in study.room_years if getattr(bodies[year.room], name)]
        if not mine:
            withheld[f"{name}_kwh"] = study.no_rooms or has
            return None
        return spread(sum(getattr(year, name)[:, index].sum(axis=0) for year in mine))

    cooling, heating = energy("cooling", "no_cooling"), energy("heating", "no_heating")
    room = study.complaint_room_year
    if room is None:
        reason = study.no_rooms or "room_not_described"
        withheld |= {"hot_hours": reason, "hottest_c": reason}
        return _Use(cooling, heating, None, None)
    return _Use(cooling, heating, spread(room.hot_hours[index]), spread(room.hottest[index]))
