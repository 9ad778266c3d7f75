"""Tables that ship with libraries."""

import numpy as np
import pytest

from reportkit import climate


def test_the_reference_spectrum():
    """The spectrum's total and band shares are the standard's."""
    # ASTM G173-03, hemispherical on a 37 degree tilt: 1000.4 W/m2 over 280-4000 nm (the standard's own
    # table); shares of 300-2500 nm recomputed with pvlib's copy
    spectrum = climate.reference_spectrum()
    assert spectrum.wavelength[[0, -1]].tolist() == [280.0, 4000.0]

    def band(low, high):
        inside = (spectrum.wavelength >= low) & (spectrum.wavelength <= high)
        return np.trapezoid(spectrum.global_tilt[inside], spectrum.wavelength[inside])

    assert band(280.0, 4000.0) == pytest.approx(1000.37, abs=0.1)
    whole = band(300.0, 2500.0)
    assert band(300.0, 380.0) / whole == pytest.approx(0.0325, abs=0.001)
    assert band(380.0, 780.0) / whole == pytest.approx(0.5384, abs=0.001)
    assert band(780.0, 2500.0) / whole == pytest.approx(0.4291, abs=0.001)
    assert np.trapezoid(spectrum.direct, spectrum.wavelength) == pytest.approx(900.1, abs=0.5)


def test_turbidity_is_pvlibs_and_by_month():
    """Twelve values as pvlib reads them, hazier in the tropics than in the far north."""
    import pandas as pd
    from pvlib.clearsky import lookup_linke_turbidity

    london = climate.linke_turbidity(51.5, -0.12)
    day = pd.DatetimeIndex(["2025-06-10"], tz="UTC")
    assert london.shape == (12,)
    assert london[5] == lookup_linke_turbidity(day, 51.5, -0.12, interp_turbidity=False).iloc[0]
    assert climate.linke_turbidity(6.5, 3.4).mean() > climate.linke_turbidity(64.1, -21.9).mean()


def test_heights_are_coarse_but_right():
    """The map knows a high city from a port, within its own 100 m."""
    assert climate.elevation(39.74, -104.98) == pytest.approx(
        1609.0, abs=100.0
    )  # Denver, "the mile-high city"
    assert climate.elevation(25.8, -80.27) == pytest.approx(
        2.0, abs=30.0
    )  # Miami airport, from its TMY2 header


@pytest.mark.parametrize(
    ("latitude", "longitude", "name"),
    [
        (51.5, -0.12, "Europe/London"),
        (33.45, -112.07, "America/Phoenix"),  # no summer time
        (-33.87, 151.21, "Australia/Sydney"),
        (1.35, 103.82, "Asia/Singapore"),
    ],
)
def test_civil_zones(latitude, longitude, name):
    """The clock of a place is that of the IANA time zone database."""
    assert climate.civil_zone(latitude, longitude) == name


@pytest.mark.parametrize("call", [climate.civil_zone, climate.elevation, climate.linke_turbidity])
def test_impossible_coordinates_are_refused(call):
    """A latitude over 90 is refused."""
    with pytest.raises(ValueError, match="latitude"):
        call(95.0, 0.0)


def test_shipped_years_by_name():
    """Names are taken in any case, and a wrong one lists the right ones."""
    assert climate.shipped_path(" Miami ").is_file()
    assert climate.shipped_site("greensboro").place == "Greensboro, North Carolina"
    with pytest.raises(ValueError, match="miami, greensboro, sand point"):
        climate.shipped_year("atlantis", year=2025)


@pytest.mark.parametrize(("height", "pressure"), [(0.0, 101325.0), (1000.0, 89874.6), (2000.0, 79495.2)])
def test_standard_pressure(height, pressure):
    """Pressure over height is the standard atmosphere's table."""
    # ISO 2533:1975, table of the standard atmosphere (from memory)
    assert climate.standard_pressure(height) == pytest.approx(pressure, rel=2e-4)
