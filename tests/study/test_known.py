"""The maker's numbers of a glazing, from the job's field to the ratings, the films on it and the pages."""

from __future__ import annotations

import re

import pytest
from small_job import JOB, written

from reportkit.app.command_line import main
from reportkit.base.errors import InputError, JobError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.job import load_job
from reportkit.study import Study
from reportkit.study.cuttable import check_cuttable

#: A sealed unit as a label may have it (invented): argon, soft coating on surface 3.
UNIT = {
    "id": "one",
    "lites": [{"thickness_mm": "4"}, {"thickness_mm": "4"}],
    "gaps": [{"width_mm": "16", "gas": "argon", "fill_percent": "90"}],
    "coating": {"kind": "soft_low_e", "surface": "3"},
}
LABEL = {"u_w_m2k": "1.1", "shgc": "0.62", "visible_transmittance_percent": "80"}


def job(folder, known, *changes, unit=UNIT):
    """Return the study of the small job with a glazing of which something is known."""
    return Study.open(written(folder, {"glazings": [unit | {"known": known}]}, *changes))


def test_the_results_have_the_label_and_the_film_stands_on_it(tmp_path) -> None:
    """Bare, the glazing has the typed U, g and VT; with film VT falls in the ratio of the bare panes."""
    typical, known = (tmp_path / name for name in ("typical", "known"))
    typical.mkdir()
    known.mkdir()
    plain = Study.open(written(typical, {"glazings": [UNIT]})).filmed
    bent = job(known, LABEL).filmed
    bare = bent["one", None].rating
    assert (bare.u_w_m2k, bare.shgc, bare.t_visible) == pytest.approx((1.1, 0.62, 0.80), abs=1e-4)
    ratio = bare.t_visible / plain["one", None].rating.t_visible
    filmed = bent["one", "grey"].rating.t_visible / plain["one", "grey"].rating.t_visible
    assert filmed == pytest.approx(ratio, rel=0.01)
    assert bent["one", "grey"].rating.u_w_m2k < plain["one", "grey"].rating.u_w_m2k


def test_conditions_left_out_are_the_jobs(tmp_path) -> None:
    """A U of 1.5 is met under the job's rating, or under the conditions typed beside it."""
    for number, (rating, said) in enumerate([("en", None), ("nfrc", None), ("nfrc", "en")]):
        folder = tmp_path / str(number)
        folder.mkdir()
        known = {"u_w_m2k": "1.5"} | ({"conditions": said} if said else {})
        got = job(folder, known, {"rating": rating}).filmed["one", None].rating.u_w_m2k
        assert (got == pytest.approx(1.5, abs=1e-4)) is (said is None), (rating, said)


@pytest.mark.parametrize(
    ("units", "language", "said"),
    [
        ("metric", "en", "bent to the maker's U of 1.10"),
        # 1.1 W/m2K x .17611 = .194 Btu/h ft2 F (NIST SP 811)
        ("us", "en", "bent to the maker's U of 0.19"),
        ("metric", "es", "ajustado a la U del fabricante de 1"),
    ],
)
def test_the_pages_say_what_was_bent(tmp_path, units, language, said) -> None:
    """The section of the glass and the list of assumptions say it in the reader's units and language."""
    study = job(tmp_path, LABEL, {"units": units, "language": language, "locale": None})
    page = Page(Findings(study))
    for name in ("glass", "assumptions"):
        text = re.sub(r"\\xa0|\\u202f|\s", " ", repr(SECTIONS[name](page).blocks))
        assert said in text, name
    assert any("U of 1.10" in note for note in page.findings.glazings[0].notes)


def test_a_value_out_of_reach_is_refused_by_its_field(tmp_path) -> None:
    """Clear 4/16/4 cannot have a U of 1.1: the fault names the field, what was typed and what can be had."""
    unit = {name: part for name, part in UNIT.items() if name != "coating"}
    study = job(tmp_path, {"u_w_m2k": "1.1"}, unit=unit)
    with pytest.raises(JobError) as caught:
        check_cuttable(study.loaded)
    (fault,) = caught.value.faults
    assert (fault.file, fault.line) == ("job.yaml", 1)
    assert (fault.field, fault.found) == ("glazings.one.known.u_w_m2k", "1.1")
    assert "EN conditions: 2." in fault.rule


def test_the_command_finds_it_where_no_film_is_named_too(tmp_path, capsys) -> None:
    """``check`` says it whether or not the job names a film: what ``make`` would stop at."""
    unit = {name: part for name, part in UNIT.items() if name != "coating"} | {"known": {"u_w_m2k": "1.1"}}
    folder = written(tmp_path, {"glazings": [unit], "choice": {"job": None}})
    assert load_job(folder).job.choice.job is None
    assert main(["check", str(folder)]) == 2
    assert "glazings.one.known.u_w_m2k: must be what this glass can have" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("unit", "known", "message"),
    [
        (JOB["glazings"][0], {"emissivity": "0.05"}, "where no face is coated"),
        (UNIT, {"shgc": "1.2"}, "must be under 1"),
        (
            {"id": "one", "lites": [{"thickness_mm": "4", "spectrum": {"file": "x.csv"}}]},
            {"shgc": "0.5"},
            "measured by wavelength",
        ),
    ],
)
def test_what_contradicts_the_glazing_is_a_fault(tmp_path, unit, known, message) -> None:
    """An emissivity without a coating, a share over 1 and light beside a measured spectrum are refused."""
    with pytest.raises(InputError, match=message):
        job(tmp_path, known, unit=unit)
