"""Sun and glass of a year for 40 panes and 8 films, beside a plain loop; run by hand.

    python tests/benchmarks/sunglass.py [--panes 40] [--films 8] [--looped 4]

The plain loop asks pvlib for the sun and the sky of each pane by itself, and evaluates the glass hour by
hour for each film, by the same table of gains over the angle of incidence. It goes over some of the panes and
is scaled up; there both must agree to 1e-9 of the largest heat. The weather is an invented clear year.
Seconds are processor time, ours the median of five.
"""

from __future__ import annotations

import argparse
import statistics
import time
from types import SimpleNamespace

import numpy as np
import pandas as pd
from pvlib.atmosphere import alt2pres, get_relative_airmass
from pvlib.irradiance import aoi_projection, get_extra_radiation, perez
from pvlib.solarposition import spa_python

from reportkit.physics import glass, sun
from reportkit.study.options import pane_gains

LATITUDE, LONGITUDE, HEIGHT, ALBEDO = 41.0, 12.0, 50.0, 0.2
FACES = [(15.0 + 45.0 * k, 90.0 if k % 4 else 35.0) for k in range(8)]
TIMES = pd.date_range("2025-01-01 00:30", periods=8760, freq="h", tz="UTC")
AREA = 1.25  # [m2]


def sky(up):
    """Return invented global, direct and diffuse radiation of every hour [W/m2]."""
    height = np.maximum(np.sin(np.radians(up)), 0.0)
    cloud = 0.6 + 0.4 * np.sin(np.arange(8760) / 37.0)
    dni = np.where(height > 0.02, 850.0 * cloud, 0.0)
    dhi = 30.0 * (height > 0) + 140.0 * height
    return dni * height + dhi, dni, dhi


def glasses(films):
    """Return the gains of bare glass with each of so many invented films."""
    pane = glass.double(glass.clear(4), glass.clear(4), gap=glass.Gap(12))
    made = []
    for number in range(films):
        t = 0.15 + 0.6 * number / films
        film = glass.Film(
            f"invented {number}", t_solar=t, r_solar_glass=0.1, t_visible=t, r_visible_glass=0.1
        )
        made.append(glass.gain_table(glass.with_film(pane, film)))
    return made


def ours(panes, tables, weather):
    """Return the heat through each pane with each film, (films, H, P) [W], as a job computes it."""
    ghi, dni, dhi = weather
    position = sun.position(TIMES, latitude=LATITUDE, longitude=LONGITUDE, elevation=HEIGHT)
    azimuth, tilt = zip(*FACES, strict=True)
    faces = sun.sky_on_faces(
        position, ghi, dni, dhi, surface_azimuth=azimuth, surface_tilt=tilt, albedo=ALBEDO
    )
    index = np.arange(panes) % len(FACES)
    on = SimpleNamespace(panes=sun.on_panes(faces, index, 1.0), faces=faces, face_of=index)
    rows = (SimpleNamespace(area_mm2=AREA * 1e6, quantity=1),) * panes
    return [pane_gains(rows, [SimpleNamespace(gains=table)] * panes, on).by_pane for table in tables]


def plain(pane, tables, weather):
    """Return the same of one pane, (films, H) [W]: pvlib for this pane alone, the glass hour by hour."""
    ghi, dni, dhi = weather
    azimuth, tilt = FACES[pane % len(FACES)]
    at = spa_python(TIMES, LATITUDE, LONGITUDE, HEIGHT, alt2pres(HEIGHT), temperature=12.0, delta_t=67.0)
    apparent, toward = (at[name].to_numpy() for name in ("apparent_zenith", "azimuth"))
    up = apparent < 90.0
    cosine = np.clip(aoi_projection(tilt, azimuth, apparent, toward), -1.0, 1.0)
    beam = dni * np.where(up, np.maximum(cosine, 0.0), 0.0)
    with np.errstate(invalid="ignore", divide="ignore"):
        parts = perez(
            tilt, azimuth, dhi, dni, np.asarray(get_extra_radiation(TIMES.day_of_year)), apparent, toward,
            get_relative_airmass(apparent), return_components=True,
        )  # fmt: skip
    whole, around = (np.asarray(parts[f"poa_{name}"]) for name in ("sky_diffuse", "circumsolar"))
    even = dhi * (1 + np.cos(np.radians(tilt))) / 2
    usable = up & np.isfinite(whole) & np.isfinite(around)
    whole = np.maximum(np.where(usable, whole, even), 0.0)
    around = np.clip(np.where(usable, around, 0.0), 0.0, whole)
    ground = ghi * ALBEDO * (1 - np.cos(np.radians(tilt))) / 2
    aoi = np.degrees(np.arccos(cosine))
    found = np.empty((len(tables), len(TIMES)))
    for number, table in enumerate(tables):
        for hour in range(len(TIMES)):
            straight = (beam[hour] + around[hour]) * table.interp(aoi[hour])
            spread = (whole[hour] - around[hour] + ground[hour]) * table.shgc_diffuse
            found[number, hour] = (straight + spread) * AREA
    return found


def seconds(work):
    """Return what some work gives, and the processor time it takes [s]."""
    begun = time.process_time()
    made = work()
    return made, time.process_time() - begun


def main():
    """Print both times and their ratio."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--panes", type=int, default=40)
    parser.add_argument("--films", type=int, default=8)
    parser.add_argument("--looped", type=int, default=4, help="panes the plain loop goes over")
    asked = parser.parse_args()
    position = sun.position(TIMES, latitude=LATITUDE, longitude=LONGITUDE, elevation=HEIGHT)
    weather, tables = sky(90.0 - position.apparent_zenith), glasses(asked.films)
    runs = [seconds(lambda: ours(asked.panes, tables, weather)) for _ in range(5)]
    heat, took = np.array(runs[0][0]), statistics.median(one for _, one in runs)
    loop = 0.0
    for pane in range(asked.looped):
        found, one = seconds(lambda pane=pane: plain(pane, tables, weather))
        loop += one
        apart = float(np.abs(found - heat[:, :, pane]).max() / heat.max())
        if not apart < 1e-9:
            raise SystemExit(f"pane {pane}: apart by {apart:.1e} of the largest heat")
    loop *= asked.panes / asked.looped
    print(f"{asked.panes} panes x {asked.films} films x {len(TIMES)} h: {took:.3f} s, loop {loop:.1f} s "
          f"({asked.looped} panes looped and scaled up), ratio {loop / took:.0f}, equal to 1e-9")  # fmt: skip


if __name__ == "__main__":
    main()
