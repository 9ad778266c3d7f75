"""A second run against the one that was sent: what has changed, in the proposal, reasons and sheet."""

import io
import json
import re
import shutil
from collections import Counter
from pathlib import Path

import paper
import pypdf
import pytest
from issued import issue
from printed import of_document
from small_job import JOB, SURVEY, laid, written

from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.documents.labels import SHEETS
from reportkit.documents.layouts import exporters
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.lettering import POINT, width_mm
from reportkit.documents.layouts.shared import shared
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import SCHEMA_VERSION, Findings, Results
from reportkit.findings.revision import letter_of, place_of
from reportkit.job import load_job
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"
SENT = {"status": {"offered": [{"date": "2026-03-04", "run": "1"}]}, "fitting": {"date": "2026-03-23"}}
BEFORE = {"fitting": {"date": "2026-03-23"}}

#: A pane of the row of eight dropped by name, both of the other row measured anew and one added to it.
AFTER = laid(SENT, {"choice": {"panes": {"A.2": "none"}}})
MEASURED = SURVEY.replace("B,office,west,one,2,1200 mm", "B,office,west,one,3,1180 mm")


def sent(home, *changes, survey=SURVEY, stored=None, before=BEFORE):
    """Write a job of which a run was sent, then changed; return its folder."""
    home.mkdir(exist_ok=True)
    issue(written(home, before), 1, **stored or {})
    return written(home, *(changes or (SENT,)), survey=survey)


def found(folder):
    """Return what the results say of the revision."""
    return Results(Study.open(folder))["revision"]


def text(book, study, kind):
    """Return the text of a document as printed."""
    return " ".join(of_document(assemble(book(study, kind), kind)).tree.text_content().split())


@pytest.fixture(scope="module")
def revised(tmp_path_factory):
    """The changed job."""
    return sent(tmp_path_factory.mktemp("revised"), AFTER, survey=MEASURED)


def test_the_first_offer_is_a_and_a_draft_stays_it(tmp_path):
    """Runs alone send nothing: without a word of the status each is the first offer."""
    folder = sent(tmp_path, BEFORE)
    assert found(folder) == {
        "letter": "A", "since": None, "not_compared": "", "panes": [], "price": False, "result": False,
        "ways": False, "terms": False, "before": None,
    }  # fmt: skip


def test_the_same_again_keeps_its_letter(tmp_path, book):
    """A run that says what the client has is the same offer, and tells of no change."""
    folder = sent(tmp_path)
    told = found(folder)
    assert (told["letter"], told["since"]["letter"], told["since"]["run"]) == ("A", "A", 1)
    assert "What has changed" not in text(book, Study.open(folder), "proposal")


def test_each_pane_is_compared_by_its_place_in_its_row(revised):
    """One of eight lost its film, two of three are measured anew, the third is new; nothing else changed."""
    told = found(revised)
    assert told["letter"] == "B"
    seen = [(one["panes"], one["count"], one["kinds"], one["film"]) for one in told["panes"]]
    assert seen == [
        (["A.2"], 1, ["film"], None),
        (["B.1", "B.2"], 2, ["size"], "grey"),
        (["B.3"], 1, ["added"], "grey"),
    ]
    assert told["panes"][1]["before"]["width_mm"] == 1200.0
    stored = json.loads((revised / "runs" / "0001" / "results.json").read_text("utf-8"))
    assert told["before"]["total"] == stored["price"]["total"]
    assert (told["price"], told["terms"]) == (True, False)


def test_the_proposal_says_it_in_the_clients_words(revised, book):
    """Date and letter of what it replaces, price from and to, panes by rooms without a code, the result."""
    study = Study.open(revised)
    page = of_document(assemble(book(study, "proposal"), "proposal"))
    (heading,) = page.tree.xpath("//*[@id='revised']")
    section = " ".join(" ".join(heading.xpath("./following::*[self::p or self::li]//text()")).split())
    section = section[: section.index("Your")] if "Your" in section else section
    stored = json.loads((revised / "runs" / "0001" / "results.json").read_text("utf-8"))
    whole = " ".join(page.tree.text_content().split())
    assert "This takes the place of our offer of 4 March 2026, revision A." in whole
    was, now = (f"€{float(total):,.2f}" for total in (stored["price"]["total"], study.offer.price.total))
    assert f"Price, fitted: {now} instead of {was}." in whole
    assert "1 pane, office: bare glass instead of grey." in whole
    assert "1 pane more, office." in whole
    assert "2 panes have other sizes than before, office." in whole
    assert "Sun's heat at the worst hour: " in whole
    assert not re.search(r"\b[AB]\.\d", section)
    order = [whole.index(part) for part in ("Our answer", "What has changed", "Your windows")]
    assert order == sorted(order)


def test_the_sheet_marks_each_pane_with_its_old_size(revised, book):
    """Old sizes stand at the panes, what lost its film above them; the reasons have all of it by code."""
    study = Study.open(revised)
    sheet = of_document(assemble(book(study, "fitting"), "fitting"))
    whole = " ".join(sheet.tree.text_content().split())
    assert "Changed since revision A of 4 March 2026: No film any more: A.2." in whole
    assert "Panes that changed are marked under Mind" in whole
    (mark,) = {cell for row in sheet.rows("work-list") for cell in row if "glass was" in cell}
    assert "B.1, B.2: glass was 1200 × 1250 mm" in mark.replace("\u00a0", " ")
    assert "B.3: new" in mark
    assert all("glass was" not in cell for row in sheet.rows("work-list") if "A" in row[2] for cell in row)
    rows = of_document(assemble(book(study, "basis"), "basis")).rows("change-list")
    assert [row[0] for row in rows] == ["A.2", "B.1, B.2", "B.3"]
    assert rows[0][2:] == ["grey", "bare glass"]
    assert [cell.replace("\u00a0", " ") for cell in rows[1][2:]] == ["1200 × 1250 mm", "1180 × 1250 mm"]


def labels_of(folder):
    """Return code, place and mark of each label of a job."""
    (block,) = SECTIONS["labels"](Page(Findings(Study.open(folder)))).blocks
    return [(label.code, label.place.split()[-1], label.mark) for label in block.labels]


def test_a_label_of_a_changed_piece_says_so(revised, tmp_path):
    """New sizes, new panes and pieces that moved on the roll are marked; what stayed says nothing."""
    before = labels_of(written(tmp_path, BEFORE))
    assert {mark for *_, mark in before} == {""}
    now = labels_of(revised)
    assert {mark for code, _, mark in now if code == "B"} == {"changed, B"}
    stayed = [(code, place) for code, place, mark in now if not mark]
    assert stayed and {code for code, _ in stayed} == {"A"}
    left = Counter((code, place) for code, place, _ in before)
    assert not Counter(stayed) - left  # each has a label of then with the same place
    moved = Counter((code, place) for code, place, mark in now if code == "A" and mark)
    assert not moved & (left - Counter(stayed))


def test_the_same_again_marks_no_label(tmp_path):
    """Sent and made again, or one word of the terms changed: no piece is another one."""
    assert {mark for *_, mark in labels_of(sent(tmp_path))} == {""}
    other = laid(SENT, {"quote": {"deposit_percent": "40"}})
    assert {mark for *_, mark in labels_of(written(tmp_path, other))} == {""}


def test_another_film_changes_every_label(tmp_path):
    """The same sizes at the same places of another film are other pieces."""
    films = {"films": [*JOB["films"], JOB["films"][0] | {"id": "light"}]}
    other = laid(SENT, films | {"choice": {"job": "light"}})
    folder = sent(tmp_path, other, before=laid(BEFORE, films))
    assert {mark for *_, mark in labels_of(folder)} == {"changed, B"}


def test_where_it_is_not_known_what_labels_said_all_have_the_letter(tmp_path):
    """A run not kept, or stored without its cut plan: sheets are told apart, and nothing is invented."""
    folder = written(tmp_path, {"status": {"offered": [{"date": "2026-03-01"}]}})
    assert {mark for *_, mark in labels_of(folder)} == {"revision B"}
    (tmp_path / "old").mkdir()
    folder = sent(tmp_path / "old", stored={"cutting": None})
    assert {mark for *_, mark in labels_of(folder)} == {"revision A"}


@pytest.mark.parametrize(("sheets", "named"), [("a4", "a4"), ("us-letter", "letter")])
def test_a_marked_label_is_whole_on_either_sheet(revised, tmp_path, book, sheets, named):
    """Each line begins within its label, and the mark of a long size ends before the arrow's word."""
    folder = shutil.copytree(revised, tmp_path / "job", ignore=shutil.ignore_patterns("0002"))
    more = {"locale": "es_US", "language": "es", "units": "us", "paper": named}
    written(folder, AFTER, more, survey=MEASURED.replace("1180 mm", "47 13/16 in"))
    content, _ = exporters.BY_FILE["labels.pdf"](run="0002").from_notebook_node(book(Study.open(folder)))
    sheet, first = SHEETS[sheets], pypdf.PdfReader(io.BytesIO(content)).pages[0]
    found, high = [], float(first.mediabox.height)

    def seen(text, cm, tm, *_):
        at = (tm[4] + cm[4]) * POINT, (high - tm[5] * cm[3] - cm[5]) * POINT
        across, down = (at[0] - sheet.left_mm) % sheet.across_mm, (at[1] - sheet.top_mm) % sheet.down_mm
        found.append((text.strip(), across, down))

    first.extract_text(visitor_text=seen)
    arrow = min(across for text, across, _ in found if text == "arriba")
    marks = [across for text, across, _ in found if text == "cambiado, B"]
    letters = min(7 * sheet.height_mm / 25.4, 8.6)
    assert len(marks) == sum(mark != "" for *_, mark in labels_of(folder)) > 2
    assert all(across + width_mm("cambiado, B", letters, bold=True) < arrow for across in marks)
    out = [one for one in found if one[0] and not (one[1] > 2 and 2 < one[2] < sheet.height_mm - 1)]
    assert out == []


def test_in_spanish(tmp_path, book):
    """The same in the client's language: not an English word of it is left."""
    study = Study.open(sent(tmp_path, laid(AFTER, {"language": "es", "locale": "es_ES"}), survey=MEASURED))
    proposal, sheet = (text(book, study, kind) for kind in ("proposal", "fitting"))
    assert "Sustituye a nuestra oferta del 4 de marzo de 2026, revisión A." in proposal
    assert "1 paño, office: vidrio desnudo en lugar de grey." in proposal
    assert "2 paños tienen otras medidas que antes, office." in proposal
    assert "revisión B" in proposal
    assert "Ya sin lámina: A.2." in sheet
    assert "el vidrio medía 1200 × 1250 mm" in sheet.replace("\u00a0", " ")
    for word in ("instead", "What has changed", "revision B", "glass was", "Changed"):
        assert word not in proposal + sheet


def test_in_us_units(tmp_path, book, results_of):
    """The corner shop anew: a size in inches, other glass, a row removed, one of twenty-four left bare."""
    for one in ("_shared", "corner-shop"):
        shutil.copytree(JOBS / one, tmp_path / one, ignore=shutil.ignore_patterns("runs"))
    folder = tmp_path / "corner-shop"
    (folder / "readings.csv").unlink()  # they name the pane that goes
    run = folder / "runs" / "0003"
    run.mkdir(parents=True)
    (run / "results.json").write_text(json.dumps(results_of("corner-shop")), "utf-8")
    job = (folder / "job.yaml").read_text("utf-8")
    status = "choice: {panes: {E2.5: none}}\nstatus: {offered: [{date: 2026-03-05, run: 0003}]}"
    (folder / "job.yaml").write_text(job.replace("choice: {}", status), "utf-8")
    rows = (folder / "windows.csv").read_text("utf-8").splitlines(keepends=True)
    rows = [
        row.replace("plate-6", "door-6") if row.startswith("S1") else row for row in rows if row[:2] != "W2"
    ]
    survey = "".join(rows).replace('2\' 6 5/8"""', '2\' 6 1/8"""').replace('30 5/8",30-5/8', '30 1/8",30-1/8')
    (folder / "windows.csv").write_text(survey, "utf-8")
    study = Study.open(folder)
    seen = {tuple(one["panes"]): one["kinds"] for one in Results(study)["revision"]["panes"]}
    assert seen[("D1",)] == ["size"]
    assert "glass" in seen[("S1",)]
    assert seen[("W2",)] == ["dropped"]
    assert seen[("E2.5",)] == ["film"]
    sheet = text(book, study, "fitting").replace("\u00a0", " ")
    assert "glass was 30 5/8 × 78 1/2 in" in sheet
    assert "No longer in the job: W2. No film any more: E2.5." in sheet
    proposal = text(book, study, "proposal").replace("\u00a0", " ")
    assert "This takes the place of our offer of March 5, 2026, revision A." in proposal
    assert "1 pane is no longer part of it, Living room upstairs." in proposal
    assert "1 pane has other glass than was taken before, Shop." in proposal
    assert re.search(r"Price, fitted: \$[\d,.]+ instead of \$[\d,.]+\.", proposal)


def test_a_home_still_gets_four_pages(tmp_path, book, results_of):
    """The house by the harbour with a pane more and a row measured anew: told on page one or two of four."""
    for one in ("_shared", "harbour-house"):
        shutil.copytree(JOBS / one, tmp_path / one, ignore=shutil.ignore_patterns("runs"))
    folder = tmp_path / "harbour-house"
    run = folder / "runs" / "0001"
    run.mkdir(parents=True)
    (run / "results.json").write_text(json.dumps(results_of("harbour-house")), "utf-8")
    with (folder / "job.yaml").open("a", encoding="utf-8") as job:
        job.write("\nstatus: {offered: [{date: 2026-03-05, run: 1}]}\n")
    survey = (folder / "windows.csv").read_text("utf-8")
    survey = survey.replace("unit-clear;2;", "unit-clear;3;").replace("single-4;6;285", "single-4;6;305")
    (folder / "windows.csv").write_text(survey, "utf-8")
    study = Study.open(folder)
    assert Results(study)["revision"]["letter"] == "B"
    content, _ = exporters.BY_FILE["proposal.pdf"](run="0002").from_notebook_node(book(study, "proposal"))
    pages = paper.pages(content)
    assert len(pages) <= 4
    assert any("What has changed" in page for page in pages[:2])


def test_a_run_holds_what_it_was_compared_with(revised):
    """The whole chain: head, feet and archive carry the letter; the archived inputs give the same again."""
    run = make(revised, only="pdf")
    stored = json.loads((run / "results.json").read_text("utf-8"))
    assert stored["revision"]["letter"] == "B"
    manifest = json.loads((run / "manifest.json").read_text("utf-8"))
    assert "inputs/runs/0001/results.json" in manifest["inputs"]
    assert (run / "inputs" / "runs" / "0001" / "results.json").stat().st_size < 20_000
    assert Results(Study.open(run / "inputs"))["revision"] == stored["revision"]
    for kind in ("proposal", "basis", "fitting"):
        pages = [" ".join(page.split()) for page in paper.pages(run / f"{kind}.pdf")]
        assert "Offer Q-1, revision B" in pages[0]
        assert all("offer Q-1, revision B" in page for page in pages)
    pages = paper.pages(run / "proposal.pdf")
    assert len(pages) <= 4
    assert any("What has changed" in page for page in pages[:2])
    own = shared(stored)["revision"]
    assert own["letter"] == "B"


def test_what_an_earlier_version_stored_is_read_as_far_as_it_goes(tmp_path, book):
    """A run before revisions has no letter and no numbers of panes: it is compared; a stranger one is not."""
    old = {"schema": 3, "revision": None}
    assert found(sent(tmp_path / "old", AFTER, survey=MEASURED, stored=old))["letter"] == "B"
    strange = sent(tmp_path / "strange", AFTER, survey=MEASURED, stored={"schema": 1, "panes": {"A": 8}})
    told = found(strange)
    assert (told["letter"], told["not_compared"], told["panes"]) == ("B", "earlier_version", [])
    whole = text(book, Study.open(strange), "proposal")
    assert "made by an earlier version of the program and is not compared" in whole
    assert SCHEMA_VERSION >= 4


def test_only_what_was_asked_then_and_now_is_compared(tmp_path, book):
    """Glare is asked about since: its figure has nothing to stand beside, heat's has."""
    folder = sent(tmp_path, laid(AFTER, {"complaint": {"kinds": ["glare", "heat"]}}), survey=MEASURED)
    assert found(folder)["before"]["kinds"] == ["heat"]
    whole = text(book, Study.open(folder), "proposal")
    assert re.search(r"Sun's heat at the worst hour: \d+% less instead of \d+% less", whole)
    assert not re.search(r"Light in the eyes at the window: [^.]* instead of", whole)


def test_an_offer_that_is_not_kept_still_counts(tmp_path, book):
    """Sent on paper before the first run: the letter moves on, and nothing is invented of what it said."""
    paper = {"status": {"offered": [{"date": "2026-03-01"}, {"date": "2026-03-02"}]}}
    folder = written(tmp_path, paper)
    told = found(folder)
    assert (told["letter"], told["since"]["letter"], told["not_compared"]) == ("C", "B", "not_kept")
    assert "What it said is not kept here" in text(book, Study.open(folder), "proposal")


def test_what_was_accepted_is_compared_with_until_something_else_is_sent(tmp_path):
    """Of two sent the client took the first: changes count from it, and the next letter follows the last."""
    folder = sent(tmp_path)
    two = {"status": {"offered": [{"date": "2026-03-04", "run": "1"}, {"date": "2026-03-06", "run": "2"}]}}
    issue(written(folder, AFTER, survey=MEASURED), 2)
    taken = laid(two, {"status": {"accepted": {"date": "2026-03-09", "run": "1"}}})
    told = found(written(folder, BEFORE, taken))
    assert (told["letter"], told["since"]["run"], told["panes"]) == ("A", 1, [])
    told = found(written(folder, BEFORE, taken, {"prices": {"travel": "31"}}))
    assert (told["letter"], told["since"]["run"]) == ("C", 1)
    told = found(written(folder, AFTER, two, survey=MEASURED))
    assert (told["letter"], told["since"]["run"]) == ("B", 2)


def test_the_sheet_asks_before_what_was_not_agreed_to(tmp_path, book):
    """Another revision or way than the one accepted, and panes decided on that are gone, are stop signs."""
    accepted = {"date": "2026-03-09", "way": "More daylight", "note": "by telephone"}
    folder = sent(tmp_path, laid(AFTER, {"status": {"accepted": accepted}}), survey=MEASURED)
    decided = {
        "date": "2026-03-05",
        "films": {"job": "grey"},
        "panes_out": {"A.2": "a poster", "Z9": "broken"},
    }
    (folder / "decisions.yaml").write_text(json.dumps({"decisions": [decided]}), "utf-8")
    study = Study.open(folder)
    sheet = text(book, study, "fitting")
    assert "Accepted" in sheet
    assert "9 March 2026, More daylight" in sheet
    assert "by telephone" in sheet
    assert "revision A was accepted and this is B" in sheet
    assert "the way accepted is More daylight; this sheet is for Our recommendation" in sheet
    assert "Z9: decided on 5 March 2026, but no longer in the survey" in sheet
    basis = text(book, study, "basis")
    assert "A.2: a poster" in basis
    assert "No longer in the survey, so what was decided of it does not apply: Z9." in basis


def test_a_decision_with_its_day_and_reason_is_in_the_run(tmp_path):
    """Results and archived inputs hold when, who, which pane and why, in the words typed."""
    folder = written(tmp_path)
    entry = {"date": "2026-03-05", "who": "A. Example", "films": {"job": "grey"}, "note": "said by phone",
             "panes_out": {"A.2": "a poster hangs there"}}  # fmt: skip
    (folder / "decisions.yaml").write_text(json.dumps({"decisions": [entry]}), "utf-8")
    run = issue(folder, 1)
    (stored,) = json.loads((run / "results.json").read_text("utf-8"))["job"]["decisions"]
    assert (stored["date"], stored["who"], stored["note"]) == ("2026-03-05", "A. Example", "said by phone")
    assert stored["panes_out"] == {"A.2": "a poster hangs there"}
    assert load_job(run / "inputs").job.decisions == load_job(folder).job.decisions
    manifest = json.loads((run / "manifest.json").read_text("utf-8"))
    assert "inputs/decisions.yaml" in manifest["inputs"]


ORDER = "must not be before the day of what came before it"


@pytest.mark.parametrize(
    ("status", "rule"),
    [
        ({"offered": [{"date": "2026-03-04", "run": "7"}]}, "must be a run of this job: runs/0007/"),
        ({"offered": [{"date": "2026-03-04"}, {"date": "2026-03-03"}]}, ORDER),
        ({"offered": [{"date": "2026-03-04"}], "fitted": "2026-03-03"}, ORDER),
        ({"accepted": {"date": "2026-03-04"}, "fitted": "2026-03-03"}, ORDER),
        ({"offered": [{"date": "2026-03-04", "run": "1"}], "accepted": {"date": "2026-03-05", "run": "2"}},
         "must be a run that was offered"),
        ({"surveyd": "2026-03-04"}, "is not a field here"),
    ],
)  # fmt: skip
def test_a_status_that_cannot_be_is_a_fault(tmp_path, status, rule):
    """Days out of order, a run that is not there, a field that is none: told with file and line."""
    folder = sent(tmp_path, {"status": status})
    with pytest.raises(JobError, match=re.escape(rule)):
        load_job(folder)


def test_results_that_are_broken_are_a_fault(tmp_path):
    """Half a file is neither a run nor an earlier version."""
    folder = sent(tmp_path)
    (folder / "runs" / "0001" / "results.json").write_text('{"schema": 4', "utf-8")
    with pytest.raises(
        JobError, match=r"status\.offered\.1\.run: must be a run whose results\.json is whole"
    ):
        load_job(folder)


def test_letters_go_on_after_z():
    """As columns of a spreadsheet do: Z, AA, AB; and back."""
    assert [letter_of(place) for place in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]
    assert all(place_of(letter_of(place)) == place for place in range(800))
