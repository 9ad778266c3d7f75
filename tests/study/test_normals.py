"""A job whose weather is monthly means: what is told of it, against the years that the means are of."""

import os
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from reportkit import climate
from reportkit.documents.sections.rooms import rooms
from reportkit.findings.findings import Results
from reportkit.job.model import Normals, WeatherChoice
from reportkit.study import Study, solar


def monthly_means(year):
    """Return a shipped year's own monthly means as a person would type them."""
    month = np.asarray(year.times.month)
    day = np.asarray(year.times.date)
    means, swings, sums = [], [], []
    for number in range(1, 13):
        mine = month == number
        means.append(round(float(year.temp_air[mine].mean()), 1))
        spans = [np.ptp(year.temp_air[mine & (day == d)]) for d in np.unique(day[mine])]
        swings.append(round(float(np.mean(spans)), 1))
        sums.append(round(float(year.ghi[mine].sum()) / 1000 / len(spans), 2))
    return Normals(mean_c=means, daily_range_k=swings, sun_kwh_m2_day=sums, source="the year's own months")


@pytest.fixture(scope="module")
def from_means(study_of):
    """Return the corner shop's study under the monthly means of its own typical year."""
    study = study_of("corner-shop")
    choice = WeatherChoice(use="normals", normals=monthly_means(study.weather))
    return Study(replace(study.loaded, job=study.job.model_copy(update={"weather": choice})))


ZONES = {"miami": "America/New_York", "greensboro": "America/New_York", "sand point": "America/Anchorage"}
DENVER = Path(
    os.environ.get("REPORTKIT_DENVER_EPW")
    or Path(__file__).resolve().parents[3] / "shared" / "weather" / "denver-tmy3.epw"
)


def put(loaded, site, clock, choice, file=None):
    """Return the study of a job put elsewhere, under a weather."""
    there = replace(
        loaded,
        latitude=site.latitude,
        longitude=site.longitude,
        elevation_m=site.elevation,
        clock=clock,
        weather_file=file,
    )
    return Study(replace(there, job=loaded.job.model_copy(update={"weather": choice})))


@pytest.fixture(scope="module")
def pairs(study_of):
    """Return demos put into each public year and into its own monthly means: job, year, both studies."""
    found = []
    for name in ("corner-shop", "harbour-house"):
        loaded = study_of(name).loaded
        years = {
            site: put(loaded, climate.shipped_site(site), zone, WeatherChoice(use="shipped", name=site))
            for site, zone in ZONES.items()
        }
        if DENVER.is_file():
            choice = WeatherChoice(use="file", file=DENVER.name)
            years["denver"] = put(loaded, climate.header(DENVER), "America/Denver", choice, DENVER)
        for site, full in years.items():
            choice = WeatherChoice(use="normals", normals=monthly_means(full.weather))
            made = Study(replace(full.loaded, job=full.job.model_copy(update={"weather": choice})))
            found.append((name, site, full, made))
    return found


def results(study):
    """Return the samples of every result that is printed with a range, by room, what it is, and option."""
    found = {}
    bodies = {room.id: room.heat for room in study.job.rooms}
    for year in study.room_years:
        for index, option in enumerate(study.options):
            if option.kind == "shade":
                continue
            if bodies[year.room].cooling:
                found[year.room, "cooling", option.id] = year.cooling[:, index].sum(axis=0)
                found[year.room, "peak", option.id] = year.peak_cooling[:, index].max(axis=0)
            if bodies[year.room].heating:
                found[year.room, "heating", option.id] = year.heating[:, index].sum(axis=0)
            found[year.room, "hot", option.id] = year.hot_hours[index]
            found[year.room, "hottest", option.id] = year.hottest[index]
    for name, worth in study.estimates.items():
        if name != "nothing":
            found["", "saving", name] = worth.saving
    return found


def test_what_a_year_gives_lies_in_the_range_of_its_monthly_means(pairs):
    """Of the results of four public years, eight in ten and more lie in the range printed from their means.

    Three typical years that ship with pvlib and ASHRAE 140-2020's, which nothing was fitted to (left out
    where its file is not here). What misses: the frosts of Miami, whose cold spells are sharper than its
    means say, and the hottest hours of Sand Point, by less than half a kelvin: its means tell them too hot.
    """
    inside, total = Counter(), Counter()
    for _name, site, full, made in pairs:
        true, told = results(full), results(made)
        both = true.keys() & told.keys()  # what is advised may differ, and with it the options
        assert len(both) > 0.7 * len(true)
        for key, values in ((key, true[key]) for key in sorted(both)):
            low, high = np.percentile(told[key], [10, 90])
            hit = low - 1e-9 <= np.median(values) <= high + 1e-9
            if key[1] == "hottest":
                assert low - 0.5 <= np.median(values) <= high, (site, key)
            for group in ("all", key[1], site):
                inside[group] += hit
                total[group] += 1
    assert total["all"] > 200 and total["saving"] >= 24
    assert inside["all"] / total["all"] >= 0.8
    assert inside["saving"] / total["saving"] >= 0.8
    # four years: all .87, cooling .98, peaks .87, heating .76, hot hours .92, hottest hour .82, savings .89
    # the three that ship: hottest hour .76
    for group in ("cooling", "peak", "hot", *(["hottest"] if DENVER.is_file() else [])):
        assert inside[group] / total[group] >= 0.8, group
    for site in ("greensboro", "denver"):
        assert inside[site] >= 0.8 * total[site], site


def test_heating_of_a_room_that_the_sun_warms_is_not_lost(pairs):
    """Heating from monthly means is near that of the year: average days had lost a quarter and more of it.

    Before days had spells: 39 -> 0 kWh at Miami, -23 % at Greensboro, -4 % at Sand Point.
    """
    told = 0
    for _name, site, full, made in pairs:
        for year, other in zip(full.room_years, made.room_years, strict=True):
            heat, found = (float(np.median(part.heating[:, 0].sum(axis=0))) for part in (year, other))
            if heat > 200:
                told += 1
                assert found == pytest.approx(heat, rel=0.10), (site, year.room)
    assert told >= 3


def test_hot_hours_are_given_with_their_range(from_means):
    """Generated days have peaks and hot hours, as ranges; the one worst hour is that of a clear day."""
    found = Results(from_means)
    assert found["weather"]["kind"] == "normals"
    assert from_means.peaks.weather.kind == "clear_sky"
    shop = from_means.job.complaint.room
    assert found["options"][0]["hot_hours"]["p90"] > found["options"][0]["hot_hours"]["p10"]
    for entry in found["options"]:
        assert "hot_hours" not in entry.get("withheld", {})
        assert entry["hot_hours"]["p10"] <= entry["hot_hours"]["p90"]
        assert entry["annual_solar_kwh"] > 0
        assert entry["peak_solar_w"] > 0
    room = next(room for room in found["rooms"] if room["id"] == shop)
    for entry in room["options"]:
        assert entry["peak_cooling_w"]["p50"] > 0
        assert entry["hottest_c"]["p90"] > 25
    assert len(found["bad_day"]["hours"]) == 24


def test_the_page_says_the_hours_too_hot(from_means, page_of):
    """The rooms' section of a job under monthly means has a number of hours and no dash for them."""
    page = page_of(from_means)
    table = next(block for block in rooms(page).blocks if getattr(block, "id", "") == "room-shop")
    hot = [column.key for column in table.columns].index("hot")
    said = [getattr(row, "cells", row)[hot] for row in table.rows]
    assert said and not any("—" in str(cell) for cell in said)


def test_the_years_are_the_same_every_time(from_means):
    """The draws are fixed: the same means give the same years, the first in the middle of their beam."""
    again = solar.weathers(from_means.loaded)
    assert len(again) == len(from_means.weathers) == 8
    for one, other in zip(again, from_means.weathers, strict=True):
        assert np.array_equal(one.ghi, other.ghi) and np.array_equal(one.temp_air, other.temp_air)
    beam = [year.dni.sum() for year in again]
    assert sorted(beam).index(beam[0]) == 4


def test_the_range_is_wider_than_under_a_typical_year(study_of, from_means):
    """A made year says less than a typical one, and its ranges show it."""
    widths = []
    for study in (study_of("corner-shop"), from_means):
        saving = study.worths["dual-reflective-20"].saving
        low, middle, high = np.percentile(saving, [10, 50, 90])
        widths.append((high - low) / middle)
    assert widths[1] > widths[0]
