"""TMY2 files read by columns are what pvlib's reader takes apart row by row."""

import numpy as np
import pandas as pd
import pytest
from pvlib.iotools import read_tmy2

from reportkit import climate
from reportkit.climate.raw import FormatError
from reportkit.climate.readers import read_raw

#: pvlib's names of what is read, and its unit in ours.
THEIRS = {
    "ghi": ("GHI", 1.0),
    "dni": ("DNI", 1.0),
    "dhi": ("DHI", 1.0),
    "temp_air": ("DryBulb", 0.1),
    "dew_point": ("DewPoint", 0.1),
    "wind_speed": ("Wspd", 0.1),
    "pressure": ("Pressure", 100.0),
    "cover": ("OpqCld", 0.1),
}


def test_it_is_what_pvlib_reads():
    """Every value and stamp of the public year of Miami (pvlib is the reference)."""
    path = climate.shipped_path("miami")
    raw, (data, meta) = read_raw(path, "tmy2"), read_tmy2(path)
    assert (raw.times == data.index + pd.Timedelta(minutes=30)).all() and len(raw.times) == 8760
    for ours, (theirs, unit) in THEIRS.items():
        assert np.array_equal(raw.table[ours], data[theirs] * unit), ours
    assert set(raw.table) == set(THEIRS)
    assert (raw.site.latitude, raw.site.longitude) == (meta["latitude"], meta["longitude"])
    assert (raw.site.elevation, raw.site.utc_offset) == (meta["altitude"], meta["TZ"])


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (lambda lines: lines[:1], "no rows"),
        (lambda lines: [*lines[:40], lines[40][:97], *lines[41:]], "line 41"),
        (lambda lines: [*lines, ""], "line 8762"),
        (lambda lines: [*lines[:40], lines[40][:3] + "13" + lines[40][5:], *lines[41:]], "ValueError"),
        (lambda lines: [*lines[:40], lines[40][:17] + "  x " + lines[40][21:], *lines[41:]], "ValueError"),
        (lambda lines: ["", *lines[1:]], "ValueError"),
    ],
)
def test_a_broken_file_is_refused(tmp_path, change, found):
    """Without rows, with a row cut short, a month of 13, no number, no place (made up)."""
    lines = climate.shipped_path("miami").read_text("utf-8").splitlines()
    path = tmp_path / "broken.tm2"
    path.write_text("\n".join(change(lines)) + "\n", "utf-8")
    with pytest.raises(FormatError) as told:
        read_raw(path, "tmy2")
    assert found in told.value.found
