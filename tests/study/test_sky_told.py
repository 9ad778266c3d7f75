"""The sky a room loses heat to: the weather's own where it is told, else a usual one; the page says which."""

from dataclasses import replace

import numpy as np
import pytest

from reportkit.documents.sections import SECTIONS
from reportkit.physics.room import envelope
from reportkit.study.rooms import room_year
from reportkit.study.solar import Sky


def heating(study, longwave):
    """Return the likely heating of the first heated room, doing nothing, under some sky [kWh]."""
    room = next(room for room in study.job.rooms if room.heat and room.heat.heating)
    weather = replace(study.weather, longwave=longwave)
    year = room_year(
        room,
        study.options[:1],
        study.loaded,
        study.filmed,
        (Sky(weather, study.sun),),
        study.bins,
        study.job.energy,
    )
    return float(np.median(year.heating.sum(axis=0)[0]))


def test_a_room_loses_to_the_sky_its_weather_tells(study_of):
    """A colder sky asks for more heat, one as warm as the air for less than a usual one does (law)."""
    study = study_of("harbour-house")
    told = study.weather.longwave
    assert told is not None
    warm = envelope.STEFAN_BOLTZMANN * (study.weather.temp_air + 273.15) ** 4
    by_sky = [heating(study, sky) for sky in (warm, told, 0.9 * told)]
    assert by_sky == sorted(by_sky) and by_sky[2] > by_sky[0] * 1.02
    assert by_sky[0] < heating(study, None)


def test_the_sky_of_iso_13790_is_met():
    """A sky 11 K under air of 10 C takes what ISO 13790, 11.3.5 has, within a tenth (its 5 x .9 W/m2K)."""
    air = np.array([10.0])
    sky = envelope.STEFAN_BOLTZMANN * (air + 273.15 - 11.0) ** 4
    assert envelope.sky_cold(air, sky) == pytest.approx([1.0], abs=0.1)
    assert envelope.sky_cold(air, None) == pytest.approx([1.0])
    assert envelope.sky_form([0.0, 90.0], known=False) == pytest.approx([1.0, 0.5])
    assert envelope.sky_form([0.0, 90.0], known=True) == pytest.approx([1.0, 0.5**1.5])


@pytest.mark.parametrize(
    ("language", "said"), [("en", "dew point and clouds"), ("es", "punto de rocío y las nubes")]
)
def test_the_basis_says_which_sky(study_of, page_of, language, said):
    """The list below the weather names dew point and clouds, in English and in Spanish."""
    page = page_of(study_of("harbour-house"), job={"language": language})
    assert said in str(SECTIONS["weather"](page).blocks)
