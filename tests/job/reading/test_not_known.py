"""What a person does not know may be left out or said so; what follows is told by check and on the page.

That the worst that fits is taken is the project's own rule; what thick film takes is tested in `tests/work`.
"""

import json
import re

import pypdfium2 as pdfium
import pytest

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.job import load_job, write_starter
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.yamltext import yaml_text
from reportkit.study import Study
from reportkit.study.cautions import cautions_for
from tests.small_job import SURVEY, written

THICK, CLASS = "thickness_um", "film_class"


def film(tmp_path, base, /, **changed):
    """Return a folder with the small job, its film with fields changed, or left out where they are None."""
    folder = tmp_path / ("-".join(map(str, changed)) or "as-it-is")
    folder.mkdir(parents=True, exist_ok=True)
    written(folder, base)
    job = json.loads((folder / "job.yaml").read_text("utf-8"))
    job["films"][0] = {key: v for key, v in (job["films"][0] | changed).items() if v is not None}
    (folder / "job.yaml").write_text(json.dumps(job), "utf-8")
    return folder


@pytest.mark.parametrize("word", [None, "?", "Not known", "unknown", "DESCONOCIDA", "no se sabe"])
def test_what_is_not_known_is_left_open(tmp_path, word):
    """Left out or said in a word, in a choice and in a number alike."""
    read = load_job(film(tmp_path, {}, **{THICK: word, CLASS: word})).job.films[0]
    assert (read.thickness_um, read.film_class) == (None, None)


@pytest.mark.parametrize(
    "line",
    [
        "a: ?",
        "a: ?   # which?",
        "- ?",
        "{a: ?, b: [1, ?], c: {d: ?}}",
        "- a: ?",
        "a: [?]   # which?",
        "a: ?\r",
    ],
)
def test_a_bare_question_mark_is_a_text(line):
    """After a colon or a dash, in brackets, with a remark behind it; what stands below keeps its line."""
    tree, faults = read_tree("", f"top:\n  {line}\n\nz: *none\n")
    assert tree is None and [(fault.line, fault.rule) for fault in faults] == [
        (4, "must refer to an anchor above it")
    ]
    tree, faults = read_tree("", f"top:\n  {line}\n")
    assert not faults and "'?'" in str(tree.value)


def test_a_question_mark_within_a_text_stays():
    """As a word of a sentence, at its end, and as what a program for YAML would take for a key."""
    tree, faults = read_tree("", "a: why? because\nb: really?\n? c: d\ne: |\n  - ?\n")
    assert not faults
    assert tree.value == {"a": "why? because", "b": "really?", "? c": "d", "e": "- ?\n"}


@pytest.mark.parametrize("full", [False, True])
def test_the_starters_own_lines_take_a_question_mark(tmp_path, full):
    """Thickness and class of the first film, with the remark behind them, untouched but for the value."""
    write_starter(tmp_path, units="us", kind="home", full=full)
    text = (tmp_path / "job.yaml").read_text("utf-8")
    asked = re.sub(r"(film_class|thickness_um): \w+", r"\1: ?", text)
    assert asked != text
    (tmp_path / "job.yaml").write_text(asked, "utf-8")
    read = load_job(tmp_path).job.films[0]
    assert (read.thickness_um, read.film_class) == (None, None)


def test_a_question_mark_is_written_so_that_every_reader_of_yaml_has_it():
    """Between quotation marks."""
    assert yaml_text({"a": "?", "b": ["?", "? x"]}) == 'a: "?"\nb: ["?", "? x"]\n'


def test_any_field_that_may_be_left_out_may_be_not_known(tmp_path):
    """A choice, an amount, a switch, a text, a name, a group, a cell: the job is the one without them."""
    plain, asked = tmp_path / "plain", tmp_path / "asked"
    plain.mkdir()
    asked.mkdir()
    said = {
        "title": "?", "paper": "unknown", "site": {"ground_albedo": "not known", "place": "?"},
        "recommend": "?",
        "client": {"address": ["?"], "contact": "?"}, "compare": ["?"],
        "shades": "?", "building": {"country": "?"},
        "rooms": [{"id": "office", "heat": {"floor_area": "?"}}],
        "faces": [{"id": "west", "bearing": "265", "tilt": "?", "horizon": "?", "compass": {"reading": "?"}}],
        "glazings": [{"id": "one", "lites": [{"thickness_mm": "4", "strength": "unknown", "glass": "?"}],
                      "gaps": "?", "coating": {"kind": "?", "surface": "?"}}],
        "fitting": {"fitter": "?", "stages": "?", "spare": "?", "date": "?"},
        "prices": {"margin_on": "?", "blade_each": "?"},
    }  # fmt: skip
    survey = SURVEY.replace("width,height,frame", "width,width_2,height,frame,opens,horizon,note")
    survey = survey.replace("1000 mm,1250 mm,metal", "1000 mm,?,1250 mm,?,?,?,?")
    survey = survey.replace("1200 mm,1250 mm,metal", "1200 mm,unknown,1250 mm,unknown,unknown,?,?")
    told = load_job(written(asked, said, survey=survey))
    bare = load_job(written(plain, survey=SURVEY.replace(",frame", "").replace(",metal", "")))
    assert told.job == bare.job
    assert told.defaults == bare.defaults


def test_a_word_of_a_text_or_a_name_stays(tmp_path):
    """A room called unknown is that room, and a title may be the word; only ? is neither."""
    changed = {"title": "Unknown", "rooms": [{"id": "unknown"}], "complaint": {"room": "unknown"}}
    job = load_job(written(tmp_path, changed, survey=SURVEY.replace("office", "unknown"))).job
    assert (job.title, job.complaint.room, job.panes[0].room) == ("Unknown", "unknown", "unknown")


def test_what_is_not_known_is_taken_from_shared(tmp_path):
    """As what is left out is; what is not known there is left out there."""
    folder = film(tmp_path, {}, thickness_um="?", rolls="?")
    (tmp_path / "_shared").mkdir()
    roll = {"width": "1 m", "length": "?", "price_per_m": "20"}
    shared = {"currency": "EUR", "films": [{"id": "grey", "thickness_um": "50", "rolls": [roll]}]}
    (tmp_path / "_shared" / "films.yaml").write_text(json.dumps(shared), "utf-8")
    read = load_job(folder).job.films[0]
    assert (read.thickness_um, read.rolls[0].length) == (50, None)


@pytest.mark.parametrize(
    ("changed", "field", "hint"),
    [
        ({"glazings": [{"id": "one", "lites": [{"thickness_mm": "?"}]}]}, "1.thickness_mm", "opened sash"),
        ({"rooms": [{"id": "office", "heat": {"floor_area": "?", "mass": "light"}}]}, "area", "withheld"),
        ({"quote": {"date": "?"}}, "quote.date", "the day you write this"),
        ({"client": {"name": "?"}}, "client.name", "such as"),
        ({"business": {"name": "?", "contact": "x"}}, "business.name", "such as"),
        ({"quote": None, "business": None, "prices": {"dated": "?"}}, "fitting.date", "if nothing else"),
    ],
)  # fmt: skip
def test_what_must_be_given_says_so_and_what_to_do(tmp_path, changed, field, hint):
    """The fault is that of a field left out; it says what is honest to do where it is not known."""
    with pytest.raises(JobError) as caught:
        load_job(written(tmp_path, changed))
    (fault,) = caught.value.faults
    assert fault.field.endswith(field)
    assert fault.rule.startswith("must be given")
    assert hint in fault.hint


@pytest.mark.parametrize("client", [{"name": "?", "address": ["?"]}, "?", None])
def test_nobody_is_named_in_a_plan_for_ones_own_home(tmp_path, client):
    """Nor is a question mark printed for a name; the letters have a line for whoever asks."""
    own = {"client": None, "quote": None, "business": None, "fitting": {"date": "2026-03-07"}}
    unit = {"id": "one", "lites": [{"thickness_mm": "4"}] * 2, "gaps": [{"width_mm": "12"}]}
    survey = (
        SURVEY.replace(",access", ",access,fogged").replace("floor", "floor,yes").replace("tower", "tower,")
    )
    folder = written(tmp_path, own, {"client": client, "glazings": [unit]}, survey=survey)
    assert load_job(folder).job.client.name == ""
    run = make(folder)
    for name in ("proposal", "basis", "letters", "fitting"):
        pages = pdfium.PdfDocument(run / f"{name}.pdf")
        text = " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)
        assert not re.search(r"(For|Where) ?[?,]|(^|\s)[?,](\s|$)", text), (name, text)
    assert "name of who asks" in " ".join(
        pdfium.PdfDocument(run / "letters.pdf")[0].get_textpage().get_text_bounded().split()
    )


def test_only_what_may_be_left_open_may_be_not_known(tmp_path):
    """A pane's width and a job's units must be known: the word is a fault there."""
    survey = SURVEY.replace("1000 mm", "unknown")
    with pytest.raises(JobError) as caught:
        load_job(written(tmp_path, {"units": "not known"}, survey=survey))
    assert {fault.field for fault in caught.value.faults} == {"width", "units"}


def test_film_of_unknown_thickness_is_worked_as_the_thickest(tmp_path):
    """Its minutes, its gap at the edge and its days to clear are those of safety film, and no less."""
    fitting = {"fitting": {"edge_gap": None, "minutes": {"plain": None}}}
    safety, thin, unknown = (
        Study(load_job(film(tmp_path / name, fitting, **{THICK: um})))
        for name, um in (("safety", "300"), ("thin", "50"), ("unknown", None))
    )
    minutes = [study.offer.labour.person.likely for study in (safety, thin, unknown)]
    assert minutes[2] == minutes[0] > minutes[1]
    sizes = [study.offer.pieces[0].width_mm for study in (safety, thin, unknown)]
    assert sizes[2] == sizes[0] < sizes[1]


def test_a_class_not_known_may_hold_metal(tmp_path):
    """A client who must have no metal is not offered it, and the caution about radio is printed."""
    limits = {"limits": {"must_have": ["no_metal"]}}
    known = Study(load_job(film(tmp_path / "known", limits, **{CLASS: "dyed"})))
    unknown = Study(load_job(film(tmp_path / "unknown", limits, **{CLASS: None})))
    assert not known.advised.excluded
    assert [one.what for one in unknown.advised.excluded["grey"]] == ["no_metal_not_printed"]
    assert "metal" not in {one.id for one in cautions_for(known)}
    assert "metal" in {one.id for one in cautions_for(unknown)}


def test_what_is_not_known_is_told_by_check_and_on_the_page(tmp_path, capsys):
    """Check says what follows from it; the table of assumptions has both, in the job's language."""
    folder = film(tmp_path, {}, **{THICK: None, CLASS: None})
    assert main(["check", str(folder)]) == 0
    told = capsys.readouterr().err
    assert (
        "grey lacks thickness_um: cut, fitted and left to dry as safety film is, which takes longest." in told
    )
    assert (
        "grey lacks film_class: it may hold metal, and its numbers cannot be held against its class." in told
    )
    run = make(folder, only="html")
    page = (run / "basis.html").read_text("utf-8")
    assert "class of the film" in page and "thickness of the film" in page
    sheet = (run / "fitting.html").read_text("utf-8")
    assert "thickness not known: as thick film\u00a0×1.55" in sheet
    known = make(film(tmp_path / "known", {}, **{THICK: "300"}), only="html")
    sheet = (known / "fitting.html").read_text("utf-8")
    assert "thick film\u00a0×1.55" in sheet and "not known: as" not in sheet


def test_a_letter_names_no_thickness_that_nobody_told(tmp_path):
    """The film maker is asked about fogged units with film whose thickness is not known, and reads so."""
    unit = {"id": "one", "lites": [{"thickness_mm": "4"}] * 2, "gaps": [{"width_mm": "12"}]}
    folder = film(tmp_path, {"glazings": [unit]}, **{THICK: None})
    fogged = (
        SURVEY.replace(",access", ",access,fogged").replace("floor", "floor,yes").replace("tower", "tower,")
    )
    (folder / "windows.csv").write_text(fogged, "utf-8")
    pages = pdfium.PdfDocument(make(folder, only="pdf") / "letters.pdf")
    text = " ".join(pages[0].get_textpage().get_text_bounded().split())
    assert "thickness not known to us" in text
    assert "500" not in text


def rough(tmp_path, **told):
    """Return a folder with the small job with patterned panes B, and what is told of their face."""
    glazings = [{"id": "one", "lites": [{"thickness_mm": "4"}]}]
    glazings.append({"id": "two", "lites": [{"thickness_mm": "4", "strength": "frosted", **told}]})
    survey = SURVEY.replace("B,office,west,one", "B,office,west,two")
    return written(tmp_path, {"glazings": glazings, "choice": {"job": None}}, survey=survey)


@pytest.mark.parametrize(
    ("side", "face", "refused"),
    [
        ("inside", None, "nobody told which face"),
        ("outside", None, "nobody told which face"),
        ("inside", "back", "is textured"),
        ("inside", "inside", "is textured"),
        ("outside", "front", "is textured"),
        ("inside", "front", ""),
        ("outside", "dentro", ""),
    ],
)
def test_no_film_is_planned_where_it_may_not_stick(tmp_path, side, face, refused):
    """Film does not stick to a rough face (common practice, no source), or one that may be."""
    folder = rough(tmp_path, **({"textured": face} if face else {}))
    job = json.loads((folder / "job.yaml").read_text("utf-8"))
    job["films"][0]["side"] = side
    (folder / "job.yaml").write_text(json.dumps(job), "utf-8")
    study = Study(load_job(folder))
    assert refused in study.screens["B", "grey"].refusal
    assert bool(study.screens["B", "grey"].refusal) is bool(refused)
    assert {cut.opening.id for cut in study.offer.cuts} == ({"A"} if refused else {"A", "B"})


def test_a_rough_face_not_told_is_asked_for_by_check_and_on_every_page(tmp_path, capsys):
    """Check asks it, the client reads why the pane stays bare, the fitter reads what to feel."""
    folder = rough(tmp_path)
    assert main(["check", str(folder)]) == 0
    asked = "which face of the patterned glass of B is rough is not told"
    assert asked in capsys.readouterr().err
    run = make(folder, only="html")
    for name in ("proposal", "fitting"):
        page = (run / f"{name}.html").read_text("utf-8")
        assert "nobody told which face of this glass is the textured one" in page, name
    assert main(["check", str(rough(tmp_path, textured="back"))]) == 0
    assert asked not in capsys.readouterr().err


def test_weather_to_be_downloaded_is_told_before(tmp_path, capsys):
    """A clean check says that the network is needed, as long as the file is not there."""
    assert main(["check", str(written(tmp_path, {"weather": {"use": "pvgis"}}))]) == 0
    assert "must be downloaded from PVGIS first" in capsys.readouterr().err
    assert main(["check", str(written(tmp_path, {"weather": {"use": "clear_days"}}))]) == 0
    assert "PVGIS" not in capsys.readouterr().err
