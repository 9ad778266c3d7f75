"""The hourly balance against the reference programs of ANSI/ASHRAE 140-2020 (Denver typical year).

Source of the spreads: the standard's published tables of example results (values from copies, not from the
printed standard). Source of the inputs: its case descriptions; layers of the walls and the low-e window of
case 660 (U, g) are from memory of it. The gain's shape over the angle is computed for clear glass.
The weather file is not part of the project; without it these checks are skipped.
"""

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from reportkit import climate
from reportkit.climate.longwave import from_dew_point
from reportkit.physics import glass, sun
from reportkit.physics.room import Balance, Gain, Opening, Room, Slab, envelope, heat_balance, trust

NEAR = [folder / "shared" / "weather" / "denver-tmy3.epw" for folder in Path(__file__).resolve().parents]
WEATHER = next((path for path in NEAR if path.exists()), NEAR[-1])

pytestmark = pytest.mark.skipif(
    not WEATHER.exists(), reason="the Denver typical year that ASHRAE 140 uses is not beside the project"
)

#: Walls S, E, N, W and roof: azimuth, tilt, area with windows [m2], U [W/m2K]. U of
#: the layers (surface to surface 0.559 and 0.334, from memory) between the network's own faces: the standard
#: leaves the coefficients at the faces to the program.
FACES = {
    "south": (180.0, 90.0, 21.6, 0.508),
    "east": (90.0, 90.0, 16.2, 0.508),
    "north": (0.0, 90.0, 21.6, 0.508),
    "west": (270.0, 90.0, 16.2, 0.508),
    "roof": (180.0, 0.0, 48.0, 0.315),
}
HOURS = np.arange(8760) % 24
NIGHT = (HOURS >= 18) | (HOURS < 7)
#: 10 C from 23 to 7 h, then a linear ramp to 20 C by 8 h: its mean in that hour.
SETBACK = np.select([(HOURS >= 23) | (HOURS < 7), HOURS == 7], [10.0, 15.0], 20.0)
#: Layers inside the insulation, thickness [m], conductivity [W/(m K)], density [kg/m3], heat [J/(kg K)].
BOARD, CEILING = (0.012, 0.16, 950.0, 840.0), (0.010, 0.16, 950.0, 840.0)
TIMBER, SLAB = (0.025, 0.14, 650.0, 1200.0), (0.080, 1.13, 1400.0, 1000.0)
BLOCK = (0.100, 0.51, 1400.0, 1000.0)


@dataclass(frozen=True)
class Pane:
    """A window's g and U as rated (NFRC winter), and the glass whose angles it has."""

    g: float
    u: float
    angles: str = "double"


DOUBLE, LOW_E, SINGLE = Pane(0.769, 3.1), Pane(0.440, 1.45), Pane(0.864, 5.9, "single")


#: Factors on what a room gains and on what it loses, the lanes of every run: none, and each of the two 5 %
#: more and at the ends of its range.
FACTORS = [(1.0, 1.0)]
FACTORS += [(by, 1.0) for by in (1.0 + trust.MORE, trust.MODEL[0].low, trust.MODEL[0].high)]
FACTORS += [(1.0, by) for by in (1.0 + trust.MORE, trust.MODEL[1].low, trust.MODEL[1].high)]
GAINED, LOST = np.array(FACTORS).T


@dataclass(frozen=True)
class Case:
    """One case of the standard."""

    heavy: bool = False
    pane: Pane = DOUBLE
    east_west: bool = False
    overhang: bool = False
    fins: bool = False
    setback: bool = False
    night_air: bool = False
    free: bool = False


@dataclass(frozen=True, eq=False)
class Year:
    """Hourly weather and the sun on each face."""

    weather: climate.Weather
    position: sun.SunPosition
    irradiance: sun.FaceIrradiance
    gains: dict[str, glass.GainTable] = field(default_factory=dict)


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
    clear = glass.clear(3.0)
    gains = {
        "double": glass.gain_table(glass.double(clear, clear, gap=glass.Gap(13.0, "air"))),
        "single": glass.gain_table(glass.single(clear)),
    }
    return Year(weather, position, irradiance, gains)


@cache
def through_glass(case: Case) -> np.ndarray:
    """Return the sun through all windows of a case [W]."""
    year = denver()
    # the south has two panes 3 m wide, 0.5 m from its corners, under one overhang over all of its 8 m; the
    # overhang of the east and west is as wide as their one pane
    ends = [(0.0, 0.0)] * 2 if case.east_west else [(0.5, 4.5), (4.5, 0.5)]
    sides = ["east", "west"] if case.east_west else ["south", "south"]
    lengths: dict[str, object] = {}
    if case.overhang:
        left, right = zip(*ends, strict=True)
        lengths |= {
            "overhang_depth": 1.0,
            "overhang_gap": 0.5,
            "overhang_left": left,
            "overhang_right": right,
        }
    if case.fins:  # at the window's sides, and as tall as the wall
        lengths |= {"left_fin_depth": 1.0, "right_fin_depth": 1.0, "fin_above": 0.5, "fin_below": 0.2}
    shade = sun.Shade(width=3.0, height=2.0, surface_azimuth=[FACES[side][0] for side in sides], **lengths)
    panes = sun.on_panes(
        year.irradiance,
        [list(FACES).index(side) for side in sides],
        sun.sunlit_fraction(year.position, shade),
        sky_view=sun.sky_view(shade),
        horizon_view=sun.horizon_view(shade),
        ground_view=sun.ground_view(shade),
    )
    table = year.gains[case.pane.angles]
    relative = table.interp(panes.aoi) / table.shgc[0]
    diffuse = table.shgc_diffuse / table.shgc[0]
    flow = panes.beam * relative + (panes.total - panes.beam) * diffuse
    return np.asarray(case.pane.g * 6.0 * flow.sum(axis=1))


def layer(area: float, *layers: tuple[float, float, float, float]) -> tuple[float, float]:
    """Return capacity [J/K] and resistance times area of some layers."""
    capacity = sum(d * rho * c for d, _, rho, c in layers) * area
    return capacity, sum(d / k for d, k, _, _ in layers)


@cache
def run(case: Case) -> Balance:
    """Run one case under all factors: the cell of 48 m2 with 12 m2 of glass."""
    weather = denver().weather
    smooth, rough = (envelope.outside_coefficient(weather.wind_speed, rough=one) for one in (False, True))
    u = float(envelope.mean_u(case.pane.u, rated_outside=envelope.RATED_OUTSIDE["nfrc"], outside=smooth))
    glazed = dict.fromkeys(FACES, 0.0) | ({"east": 6.0, "west": 6.0} if case.east_west else {"south": 12.0})
    onto = 0.0377 * 48.0 * (10.0 - weather.temp_air)  # ground at 10 C, where the network counts outdoor air
    cold = envelope.sky_cold(weather.temp_air, weather.longwave)
    wall_form = envelope.sky_form(90.0, known=True)
    opaque = 48.0 * 0.0377
    for index, (name, (_, tilt, area, face_u)) in enumerate(FACES.items()):
        form = envelope.sky_form(tilt, known=True)
        own = area - glazed[name]
        sunny = denver().irradiance.total[:, index]
        onto += envelope.sun_on_opaque(sunny, u=face_u, area=own, outside=rough)
        onto -= cold * envelope.sky_loss(u=face_u, area=own, form_factor=form, outside=rough)
        opaque += own * face_u
    wall, ceiling = layer(63.6, BLOCK if case.heavy else BOARD), layer(48.0, CEILING)
    ground = layer(48.0, SLAB if case.heavy else TIMBER)
    thin = np.exp(-weather.elevation / envelope.SCALE_HEIGHT)
    room = Room(
        Slab(48.0, *ground),
        Slab(111.6, wall[0] + ceiling[0], wall[1]),
        glass_area=12.0,
        windows=12.0 * u * LOST,
        opaque=opaque * LOST,
        ventilation=envelope.ventilation(129.6, 0.414) * LOST,
        air_capacity=129.6 * envelope.AIR_HEAT * thin,
        convective_sun=0.03,  # an empty cell: a third of what the glass itself gives off inwards
    )
    none = case.free or case.night_air
    heating = np.full(8760, 20.0) if not case.setback else SETBACK
    cooling = np.where(NIGHT, 99.0, 27.0) if case.night_air else np.full(8760, 27.0)
    fan = Opening(0.0, above=-60.0, fan=1703.0 / 3600.0, fan_hours=NIGHT, air_heat=envelope.AIR_HEAT * thin)
    lost = envelope.sky_loss(u=u, area=12.0, form_factor=wall_form, outside=smooth)
    return heat_balance(
        room,
        weather.temp_air,
        solar=[
            Gain(through_glass(case), GAINED),
            Gain(onto, LOST, place="walls"),
            Gain(-cold, lost * LOST, place="windows"),
        ],
        internal=Gain(np.full(8760, 200.0), GAINED),
        heating_setpoint=heating,
        cooling_setpoint=cooling,
        heating_power=0.0 if none else np.inf,
        cooling_power=0.0 if case.free else np.inf,
        opening=fan if case.night_air else None,
        warm_up_steps=8760,
        record=...,
    )


def energies(case: Case, gains: float = 1.0, losses: float = 1.0) -> tuple[float, float]:
    """Return heating and cooling of the year [MWh]."""
    result, lane = run(case), FACTORS.index((gains, losses))
    return float(result.heating[:, lane].sum()) / 1000.0, float(result.cooling[:, lane].sum()) / 1000.0


def air(case: Case, gains: float = 1.0, losses: float = 1.0) -> np.ndarray:
    """Return the temperature of the air by the hour [C]."""
    record = run(case).record
    assert record is not None
    return np.asarray(record.air[:, FACTORS.index((gains, losses))])


#: Cases with the spread of the reference programs, heating and cooling [MWh].
ENERGIES = {
    "600": (Case(), (3.993, 4.504), (5.432, 6.162)),
    "610": (Case(overhang=True), (4.066, 4.592), (4.117, 4.382)),
    "620": (Case(east_west=True), (4.094, 4.719), (3.841, 4.404)),
    "640": (Case(setback=True), (2.403, 2.682), (5.237, 5.893)),
    "650": (Case(night_air=True), (0.0, 0.0), (4.186, 4.945)),
    "660": (Case(pane=LOW_E), (3.574, 3.821), (2.966, 3.340)),
    "670": (Case(pane=SINGLE), (5.300, 6.140), (5.954, 6.623)),
    "900": (Case(heavy=True), (1.379, 1.814), (2.267, 2.714)),
    "920": (Case(heavy=True, east_west=True), (2.956, 3.607), (2.549, 3.128)),
}
#: Cases without plant, highest and lowest hour of the air [C].
FREE = {
    "600FF": (Case(free=True), (62.4, 68.4), (-13.8, -9.9)),
    "650FF": (Case(free=True, night_air=True), (61.1, 66.8), (-17.8, -16.7)),
    "900FF": (Case(free=True, heavy=True), (43.3, 46.0), (0.6, 2.2)),
}
#: Further cases, their spreads from memory of the same tables: neither a copy nor the printed standard was at
#: hand, so the range of the model's own error does not rest on them. Not checked: 960, whose second zone is
#: none of ours, and 950FF, whose spread is not remembered.
REMEMBERED = {
    "630": (Case(east_west=True, overhang=True, fins=True), (4.356, 5.139), (2.573, 3.074)),
    "910": (Case(heavy=True, overhang=True), (1.648, 2.163), (1.191, 1.490)),
    "930": (Case(heavy=True, east_west=True, overhang=True, fins=True), (3.524, 4.384), (1.654, 2.161)),
    "940": (Case(heavy=True, setback=True), (0.863, 1.389), (2.203, 2.613)),
    "950": (Case(heavy=True, night_air=True), (0.0, 0.0), (0.586, 0.707)),
}


@pytest.mark.parametrize("name", [*ENERGIES, *REMEMBERED])
def test_energies_are_within_the_spread_of_the_reference_programs(name: str) -> None:
    """Heating and cooling of every case lie within the spread; no number of the network is set by a case."""
    case, *spreads = (ENERGIES | REMEMBERED)[name]
    for kind, value, (low, high) in zip(("heating", "cooling"), energies(case), spreads, strict=True):
        assert low <= value <= high, (kind, value)


def test_the_weather_tells_its_own_sky() -> None:
    """What the file's sky sends down is what its dew point and clouds say, by hand and by the hour.

    The file's own formula is Clark & Allen 1978 with Walton's clouds (from memory of the format's guide).
    """
    weather = denver().weather
    assert weather.longwave is not None
    assert 150.0 < weather.longwave.min() < weather.longwave.mean() < weather.longwave.max() < 460.0
    told = from_dew_point(weather.temp_air, weather.dew_point, 0.0)
    clear = weather.longwave < told * 1.01  # hours without clouds: nothing is added
    assert clear.mean() > 0.2
    assert weather.longwave[clear] == pytest.approx(told[clear], rel=0.02)


@pytest.mark.parametrize("name", FREE)
def test_free_temperatures_are_within_the_spread(name: str) -> None:
    """The highest and lowest hour without plant lie within the spread."""
    case, *spreads = FREE[name]
    for value, (low, high) in zip((air(case).max(), air(case).min()), spreads, strict=True):
        assert low <= value <= high


def test_sun_through_the_glass_is_the_reference_programs() -> None:
    """Sun that passes the glass over sun on it, by year: 600 .587-.627, 620 .600-.640, 670 .747-.770.

    What passes is the gain less the inward part of what the glass takes up: .703/.769 and .834/.864 of it at
    normal incidence (the glass's own transmittances, computed).
    """
    year = denver()
    clear = glass.clear(3.0)
    for case, glazing, (low, high) in (
        (Case(), glass.double(clear, clear, gap=glass.Gap(13.0, "air")), (0.587, 0.627)),
        (Case(east_west=True), glass.double(clear, clear, gap=glass.Gap(13.0, "air")), (0.600, 0.640)),
        (Case(pane=SINGLE), glass.single(clear), (0.747, 0.770)),
    ):
        passes = glass.rate(glazing, "nfrc").t_solar / case.pane.g
        sides = ["east", "west"] if case.east_west else ["south", "south"]
        on = 6.0 * sum(year.irradiance.total[:, list(FACES).index(side)].sum() for side in sides)
        assert low <= through_glass(case).sum() * passes / on <= high


def test_better_glass_saves_what_the_reference_programs_say() -> None:
    """From case 600 to 660 cooling falls by 2.684 MWh, the programs' mean, within 0.25."""
    saved = energies(Case())[1] - energies(Case(pane=LOW_E))[1]
    assert saved == pytest.approx(2.684, abs=0.25)


def found(row: trust.Row, *, gains: float = 1.0, losses: float = 1.0) -> float:
    """Return the result that a row of the table names."""
    case = (FREE if row.result == "hottest" else ENERGIES)[row.case][0]
    if row.result == "hottest":
        return float(air(case, gains, losses).max())
    return energies(case, gains, losses)[["heating", "cooling"].index(row.result)]


@pytest.mark.parametrize("row", (*trust.GAINS, *trust.LOSSES), ids=lambda row: f"{row.case} {row.result}")
def test_the_table_of_the_models_own_error_is_what_it_finds(row: trust.Row) -> None:
    """Spreads are those above; our own results and what 5 % more does to them are what the balance gives."""
    _, *spreads = (FREE if row.result == "hottest" else ENERGIES)[row.case]
    assert (row.low, row.high) == spreads[row.result == "cooling"]
    assert found(row) == pytest.approx(row.own, abs=0.01)
    more = {"losses" if row.result == "heating" else "gains": 1.0 + trust.MORE}
    assert found(row, **more) - found(row) == pytest.approx(row.change, rel=0.03, abs=0.005)


def test_the_models_own_error_reaches_every_program() -> None:
    """Between the ends of both factors the balance comes to what any program found, hardly beyond all.

    The change from case 600 to 660, the nearest to film: of programs that keep their order, 2.47 to 2.82 MWh.
    """
    gains, losses = trust.MODEL
    for rows, key, factor in ((trust.GAINS, "gains", gains), (trust.LOSSES, "losses", losses)):
        reach = []
        for row in rows:
            ends = sorted(found(row, **{key: end}) for end in (factor.low, factor.high))
            assert ends[0] <= row.low * 1.005 and ends[1] >= row.high * 0.995, row
            reach.append((row.low - ends[0]) / (row.high - row.low))
        assert min(reach) < 0.1  # one row needs all of it
    saved = [
        energies(Case(), gains=end)[1] - energies(Case(pane=LOW_E), gains=end)[1]
        for end in (gains.low, gains.high)
    ]
    assert saved[0] < 5.432 - 2.966 < 6.162 - 3.340 < saved[1]
