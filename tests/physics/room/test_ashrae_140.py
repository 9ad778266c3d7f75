"""The hourly balance against the reference programs of ASHRAE 140-2020 (Denver typical year).

Source of the spreads and acceptance limits: ANSI/ASHRAE 140-2020, its published tables of example
results (values from copies, not from the printed standard). Source of the inputs: the same standard's
case descriptions; the low-e window of case 660 (U, g) is from memory of it. The angular shape of the
gain is computed for clear double glass and used for both windows.
The weather file is not part of the project; without it these checks are skipped.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from reportkit import climate
from reportkit.physics import glass, sun
from reportkit.physics.room import envelope
from reportkit.physics.room.balance import Balance, Gain, heat_balance

WEATHER = Path(__file__).resolve().parents[4] / "shared" / "weather" / "denver-tmy3.epw"

pytestmark = pytest.mark.skipif(
    not WEATHER.exists(), reason="the Denver typical year that ASHRAE 140 uses is not beside the project"
)


#: Clear double glass, for the shape of the gain over the angle; the cases' own U and g set its size.
CLEAR_DOUBLE = glass.double(glass.clear(3.0), glass.clear(3.0), gap=glass.Gap(13.0, "air"))


#: Walls S, E, N, W and roof: azimuth, tilt, opaque area [m2], U [W/m2K], form factor to the sky.
FACES = {
    "south": (180.0, 90.0, 9.6, 0.534, 0.5),
    "east": (90.0, 90.0, 16.2, 0.534, 0.5),
    "north": (0.0, 90.0, 21.6, 0.534, 0.5),
    "west": (270.0, 90.0, 16.2, 0.534, 0.5),
    "roof": (180.0, 0.0, 48.0, 0.327, 1.0),
}


@dataclass(frozen=True, eq=False)
class Year:
    """Hourly weather, the sun on each face, and the gain over that at normal incidence."""

    temp_air: np.ndarray
    faces: dict[str, int]
    irradiance: sun.FaceIrradiance
    relative: np.ndarray
    relative_diffuse: float


@cache
def denver() -> Year:
    """Read the typical year and put its sun on the faces (Perez sky, sun at the middle of its hour)."""
    weather = climate.typical_year(WEATHER, year=2001, timezone="Etc/GMT+7")
    position = sun.position(
        weather.times,
        latitude=weather.latitude,
        longitude=weather.longitude,
        elevation=weather.elevation,
        step_hours=1.0,
    )
    azimuth, tilt = (np.array([face[index] for face in FACES.values()]) for index in (0, 1))
    irradiance = sun.sky_on_faces(
        position, weather.ghi, weather.dni, weather.dhi, surface_azimuth=azimuth, surface_tilt=tilt
    )
    gain = glass.gain_table(CLEAR_DOUBLE)
    faces = {name: index for index, name in enumerate(FACES)}
    return Year(
        temp_air=weather.temp_air,
        faces=faces,
        irradiance=irradiance,
        relative=gain.interp(irradiance.aoi[:, faces["south"]]) / gain.shgc[0],
        relative_diffuse=gain.shgc_diffuse / gain.shgc[0],
    )


@cache
def case(
    mass: str | envelope.MassClass,
    g: float = 0.769,
    u: float = 3.1,
    *,
    setback: bool = False,
    angles: bool = True,
    h_is: float | None = None,
) -> Balance:
    """Run one case: the cell of 48 m2 with 12 m2 of glass to the south."""
    year = denver()
    relative, diffuse = (year.relative, year.relative_diffuse) if angles else (1.0, 1.0)
    south = year.faces["south"]
    glass_gain = (
        12.0 * g * (year.irradiance.beam[:, south] * relative + year.irradiance.diffuse[:, south] * diffuse)
    )
    others = envelope.ground_correction(year.temp_air, u=0.0377, area=48.0, temp_ground=10.0)
    others -= envelope.sky_loss(u=u, area=12.0, form_factor=0.5)
    opaque = 48.0 * 0.0377
    for name, (_, _, area, face_u, form) in FACES.items():
        others += envelope.sun_on_opaque(year.irradiance.total[:, year.faces[name]], u=face_u, area=area)
        others -= envelope.sky_loss(u=face_u, area=area, form_factor=form)
        opaque += area * face_u
    room = envelope.room(
        48.0, height=2.7, mass=mass, windows=12.0 * u, opaque=opaque, air_change=0.414, h_is=h_is
    )
    hours = np.arange(8760) % 24
    heating: object = 20.0
    if setback:  # 10 C from 23 to 7 h, then a linear ramp to 20 C by 8 h: its mean in that hour
        heating = np.select([(hours >= 23) | (hours < 7), hours == 7], [10.0, 15.0], 20.0)
    return heat_balance(
        room,
        year.temp_air,
        solar=[Gain(glass_gain), Gain(others)],
        internal=Gain(np.full(8760, 200.0)),
        heating_setpoint=heating,
        cooling_setpoint=27.0,
        warm_up_steps=8760,
    )


def energies(result: Balance) -> tuple[float, float]:
    """Return heating and cooling of the year [MWh]."""
    return float(result.heating.sum()) / 1000.0, float(result.cooling.sum()) / 1000.0


LOW_E = {"g": 0.440, "u": 1.45}


@pytest.mark.parametrize(
    ("name", "arguments", "heating", "cooling"),
    [
        ("600", {}, (3.75, 4.98), (5.00, 6.83)),
        ("640", {"setback": True}, (1.58, 3.76), (4.44, 6.86)),
        ("660", LOW_E, (2.68, 4.82), (1.91, 4.33)),
    ],
)
def test_light_cases_are_inside_the_limits(
    name: str, arguments: dict[str, float], heating: tuple[float, float], cooling: tuple[float, float]
) -> None:
    """Heating and cooling of cases 600, 640 and 660 lie inside the standard's acceptance limits."""
    warm, cool = energies(case("very_light", **arguments))
    assert heating[0] <= warm <= heating[1], name
    assert cooling[0] <= cool <= cooling[1], name


def test_better_glass_saves_what_the_reference_programs_say() -> None:
    """From case 600 to 660 cooling falls by 2.684 MWh, the programs' mean, within 0.25."""
    saved = energies(case("very_light"))[1] - energies(case("very_light", **LOW_E))[1]
    assert saved == pytest.approx(2.684, abs=0.25)


def test_angles_of_the_glass_matter() -> None:
    """Without the glass's angular loss the change 600 to 660 misses by more than the tolerance."""
    plain = {"angles": False}
    saved = energies(case("very_light", **plain))[1] - energies(case("very_light", **LOW_E, **plain))[1]
    assert saved > 2.684 + 0.25


def test_heavy_case_is_reported(record_property: Callable[[str, object], None]) -> None:
    """Case 900 needs far less of both than case 600; its own limits are reported, not required.

    The cooling limits printed for case 900 (2.35-2.60) are narrower than the spread of the reference
    programs (2.267-2.714), so they decide nothing.
    """
    heavy, light = energies(case("very_heavy")), energies(case("very_light"))
    record_property("case_900_mwh", f"heating {heavy[0]:.3f} (1.04-2.28), cooling {heavy[1]:.3f} (2.35-2.60)")
    assert heavy[0] < 0.6 * light[0]
    assert heavy[1] < 0.6 * light[1]


def test_masses_of_a_published_validation() -> None:
    """With the masses and h_is of a published 5R1C validation, case 600 comes out near its result.

    Published (values from a copy): Cm/Af 51 290, Am/Af 4.522, h_is 2.1; 4.658 heating and 5.803
    cooling [MWh]. Its sun and glass differ in detail, so the tolerance is 6 %.
    """
    warm, cool = energies(case(envelope.MassClass(51290.0, 4.522), h_is=2.1))
    assert warm == pytest.approx(4.658, rel=0.06)
    assert cool == pytest.approx(5.803, rel=0.06)
