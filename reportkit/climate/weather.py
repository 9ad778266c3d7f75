"""One record of hourly weather, whatever it was read or made from.

A row describes an interval; its time is the interval's middle, in the site's civil zone, so the sun
belongs at the time as it stands. Rows of a typical year are 8760 whatever the calendar year: 29 February
is absent. The record says nothing about how good the source is beyond its ``notes``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.visible import visible

if TYPE_CHECKING:
    import pandas as pd

Kind = Literal["typical_year", "normals", "clear_sky"]

_SERIES = ("ghi", "dni", "dhi", "temp_air", "wind_speed", "pressure", "dew_point")


@dataclass(frozen=True)
class Site:
    """Where a weather file says it was made.

    Parameters
    ----------
    place : str
        Name as the file gives it.
    latitude, longitude : float
        North and east are positive [deg].
    elevation : float
        Height above sea level [m].
    utc_offset : float
        The file's own fixed offset from UTC, east positive [h].
    """

    place: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float = 0.0

    def __post_init__(self) -> None:
        """Show what the file hides in the name."""
        object.__setattr__(self, "place", visible(self.place))


@dataclass(frozen=True, eq=False)
class Weather:
    """Hourly weather of one site.

    Parameters
    ----------
    kind : {"typical_year", "normals", "clear_sky"}
        What the rows are: a typical year from a file, a synthetic year from monthly normals (energy only,
        never peaks), or clear days without clouds.
    source : str
        Where it comes from, for a reader of the report.
    place : str
        Name of the site.
    latitude, longitude : float
        North and east are positive [deg].
    elevation : float
        Height above sea level [m].
    times : pandas.DatetimeIndex, shape (H,)
        Middle of each interval, aware, in the civil zone; in order.
    step_hours : float
        Length of each interval [h].
    ghi, dni, dhi : ndarray, shape (H,)
        Global horizontal, direct normal and diffuse horizontal irradiance, means of the interval [W/m2].
    temp_air : ndarray, shape (H,)
        Air temperature [C]; nan where unknown.
    wind_speed : ndarray, shape (H,)
        Wind speed as the source measures it, commonly at 10 m [m/s]; nan where unknown.
    pressure : ndarray, shape (H,)
        Air pressure at the station [Pa].
    dew_point : ndarray, shape (H,)
        Dew point [C]; nan where unknown.
    span : str
        The period that the rows stand for.
    notes : tuple of str
        Caveats to print in the report.
    doubts : tuple of str
        What was wrong with the source and what was done about it: to be said beside whatever rests on it.
    longwave : ndarray, shape (H,), optional
        What the sky sends down on level ground as heat [W/m2]; None where the source doesn't tell.
    distance_km, climb_m : float
        How far the source's place is from the site [km], and how much higher the site lies [m].
    as_read : Weather, optional
        The same as the source has it, where its clock, its columns or its beam were mended.

    Raises
    ------
    ValueError
        If the times are naive or the series differ in length.
    """

    kind: Kind
    source: str
    place: str
    latitude: float
    longitude: float
    elevation: float
    times: pd.DatetimeIndex
    step_hours: float
    ghi: Array
    dni: Array
    dhi: Array
    temp_air: Array
    wind_speed: Array
    pressure: Array
    dew_point: Array
    span: str
    notes: tuple[str, ...] = field(default=())
    doubts: tuple[str, ...] = field(default=())
    distance_km: float = 0.0
    climb_m: float = 0.0
    as_read: Weather | None = None
    longwave: Array | None = None

    def __post_init__(self) -> None:
        """Check that the rows belong together and freeze them."""
        if self.times.tz is None:
            raise ValueError("times must have a time zone")
        for name in (*_SERIES, *(("longwave",) if self.longwave is not None else ())):
            series = np.asarray(getattr(self, name), dtype=float)
            if series.shape != (len(self.times),):
                raise ValueError(f"{name} must have one value for each of the {len(self.times)} times")
            series = series.copy()
            series.setflags(write=False)
            object.__setattr__(self, name, series)

    @property
    def annual_ghi(self) -> float:
        """Global horizontal irradiation of all rows together [kWh/m2]."""
        return float(np.sum(self.ghi) * self.step_hours / 1000.0)


def standard_pressure(elevation: float) -> float:
    """Return the air pressure of the standard atmosphere at an elevation.

    Parameters
    ----------
    elevation : float
        Height above sea level [m], -500 to 11000.

    Returns
    -------
    float
        Pressure [Pa].

    References
    ----------
    ISO 2533:1975, standard atmosphere (from memory): 101325 (1 - 2.25577e-5 z)^5.2559.
    """
    return float(101325.0 * (1.0 - 2.25577e-5 * elevation) ** 5.2559)
