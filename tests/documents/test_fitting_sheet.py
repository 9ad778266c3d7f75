"""The fitting sheet: one page of work for up to 24 panes, in the order of the shade."""

import copy
import re
from collections import Counter

import paper
import pytest

from reportkit.documents.blocks import Bullets, Table, plain
from reportkit.documents.frame import FRAME_WORDS
from reportkit.documents.layouts import pdf
from reportkit.documents.layouts.finish import Finisher, decimal_mark
from reportkit.documents.runs import words_of
from reportkit.documents.sections import SECTIONS

DEMOS = ["corner-shop", "harbour-house", "hill-studio"]


def pages(page):
    """Return the text of each page of a fitting sheet."""
    sections = [SECTIONS[name](page) for name in ("work", "kit", "cutting", "aftercare")]
    document = {
        "kind": "fitting",
        "title": "Fitting sheet: a job with a rather long name, as they often have",
        "subtitle": "Offer 7",
        "lang": page.fmt.language,
        "paper": page.paper,
        "footer": "Job, run 0001",
        "date": "March 2, 2026",
        "timestamp": 1_700_000_000,
        "author": "Example",
        "addressee": ["Somebody"],
        "words": dict(FRAME_WORDS),
        "blocks": Finisher(decimal_mark(page.fmt.language)).finish(
            [plain(block) for section in sections for block in section]
        ),
    }
    return paper.pages(pdf.document(document))


def many(results, job, count):
    """Return sections and the job, the first panes fitted again by other names until there are ``count``."""
    made = {name: copy.deepcopy(results[name]) for name in ("pieces", "panes", "labour", "schedule")}
    surveyed = list(job.panes)
    kinds = [piece["pane"] for piece in made["pieces"]]
    for number in range(count - len(kinds)):
        old, new = kinds[number % len(kinds)], f"N{number + 1}"
        for group, key in (("pieces", "pane"), ("panes", "id")):
            entry = next(item for item in made[group] if item[key] == old)
            made[group].append({**entry, key: new})
        surveyed.append(next(p for p in job.panes if p.id == old).model_copy(update={"id": new}))
        line = next(item for item in made["labour"]["panes"] if item["pane"] == old)
        made["labour"]["panes"].append({**line, "pane": new})
        plan = made["schedule"]
        plan["slots"].append({**next(s for s in plan["slots"] if s["pane"] == old), "pane": new})
        plan["panes"].append({**next(p for p in plan["panes"] if p["pane"] == old), "pane": new})
    made["schedule"]["slots"] = made["schedule"]["slots"][-count:]
    return {**made, "job": job.model_copy(update={"panes": tuple(surveyed)})}


@pytest.mark.parametrize("name", DEMOS)
def test_the_work_is_one_page(page_of, study_of, name):
    """From the head to the inspection rule on page one; rolls and care each start a page of their own."""
    texts = pages(page_of(study_of(name)))
    assert "Stop and ask if" in texts[0]
    assert "Inspect square on" in texts[0].replace("\n", " ")
    assert "How the rolls are cut" in texts[1]
    assert "care of the film" in texts[-1]
    assert sum("care of the film" in text for text in texts) == 1


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_twenty_four_panes_are_still_one_page(page_of, study_of, results_of, name):
    """24 rows with their flags, in inches on letter and in millimetres on A4."""
    study = study_of(name)
    texts = pages(page_of(study, **many(results_of(name), study.job, 24)))
    assert "Inspect square on" in texts[0].replace("\n", " ")
    assert "How the rolls are cut" in texts[1]
    assert len(re.findall(r"\bN\d+\b", texts[0])) >= 15


def test_rows_follow_the_plan(page_of, study_of, results_of):
    """Row for row the panes of the plan's slots, day by day, each at its start rounded up to five minutes."""
    results = results_of("corner-shop")
    tables = [
        block for block in SECTIONS["work"](page_of(study_of("corner-shop"))) if isinstance(block, Table)
    ]
    plan = results["schedule"]
    assert len(tables) == len(plan["days"])
    rows = [row for table in tables for row in table.rows]
    keys = [column.key for column in tables[0].columns]
    named = [words_of(row.cells[keys.index("pane")]).split(" ×")[0] for row in rows]
    assert named == [slot["pane"] for slot in plan["slots"]]
    for row in rows:
        minutes = int(re.search(r":(\d\d)", words_of(row.cells[keys.index("when")]))[1])
        assert minutes % 5 == 0


def test_each_piece_says_where_it_lies(page_of, study_of, results_of):
    """Each row has the strips of its own pieces, spans written with a dash; together they have them all."""
    results = results_of("corner-shop")
    table = next(
        block for block in SECTIONS["work"](page_of(study_of("corner-shop"))) if isinstance(block, Table)
    )
    keys = [column.key for column in table.columns]
    assert table.rows
    lying = {}
    for number, roll in enumerate(results["cutting"]["rolls"], start=1):
        for index, strip in enumerate(roll["strips"], start=1):
            for piece in strip["pieces"]:
                place = (number, index, "t" if piece["turned"] else "")
                lying.setdefault(piece["pane"], Counter())[place] += 1
    shown = {}
    for row in table.rows:
        pane, _, count = words_of(row.cells[keys.index("pane")]).partition(" ×")
        told = set()
        for part in words_of(row.cells[keys.index("strip")]).split(", "):
            roll, first, turned, last = re.fullmatch(r"(\d+)\.(\d+)(t?)(?:–(\d+)t?)?", part).groups()
            told |= {(int(roll), number, turned) for number in range(int(first), int(last or first) + 1)}
        assert len(told) <= int(count or 1) * (2 if pane == "S1" else 1) <= sum(lying[pane][p] for p in told)
        shown.setdefault(pane, []).append(told)
    assert {pane: set().union(*places) for pane, places in shown.items()} == {
        pane: set(places) for pane, places in lying.items()
    }
    first, second = shown["E1"]  # two rows, one piece each
    assert not first & second


def test_the_minutes_are_explained(results_of):
    """What slows a pane down stands beside it with its factor, and no factor without its cause."""
    results = results_of("corner-shop")
    labour = {entry["pane"]: entry["slowed_by"] for entry in results["labour"]["panes"]}
    jobs = {pane["id"]: pane for pane in results["job"]["panes"]}
    assert any(labour.values()) and not all(labour.values())
    for pane, factors in labour.items():
        divided = pane == "E2"  # 24 of them: their minutes hold the bars
        assert ("timber" in factors) == (jobs[pane]["frame"] in ("timber", "putty") and not divided)
        assert ("step_ladder" in factors) == (jobs[pane]["access"] == "step_ladder")
        assert all(factor > 1 for factor in factors.values())


def test_a_seam_has_one_place(study_of, page_of):
    """Told once, and from the glass: 54 of 96 in from outside is 42 from inside (survey)."""
    page = page_of(study_of("corner-shop"))
    lists = [block for block in SECTIONS["cutting"](page) if isinstance(block, Bullets)]
    said = [words_of(point) for block in lists for point in block.points if "seam" in words_of(point)]
    assert said == [
        "S1: seam at 42\u00a0in from the left edge of the glass as you stand on the film's side; "
        "no gap and no trimming there."
    ]
