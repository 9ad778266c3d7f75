"""TMY2 files, by the columns that are used.

A row has a fixed place for each value (Marion & Urban, User's Manual for TMY2s, NREL 1995, table 3-2; places
from pvlib's reader). That reader takes half a second, and is what the tests hold this one against.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.climate.raw import FormatError, Raw, shifted, span_of
from reportkit.climate.weather import Site

#: Where a value stands in a row, from 0, and its unit in ours (the manual counts from 1).
COLUMNS = {
    "ghi": (17, 21, 1.0),
    "dni": (23, 27, 1.0),
    "dhi": (29, 33, 1.0),
    "temp_air": (67, 71, 0.1),
    "dew_point": (73, 77, 0.1),
    "wind_speed": (95, 98, 0.1),
    "pressure": (84, 88, 100.0),
    "cover": (63, 65, 0.1),
}
YEAR, MONTH, DAY, HOUR = (1, 3), (3, 5), (5, 7), (7, 9)

#: Up to here a row holds what is read.
WIDTH = max(end for _, end, _ in COLUMNS.values())

#: From a row's start of the hour to the instant of its sun [min].
MIDDLE = 30.0


def site_of(line: str) -> Site:
    """Return the site that a file's first line tells; raises ValueError or IndexError for another line."""
    words = line.split()
    # from the right: offset, N/S, degrees, minutes, E/W, degrees, minutes, elevation
    offset, north, lat_deg, lat_min, east, lon_deg, lon_min, height = words[-8:]
    place = " ".join(words[1:-9]).replace("_", " ").title() + f", {words[-9]}"
    latitude = (float(lat_deg) + float(lat_min) / 60.0) * (1.0 if north == "N" else -1.0)
    longitude = (float(lon_deg) + float(lon_min) / 60.0) * (1.0 if east == "E" else -1.0)
    return Site(place, latitude, longitude, float(height), float(offset))


def read(path: Path) -> Raw:
    """Return a file's rows.

    Raises
    ------
    FormatError, ValueError, IndexError
        If it is not of this format.
    """
    import pandas as pd

    first, *rows = path.read_text(encoding="utf-8", errors="replace").splitlines()
    site = site_of(first.strip())
    short = next((line for line, row in enumerate(rows, start=2) if len(row) < WIDTH), None)
    if short or not rows:
        raise FormatError(
            f"a row of a TMY2 file must have {WIDTH} signs or more",
            found=f"line {short}" if short else "no rows",
            hint="download the file again",
        )
    signs = np.array([row[:WIDTH] for row in rows]).view("U1").reshape(len(rows), WIDTH)

    def values(begin: int, end: int) -> Array:
        cells: Any = np.ascontiguousarray(signs[:, begin:end]).view(f"U{end - begin}")
        return np.asarray(cells[:, 0], dtype=float)

    years = 1900 + values(*YEAR).astype(int)
    # months come from different years: all are told in the first one's, as a typical year
    stamps = pd.to_datetime(
        {
            "year": np.full(len(rows), years[0]),
            "month": values(*MONTH),
            "day": values(*DAY),
            "hour": values(*HOUR) - 1,
        }
    )
    index = pd.DatetimeIndex(stamps).tz_localize(int(site.utc_offset * 3600))
    table = {name: values(begin, end) * unit for name, (begin, end, unit) in COLUMNS.items()}
    return Raw(site, shifted(index, MIDDLE), pd.DataFrame(table), span_of(years.tolist()), first_line=2)
