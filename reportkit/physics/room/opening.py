"""Windows that people open, and fans that run at night: what may be open, and how much air comes in.

Air through one opening, or several in one face, by wind and buoyancy: de Gids and Phaff 1982. Where openings
face two ways, wind also blows through from one to the other. Not covered: doors between rooms, insect screens
and blinds before an opening (take them off its area), gusts, and rain.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array, Mask
from reportkit.physics.room.series import Series

#: Coefficients of wind [-], of buoyancy [m/(s2 K)] and of turbulence [m2/s2], de Gids & Phaff 1982 (from two
#: public implementations of it, not from the paper).
WIND, BUOYANCY, TURBULENCE = 0.001, 0.0035, 0.01
#: Discharge of a sharp-edged opening [-], and the difference of wind pressure coefficients between two faces
#: of a low building among others of its height [-]: the least of usual tables (from memory of CIBSE AM10).
DISCHARGE, PRESSURE_DIFFERENCE = 0.6, 0.2
#: Steps to the root of an hour's flow: four bring it under a thousandth of a kelvin in any room.
NEWTON_STEPS = 4
#: Stands under a line for a flow of 0 [m3/s].
TINY = np.finfo(float).tiny


@dataclass(frozen=True)
class Opening:
    """What may be opened, when, and from which temperature on.

    Parameters
    ----------
    area
        Free area of a room's openings, all together [m2], by lane, 0 or more.
    height
        Of one opening, its lower edge to its upper [m], by lane, 0 or more.
    cross
        Whether the openings face two ways, half of the area each, by lane: 0 or 1.
    may_open
        Hours in which somebody would open, (H,) of bool, or with leading axes that broadcast to the lanes.
    above
        Air of the room over which they do [C], (H,) or a number, or with leading axes as ``may_open``. They
        open no further than it takes to come down to it, or to the set point of the heating where that is
        higher.
    fan
        Air that a fan brings in from outside [m3/s], by lane, 0 or more.
    fan_hours
        Hours in which the fan may run, as ``may_open``; it obeys ``above`` as the openings do.
    air_heat
        Heat of the outdoor air [J/(m3 K)]: 1207 at sea level, less higher up.
    """

    area: ArrayLike
    height: ArrayLike = 1.0
    cross: ArrayLike = 0.0
    may_open: ArrayLike = True
    above: ArrayLike = 22.0
    fan: ArrayLike = 0.0
    fan_hours: ArrayLike = False
    air_heat: float = 1.2 * 1006.0

    def __post_init__(self) -> None:
        """Refuse areas, heights and flows under 0."""
        for name in ("area", "height", "fan", "air_heat"):
            if np.any(np.asarray(getattr(self, name), dtype=float) < 0):
                raise ValueError(f"{name} must be 0 or more")

    @property
    def shapes(self) -> list[tuple[int, ...]]:
        """The lanes of every field."""
        plain = (self.area, self.height, self.cross, self.fan)
        hourly = (self.may_open, self.fan_hours, self.above)
        return [*(np.shape(value) for value in plain), *(np.shape(value)[:-1] for value in hourly)]


@dataclass(frozen=True, eq=False)
class _Shares:
    """An opening in each lane, in a row: the flow's square by kelvin, in still air, by gust; a fan."""

    by_kelvin: Array
    still: Array
    by_gust: Array
    fan: Array


class Openings:
    """An opening in the hours of a year: what it carries off, solved within each, for lanes in a row."""

    def __init__(self, opening: Opening, lanes: tuple[int, ...], wind: Array) -> None:
        """Set an opening against lanes and the wind of every hour at 10 m [m/s], nan is calm."""
        self._wind = np.nan_to_num(wind) ** 2
        shares = (*_flow_squares(opening.area, opening.height, opening.cross), opening.fan)
        self._shares = _Shares(
            *(np.broadcast_to(np.asarray(share, dtype=float), lanes).reshape(-1) for share in shares)
        )
        self._air_heat = opening.air_heat
        self._may, self._runs, self._above = (
            Series.of(value, lanes, wind.size, "hours to open")
            for value in (opening.may_open, opening.fan_hours, opening.above)
        )
        self._lowest = self._above.values.min(axis=1)  # no lane opens under it
        self._at = slice(0, self._shares.fan.size)
        self._stirred = bool((self._shares.still > 0.0).all())  # air moves in every lane, whatever the wind
        may = self._may.values.any(axis=1) & bool(np.any(np.asarray(opening.area) > 0))
        self._fans = bool(np.any(self._shares.fan > 0)) and bool(self._runs.values.any())
        runs = self._runs.values.any(axis=1) & self._fans
        #: Hours in which any lane may open or run a fan, (H,).
        self.ever: Mask = np.asarray(may | runs)

    def part(self, at: slice) -> Openings:
        """Return the same of some lanes."""
        part = copy.copy(self)
        part._at = at
        part._shares = _Shares(*(getattr(self._shares, entry.name)[at] for entry in fields(_Shares)))
        part._stirred = bool((part._shares.still > 0.0).all())
        return part

    def heat(
        self, hour: int, air: Array, outdoor: Array, per_watt: Array, floor: Array, roof: Array
    ) -> Array | None:
        """Return what openings bring to the air of every lane in one hour, 0 or less [W]; None if nothing.

        Parameters
        ----------
        hour
            Which one.
        air
            Of the rooms, without plant and all shut [C].
        outdoor
            [C].
        per_watt
            What a watt adds to the air [K/W].
        floor, roof
            Set points of heating and of a cooling that the room has [C].

        Notes
        -----
        With transfer G, T' = T + p G (Te - T'). G follows from T' - Te = d, so d (1 + p G(d)) = T - Te, whose
        left side is convex and rises: Newton's steps come down to the root from above.
        """
        if air.max() <= self._lowest[hour]:
            return None
        may = self._may.hour(hour, self._at) > 0.0
        least = np.maximum(self._above.hour(hour, self._at), floor)
        runs = self._runs.hour(hour, self._at) > 0.0 if self._fans else None
        # a room stays warmer than the air that comes in: where that is over the roof, none is let in
        warm = (air > np.maximum(least, outdoor)) & (outdoor <= roof)
        some = np.flatnonzero(warm & (may if runs is None else may | runs))
        if not some.size:
            return None
        shares = self._shares
        air, outdoor, scale, least = air[some], outdoor[some], per_watt[some], least[some]
        start = air - outdoor
        gust, by_kelvin = shares.still[some] + shares.by_gust[some] * self._wind[hour], shares.by_kelvin[some]
        scaled = scale * self._air_heat
        always: Array | float = 1.0
        if runs is not None:  # then a lane may run its fan with its windows shut
            opened = may[some]
            gust, by_kelvin = np.where(opened, gust, 0.0), np.where(opened, by_kelvin, 0.0)
            always = 1.0 + scaled * np.where(runs[some], shares.fan[some], 0.0)
        stands = runs is not None or not self._stirred  # then a flow may be nothing
        kelvin = start
        for _ in range(NEWTON_STEPS):
            by_buoyancy = by_kelvin * kelvin
            flow = np.sqrt(gust + by_buoyancy)
            each = np.where(flow > 0.0, flow, 1.0) if stands else flow
            slope = always + scaled * (flow + 0.5 * by_buoyancy / each)
            kelvin = kelvin - (kelvin * (always + scaled * flow) - start) / slope
        reached = np.maximum(outdoor + kelvin, least)
        opens = (start > kelvin) & (reached <= roof[some])
        heat = np.zeros(per_watt.shape)
        heat[some] = np.where(opens, (reached - air) / scale, 0.0)
        return heat


def _flow_squares(area: ArrayLike, height: ArrayLike, cross: ArrayLike) -> tuple[Array, Array, Array]:
    """Return the flow's square by kelvin [m6/(s2 K)], in still air [m6/s2], by the wind's square [m4]."""
    half = 0.25 * np.asarray(area, dtype=float) ** 2
    # two equal halves in a row pass as much as one of area / (2 sqrt 2)
    through = np.asarray(cross, dtype=float) * (DISCHARGE**2 * PRESSURE_DIFFERENCE / 2.0)
    return half * BUOYANCY * np.asarray(height, dtype=float), half * TURBULENCE, half * (WIND + through)
