"""What a year of rooms comes to: energies, peaks and hours, added up as the hours pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reportkit.base.arrays import Array, Mask

#: A set point counts as missed when the air is further from it than this [K] (our convention).
UNMET_KELVIN = 0.1


@dataclass(frozen=True)
class Record:
    """Hours kept for chosen lanes, each (hours, chosen).

    ``air`` and ``operative`` [C] are means over the hour; ``power`` [W] of the plant, ``opened`` [W] what air
    through windows and fans brings, 0 or less.
    """

    air: Array
    operative: Array
    power: Array
    opened: Array


@dataclass(frozen=True)
class Balance:
    """A year of a set of lanes.

    ``heating`` and ``cooling`` [kWh] are (bins, lanes), heat moved and both counted positive;
    ``peak_heating`` and ``peak_cooling`` [W] the same shape; ``hot_hours`` [h], ``hottest`` [C]
    (operative, of occupied hours), ``coldest`` [C] and ``unmet_heating``, ``unmet_cooling`` [h] are
    (lanes). ``mass_change`` [kWh] is the heat the mass holds more at the end than at the start.
    ``open_hours`` [h] are those in which windows are open or a fan runs, ``carried_off`` [kWh] the heat that
    leaves by them, both (lanes).
    """

    heating: Array
    cooling: Array
    peak_heating: Array
    peak_cooling: Array
    hot_hours: Array
    hottest: Array
    coldest: Array
    unmet_heating: Array
    unmet_cooling: Array
    mass_change: Array
    open_hours: Array
    carried_off: Array
    record: Record | None = None


class Totals:
    """Sums and extremes over the hours of N lanes in a row, added up in place."""

    def __init__(self, lanes: int, bins: int, limits: int = 1) -> None:
        self.heating, self.net = np.zeros((bins, lanes)), np.zeros((bins, lanes))
        self.peak_heating, self.peak_cooling = np.zeros((bins, lanes)), np.zeros((bins, lanes))
        self.hot = np.zeros((limits, lanes), dtype=np.int64)
        self.unmet_heating, self.unmet_cooling = (np.zeros(lanes, dtype=np.int64) for _ in range(2))
        self.open, self.carried = np.zeros(lanes, dtype=np.int64), np.zeros(lanes)
        self.hottest, self.coldest = np.full(lanes, -np.inf), np.full(lanes, np.inf)
        #: Heat that the mass holds more at the end [kWh].
        self.change = np.zeros(lanes)

    def add_power(self, power: Array, bins: NDArray[np.int64]) -> None:
        """Add some hours' power [W], hours first, to their bins."""
        for at in {*bins.tolist()}:
            mine = power if (bins == at).all() else power[bins == at]
            self.heating[at] += np.maximum(mine, 0.0).sum(axis=0)
            self.net[at] += mine.sum(axis=0)
            most, least = self.peak_heating[at], self.peak_cooling[at]
            np.maximum(most, mine.max(axis=0), out=most)
            np.minimum(least, mine.min(axis=0), out=least)

    def add_unmet(self, short: Array, allowed: Array) -> None:
        """Count hours that need ``short`` [W] more heating (or, negative, cooling) than the plant can give.

        ``allowed`` [W] is what moves a lane's air by ``UNMET_KELVIN``.
        """
        self.unmet_heating += _count(short > allowed)
        self.unmet_cooling += _count(short < -allowed)

    def add_opened(self, heat: Array) -> None:
        """Add what opened windows and fans put into the air, 0 or less [W]; 0 is shut."""
        self.open += _count(heat < 0.0)
        self.carried -= heat.sum(axis=0)

    def add_operative(self, operative: Array, limits: Sequence[Array]) -> None:
        """Compare occupied hours' operative temperature [C] with the limits [C] and the extremes."""
        for number, limit in enumerate(limits):
            self.hot[number] += _count(operative > limit)
        np.maximum(self.hottest, operative.max(axis=0), out=self.hottest)
        np.minimum(self.coldest, operative.min(axis=0), out=self.coldest)


def _count(mask: Mask) -> NDArray[np.uint8]:
    """Return in how many of up to 255 hours, the first axis, something holds."""
    counted: NDArray[np.uint8] = np.add.reduce(mask.view(np.uint8), axis=0, dtype=np.uint8)
    return counted


def balance(
    parts: Sequence[Totals], lanes: tuple[int, ...], step_hours: float, record: Record | None, *, never: bool
) -> Balance:
    """Return the result of all lanes from that of their parts; nan for a lane whose mass ended as nan.

    ``never`` says that nobody is ever there, so that no operative temperature was told.
    """

    def whole(name: str) -> Array:
        joined = np.concatenate([getattr(part, name) for part in parts], axis=-1).astype(float)
        return joined.reshape((*joined.shape[:-1], *lanes))

    change = whole("change")
    bad = np.isnan(change)

    def out(values: Array) -> Array:
        result = np.array(values)
        result[..., bad] = np.nan
        return result

    to_kwh = step_hours / 1000.0
    heating = whole("heating")
    hottest, coldest = (np.full(lanes, np.nan) if never else whole(name) for name in ("hottest", "coldest"))
    return Balance(
        heating=out(heating * to_kwh),
        cooling=out(np.maximum(heating - whole("net"), 0.0) * to_kwh),
        peak_heating=out(whole("peak_heating")),
        peak_cooling=out(np.maximum(-whole("peak_cooling"), 0.0)),
        hot_hours=out(whole("hot") * step_hours),
        hottest=out(hottest),
        coldest=out(coldest),
        unmet_heating=out(whole("unmet_heating") * step_hours),
        unmet_cooling=out(whole("unmet_cooling") * step_hours),
        mass_change=out(change),
        open_hours=out(whole("open") * step_hours),
        carried_off=out(whole("carried") * to_kwh),
        record=record,
    )
