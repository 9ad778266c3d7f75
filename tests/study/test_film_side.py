"""A film-side reflectance that the sheet omits widens the range of an outside film, and only of that."""

from dataclasses import replace

import numpy as np

from reportkit.study import Study


def with_exterior(study, *, stated):
    """Return the corner shop with one exterior film, its film-side reflectance on the sheet or not."""
    rated = study.job.films[0].rated.model_copy(
        update={"solar_reflectance_film_side_percent": 22.0 if stated else None}
    )
    film = study.job.films[0].model_copy(
        update={"id": "outer", "side": "outside", "film_class": "exterior", "rated": rated}
    )
    job = study.job.model_copy(update={"films": (*study.job.films, film), "compare": ("outer",)})
    return Study(replace(study.loaded, job=job))


def test_an_omitted_reflectance_widens_the_range_outside(study_of):
    """With the value on the sheet the input has no effect; without it the shop's cooling spreads wider."""
    spreads = {}
    for stated in (True, False):
        study = with_exterior(study_of("corner-shop"), stated=stated)
        index = [entry.id for entry in study.options].index("outer")
        year = study.room_years[0]
        saved = (year.cooling[:, 0] - year.cooling[:, index]).sum(axis=0)
        spreads[stated] = float(np.ptp(np.percentile(saved / saved.mean(), [10, 90])))
    assert spreads[False] > spreads[True]
