"""A weather file's rows before any check, and what its readers share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.translatable import translatable
from reportkit.climate.weather import Site

if TYPE_CHECKING:
    import pandas as pd

#: the formats that are read
NAMES = {
    "epw": ".epw",
    "tmy2": "TMY2",
    "tmy3": "TMY3",
    "pvgis_tmy": translatable("PVGIS typical year"),
    "pvgis_hourly": translatable("PVGIS hourly series"),
    "nsrdb": "NSRDB",
}

#: How to mend a file that is not as it was downloaded.
AGAIN = translatable("download the file again, or use another")


class FormatError(ValueError):
    """The content of a weather file is not what its format says; ``hint`` tells how to put it right."""

    def __init__(self, rule: str, found: str | None = None, hint: str | None = None) -> None:
        self.rule, self.found, self.hint = rule, found, hint
        super().__init__(rule)


@dataclass(frozen=True, eq=False)
class Raw:
    """A weather file's rows before any check.

    Parameters
    ----------
    site : Site
        From the file's header.
    times : pandas.DatetimeIndex, shape (N,)
        Instants of the sun, in the file's own fixed offset, with the file's own years.
    table : pandas.DataFrame, N rows
        ghi, dni, dhi [W/m2], temp_air, dew_point [C], wind_speed [m/s], pressure [Pa]; where the format has
        them longwave [W/m2], from the sky on level ground, and cover [1], of the sky by opaque clouds; nan
        where missing.
    years : str
        The calendar years in the file, for a reader.
    notes : tuple of str
        Caveats.
    first_line : int
        The file's line that holds the first row, the others below it; 0 where rows are no lines.
    """

    site: Site
    times: pd.DatetimeIndex
    table: pd.DataFrame
    years: str
    notes: tuple[str, ...] = ()
    first_line: int = 0


def span_of(years: Iterable[int]) -> str:
    """Return calendar years as words: "2019" or "1991 to 2005"."""
    first, last = min(known := set(years)), max(known)
    return str(first) if first == last else translatable("{first} to {last}", first=first, last=last)


def shifted(index: pd.DatetimeIndex, minutes: float) -> pd.DatetimeIndex:
    """Return the stamps moved by some minutes."""
    import pandas as pd

    return pd.DatetimeIndex(index) + pd.Timedelta(minutes=minutes)


def columns(data: pd.DataFrame, kind: str, **wanted: Any) -> pd.DataFrame:
    """Return the wanted columns under our names; a value is a column's name, or (name, factor)."""
    import pandas as pd

    table = {}
    for ours, source in wanted.items():
        name, factor = source if isinstance(source, tuple) else (source, 1.0)
        if name not in data.columns:
            if ours in ("ghi", "temp_air"):
                raise FormatError(
                    translatable("a {kind} file must have the column {name}", kind=NAMES[kind], name=name),
                    found=", ".join(map(str, data.columns))[:120],
                    hint=translatable(
                        "download it with global radiation and temperature, direct normal and diffuse too"
                    ),
                )
            table[ours] = np.full(len(data), np.nan)
            continue
        table[ours] = pd.to_numeric(data[name], errors="coerce").to_numpy(dtype=float) * factor
    return pd.DataFrame(table)
