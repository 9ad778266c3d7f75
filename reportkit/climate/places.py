"""Small tables that ship with libraries: typical years, turbidity, height, clock and spectrum.

All of it works offline. The turbidity and height maps are pvlib's (5 arc minutes and coarser): a valley or a
tall hill is not in them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.kept import kept
from reportkit.base.translatable import translatable
from reportkit.climate.files import header, made_by, typical_year
from reportkit.climate.weather import Site, Weather


@dataclass(frozen=True)
class Shipped:
    """A typical year that ships with pvlib (public data).

    Parameters
    ----------
    file : str
        File name in pvlib's data folder.
    place : str
        Name of the site.
    kind : str
        Format of the file.
    timezone : str
        The site's civil zone.
    """

    file: str
    place: str
    kind: str
    timezone: str


#: typical years that need no download
SHIPPED: dict[str, Shipped] = {
    "miami": Shipped("12839.tm2", "Miami, Florida", "tmy2", "America/New_York"),
    "greensboro": Shipped("723170TYA.CSV", "Greensboro, North Carolina", "tmy3", "America/New_York"),
    "sand point": Shipped("703165TY.csv", "Sand Point, Alaska", "tmy3", "America/Anchorage"),
}


def _data_folder() -> Path:
    spec = find_spec("pvlib")
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError("pvlib is not installed")
    return Path(next(iter(spec.submodule_search_locations))) / "data"


def shipped_path(name: str) -> Path:
    """Return the file of a shipped typical year.

    Parameters
    ----------
    name : str
        A key of `SHIPPED`, any case.

    Returns
    -------
    Path

    Raises
    ------
    ValueError
        If there is none of that name.
    """
    key = name.strip().lower()
    if key not in SHIPPED:
        raise ValueError(f"a shipped year must be one of {', '.join(SHIPPED)}, not {name!r}")
    return _data_folder() / SHIPPED[key].file


@cache
def shipped_year(name: str, *, year: int, timezone: str | None = None) -> Weather:
    """Return a typical year that ships with pvlib; its file is read once.

    Parameters
    ----------
    name : str
        A key of `SHIPPED`, any case.
    year : int
        Calendar year to bring it to.
    timezone : str, optional
        Civil zone; the site's own where not given.

    Returns
    -------
    Weather
        8760 rows.

    Raises
    ------
    ValueError
        If there is none of that name.
    """
    path = shipped_path(name)
    entry = SHIPPED[name.strip().lower()]
    weather = typical_year(path, year=year, timezone=timezone or entry.timezone, kind=entry.kind)
    return replace(
        weather,
        place=entry.place,
        source=translatable(
            "{place}: {kind} typical year (public data)", place=entry.place, kind=entry.kind.upper()
        ),
    )


def shipped_site(name: str) -> Site:
    """Return the site of a shipped typical year; parameters as `shipped_year`."""
    return replace(header(shipped_path(name)), place=SHIPPED[name.strip().lower()].place)


def _check(latitude: float, longitude: float) -> None:
    if not (-90.0 <= latitude <= 90.0 and -180.0 <= longitude <= 180.0):
        raise ValueError(f"latitude must be -90 to 90 and longitude -180 to 180, not {latitude}, {longitude}")


def linke_turbidity(latitude: float, longitude: float) -> Array:
    """Return the mean Linke turbidity of each month.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].

    Returns
    -------
    ndarray, shape (12,)
        Turbidity [1], January first.

    References
    ----------
    Remund et al. 2003, Worldwide Linke turbidity information, as shipped with pvlib.
    """
    import pandas as pd
    from pvlib.clearsky import lookup_linke_turbidity

    _check(latitude, longitude)
    months = pd.DatetimeIndex([f"2001-{month:02d}-15" for month in range(1, 13)], tz="UTC")
    table = lookup_linke_turbidity(months, latitude, longitude, interp_turbidity=False)
    turbidity: Array = table.to_numpy(dtype=float)
    return turbidity


def elevation(latitude: float, longitude: float) -> float:
    """Return a coarse height above sea level.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].

    Returns
    -------
    float
        Height [m]; it can be 100 m out and more in hills.
    """
    _check(latitude, longitude)

    def looked_up() -> bytes:
        from pvlib.location import lookup_altitude

        return repr(float(lookup_altitude(latitude, longitude))).encode()

    return float(kept(lambda: ("height", latitude, longitude, *made_by("pvlib")), looked_up))


def civil_zone(latitude: float, longitude: float) -> str:
    """Return the IANA zone of a place.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].

    Returns
    -------
    str
        For example "Europe/London"; at sea one of the "Etc/GMT" zones.
    """
    _check(latitude, longitude)

    def looked_up() -> bytes:
        from timezonefinder import TimezoneFinder

        name = TimezoneFinder().timezone_at(lng=longitude, lat=latitude)
        if name is None:
            raise ValueError(f"no time zone is known at {latitude}, {longitude}: give one")
        return str(name).encode()

    return kept(lambda: ("zone", latitude, longitude, *made_by("timezonefinder")), looked_up).decode()


@dataclass(frozen=True, eq=False)
class Spectrum:
    """The reference sun of ASTM G173-03, air mass 1.5.

    Parameters
    ----------
    wavelength : ndarray, shape (W,)
        280 to 4000 [nm].
    global_tilt, direct : ndarray, shape (W,)
        Hemispherical on a plane tilted 37 degrees; direct with circumsolar [W/m2/nm].
    """

    wavelength: Array
    global_tilt: Array
    direct: Array


def reference_spectrum() -> Spectrum:
    """Return the ASTM G173-03 spectra that ship with pvlib.

    Returns
    -------
    Spectrum
        2002 wavelengths.
    """
    table = np.genfromtxt(_data_folder() / "ASTMG173.csv", delimiter=",", skip_header=2)
    return Spectrum(table[:, 0], table[:, 2], table[:, 3])
