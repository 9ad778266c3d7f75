"""Findings of the comparison: doing nothing, every film, and what the job names."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

import numpy as np
from babel.numbers import get_currency_precision
from pydantic import Field

from reportkit.findings.advice import Excluded, excluded
from reportkit.findings.result import Months, Result, Share, Text, WithReasons
from reportkit.findings.rooms import Amounts, Spread, amounts, spread
from reportkit.physics.room import drivers, percentiles
from reportkit.physics.sun import monthly_sums
from reportkit.study import options as opt
from reportkit.study.asked import asked

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option
    from reportkit.study.worth import Worth

#: Area-weighted means over the panes; a shade that is drawn and opened has none.
LIGHT = ("t_visible", "t_uv", "t_fading", "r_visible_out", "r_visible_in", "shgc", "u_w_m2k")

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

#: More years than any study looks at [years].
LONGEST = 1e6

Pays = Literal["pays", "does_not_pay", "cannot_tell"]


class BarePane(Result):
    """A pane that an option leaves bare though film was meant for it."""

    pane: str
    """The pane."""
    why: Text
    """Why."""


class YearsToPay(Result):
    """A range of years: eight of ten computed cases lie in it."""

    p10: float
    """One of ten is sooner [years]."""
    p50: float
    """Half are sooner [years]."""
    p90: float | None
    """One of ten is later [years]; null where that is not within the years looked at."""


class DriverFound(Result):
    """An uncertain input that the range of the saving depends on."""

    key: str
    """The input."""
    share: float
    """Its part of the range [1]."""
    correlation: float
    """Rank correlation of the input with the saving [1]."""


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
    use = _use(study, index, withheld)
    money = _money(study, entry, withheld)
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
        **_look(study, entry),
        asked=None if entry.kind == "shade" else AskedFound.model_validate(asked(study, entry)),
        panes_filmed=sum(
            pane.quantity for pane, film in zip(study.job.panes, entry.film_by_pane, strict=True) if film
        ),
        bare_because=tuple(BarePane(pane=pane, why=why) for pane, why in entry.bare_because),
        excluded=excluded(entry),
        cost=cost,
        currency=study.job.currency,
        **use,
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


def _look(study: Study, entry: Option) -> dict[str, float | None]:
    """Return area-weighted means over the panes of the light let in and thrown back."""
    if entry.kind == "shade":
        return dict.fromkeys(LIGHT)
    job = study.job
    ratings = [
        study.filmed[pane.glazing, film].rating
        for pane, film in zip(job.panes, entry.film_by_pane, strict=True)
    ]
    area = np.array([pane.area_mm2 * pane.quantity for pane in job.panes])

    def mean(name: str) -> float:
        values = np.array([getattr(rating, name) for rating in ratings])
        return float(np.average(values, weights=area))

    return {name: mean(name) for name in LIGHT}


def _use(study: Study, index: int, withheld: dict[str, str]) -> dict[str, Spread | None]:
    """Return an option's energies and hot hours, summed over the described rooms; say what is withheld."""
    found: dict[str, Spread | None] = {"hot_hours": None, "hottest_c": None}
    years = study.room_years
    bodies = {room.id: room.heat for room in study.job.rooms}
    for key, name, has in (
        ("cooling_kwh", "cooling", "no_cooling"),
        ("heating_kwh", "heating", "no_heating"),
    ):
        mine = [year for year in years if getattr(bodies[year.room], name)]
        found[key] = spread(sum(getattr(year, name)[:, index].sum(axis=0) for year in mine)) if mine else None
        if not mine:
            withheld[key] = study.no_rooms or has
    room = study.complaint_room_year
    if room is not None:
        found |= {"hot_hours": spread(room.hot_hours[index]), "hottest_c": spread(room.hottest[index])}
    else:
        reason = study.no_rooms or "room_not_described"
        withheld |= {"hot_hours": reason, "hottest_c": reason}
    return found


def no_price(option: Option) -> str:
    """Return why an option has no price, as a reason for what is withheld."""
    if option.cannot_go:
        return "cannot_go"
    return "no_shade_price" if option.kind == "shade" else "no_plan"


@dataclass(frozen=True)
class _Money:
    """An option's money, as far as it is known."""

    saving: Amounts | None = None
    years: int | None = None
    co2: Spread | None = None
    drivers: tuple[DriverFound, ...] = ()
    npv: Amounts | None = None
    payback: YearsToPay | None = None
    verdict: Pays | None = None
    cash: tuple[Amounts, ...] | None = None


def _money(study: Study, option: Option, withheld: dict[str, str]) -> _Money:
    """Return what an option saves and when it has paid; say what is withheld."""
    worth = study.worths.get(option.id)
    if worth is None:
        withheld |= dict.fromkeys(("saving_per_year", "payback_years", "npv", "co2_kg"), study.no_money)
        return _Money()
    digits = get_currency_precision(study.job.currency)
    # an input of several rooms has the same ranks in all of them; one that only some have is among them, too
    inputs = {key: values for year in study.room_years for key, values in year.inputs.items()}
    saved = _Money(
        saving=amounts(worth.saving, digits),
        years=worth.years,
        co2=None if worth.co2 is None else spread(worth.co2),
        drivers=tuple(
            DriverFound(key=driver.key, share=driver.share, correlation=driver.correlation)
            for driver in drivers(inputs, worth.saving, least=0.02)
        ),
    )
    if worth.co2 is None:
        withheld["co2_kg"] = "no_co2_factor"
    if worth.npv is None or worth.payback is None or worth.flows is None:
        withheld |= dict.fromkeys(("npv", "payback_years"), no_price(option))
        return saved
    payback = years_to_pay(worth.payback)
    if payback is None:
        withheld["payback_years"] = "not_within_years"
    return replace(
        saved,
        npv=amounts(worth.npv, digits),
        payback=payback,
        verdict=verdict(worth) if option.kind != "none" else None,
        cash=tuple(amounts(row, digits) for row in np.cumsum(worth.flows, axis=0)),
    )


def years_to_pay(years: np.ndarray) -> YearsToPay | None:
    """Return a range of years of which some may be infinite; None where half of them or more are."""
    # a percentile between a number of years and never would be nan: with a very long wait it is long
    never = 1e12
    low, middle, high = map(float, percentiles(np.where(np.isinf(years), never, years)))
    if middle > LONGEST:
        return None
    return YearsToPay(p10=low, p50=middle, p90=None if high > LONGEST else high)


def verdict(worth: Worth) -> Pays:
    """Return whether an option pays, does not, or cannot be told from its range."""
    assert worth.npv is not None
    low, _, high = percentiles(worth.npv)
    if low > 0:
        return "pays"
    return "does_not_pay" if high <= 0 else "cannot_tell"
