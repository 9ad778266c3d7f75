# ruff: noqa: E501 -- what is printed stands in one string
"""Names referred to in other capitals, spaces or accents than their entries have, in every place that refers."""

import json
import unicodedata

import pytest
import ruamel.yaml
from small_job import JOB, laid, written

from reportkit.app.command_line import main
from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.names import alike

HEAD = "id,room,face,glazing,quantity,width,height,horizon,film"


def faults_of(folder):
    """Return the faults of a job that must have some, a line each."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return str(caught.value).splitlines()


def test_what_is_alike():
    """Capitals, spaces, and the two ways to put an accented letter together (UAX 15, figure 3: NFC and NFD)."""
    composed, apart = "Salón", unicodedata.normalize("NFD", "SALÓN")
    assert composed != apart and alike(composed) == alike(apart) == alike("  salón ")
    assert alike("living  room") == alike("Living Room") and alike("STRASSE") == alike("straße")
    assert alike("salon") != alike("salón") and alike("grey-40") != alike("grey 40")


#: A job whose names differ from the references below by capitals or accents alone; it names all that can be named.
NAMED = laid(
    JOB,
    {
        "rooms": [
            {
                "id": "Salón",
                "heat": {
                    "floor_area": "20 m2",
                    "heating": {"fuel": "Gas"},
                    "cooling": {"efficiency": "3"},
                },
            }
        ],
        "faces": [{"id": "West", "bearing": "265", "horizon": "Oaks"}],
        "horizons": [{"id": "Oaks", "points": [["200", "10"], ["300", "10"]]}],
        "glazings": [{"id": "One", "lites": [{"thickness_mm": "4"}]}],
        "complaint": {"room": "Salón"},
        "energy": {"fuels": [{"id": "Gas", "unit": "kWh", "rate": "0.1"}]},
        "choice": {"job": "grey", "faces": {"West": "grey"}, "panes": {"A": "grey", "B.2": "none"}},
        "compare": ["grey"],
        "alternatives": [
            {"name": "All bare but B", "films": {"faces": {"West": "none"}, "panes": {"B": "grey"}}}
        ],
        "approvals": [
            {"film": "grey", "glazing": "One", "by": "Maker", "date": "2026-01-02", "file": "letter.txt"},
            {"film": "grey", "panes": ["A"], "by": "Maker", "date": "2026-01-02", "file": "letter.txt"},
        ],
        "decisions": [
            {
                "date": "2026-03-03",
                "films": {"job": "grey"},
                "panes_out": {"B.1": "a poster hangs there"},
                "set_points": {"Salón": "24"},
            }
        ],
    },
)
NAMES = ("Salón", "West", "One", "Oaks", "Gas", "grey", "none", "A", "B", "B.1", "B.2")
SURVEY = f"{HEAD}\nA,Salón,West,One,1,900,1250,Oaks,grey\nB,Salón,West,One,2,900,1250,,\n"
READINGS = """time,meter,pane,filmed,beside,bare
2026-06-12 14:05,light,A,410,B.2,980
2026-06-12 14:09,light,A,410,open,980
"""


def shouted(value, path=()):
    """Return a tree with every name of `NAMES` in capitals and taken apart, but where an entry has its own."""
    if isinstance(value, dict):
        return {
            shouted(name, (*path, "@")) if name in NAMES else name: part if name == "id" else shouted(part, (*path, name))
            for name, part in value.items()
        }  # fmt: skip
    if isinstance(value, list):
        return [shouted(part, path) for part in value]
    return unicodedata.normalize("NFD", f" {value.upper()}") if value in NAMES else value


def stored(folder, job, survey, readings):
    """Write a job whose decisions and readings stand in their own files."""
    folder.mkdir(exist_ok=True)
    rest = {name: part for name, part in job.items() if name != "decisions"}
    with (folder / "decisions.yaml").open("w", encoding="utf-8") as file:
        ruamel.yaml.YAML(typ="safe").dump({"decisions": job["decisions"]}, file)
    yaml = ruamel.yaml.YAML(typ="safe")
    with (folder / "job.yaml").open("w", encoding="utf-8") as file:
        yaml.dump(rest, file)
    (folder / "windows.csv").write_text(survey, "utf-8")
    (folder / "letter.txt").write_text("Approved.", "utf-8")
    (folder / "readings.csv").write_text(readings, "utf-8")
    return folder


def test_every_reference_is_taken_and_told(tmp_path):
    """A job that refers to everything in other capitals is the job that refers to it as written, and says so."""
    right = load_job(stored(tmp_path / "right", NAMED, SURVEY, READINGS))
    assert right.taken == ()
    loud = SURVEY.replace("A,Salón,West,One", "A,SALÓN,wEST,ONE").replace("Oaks,grey", "OAKS,Grey")
    found = load_job(stored(tmp_path / "loud", shouted(NAMED), loud, READINGS.lower()))
    assert found.written == right.written and found.job == right.job
    told = {str(note) for note in found.taken}
    assert len(told) > 12
    assert (
        "windows.csv:2 room: SALÓN is read as Salón: they differ in capitals, spaces or accents alone" in told
    )


def test_a_film_of_the_shared_list_is_found_and_printed(tmp_path):
    """A film kept beside the jobs and named in other capitals goes into the offer under its own name."""
    from reportkit.documents.page import Page
    from reportkit.documents.sections.compare import options
    from reportkit.findings.findings import Findings
    from reportkit.study import Study

    job = {name: part for name, part in JOB.items() if name != "films"}
    film = JOB["films"][0] | {"id": "Größe-40", "name": "Grey of the shared list"}
    (tmp_path / "_shared").mkdir()
    (tmp_path / "_shared" / "films.yaml").write_text(
        json.dumps({"currency": "EUR", "films": [film, film | {"id": "other"}]}), "utf-8"
    )
    folder = tmp_path / "job"
    folder.mkdir()
    typed = unicodedata.normalize("NFD", "GRÖSSE-40")
    written(folder, job | {"compare": [typed], "choice": {"job": typed}})
    raw = json.loads((folder / "job.yaml").read_text("utf-8"))
    del raw["films"]
    (folder / "job.yaml").write_text(json.dumps(raw), "utf-8")
    study = Study.open(folder)
    assert [film.id for film in study.job.films] == ["Größe-40"] and study.job.compare == ("Größe-40",)
    page = Page(Findings(study))
    assert "Grey of the shared list" in str(options(page))


def test_check_says_what_it_took(tmp_path, capsys):
    """One line for each way of writing, where it stands first; in the job's language."""
    survey = f"{HEAD}\nA,OFFICE,west,one,1,900,1250,,\nB,OFFICE,West,one,1,900,1250,,GREY\n"
    assert main(["check", str(written(tmp_path, {"language": "es"}, survey=survey))]) == 0
    told = capsys.readouterr().err
    assert (
        "windows.csv:2 room: OFFICE se lee como office: solo difieren en mayúsculas, espacios o acentos."
        in told
    )
    assert told.count("OFFICE") == 1 and "windows.csv:3 film: GREY se lee como grey" in told


def test_what_two_entries_could_mean_is_a_fault(tmp_path):
    """Two names alike are refused where they stand; a reference to neither as written is refused with a hint."""
    survey = f"{HEAD}\nA,OFFICE,west,one,1,900,1250,,\n"
    lines = faults_of(written(tmp_path, {"rooms": [{"id": "office"}, {"id": "Office"}]}, survey=survey))
    assert any("rooms.Office.id: must be an id used once" in line for line in lines)
    assert any(
        'windows.csv:2 room: must be a room of this job (found "OFFICE"); did you mean' in line
        for line in lines
    )


def test_an_accent_left_out_is_another_name(tmp_path):
    """Salon is not Salón: it is refused, and the mend says which was meant."""
    survey = f"{HEAD}\nA,Salon,west,one,1,900,1250,,\n"
    change = {"rooms": [{"id": "Salón"}], "complaint": {"room": "Salón"}}
    (line,) = faults_of(written(tmp_path, change, survey=survey))
    assert line == 'windows.csv:2 room: must be a room of this job (found "Salon"); did you mean Salón?'


def test_a_name_of_a_group_that_is_there_in_both_ways_stays(tmp_path):
    """Two names of one choice that mean one face cannot both be it: the one that is not the face's own is a fault."""
    survey = f"{HEAD}\nA,office,west,one,1,900,1250,,\n"
    choice = {"choice": {"job": "grey", "faces": {"west": "grey", "West": "none"}}}
    (line,) = faults_of(written(tmp_path, choice, survey=survey))
    assert "choice.faces.West: must be a face of this job" in line and "did you mean west?" in line
