"""Windows that people open, and fans that run at night: what may be open, and how much air comes in.

Air through one opening, or several in one face, by wind and buoyancy: de Gids and Phaff 1982. Where openings
face two ways, wind also blows through from one to the other. Not covered: doors between rooms, insect screens
and blinds before an opening (take them off its area), gusts, and rain.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array, Mask

#: Coefficients of wind [-], of buoyancy [m/(s2 K)] and of turbulence [m2/s2], de Gids & Phaff 1982 (from two
#: public implementations of it, not from the paper).
WIND, BUOYANCY, TURBULENCE = 0.001, 0.0035, 0.01
#: Discharge of a sharp-edged opening [-], and the difference of wind pressure coefficients between two faces
#: of a low building among others of its height [-]: the least of usual tables (from memory of CIBSE AM10).
DISCHARGE, PRESSURE_DIFFERENCE = 0.6, 0.2
#: Steps to the root of an hour's flow: four bring it under a thousandth of a kelvin in any room.
NEWTON_STEPS = 4


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


class Openings:
    """An opening in the hours of a year: what it carries off, solved within each."""

    def __init__(self, opening: Opening, lanes: tuple[int, ...], wind: Array) -> None:
        """Set an opening against lanes and the wind of every hour at 10 m [m/s], nan is calm."""
        self._wind = np.nan_to_num(wind) ** 2
        shares = _flow_squares(opening.area, opening.height, opening.cross)
        self._by_kelvin, self._still, self._by_gust = (np.broadcast_to(share, lanes) for share in shares)
        self._fan = np.broadcast_to(np.asarray(opening.fan, dtype=float), lanes)
        self._air_heat = opening.air_heat
        hours = wind.size
        self._may, self._runs = (
            _hours_first(value, lanes, hours) > 0 for value in (opening.may_open, opening.fan_hours)
        )
        self._above = _hours_first(opening.above, lanes, hours)
        may = self._may.reshape(hours, -1).any(axis=1) & bool(np.any(np.asarray(opening.area) > 0))
        runs = self._runs.reshape(hours, -1).any(axis=1) & bool(np.any(self._fan > 0))
        #: Hours in which any lane may open or run a fan, (H,).
        self.ever: Mask = np.asarray(may | runs)

    def heat(
        self, hour: int, air: Array, outdoor: Array, per_watt: Array, floor: ArrayLike, roof: ArrayLike
    ) -> Array:
        """Return what the openings bring to the air of every lane in one hour, 0 or less [W].

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
        least = np.maximum(self._above[hour], floor)
        warm = (air > least) & (air > outdoor)
        if not warm.any():  # most of a year
            return np.zeros(warm.shape)
        start = np.maximum(air - outdoor, 0.0)
        gust = np.where(self._may[hour], self._still + self._by_gust * self._wind[hour], 0.0)
        by_kelvin = np.where(self._may[hour], self._by_kelvin, 0.0)
        fan = np.where(self._runs[hour], self._fan, 0.0)
        scale = per_watt * self._air_heat
        kelvin = start
        for _ in range(NEWTON_STEPS):
            flow = np.sqrt(gust + by_kelvin * kelvin)
            slope = 1.0 + scale * (fan + flow + 0.5 * by_kelvin * kelvin / np.where(flow > 0.0, flow, 1.0))
            kelvin = kelvin - (kelvin * (1.0 + scale * (fan + flow)) - start) / slope
        reached = np.maximum(outdoor + kelvin, least)
        opens = warm & (start > kelvin) & (reached <= roof)
        return np.asarray(np.where(opens, (reached - air) / per_watt, 0.0))


def air_flow(
    area: ArrayLike, height: ArrayLike, kelvin: ArrayLike, wind: ArrayLike, *, cross: ArrayLike = 0.0
) -> Array:
    """Return the outdoor air that comes in through an opening.

    Parameters
    ----------
    area, height
        Of the opening [m2], [m].
    kelvin
        Indoor less outdoor temperature, its sign doesn't matter [K].
    wind
        At 10 m, as a weather station measures it [m/s].
    cross
        1 where half of the area is on another face, 0 where all is on one.

    Returns
    -------
    array
        [m3/s].

    References
    ----------
    de Gids W. & Phaff H. 1982, Air Infiltration Review 4:3-5: q = A/2 sqrt(.001 u2 + .0035 H dT + .01), for
    openings in one face. Through two faces: the orifice equation with both halves in a row, added as the
    squares are (from memory of CIBSE AM10).
    """
    by_kelvin, still, by_gust = _flow_squares(area, height, cross)
    gust = np.asarray(wind, dtype=float) ** 2
    return np.asarray(np.sqrt(still + by_gust * gust + by_kelvin * np.abs(np.asarray(kelvin, dtype=float))))


def _flow_squares(area: ArrayLike, height: ArrayLike, cross: ArrayLike) -> tuple[Array, Array, Array]:
    """Return the flow's square by kelvin [m6/(s2 K)], in still air [m6/s2], by the wind's square [m4]."""
    half = 0.25 * np.asarray(area, dtype=float) ** 2
    # two equal halves in a row pass as much as one of area / (2 sqrt 2)
    through = np.asarray(cross, dtype=float) * (DISCHARGE**2 * PRESSURE_DIFFERENCE / 2.0)
    return half * BUOYANCY * np.asarray(height, dtype=float), half * TURBULENCE, half * (WIND + through)


def _hours_first(value: ArrayLike, lanes: tuple[int, ...], hours: int) -> Array:
    """Return what ends with the hours, or has none, as (H, lanes or ones)."""
    array = np.asarray(value, dtype=float)
    if array.ndim == 0:
        array = array[None]
    if array.shape[-1] not in (1, hours):
        raise ValueError(f"hours to open must be {hours}, got shape {array.shape}")
    first = np.moveaxis(np.broadcast_to(array, (*array.shape[:-1], hours)), -1, 0)
    return first.reshape((hours, *(1,) * (len(lanes) - array.ndim + 1), *array.shape[:-1]))
