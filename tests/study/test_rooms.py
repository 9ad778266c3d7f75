"""A room's year: what a warm year does to its hot hours."""

from dataclasses import replace

import numpy as np
import pytest

from reportkit.study.rooms import room_year
from reportkit.study.solar import Sky


def year_of(study, room, *, warmer=0.0):
    """Return a described room's year under the first options, the outdoor air warmer throughout [K]."""
    weather = replace(study.weather, temp_air=study.weather.temp_air + warmer)
    return room_year(
        room,
        study.options[:2],
        study.loaded,
        study.filmed,
        (Sky(weather, study.sun),),
        study.bins,
        study.job.energy,
    )


def described(study, *, plant):
    """Return the described rooms of a study, without heating and cooling if asked."""
    rooms = [room for room in study.job.rooms if room.heat]
    if plant:
        return rooms
    bare = {"heating": None, "cooling": None}
    return [room.model_copy(update={"heat": room.heat.model_copy(update=bare)}) for room in rooms]


@pytest.mark.parametrize("plant", [True, False])
@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_a_warm_year_has_more_hot_hours(study_of, name, plant):
    """Over the samples hot hours, and the hottest hour, rise with the year's temperature (common sense)."""
    study = study_of(name)
    told = 0
    for room in described(study, plant=plant):
        year = year_of(study, room)
        warm = year.inputs["year_temperature"]
        for found in (year.hot_hours, year.hottest):
            for option in found:
                if np.ptp(option) > 0:  # hours that are none in every sample tell nothing
                    told += 1
                    assert np.corrcoef(warm, option)[0, 1] > 0
    assert told


@pytest.mark.parametrize("plant", [True, False])
@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_warmer_air_outside_never_lowers_hot_hours(study_of, name, plant):
    """Law: a constant added to every hour outside lowers no sample's hot hours, nor its hottest hour."""
    study = study_of(name)
    assert described(study, plant=plant)
    for room in described(study, plant=plant):
        now, warmer = year_of(study, room), year_of(study, room, warmer=0.7)
        assert np.all(warmer.hot_hours >= now.hot_hours)
        assert np.all(warmer.hottest >= now.hottest - 1e-9)
        assert plant or np.all(warmer.hottest > now.hottest)
