"""Bills worked out by hand, and the laws that bills keep."""

from decimal import Decimal as D

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.base.units import UNITS_KWH
from reportkit.money import tariff as t


def tiered(tiers):
    """Return a tariff of monthly tiers, each (rate [currency/kWh], up to [kWh/month] or None)."""
    return t.Tariff("tiered", (t.Period("all", tuple(t.Tier(D(rate), up_to) for rate, up_to in tiers)),))


HOURS = np.arange(8760)
DAY = HOURS // 24
LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
MONTH = np.repeat(np.arange(1, 13), LENGTHS)[DAY]
HOUR = HOURS % 24
WEEKDAY = (DAY + 3) % 7  # a year that begins on a Thursday
CALENDAR = {"month": MONTH, "hour": HOUR, "weekday": WEEKDAY}


def summed(tariff: t.Tariff, hourly: np.ndarray) -> tuple[t.Bins, np.ndarray, np.ndarray]:
    """Return the bins and the energy [kWh] and peak [W] of an hourly power [kW] in them."""
    bins = t.bins(tariff, **CALENDAR)
    energy = np.bincount(bins.index, hourly, minlength=bins.month.size)
    peak = np.zeros(bins.month.size)
    np.maximum.at(peak, bins.index, hourly * 1000.0)
    return bins, energy, peak


def test_flat_rate() -> None:
    """8760 kWh at .30 and a fixed charge of 10 a month cost 2628 + 120."""
    tariff = t.Tariff("flat", (t.Period("all", (t.Tier(D("0.30")),)),), fixed=D(10))
    bins, energy, _ = summed(tariff, np.ones(8760))
    assert float(t.bill(tariff, energy, bins=bins)) == pytest.approx(2748.0)


def test_tiers_by_month() -> None:
    """700 kWh a month in tiers .10 to 300, .20 to 600, .40 above: 30 + 60 + 40 = 130, twelve times."""
    tariff = tiered([("0.10", 300.0), ("0.20", 600.0), ("0.40", None)])
    bins = t.bins(tariff, **CALENDAR)
    assert float(t.bill(tariff, np.full(12, 700.0), bins=bins)) == pytest.approx(1560.0)


def test_a_saving_falls_into_the_highest_tier() -> None:
    """With 600 kWh of other use a month, the 100 kWh saved are worth .40 each, not the mean rate."""
    tariff = tiered([("0.10", 300.0), ("0.20", 600.0), ("0.40", None)])
    bins = t.bins(tariff, **CALENDAR)
    saved = t.bill(tariff, np.full((12, 1), 100.0), bins=bins, base=600.0) - t.bill(
        tariff, np.zeros((12, 1)), bins=bins, base=600.0
    )
    assert float(saved[0]) == pytest.approx(12 * 100 * 0.40)


def test_seasons_and_times_of_use() -> None:
    """1 kW all year: summer weekday afternoons at .50, other summer hours .20, winter .15, by hand."""
    summer = frozenset({6, 7, 8})
    tariff = t.Tariff(
        "time of use",
        (
            t.Period(
                "peak",
                (t.Tier(D("0.50")),),
                t.When(summer, frozenset(range(14, 20)), frozenset(range(5))),
            ),
            t.Period("summer", (t.Tier(D("0.20")),), t.When(summer)),
            t.Period("winter", (t.Tier(D("0.15")),)),
        ),
    )
    bins, energy, _ = summed(tariff, np.ones(8760))
    days = np.arange(365)
    month = np.repeat(np.arange(1, 13), LENGTHS)
    peak_hours = 6 * int(np.sum(np.isin(month, [6, 7, 8]) & ((days + 3) % 7 < 5)))
    summer_hours = 92 * 24
    expected = peak_hours * 0.5 + (summer_hours - peak_hours) * 0.2 + (8760 - summer_hours) * 0.15
    assert float(t.bill(tariff, energy, bins=bins)) == pytest.approx(expected)


def test_demand_charge_takes_each_months_peak() -> None:
    """12 a kW of the highest afternoon hour of each month; a higher peak in the morning costs nothing."""
    tariff = t.Tariff(
        "demand",
        (t.Period("all", (t.Tier(D(0)),)),),
        (t.Demand("afternoon", D(12), t.When(hours=frozenset(range(12, 18)))),),
    )
    power = np.ones(8760)
    power[HOUR == 15] = 3.0
    power[HOUR == 8] = 9.0
    power[(MONTH == 7) & (HOUR == 16)] = 5.0
    bins, energy, peak = summed(tariff, power)
    assert float(t.bill(tariff, energy, bins=bins, peak=peak)) == pytest.approx(12 * (11 * 3 + 5))
    with pytest.raises(ValueError, match="peak"):
        t.bill(tariff, energy, bins=bins)


@settings(deadline=None, max_examples=40)
@given(st.lists(st.floats(0.0, 2000.0), min_size=12, max_size=12), st.floats(0.0, 500.0))
def test_using_less_never_costs_more(use: list[float], less: float) -> None:
    """A bill rises with use, and samples in one call cost what they cost alone."""
    tariff = tiered([("0.10", 300.0), ("0.05", 600.0), ("0.40", None)])
    bins = t.bins(tariff, **CALENDAR)
    energy = np.stack([np.array(use), np.maximum(np.array(use) - less, 0.0)], axis=1)
    costs = t.bill(tariff, energy, bins=bins)
    assert costs[1] <= costs[0] + 1e-9
    assert costs[0] == pytest.approx(float(t.bill(tariff, energy[:, 0], bins=bins)))


def test_fuels_and_plant() -> None:
    """1000 kWh of heat by a boiler of .8 take 1250 kWh: 42.65 therms at 1.20 are 51.18."""
    energy = t.bought(1000.0, t.Plant("boiler", 0.8))
    assert float(energy) == pytest.approx(1250.0)
    gas = t.Fuel("gas", D("1.20"), UNITS_KWH["therm"], "therm")
    # 29.3001 kWh in a US therm (NIST SP 811, Appendix B.8, from memory)
    assert UNITS_KWH["therm"] == pytest.approx(29.3001, abs=1e-4)
    assert float(t.fuel_cost(energy, gas)) == pytest.approx(1250.0 / 29.3001 * 1.20, rel=1e-5)
    assert t.bought(900.0, t.Plant("chiller", 3.0), efficiency_factor=[1.0, 1.2]).tolist() == pytest.approx(
        [300.0, 250.0]
    )


def test_faulty_tariffs_are_refused() -> None:
    """Hours without a rate, tiers that fall or do not end, floats and wrong bins raise."""
    with pytest.raises(ValueError, match="no rate for month 1, weekday 0, hour 0"):
        t.Tariff("gap", (t.Period("day", (t.Tier(D(1)),), t.When(hours=frozenset(range(8, 20)))),))
    with pytest.raises(ValueError, match="last tier"):
        tiered([("0.1", 300.0)])
    with pytest.raises(ValueError, match="rise"):
        tiered([("0.1", 300.0), ("0.2", 200.0), ("0.3", None)])
    with pytest.raises(TypeError, match="Decimal"):
        t.flat(0.3)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="hours"):
        t.When(hours=frozenset({24}))
    with pytest.raises(ValueError, match="efficiency"):
        t.Plant("none", 0.0)
    with pytest.raises(ValueError, match="12 bins"):
        t.bill(t.flat("0.3"), np.ones(5), bins=t.bins(t.flat("0.3"), **CALENDAR))
