"""What the survey noted, the gap and the marks of the drawing, as the fitter reads them."""

import copy
import json
import re

import pytest

from reportkit.documents.blocks import plain
from reportkit.documents.figures import roll_layout
from reportkit.documents.language.formats import Formats
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.letters import make_up
from reportkit.job.model import GapSpec

#: Parts of the documents a client reads, and those of the fitting sheet.
CLIENT = ("summary", "panes", "which_panes", "verdicts", "choice", "price", "cautions", "promises", "job")
FITTER = ("work", "holds", "kit", "cutting")


def text(page, names):
    """Return the text of some parts."""
    return "\n".join(json.dumps(blocks_of(page, name), ensure_ascii=False) for name in names)


def blocks_of(page, name):
    """Return the blocks of a part as plain data, the runs of each text joined."""
    return [joined(plain(block)) for block in SECTIONS[name](page)]


def joined(data):
    """Return data in which every list of runs is one text."""
    if isinstance(data, list):
        if data and all(isinstance(one, dict) and set(one) == {"text", "kind"} for one in data):
            return "".join(one["text"] for one in data)
        return [joined(one) for one in data]
    return {key: joined(value) for key, value in data.items()} if isinstance(data, dict) else data


def noted(records, note_of):
    """Return records of a job with the note that a function gives for the id of each."""
    return tuple(record.model_copy(update={"note": note_of(record.id)}) for record in records)


@pytest.mark.parametrize("name", ["corner-shop", "hill-studio", "harbour-house"])
def test_notes_reach_the_fitter_without_a_photo(page_of, study_of, name):
    """Notes of panes (bare ones too), their glass and the film stand on the sheet, not in the proposal."""
    study = study_of(name)
    job, chosen, glass = study.job, study.chosen.films[0], study.job.panes[0].glazing
    changed = {
        "glazings": noted(job.glazings, lambda one: "fogged at the\n foot" if one == glass else ""),
        "films": noted(
            job.films, lambda one: "open the box a day before" if one == chosen else "not this one"
        ),
    }
    page = page_of(study, job=job.model_copy(update=changed))
    assert not page.photos
    sheet, offer = text(page, FITTER), text(page, CLIENT)
    notes = [" ".join(pane.note.split()) for pane in job.panes if pane.note]
    assert notes
    for note in [*notes, "fogged at the foot", "open the box a day before"]:
        assert note in sheet
        assert note not in offer
    assert "not this one" not in sheet


def test_one_note_of_many_panes_is_said_once(page_of, study_of):
    """The same note at every pane is one line."""
    study = study_of("corner-shop")
    panes = noted(study.job.panes, lambda one: "Sill is loose")
    page = page_of(study, job=study.job.model_copy(update={"panes": panes}))
    assert text(page, FITTER).count("Sill is loose") == 1


def test_the_gap_is_printed_with_its_digits(page_of, study_of):
    """1.5 mm stays 1,5 mm (it was told as 2 mm), and 1/16 in, its usual US twin, stays that."""
    page = page_of(study_of("harbour-house"))
    assert {piece.edge_gap_mm for piece in page.findings.pieces} == {1.5}
    assert "gap of 1,5\u00a0mm" in text(page, ["work"])
    assert "gap of 1/16\u00a0in" in text(page_of(study_of("corner-shop")), ["work"])
    metric = Formats("en_GB", units="metric", currency="GBP")
    assert [metric.small_length(value) for value in (1.5, 2.0, 0.75, 1.5875)] == [
        "1.5\u00a0mm", "2\u00a0mm", "0.75\u00a0mm", "1.6\u00a0mm"]  # fmt: skip


def test_a_gap_between_sheets_keeps_its_digits(page_of, study_of):
    """A gap of 12.7 mm (1/2 in) is not told to the glass maker as 13 mm."""
    study = study_of("corner-shop")
    wide = {"gaps": (GapSpec(gas="argon", width_mm=12.7),)}
    glazings = [one.model_copy(update=wide) if one.id == "unit-low-e" else one for one in study.job.glazings]
    page = page_of(study, job=study.job.model_copy(update={"glazings": tuple(glazings)}))
    assert "12.7 mm argon" in make_up(page, "unit-low-e").replace("\u00a0", " ")


def test_the_black_corner_is_in_the_key(page_of, study_of, results_of):
    """Where a piece is turned, caption and sheet say what the black corner is; where none is, they do not."""
    study = study_of("harbour-house")
    page = page_of(study)
    drawings = roll_layout(page.findings, page.fmt, page.words)
    assert ["Black corner: turned" in str(drawing.caption) for drawing in drawings] == [True, True]
    assert re.search(r"t: turned.*black corner", text(page, ["work"]))
    plan = copy.deepcopy(results_of("harbour-house")["cutting"])
    for roll in plan["rolls"]:
        for strip in roll["strips"]:
            for piece in strip["pieces"]:
                piece["turned"] = False
    page = page_of(study, cutting=plan)
    assert "lack corner" not in text(page, ["work", "cutting"])
