"""Cut by day: strips change places on their rolls, and nothing else."""

import re

import pytest

from reportkit import cutting
from reportkit.documents.page import Page
from reportkit.documents.runs import words_of
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.strips import strips
from reportkit.findings.cutting import Offcut
from reportkit.findings.findings import Findings
from reportkit.study.bydays import by_day


@pytest.fixture(scope="module")
def long(edited):
    """Return the corner shop fitted in hours of a day so short that it takes several."""
    return edited("corner-shop", ("  date: 2026-03-23\n", "  date: 2026-03-23\n  finish: '12:30'\n"))


def test_each_day_finds_its_pieces_cut(long):
    """Before a day is over, as many pieces of each pane are cut as were fitted until then."""
    found = Findings(long)
    plan, when = found.cutting, found.schedule
    assert len(when.days) > 1
    cut = {day: {} for day in when.days}
    for roll in plan.rolls:
        days = [strip.day for strip in roll.strips]
        assert days == sorted(days)
        for strip in roll.strips:
            for piece in strip.pieces:
                if piece.seam is None or piece.seam.part == 1:
                    cut[strip.day][piece.pane] = cut[strip.day].get(piece.pane, 0) + 1
    fitted, ready = {}, {}
    for day in when.days:
        for pane, count in cut[day].items():
            ready[pane] = ready.get(pane, 0) + count
        for slot in when.slots:
            if slot.start.date() == day:
                fitted[slot.pane] = fitted.get(slot.pane, 0) + slot.count
        assert all(ready.get(pane, 0) >= count for pane, count in fitted.items())
    assert ready == fitted


def test_the_plan_by_day_is_sound_and_as_good(long):
    """The checker, which is written apart, finds nothing; rolls, price and rests are as before."""
    before = long.offer.plan
    plan, days = by_day(before, long.schedule, tuple(pane.id for pane in long.job.panes))
    assert [len(roll.strips) for roll in plan.rolls] == [len(of_roll) for of_roll in days]
    table = long.job.fitting.table
    pieces = cutting.prepare(long.offer.pieces, long.offer.rolls, table_mm=table)
    assert not cutting.violations(plan, pieces, long.offer.rolls, table_mm=table, stages=2)
    moved = [strip.pieces for roll in plan.rolls for strip in roll.strips]
    assert moved != [strip.pieces for roll in before.rolls for strip in roll.strips]
    assert (plan.price, plan.offcuts, plan.used_mm) == (before.price, before.offcuts, before.used_mm)


def each_strip(row):
    """Yield what a row of the cut list tells of each of its strips: name, length, cut at, pieces."""
    name, length, at, pieces = (words_of(cell) for cell in row.cells)
    roll, first, last = re.fullmatch(r"(\d+)\.(\d+)(?:–(\d+))?", name).groups()
    numbers = range(int(first), int(last or first) + 1)
    length = re.sub(rf"^{len(numbers)}\s×\s", "", length)
    for number, cut in zip(numbers, at.split(", "), strict=True):
        yield f"{roll}.{number}", length, cut, pieces


def test_the_cut_list_has_a_table_for_each_day(long):
    """Each day's strips stand under its date, and each strip once."""
    page = Page(Findings(long))
    tables = [block for block in SECTIONS["cutting"](page) if getattr(block, "id", "").startswith("strip-")]
    days = page.findings.schedule.days
    assert [table.caption for table in tables] == [page.fmt.date(day, "full") for day in days]
    names = [name for table in tables for row in table.rows for name, *_ in each_strip(row)]
    assert sorted(names) == sorted(
        f"{number}.{index}"
        for number, roll in enumerate(page.findings.cutting.rolls, 1)
        for index in range(1, len(roll.strips) + 1)
    )


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_lengths_run_up_to_where_one_cuts(study_of, name):
    """A strip's own length stands beside where to cut it, and the lengths of a roll add up to that."""
    page = Page(Findings(study_of(name)))
    (table,) = [block for block in strips(page, page.findings.cutting) if getattr(block, "rows", None)]
    told = (strip for row in table.rows for strip in each_strip(row))
    assert page.findings.cutting.rolls and all(roll.strips for roll in page.findings.cutting.rolls)
    for number, roll in enumerate(page.findings.cutting.rolls, 1):
        at = 0.0
        for index, strip in enumerate(roll.strips, 1):
            at += strip.length_mm
            *shown, pieces = next(told)
            length = page.fmt.length_mm
            assert shown == [
                f"{number}.{index}",
                length(strip.length_mm, unit=False),
                length(at, unit=False),
            ]
            assert all(piece.pane in pieces for piece in strip.pieces)
    assert next(told, None) is None


@pytest.mark.parametrize(("units", "said"), [("us", "65 ft 7 3/8 in long"), ("metric", "20,00 m long")])
def test_what_is_kept_is_told_as_a_tape_shows_it(page_of, study_of, units, said):
    """A rest of 20 m is 65 ft 7.4 in (20 / .3048 = 65.617 ft): feet and inches or metres; waste is apart."""
    study = study_of("corner-shop" if units == "us" else "harbour-house")
    page = page_of(study)
    plan = page.findings.cutting.model_copy(
        update={
            "offcuts": (Offcut(roll=1, width_mm=1524.0, length_mm=20000.0),),
            "bought_m2": 60.0,
            "glass_m2": 20.0,
            "kept_m2": 30.48,
            "lost_fraction": (60 - 20 - 30.48) / 60,
        }
    )
    again = page_of(study, cutting=plan.model_dump())
    text = " ".join(str(block) for block in SECTIONS["cutting"](again)).replace("\\xa0", " ")
    assert said in text
    assert "kept on the rolls; 16" in text  # 9.52 / 60 = 15.9 %


def test_no_day_is_told_where_there_is_one(study_of):
    """A job of one day has one list, whose strips have no day."""
    found = Findings(study_of("harbour-house"))
    assert len(found.schedule.days) == 1
    assert {strip.day for roll in found.cutting.rolls for strip in roll.strips} == {None}
