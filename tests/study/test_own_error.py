"""The hourly method's own error stands among what is drawn, widens the ranges, and is named."""

from dataclasses import replace

import numpy as np
import pytest

from reportkit.documents.language.names import INPUTS
from reportkit.findings.findings import Results
from reportkit.physics.room import trust
from reportkit.study import Study


def width(values: np.ndarray) -> float:
    """Return how far the samples spread: their standard deviation."""
    return float(np.std(values))


@pytest.fixture(scope="module")
def without(study_of):
    """Return the warm shop's study by a method that never errs."""
    exact = tuple(replace(row, low=row.likely, high=row.likely) for row in trust.MODEL)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(trust, "MODEL", exact)
        study = Study(study_of("corner-shop").loaded)
        assert study.room_years
    return study


def test_every_range_of_a_room_is_wider_for_it(study_of, without):
    """Cooling, hot hours, and what film saves range further than the inputs alone would have it."""
    years = list(zip(study_of("corner-shop").room_years, without.room_years, strict=True))
    assert sum(width(own.cooling[:, 0]) - width(exact.cooling[:, 0]) for own, exact in years) > 0
    for own, exact in years:
        assert own.inputs.keys() == exact.inputs.keys()
        cooling, known = own.cooling.sum(axis=0), exact.cooling.sum(axis=0)
        saved = [sum(width(part[0] - other) for other in part[1:]) for part in (cooling, known)]
        assert saved[0] > saved[1]
        assert width(own.hottest[0]) > width(exact.hottest[0])


def test_it_is_named_where_ranges_are_explained(study_of, results_of):
    """A driver of what film saves, an assumption with its bounds and reason, and words for both."""
    results: Results = results_of("corner-shop")
    named = {driver["key"] for option in results["options"] for driver in option["drivers"] or ()}
    assert named & {row.key for row in trust.MODEL}
    for row in trust.MODEL:
        assert row.key in INPUTS
        told = [entry for entry in results["assumptions"] if entry.get("field") == row.key]
        assert [(entry["low"], entry["high"], entry["why"]) for entry in told] == [
            (row.low, row.high, row.why)
        ]


def test_gains_and_losses_work_as_they_are_named(study_of):
    """More gains mean more cooling and less heating, more losses more heating, in every sample's rank."""
    shop = study_of("corner-shop").room_years[0]
    assert shop.heating.sum() > 0.0

    def follows(values: np.ndarray, key: str) -> float:
        return float(np.corrcoef(values, shop.inputs[key])[0, 1])

    assert follows(shop.cooling[:, 0].sum(axis=0), "model_gains") > 0.0
    assert follows(shop.heating[:, 0].sum(axis=0), "model_losses") > 0.0
