"""Readings after the work: the light of that hour, what is left out, and verdicts that follow the numbers."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from reportkit.documents.blocks import Table
from reportkit.documents.page import Page
from reportkit.documents.sections.review import found, readings
from reportkit.findings.findings import Findings, Results
from reportkit.job import load_job
from reportkit.job.model import Reading
from reportkit.physics.glass.readings import expected_share
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"
LOADED = load_job(JOBS / "harbour-house")
NOON = dt.datetime(2026, 6, 12, 10, 5)


def study_of(*entries: dict[str, Any], **choice: Any) -> Study:
    """Return the study of the house with readings, L2 left bare unless told."""
    usual = {"time": NOON, "meter": "light", "pane": "L1", "beside": "L2", "bare": 1000.0, "filmed": 600.0}
    made = tuple(Reading.model_construct(**{**usual, "note": "", **entry}) for entry in entries)
    chosen = choice or {"faces": {"south-east": "selective-65"}, "panes": {"L2": "none"}}
    choice_record = LOADED.job.choice.model_copy(update=chosen)
    job = LOADED.job.model_copy(update={"readings": made, "choice": choice_record})
    return Study(replace(LOADED, job=job))


def share_of(study: Study, *, beside: bool = True) -> float:
    """Return the ratio computed for pane L1 in the middle of its range."""
    glazing = study.job.panes[0].glazing
    filmed, bare = (study.filmed[glazing, film].glazing for film in ("selective-65", None))
    assert filmed is not None
    low, high = expected_share(filmed, bare if beside else None, "light", aoi=54.0)
    return (low + high) / 2


def test_readings_on_what_was_computed_are_as_computed() -> None:
    """Five pairs within two percent of the computed ratio, beside bare glass and in the open."""
    for beside in ("L2", "open"):
        share = share_of(study_of(), beside=beside != "open")
        factors = (0.99, 1.0, 1.01, 1.02, 0.98)
        study = study_of(*({"filmed": 1000 * share * factor, "beside": beside} for factor in factors))
        (one,) = study.after.compared
        assert one.verdict == "as_computed"
        assert one.in_open == (beside == "open")
        assert one.share.middle == pytest.approx(share, rel=0.01)
        assert not study.after.left_out


@pytest.mark.parametrize(("factor", "verdict"), [(1.3, "more"), (0.7, "less")])
def test_the_wrong_film_shows(factor: float, verdict: str) -> None:
    """A third more or less than computed is told, in the result and in the sentence with its numbers."""
    share = share_of(study_of(), beside=False)
    study = study_of(*({"filmed": 1000 * share * factor * f, "beside": "open"} for f in (0.99, 1.0, 1.01)))
    assert study.after.compared[0].verdict == verdict
    page = Page(Findings(study))
    text = found(page)._repr_mimebundle_()["text/plain"]
    assert f"{page.fmt.percent(share * factor)} of the light in the open, {verdict} than the" in text


def test_the_sun_at_that_minute_is_the_sun_of_the_site() -> None:
    """On 12 June at 10:05 on the house's clock the sun meets the south-east panes; after sunset it does not.

    Cross-check, not an authority: pvlib's own position and angle of incidence.
    """
    import pandas as pd
    from pvlib.irradiance import aoi
    from pvlib.solarposition import get_solarposition

    (one,) = study_of({}).after.compared
    where = pd.DatetimeIndex([NOON]).tz_localize(LOADED.clock)
    place = get_solarposition(where, LOADED.latitude, LOADED.longitude)
    bearing = next(face.bearing for face in LOADED.job.faces if face.id == "south-east")
    angle = float(aoi(90, bearing, place.apparent_zenith, place.azimuth).iloc[0])
    assert one.pairs[0].aoi == pytest.approx(angle, abs=0.05)


def test_pairs_that_say_nothing_are_left_out_with_the_reason() -> None:
    """A pane without film, a neighbour with film, and the night."""
    night = dt.datetime(2026, 6, 12, 2, 30)
    study = study_of({"pane": "L2", "beside": "open"}, {"time": night})
    assert [entry.why for entry in study.after.left_out] == ["no_film", "sun_down"]
    both = study_of({}, job="selective-65")
    assert [entry.why for entry in both.after.left_out] == ["beside_has_film"]
    assert not both.after.compared
    page = Page(Findings(both))
    assert "cannot be told" in found(page)._repr_mimebundle_()["text/plain"]
    assert "the pane beside it has film too" in readings(page)._repr_mimebundle_()["text/plain"]


def test_an_hour_that_the_clock_skips_or_repeats_is_read() -> None:
    """Readings by the clock survive the two nights of daylight saving."""
    skipped, twice = dt.datetime(2026, 3, 29, 2, 30), dt.datetime(2026, 10, 25, 2, 30)
    after = study_of({"time": skipped}, {"time": twice}).after
    assert len(after.left_out) + sum(len(one.pairs) for one in after.compared) == 2


def test_without_readings_there_is_nothing_to_compare() -> None:
    """The results then hold null, and the parts say so or are empty."""
    study = study_of()
    assert Results(study)["readings"] is None
    page = Page(Findings(study))
    assert "Nothing was read" in found(page)._repr_mimebundle_()["text/plain"]
    assert list(readings(page)) == []


def test_next_to_nothing_keeps_its_decimals() -> None:
    """Where hardly any ultraviolet passes, the table tells tenths of a percent, read and computed alike."""
    study = study_of(*({"meter": "uv", "filmed": 4.0, "beside": "open"} for _ in range(3)))
    page = Page(Findings(study))
    (pair, *_) = study.after.compared[0].pairs
    assert pair.high < 0.1
    table = next(block for block in readings(page) if isinstance(block, Table))
    cells = ["".join(run.text for run in cell) for cell in table.rows[0].cells]
    assert cells[7] == page.fmt.percent(0.004, 1)
    assert cells[8].startswith(page.fmt.percent(pair.low, 1))
