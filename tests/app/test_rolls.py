"""Packs, rolls on the shelf and seams, from the job's files to both documents; films that cannot be cut."""

import json
import re
from dataclasses import replace
from decimal import Decimal

import pytest
from lxml import html

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import InputError, JobError
from reportkit.documents.desk import Desk
from reportkit.documents.sections.summary import told_in_short
from reportkit.documents.view import Report
from reportkit.findings.findings import Results
from reportkit.findings.rooms import Spread
from reportkit.job import write_starter
from reportkit.study import Study

PACKS = """    rolls:
      - width: 1524 mm
        length: 6 m
        pack: 2
        price: 300.00
      - width: 1000 mm
        length: 3 m
        in_stock: 1
"""
SHELF = """    rolls:
      - width: 1524 mm
        length: 2 m
        in_stock: 1
"""
#: Too narrow and too short for any pane.
SCRAP = SHELF.replace("1524 mm", "600 mm").replace("2 m", "500 mm")
SURVEY = """id,room,face,glazing,quantity,width,height,seam,mullion
D,study,east,door,1,680,1910,,
A,study,east,double,2,2000,1800,600,
B,study,east,double,1,3300,1400,,1200 & 2300
C,study,east,double,1,3300,1400,1100 & 2200,1200 & 2300
"""
#: Extra film on each side of a blank, trained fitter [mm]: the program's default, of the trade.
TRIM = 12


def job(folder, choice="", other=SCRAP):
    """Write a job: one film in packs of two with a roll on the shelf, another on the shelf alone."""
    write_starter(folder, units="metric")
    path = folder / "job.yaml"
    first, second = re.findall(
        r"(?m)^    rolls:.*\n(?:      .*\n|        .*\n)+", text := path.read_text("utf-8")
    )
    text = text.replace(first, PACKS).replace(second, other)
    path.write_text(text + choice, encoding="utf-8")
    (folder / "windows.csv").write_text(SURVEY, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """Return the folder of a run of that job."""
    return make(job(tmp_path_factory.mktemp("rolls") / "job"), only="html", static=True)


@pytest.fixture(scope="module")
def results(run):
    """Return the run's results."""
    return json.loads((run / "results.json").read_text(encoding="utf-8"))


def shown(path):
    """Return the text of a document, without its scripts and styles, spaces made one."""
    tree = html.fromstring(path.read_text(encoding="utf-8"))
    for part in tree.xpath("//script | //style"):
        part.getparent().remove(part)
    return " ".join(" ".join(tree.itertext()).split())


def cut(results, pane):
    """Return the widths of a pane's pieces by their part, as the plan cuts them."""
    return {
        (seam["part"], seam["parts"]) if (seam := piece["seam"]) else None: piece["width_mm"]
        for roll in results["cutting"]["rolls"]
        for strip in roll["strips"]
        for piece in strip["pieces"]
        if piece["pane"] == pane
    }


def test_seams_are_where_the_survey_has_them(results):
    """600 from the left outside is 1400 from the left inside, where the film goes (worked by hand).

    B has no place of its own and goes along the mullions, C has one and does not.
    """
    assert cut(results, "A") == {(1, 2): 1400 + TRIM, (2, 2): 600 + TRIM}
    assert cut(results, "B") == {(1, 3): 1000 + TRIM, (2, 3): 1100, (3, 3): 1200 + TRIM}
    assert cut(results, "D") == {None: 680 + 2 * TRIM}
    told = {piece["pane"]: (piece["parts_mm"], piece["seams_mm"]) for piece in results["pieces"]}
    assert told == {
        "A": ([1412, 612], [1400]),
        "B": ([1012, 1100, 1212], [1000, 2100]),
        "C": ([1112, 1100, 1112], [1100, 2200]),
        "D": ([], []),
    }


def test_packs_are_bought_whole_and_the_shelf_first(results):
    """The door's piece comes off the shelf; the rest takes whole packs, each paid once."""
    rolls = results["cutting"]["rolls"]
    bought = [roll for roll in rolls if roll["label"] != "shelf"]
    (shelf,) = [roll for roll in rolls if roll["label"] == "shelf"]
    assert [piece["pane"] for strip in shelf["strips"] for piece in strip["pieces"]] == ["D"]
    assert Decimal(shelf["price"]) == 0
    assert {roll["pack"] for roll in bought} == {2} and len(bought) % 2 == 0
    # parts of 1012 to 1412 lie alone across 1524, two of 612 side by side; the parts of a pane come from one
    # roll of 6000: 3 x 1824 for A, 3 x 1424 for B, the same for C, so three rolls, which is two packs
    assert len(bought) == 4
    assert sum(Decimal(roll["price"]) for roll in bought) == 600
    (line,) = [line for line in results["price"]["lines"] if line["group"] == "film"]
    assert (line["quantity"], line["unit"]) == ("2", "pack")
    assert line["id"].endswith(":1524:6000:2")


def test_the_documents_tell_what_to_buy_and_where_the_seams_go(run, results):
    """The buying list, the price, the sizes, the places of the seams and the caution are printed."""
    fitting, basis = shown(run / "fitting.html"), shown(run / "basis.html")
    assert "To buy 2 packs of 2 rolls, each 1524 mm × 6.00 m" in fitting
    assert "From the shelf 1 × 1000 mm × 3.00 m" in fitting
    assert "from the shelf: 1000 mm wide" in fitting  # in the drawing's words or its text
    assert "1412 + 612 × 1824" in fitting and "1012 + 1100 + 1212 × 1424" in fitting
    assert "A: seam at 1400 mm from the left edge of the glass as you stand on the film's side" in fitting
    assert "packs of 2 rolls 1524 mm wide, 6.0 m long 2 packs" in basis
    assert "wider than the film: a fine upright line will show" in basis


def test_a_film_that_cannot_be_cut_has_no_price_and_is_not_recommended(run, results):
    """What two metres on the shelf do to the heat is told; a price is withheld, with the reason in words."""
    silver = next(entry for entry in results["options"] if entry["film"] == "sample-silver")
    assert silver["cost"] is None and silver["withheld"]["cost"] == "no_plan"
    assert not silver["recommended"] and silver["peak_cut_fraction"] > 0
    assert "the rolls given for it cannot hold the pieces for all panes" in shown(run / "basis.html")


def test_where_it_is_chosen_it_is_the_job_s_fault(tmp_path, capsys):
    """The film and its field are named, no run is left, and the code is that of a person's mistake."""
    folder = job(tmp_path / "job", "\nchoice: {job: sample-silver}\n")
    with pytest.raises(JobError, match=r"job.yaml:?\d* films.sample-silver.rolls: .*roll") as caught:
        make(folder, only="html")
    assert isinstance(caught.value, InputError)  # exit code 2
    assert [entry.name for entry in folder.rglob("runs/*")] == []
    with pytest.raises(JobError, match=r"films.sample-silver.rolls"):
        dict(Results(Study.open(folder)))
    assert main(["check", str(folder)]) == 2
    assert re.search(r"job.yaml:\d+ films.sample-silver.rolls: .*roll", capsys.readouterr().out)


def test_a_choice_that_some_panes_can_have_is_no_fault(tmp_path, capsys):
    """Two metres on the shelf do the door: `check` is silent about the panes that stay bare."""
    assert main(["check", str(job(tmp_path / "job", "\nchoice: {job: sample-silver}\n", SHELF))]) == 0
    assert capsys.readouterr().out == ""


def test_parts_that_no_one_roll_holds_are_found_by_check(tmp_path, capsys):
    """Each of two panes' parts fits a roll of 1.9 m, those of one pane together do not."""
    short = SHELF.replace("length: 2 m", "length: 1900 mm")
    folder = job(tmp_path / "job", "\nchoice: {panes: {A: sample-silver}}\n", short)
    assert main(["check", str(folder)]) == 2
    assert "films.sample-silver.rolls" in capsys.readouterr().out


def test_where_no_film_can_be_cut_the_reason_is_told(tmp_path):
    """Then leaving the glass as it is is recommended, for want of film and not of films."""
    folder = job(tmp_path / "job")
    text = (folder / "job.yaml").read_text(encoding="utf-8").replace(PACKS, SCRAP)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    study = Study.open(folder)
    assert study.recommended is study.nothing
    assert study.advised.why_nothing == "no_plan"
    assert study.quick_offers["sample-grey"].total is None


def test_the_consultation_goes_on_where_a_film_cannot_be_cut(tmp_path):
    """The desk says what is wrong, keeps showing the last choice that can be cut, and keeps nothing wrong."""
    folder = job(tmp_path / "job")
    desk = Desk(Study.open(folder))
    before = desk.numbers.value
    desk.films["east"].value = "sample-silver"
    assert "films.sample-silver.rolls" in desk.message.value
    assert desk.numbers.value == before
    desk.override.value = "more shade"
    desk.button.click()
    assert "films.sample-silver.rolls" in desk.message.value
    assert not (folder / "decisions.yaml").exists()
    desk.films["east"].value = "sample-grey"
    assert desk.message.value == ""


def test_film_on_the_shelf_alone_costs_nothing(tmp_path):
    """Off-cuts that are enough: no film in the price, only the work."""
    folder = job(tmp_path / "job", "\nchoice: {panes: {D: sample-silver}}\n", SHELF)
    study = Study.open(folder)
    assert study.offer.plan.price == 0 and study.offer.plan.proven
    assert [line.group for line in study.offer.price.lines if line.group == "film"] == []
    assert study.offer.total > 0


@pytest.mark.parametrize("choice", ["", "\nchoice: {job: sample-silver}\n"])
def test_a_pane_that_cannot_be_cut_stays_bare_by_name_and_sinks_no_other(tmp_path, choice):
    """Two metres on the shelf do the door only: the film is priced there, the others named with the cause."""
    study = Study.open(job(tmp_path / "job", choice, SHELF))
    option = study.chosen if choice else study.film_options[-1]
    assert dict(zip([pane.id for pane in study.job.panes], option.film_by_pane, strict=True)) == {
        "D": "sample-silver",
        "A": None,
        "B": None,
        "C": None,
    }
    assert {pane for pane, _ in option.bare_because} == {"A", "B", "C"}
    assert study.quick_offer(option.film_by_pane).total > 0
    if choice:
        page = Report(study).page
        assert [piece.pane for piece in page.findings.pieces] == ["D"]
        lines = " ".join(told_in_short(page))
        assert "No film on A, B, C: no roll given for the film can hold its piece." in lines


def test_doing_nothing_names_the_panes_and_the_cause(tmp_path):
    """Page one and the terminal say which panes no film can be cut for, where that leaves nothing of use."""
    folder = job(tmp_path / "job", other=SHELF)
    text = (folder / "job.yaml").read_text(encoding="utf-8").replace(PACKS, SHELF)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    survey = SURVEY.replace("D,living,west,door,1,680,1910", "D,living,west,door,1,150,150")
    (folder / "windows.csv").write_text(survey, encoding="utf-8")
    page = Report(Study.open(folder)).page
    assert page.leaves_glass and page.findings.choice.why_nothing == "stopped"
    lines = told_in_short(page)
    assert any(line.startswith("A, B, C cannot have") and "hold its piece" in line for line in lines)


def test_a_pane_that_a_blind_pushes_past_its_limit_is_named_with_the_cause(study_of):
    """The terminal says which panes stay bare and why, beside the film chosen for the others."""
    base = study_of("corner-shop")
    told = {}
    for blind in (False, True):
        panes = tuple(pane.model_copy(update={"blind": blind}) for pane in base.job.panes)
        page = Report(Study(replace(base.loaded, job=base.job.model_copy(update={"panes": panes})))).page
        assert not page.leaves_glass
        told[blind] = [
            line for line in told_in_short(page) if "W1" in line and "warmer than its edge" in line
        ]
    assert told[False] == [] and len(told[True]) == 1


def test_a_film_that_cannot_go_anywhere_has_no_price(study_of):
    """Nothing fitted is not a job for nothing: no price, no payback, in results."""
    base = study_of("corner-shop")
    panes = tuple(pane.model_copy(update={"collector": True}) for pane in base.job.panes)
    study = Study(replace(base.loaded, job=base.job.model_copy(update={"panes": panes})))
    made = [entry for entry in Results(study)["options"] if entry["kind"] == "film"]
    assert made
    for entry in made:
        assert entry["cost"] is None and entry["withheld"]["cost"] == "cannot_go"
        assert entry["npv"] is None and entry["payback_years"] is None


def test_the_hours_too_hot_are_a_range_where_it_is_wide(study_of):
    """A middle alone is said only where the range about it is narrower than half of it."""
    page = Report(study_of("corner-shop")).page
    for low, middle, high, said in (
        (0.0, 120.0, 850.0, "0 to 850"),
        (0.7, 120.0, 75.0, "1 to 75"),
        (110.0, 120.0, 130.0, "about 120"),
    ):
        assert page.hours(Spread(p10=low, p50=middle, p90=high)) == said
