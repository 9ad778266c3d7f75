"""Light at the eye: each pane's own, whatever is on the others and whatever was asked before."""

import numpy as np
import pytest
from small_job import JOB, written

from reportkit.physics import room
from reportkit.study import Study
from reportkit.study.dazzle import at_the_eye
from reportkit.study.options import NOTHING, option
from reportkit.study.presence import occupied

GREY = JOB["films"][0]
DARK = GREY | {"id": "dark", "rated": GREY["rated"] | {"visible_transmittance_percent": "14"}}
SURVEY = """id,room,face,glazing,quantity,width,height,frame,access
A,office,west,one,1,1000 mm,1250 mm,metal,floor
B,office,west,one,1,1200 mm,1250 mm,metal,floor
C,store,west,one,1,1200 mm,1250 mm,metal,floor
"""
ROOMS = [{"id": "office"}, {"id": "store"}]


@pytest.fixture(scope="module")
def study(tmp_path_factory):
    """A study of three panes and two films, one much darker than the other."""
    folder = tmp_path_factory.mktemp("dazzle")
    return Study.open(written(folder, {"films": [GREY, DARK], "rooms": ROOMS}, survey=SURVEY))


def light(study, *films):
    """Return the light before each pane with these films."""
    made = option(NOTHING, films, study.loaded, study.filmed, study.sun, study.screens)
    return at_the_eye(study.situation, made)


def test_every_pane_has_the_light_of_its_own_film(study):
    """Of a mix each pane has what it has where all have its film, asked before or after."""
    mixed = light(study, "dark", None, "grey")
    bare, grey, dark = (light(study, film, film, film) for film in (None, "grey", "dark"))
    assert np.array_equal(mixed, [dark[0], bare[1], grey[2]])
    assert (dark < grey).all() and (grey < bare).all()


def test_another_job_has_its_own_light(study, tmp_path):
    """What one study found is not another's: of half the height, less of the sky reaches the eye."""
    low = SURVEY.replace("1250 mm", "625 mm")
    other = Study.open(written(tmp_path, {"films": [GREY, DARK], "rooms": ROOMS}, survey=low))
    assert (light(other, None, None, None) < light(study, None, None, None)).all()


def test_light_lies_between_the_sky_s_and_the_whole_sun_s(study):
    """Bare: the sky's light times transmittance and factor, added up; with it at most all of the beam.

    The seat is 1 m away, the eye at 1.2 m and the sill at 0.9 m (study/bywindow.py); 100 lm/W for the beam.
    """
    on, weather, place = study.sun.panes, study.weather, study.sun.position
    efficacy = room.diffuse_efficacy(
        weather.dni,
        weather.dhi,
        zenith=place.zenith,
        dni_extra=place.dni_extra,
        dew_point=weather.dew_point,
    )
    there = occupied(study.job, weather)[:, 0]
    sky = np.where(there, on.diffuse[:, 0] * np.nan_to_num(efficacy), 0.0).sum()
    factor = room.configuration_factor(left=0.5, right=0.5, below=0.3, above=0.95, distance=1.0)
    least = float(sky * study.filmed["one", None].gains.t_visible_diffuse * factor)
    beam = float((on.beam[:, 0] * there * 100.0).sum())
    assert least < light(study, None, None, None)[0] < least + beam
