"""One pane of a row of several, named as ``L1.2``, is one of its own; and panes that a decision outlives."""

import json
from decimal import Decimal

import pytest
from small_job import laid, written

from reportkit.app.checks import lapsed_told
from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.model.decided import lapsed, lapsed_in
from reportkit.job.model.singled import singled
from reportkit.study import Study

#: Bare by the choice, and by a decision with its reason.
OUT = {"choice": {"job": "grey", "panes": {"A.2": "none"}}}
DECIDED = {"date": "2026-03-05", "films": {"job": "grey"}, "panes_out": {"A.2": "a poster hangs there"}}


def decided(folder, *entries):
    """Write a log of decisions into a job and return its folder."""
    (folder / "decisions.yaml").write_text(json.dumps({"decisions": entries}), "utf-8")
    return folder


def rows(folder):
    """Return id, row and number of panes of everything a job has."""
    return [(pane.id, pane.row, pane.quantity) for pane in load_job(folder).job.panes]


@pytest.mark.parametrize("by", ["choice", "decision"])
def test_a_pane_named_out_of_its_row_is_one_of_its_own(tmp_path, by):
    """The row keeps the other seven; the pane named stays bare, and nothing of the survey was split."""
    folder = written(tmp_path, OUT) if by == "choice" else decided(written(tmp_path), DECIDED)
    assert rows(folder) == [("A", "A", 7), ("A.2", "A", 1), ("B", "B", 2)]
    study = Study.open(folder)
    assert study.chosen.film_by_pane == ("grey", None, "grey")
    assert study.other_ways == ()  # the only film on the panes left is what is offered, and no other way


def test_schedule_cut_plan_and_price_are_those_of_seven(tmp_path):
    """Dropping one of eight leaves what a survey of seven has: pieces, minutes, price to the cent."""
    (tmp_path / "one").mkdir()
    (tmp_path / "seven").mkdir()
    one = Study.open(written(tmp_path / "one", OUT, {"fitting": {"date": "2026-03-23"}}))
    survey = "id,room,face,glazing,quantity,width,height,frame,access,film\n"
    survey += "A,office,west,one,7,1000 mm,1250 mm,metal,floor,\n"
    survey += "C,office,west,one,1,1000 mm,1250 mm,metal,floor,none\n"
    survey += "B,office,west,one,2,1200 mm,1250 mm,metal,tower,\n"
    split = Study.open(written(tmp_path / "seven", {"fitting": {"date": "2026-03-23"}}, survey=survey))
    assert one.offer.price.total == split.offer.price.total > Decimal(0)
    assert one.offer.labour.elapsed == split.offer.labour.elapsed
    assert sum(cut.opening.quantity for cut in one.offer.cuts) == 9
    slots = [(one.job.panes[one.schedule.panes[slot.task]].id, slot.count) for slot in one.schedule.slots]
    assert sum(count for name, count in slots if name == "A") == 7
    assert "A.2" not in dict(slots)


def test_none_alone_leaves_the_rest_to_the_recommendation(tmp_path):
    """Where only what stays bare is named, the film is found for the others, and so is the price."""
    folder = written(tmp_path, {"choice": {"job": None, "panes": {"A.2": "none"}}})
    job = json.loads((folder / "job.yaml").read_text("utf-8"))
    del job["choice"]["job"]
    (folder / "job.yaml").write_text(json.dumps(job), "utf-8")
    study = Study.open(folder)
    assert study.chosen_by == "rule"
    assert study.chosen.film_by_pane == ("grey", None, "grey")


def test_the_nearest_word_holds_for_one_of_a_row(tmp_path):
    """Singled out by one word, a pane takes what is said of its row, where its own name says nothing."""
    other = {"name": "Less", "films": {"job": "grey", "panes": {"A.1": "none", "B": "none"}}}
    panes = {"alternatives": [other], "choice": {"panes": {"B.1": "grey", "B": "none"}}}
    job = load_job(written(tmp_path, panes)).job
    assert [pane.id for pane in job.panes] == ["A", "A.1", "B", "B.1"]
    named = {pane.id: job.film_named(pane) for pane in job.panes}
    assert named == {"A": "grey", "A.1": "grey", "B": "none", "B.1": "grey"}
    way = {pane.id: job.alternatives[0].film_on(pane) for pane in job.panes}
    assert way == {"A": "grey", "A.1": None, "B": None, "B.1": None}


def test_panes_are_singled_out_of_what_is_left_of_a_row(tmp_path):
    """One after the other is as both at once: numbers stay, the order is theirs, the row shrinks."""
    job = load_job(written(tmp_path, OUT)).job
    both = singled(job, ["A.1", "A.8", "Z.1"])
    assert [(pane.id, pane.quantity) for pane in both.panes] == [
        ("A", 5), ("A.1", 1), ("A.2", 1), ("A.8", 1), ("B", 2),
    ]  # fmt: skip
    assert singled(both, ["A.1"]) is both
    bare = singled(singled(job, ["B.2"]), ["B.1"])
    assert [pane.id for pane in bare.panes] == ["A", "A.2", "B.1", "B.2"]
    assert [(pane.row, pane.number) for pane in bare.panes[2:]] == [("B", 1), ("B", 2)]


def test_a_row_may_be_named_out_whole(tmp_path):
    """Nothing of the row is left; a reading that names the row is of its first pane."""
    both = {"choice": {"job": "grey", "panes": {"B.1": "none", "B.2": "grey"}}}
    job = load_job(written(tmp_path, both)).job
    assert [pane.id for pane in job.panes] == ["A", "B.1", "B.2"]
    assert job.numbers["B"] == job.numbers["B.1"] == 1


@pytest.mark.parametrize("name", ["A.0", "A.9", "A.02", "B.3", "C.1", "A.", ".1"])
def test_only_panes_that_are_there_are_named(tmp_path, name):
    """A row of eight has no ninth; a slip in the choice is a fault with its line."""
    with pytest.raises(JobError, match="must be a pane of this job"):
        load_job(written(tmp_path, {"choice": {"panes": {name: "none"}}}))


def test_an_id_with_a_dot_stays_what_it_is(tmp_path):
    """A survey numbered 1.1, 1.2 keeps its ids, whatever else the dot could mean."""
    head = "id,room,face,glazing,quantity,width,height\n"
    survey = head + "1,office,west,one,3,1000 mm,1250 mm\n1.2,office,west,one,1,900 mm,1250 mm\n"
    folder = written(tmp_path, {"choice": {"panes": {"1.2": "none"}}}, survey=survey)
    assert rows(folder) == [("1", "1", 3), ("1.2", "1.2", 1)]


def test_a_decision_outlives_a_survey_that_changes(tmp_path):
    """A row renamed and one removed: what was decided of them lapses and is told; the rest of it holds."""
    gone = laid(DECIDED, {"panes_out": {"Z1": "broken", "A.9": "left", "A.2": "a poster"}})
    folder = decided(written(tmp_path), gone)
    job = load_job(folder).job
    assert lapsed(job) == ("Z1", "A.9")
    assert Study.open(folder).chosen.film_by_pane == ("grey", None, "grey")


def test_a_way_kept_at_the_table_outlives_it_too(tmp_path):
    """What it says of a pane that is gone lapses and is told; typed in the job file it is a mistake there."""
    way = {"name": "Less", "films": {"job": "grey", "panes": {"A.9": "none", "A.2": "none"}}}
    gone = {"name": "Only that", "films": {"panes": {"Z1": "grey"}}}
    folder = written(tmp_path)
    (folder / "decisions.yaml").write_text(json.dumps({"alternatives": [way, gone]}), "utf-8")
    study = Study.open(folder)
    assert [lapsed_in(study.job, one) for one in study.job.alternatives] == [("A.9",), ("Z1",)]
    assert [line for line in lapsed_told(study.job) if '"Less"' in line and "A.9" in line]
    (other,) = study.other_ways
    assert (other.name, other.option.film_by_pane) == ("Less", ("grey", None, "grey"))
    (folder / "decisions.yaml").unlink()
    with pytest.raises(JobError, match="must be a pane of this job"):
        load_job(written(folder, {"alternatives": [way]}))


def test_a_decision_of_which_nothing_is_left_changes_nothing(tmp_path):
    """All panes it named a film for are gone: the job's own choice stays."""
    entry = {"date": "2026-03-05", "films": {"panes": {"Z1": "none"}}}
    job = load_job(decided(written(tmp_path), entry)).job
    assert lapsed(job) == ("Z1",)
    assert job.choice.job == "grey"
