# ruff: noqa: E501 -- one case a line reads as a table
"""job.xlsx: the whole job in one workbook, its faults by sheet and cell, to YAML and back without loss."""

import datetime as dt
import itertools
import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from reportkit.app.command_line import main
from reportkit.app.run import consultation, make
from reportkit.base.errors import Fault, InputError, JobError
from reportkit.job import convert, load_job, write_starter
from reportkit.job.model import Job
from reportkit.job.model.about import record_in
from reportkit.job.reading.book import SHEETS
from reportkit.job.reading.cells import as_value, written
from reportkit.job.reading.survey import REQUIRED
from reportkit.job.writing.samples import KINDS

JOBS = Path(__file__).parents[3] / "jobs"
DEMOS = ["corner-shop", "harbour-house", "hill-studio"]


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a new metric job of an office in one workbook, with every field its starter has: to be copied."""
    folder = tmp_path_factory.mktemp("office")
    write_starter(folder, units="metric", as_workbook=True)
    return folder


@pytest.fixture
def folder(tmp_path: Path, office: Path) -> Path:
    """Return that job in a folder of the test's own."""
    return shutil.copytree(office, tmp_path / "job")


def cell_of(sheet: Any, label: str, entry: int = 0) -> str:
    """Return the cell of a field by its label, of the first entry or a later one."""
    row = next(row[0].row for row in sheet.iter_rows() if row[0].value == label)
    return f"{chr(ord('D') + entry)}{row}"


def change(folder: Path, *changes: tuple[str, str, Any]) -> list[str]:
    """Write values into cells, each named by sheet and field, and return the places."""
    book = openpyxl.load_workbook(folder / "job.xlsx")
    places = []
    for sheet, label, value in changes:
        title, _, entry = sheet.partition("+")
        at = cell_of(book[title], label, int(entry or 0))
        book[title][at].value = value
        places.append(f"{title}!{at}")
    book.save(folder / "job.xlsx")
    return places


def spoil(folder: Path, do: Callable[[Any], None]) -> None:
    """Change a job's workbook as a whole."""
    book = openpyxl.load_workbook(folder / "job.xlsx")
    do(book)
    book.save(folder / "job.xlsx")


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


# ---- the same job --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_job_there_and_back_is_the_same_job(tmp_path: Path, name: str) -> None:
    """As a workbook, with _shared as workbooks, and as YAML again: the same job, what was assumed included."""
    before = load_job(JOBS / name)
    skip = shutil.ignore_patterns("runs")
    folder = shutil.copytree(JOBS / name, tmp_path / name, ignore=skip)
    shared = shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    for file in (["job.xlsx"], ["job.yaml", "windows.csv"]):
        assert [path.name for path in convert(folder)] == file
        convert(shared)
        after = load_job(folder)
        assert after.job == before.job
        # the source of a shared rate is named as its file is
        told = [replace(one, mark=one.mark.replace(".xlsx", ".yaml")) for one in after.defaults]
        assert told == list(before.defaults)
        names = {path.name for path in after.sources}
        assert set(file) <= names and len(names & {"films.yaml", "films.xlsx"}) < 2
    former = {path.name for path in folder.iterdir() if "former" in path.name}
    assert former == {"job.yaml.former", "windows.csv.former", "job.xlsx.former"}
    text = (JOBS / name / "job.yaml").read_bytes()
    assert (folder / "job.yaml.former").read_bytes() == text  # with its remarks, which no cell holds


@pytest.mark.parametrize(("kind", "units"), list(itertools.product(KINDS, ("us", "metric"))))
def test_a_new_job_in_a_workbook_is_the_new_job(tmp_path: Path, kind: str, units: str) -> None:
    """start --workbook writes one file, and what it says is what start writes as YAML."""
    written = write_starter(tmp_path / "a/job", units=units, kind=kind, full=False, as_workbook=True)
    write_starter(tmp_path / "b/job", units=units, kind=kind, full=False)
    assert [path.name for path in written] == ["job.xlsx"]
    assert load_job(tmp_path / "a/job").job == load_job(tmp_path / "b/job").job


def test_make_consult_and_the_archive_take_a_workbook(tmp_path: Path) -> None:
    """A run of a workbook is a run; its inputs hold the workbook and run by themselves."""
    assert main(["start", str(tmp_path / "job"), "--workbook", "--units", "us", "--kind", "shop"]) == 0
    assert main(["check", str(tmp_path / "job")]) == 0
    run = make(tmp_path / "job", only="html")
    assert [path.name for path in (run / "inputs").iterdir()] == ["job.xlsx"]
    shutil.copytree(run / "inputs", tmp_path / "alone")
    assert load_job(tmp_path / "alone").job == load_job(tmp_path / "job").job
    assert (run / "proposal.html").is_file()
    assert consultation(tmp_path / "job").is_file()


def test_two_jobs_in_a_folder_are_a_fault(folder: Path) -> None:
    """Where two files could be the job, or two the survey, neither is taken."""
    (folder / "windows.csv").write_text("id\n", "utf-8")
    assert [str(fault) for fault in faults_of(folder)] == [
        "windows.csv: must not be beside job.xlsx, whose sheet Panes is the survey; "
        "keep the one that is right and take the other out of the folder"
    ]
    (folder / "job.yaml").write_text("id: a\n", "utf-8")
    (fault,) = faults_of(folder)
    assert str(fault).startswith("job.xlsx: must be the only job here, not beside job.yaml")


@pytest.mark.parametrize("name", ["job.xlsm", "job.xls", "job.ods"])
def test_a_workbook_of_another_kind_is_a_fault(tmp_path: Path, name: str) -> None:
    """What a spreadsheet saved in another way is named, with the way that is read."""
    (tmp_path / name).write_bytes(b"x")
    (fault,) = faults_of(tmp_path)
    assert fault.file == name and "save it again as job.xlsx" in str(fault)


def test_films_in_two_forms_are_a_fault(tmp_path: Path) -> None:
    """In _shared, too, one of the two is taken or none."""
    shutil.copytree(JOBS / "hill-studio", tmp_path / "job", ignore=shutil.ignore_patterns("runs"))
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    convert(tmp_path / "_shared", "workbook")
    shutil.copy(JOBS / "_shared/films.yaml", tmp_path / "_shared")
    assert "_shared/films.xlsx: must not be beside _shared/films.yaml" in "\n".join(
        map(str, faults_of(tmp_path / "job"))
    )


def test_faults_of_a_shared_workbook_name_its_cell(tmp_path: Path) -> None:
    """A film of _shared with a wrong number is found in its sheet, its row and its column."""
    shutil.copytree(JOBS / "corner-shop", tmp_path / "job", ignore=shutil.ignore_patterns("runs"))
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    convert(tmp_path / "_shared")
    book = openpyxl.load_workbook(tmp_path / "_shared/films.xlsx")
    at = cell_of(book["Films"], "rated.visible_transmittance_percent", 2)
    name = book["Films"][cell_of(book["Films"], "id", 2)].value
    book["Films"][at].value = 140
    book.save(tmp_path / "_shared/films.xlsx")
    shown = [str(fault) for fault in faults_of(tmp_path / "job")]
    assert shown == [
        f"_shared/films.xlsx:Films!{at} films.{name}.rated.visible_transmittance_percent: must be at most 100 "
        '(found "140")'
    ] or shown[0].startswith(
        f"_shared/films.xlsx:Films!{at} films.{name}.rated.visible_transmittance_percent: "
    )


# ---- convert -------------------------------------------------------------------------------------------


def test_convert_never_overwrites(folder: Path) -> None:
    """Former files keep a name of their own, the second time, too; a form that it has is refused."""
    with pytest.raises(InputError, match="has that form already"):
        convert(folder, "workbook")
    convert(folder)
    convert(folder)
    convert(folder)
    names = sorted(path.name for path in folder.iterdir())
    assert names == [
        "job.xlsx.former", "job.xlsx.former-2", "job.yaml", "job.yaml.former", "windows.csv", "windows.csv.former"
    ]  # fmt: skip


def test_convert_refuses_a_job_with_faults(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is no right job is left as it is, its faults told."""
    (place,) = change(folder, ("Faces", "bearing", 400))
    before = (folder / "job.xlsx").read_bytes()
    assert main(["convert", str(folder)]) == 2
    assert f"job.xlsx:{place} faces.east.bearing: must be under 360" in capsys.readouterr().err
    assert [(path.name, path.read_bytes()) for path in folder.iterdir()] == [("job.xlsx", before)]


TEXTS = [
    "a; b", "[a]", "{a: b}", '"a"', "yes", "", " a ", "a\u00a0b", "a\n\nb", "# a", "- a", "a: b", "=1+1", "~", "null",
    "1e3", "007", "é\u2028x", "😀 \u00a0", "<<", "a #b", "'", "\\", "%", "@a", "a,b", "line\r\nline",
]  # fmt: skip


@pytest.mark.parametrize("text", TEXTS)
def test_any_text_goes_through_a_cell(text: str) -> None:
    """What looks like a list, a quotation or nothing comes back as the text it was, alone and in a list."""
    name, terms = Job.model_fields["title"], _field("quote", "terms")
    for field, value in ((name, text), (terms, [text]), (terms, [text, "b"]), (terms, ["b", text])):
        cell = written(field, value)
        assert cell is not None and as_value(field, cell) == value


def test_nothing_in_a_list_or_group_is_something(tmp_path: Path) -> None:
    """An empty list stands over that of _shared, and an empty group is one with all as usual: neither is lost."""
    for path, value, cell in (
        (("compare",), [], "[]"),
        (("prices", "area_rates"), [], "[]"),
        (("choice", "faces"), {}, "{}"),
        (("rooms", "heat", "cooling"), {}, "yes"),
    ):
        field = _field(*path)
        assert as_value(field, written(field, value) or "") == value
        assert written(field, value) == cell
    write_starter(tmp_path, units="metric", full=False)
    path = tmp_path / "job.yaml"
    path.write_text(
        path.read_text("utf-8").replace("{floor_area: 24 m2}", "{floor_area: 24 m2, cooling: {}}"), "utf-8"
    )
    before = load_job(tmp_path).job
    assert before.rooms[0].heat is not None and before.rooms[0].heat.cooling is not None
    convert(tmp_path)
    assert load_job(tmp_path).job == before


def _field(*path: str) -> Any:
    record: Any = Job
    for part in path[:-1]:
        record, _ = record_in(record.model_fields[part].annotation)
    return record.model_fields[path[-1]]


def test_any_text_goes_to_a_workbook_and_back(tmp_path: Path) -> None:
    """The same through the files: each text the name of a room, and all of them the terms; YAML, workbook, YAML."""
    texts = [text.replace("\r\n", "\n").replace("\u2028", " ") for text in TEXTS]  # YAML's own line ends
    quoted = [json.dumps(text, ensure_ascii=False).replace("\u00a0", "\\u00a0") for text in texts]
    write_starter(tmp_path, units="metric", full=False)
    path = tmp_path / "job.yaml"
    rooms = "".join(f"  - {{id: r{number}, name: {text}}}\n" for number, text in enumerate(quoted))
    job = path.read_text("utf-8").replace("faces:\n", f"{rooms}faces:\n", 1)
    path.write_text(job.replace("quote:\n", f"quote:\n  terms: [{', '.join(quoted)}]\n", 1), "utf-8")
    before = load_job(tmp_path).job
    assert before.quote is not None and list(before.quote.terms) == texts
    for _ in range(2):
        convert(tmp_path)
        assert load_job(tmp_path).job == before


# ---- what is typed into cells --------------------------------------------------------------------------


def test_cells_are_read_as_people_fill_them(folder: Path) -> None:
    """Numbers, days, clock times, ticks and shares as a spreadsheet keeps them; lists in three ways."""
    change(
        folder,
        ("Job", "quote.date", dt.datetime(2026, 3, 5)),
        ("Job", "fitting.start", dt.time(7, 30)),
        ("Job", "fitting.spare", True),
        ("Job", "fitting.crew", 2.0),
        ("Job", "complaint.kinds", "glare, heat; bills"),
        ("Job", "client.address", "1 Invented Street, left\nInvented Quay"),
        ("Rooms", "heat.occupied_hours", "[8, 18]"),
        ("Prices", "margin_percent", 0.3),
        ("Job", "choice.faces", "east: sample-grey"),
    )

    def percent(book: Any) -> None:
        book["Prices"][cell_of(book["Prices"], "margin_percent")].number_format = "0%"

    spoil(folder, percent)
    faults = faults_of(folder)
    assert [fault.found for fault in faults] == ["glare, heat"]  # two ways in one cell are none
    change(folder, ("Job", "complaint.kinds", "glare, heat"))
    job = load_job(folder).job
    assert job.quote is not None and job.quote.date == dt.date(2026, 3, 5)
    assert (job.fitting.start, job.fitting.spare, job.fitting.crew) == ("07:30", True, 2)
    assert job.complaint.kinds == ("glare", "heat")
    assert job.client.address == ("1 Invented Street, left", "Invented Quay")
    assert job.rooms[0].heat is not None and job.rooms[0].heat.occupied_hours == (8, 18)
    assert job.prices.margin_percent == 30
    assert job.choice.faces == {"east": "sample-grey"}


def test_a_new_entry_and_a_new_row(folder: Path) -> None:
    """A room in the next column, a third roll in a row of its own, a group by yes: all of it is read."""

    def more(book: Any) -> None:
        rooms, films = book["Rooms"], book["Films"]
        rooms[cell_of(rooms, "id", 1)].value = "hall"
        films.cell(films.max_row + 1, 1).value = "rolls.4.width"
        films.cell(films.max_row, 4).value = "910 mm"
        for name, value in (("length", "12 m"), ("price", 99)):
            films.cell(films.max_row + 1, 1).value = f"rolls.4.{name}"
            films.cell(films.max_row, 4).value = value

    spoil(folder, more)
    job = load_job(folder).job
    assert [room.id for room in job.rooms] == ["study", "hall"]
    assert [float(roll.width) for roll in job.films[0].rolls] == [1524, 1524, 910]


@pytest.mark.parametrize(
    ("sheet", "label", "value", "expected"),
    [
        ("Job", "currency", "euro", "currency: must be a three-letter code in capitals"),
        ("Job", "complaint.room", "kitchen", "complaint.room: must be a room of this job"),
        ("Job", "client.name", None, "client.name: must be given"),
        ("Job", "quote.date", "=TODAY()", "quote.date: must be a value, not a formula"),
        (
            "Job",
            "quote.number",
            dt.datetime(2026, 8, 5),
            "quote.number: must be a text or a number, not a date",
        ),
        ("Rooms", "heat.use", "kitchen", "rooms.study.heat.use: must be one of home, office"),
        ("Rooms", "heat.cooling", "maybe", "heat.cooling: must be empty"),
        ("Faces", "bearing", 412, "faces.east.bearing: must be under 360"),
        ("Faces", "horizon", "hill", "faces.east.horizon: must be a horizon"),
        ("Glass", "lites.2.glass", "claer", "glazings.double.lites.2.glass: must be one of"),
        ("Glass+1", "id", "Double", "glazings.Double.id: must be an id used once"),
        ("Films", "rolls.2.price_per_m", None, "films.sample-grey.rolls.2.price: must be one of price"),
        ("Films+1", "film_class", "shiny", "films.sample-silver.film_class: must be one of"),
        ("Prices", "tax.percent", 120, "prices.tax.percent: must be at most 100"),
        ("Energy", "fuels.1.rate", "cheap", "energy.fuels.gas.rate: must be an amount"),
        ("Energy", "growth_percent", "3; 2; 1", "energy.growth_percent: must rise"),
    ],
)
def test_faults_name_sheet_and_cell(folder: Path, sheet: str, label: str, value: Any, expected: str) -> None:
    """A fault is that of the YAML, and starts with the sheet and the cell that is to be mended."""
    (place,) = change(folder, (sheet, label, value))
    shown = [str(fault) for fault in faults_of(folder)]
    at = place if "price:" not in expected else place.replace("!", "!D")[:7]
    assert any(line.startswith(f"job.xlsx:{at}") and expected in line for line in shown), (place, shown)


def test_a_mend_is_told_in_words_of_cells(folder: Path) -> None:
    """Nobody who fills in cells is told of dashes, indentation, or a name with a colon before the value."""
    change(
        folder,
        ("Job", "client.name", None),
        ("Job", "choice.faces", "sample-grey"),
        ("Faces", "bearing", None),
        ("Job", "business", None),
        ("Job", "business.name", None),
        ("Job", "business.address", None),
        ("Job", "business.contact", None),
        ("Energy", "growth_percent", '"0; 1"'),
    )
    told = "\n".join(map(str, faults_of(folder)))
    assert "client.name: must be given; such as Ana Example" in told
    assert "faces.east.bearing: must be given; such as 180" in told
    assert "choice.faces: must be a group of names and values" in told
    assert "write name: value, with ; between several" in told
    assert not any(word in told for word in ("indent", "dash", "such as bearing", "such as name:")), told


@pytest.mark.parametrize(
    ("do", "expected"),
    [
        (lambda book: book.remove(book["Panes"]), "job.xlsx: must have a sheet Panes with a row that names the columns"),
        (lambda book: book.remove(book["Faces"]), "job.xlsx:Faces faces: must be given"),
        (lambda book: book.remove(book["Job"]), "job.xlsx: must have a sheet Job with a row that starts with Field"),
        (lambda book: book["Films"].delete_rows(2), "job.xlsx:Films: must have a row that starts with Field"),
        (lambda book: put(book["Job"], "A4", "titel"), 'titel: is not a field here (found "Windows beside the desk"); did you mean title?'),
        (lambda book: put(book["Job"], "A4", "id"), "job.xlsx:Job!A4 id: must be a field once; keep one; the first is in row 3"),
        (lambda book: put(book["Job"], "A4", "films.1.id"), "job.xlsx:Job!A4 films.1.id: must stand on the sheet Films"),
        (lambda book: put(book["Faces"], "D4", "=1"), "job.xlsx:Faces!D4 faces.1.name: must be a value, not a formula"),
        (lambda book: put(book["Prices"], "E4", "12"), "must be empty: one value for each field"),
        (lambda book: put(book["Rooms"], "D90", "x"), "job.xlsx:Rooms!D90: must be beside the name of a field"),
        (lambda book: book["Rooms"].merge_cells("D3:E3"), "job.xlsx:Rooms!D3:E3: must not be a merged cell"),
        (lambda book: hide(book["Rooms"].row_dimensions[3]), "job.xlsx:Rooms!row 3: must not be hidden"),
        (lambda book: hide(book["Glass"].column_dimensions["D"]), "job.xlsx:Glass!column D: must not be hidden"),
        (lambda book: put(book["Panes"], "F3", "x"), "job.xlsx:Panes!F3 width: must"),
        (lambda book: put(book["Panes"], "F2", "width [in]"), "job.xlsx:Panes!F2: must name the unit"),
    ],
)  # fmt: skip
def test_faults_of_the_form(folder: Path, do: Callable[[Any], None], expected: str) -> None:
    """What cannot be seen, or told the place of, is named."""
    spoil(folder, do)
    shown = [str(fault) for fault in faults_of(folder)]
    assert any(expected in line for line in shown), shown


def put(sheet: Any, at: str, value: Any) -> None:
    """Write a value into a cell."""
    sheet[at].value = value


def hide(shape: Any) -> None:
    """Hide a row or column as a filter does, without the sign of an outline."""
    shape.hidden, shape.outlineLevel = True, 0


def test_units_changed_without_their_heads_are_one_fault(folder: Path) -> None:
    """A sheet whose heads say mm in a job in inches would be read 25 times too large: one fault says so."""
    change(folder, ("Job", "units", "us"))
    wrong = [fault for fault in faults_of(folder) if "must name the unit" in fault.rule]
    assert len(wrong) == 1
    assert (wrong[0].found, wrong[0].rule[-2:]) in {("mm", "in"), ("m2", "t2")}


# ---- the form ------------------------------------------------------------------------------------------


def test_every_field_has_its_row_with_its_question(folder: Path) -> None:
    """Each field of the records stands in its sheet once, with what it is, and as a note beside it."""
    book = openpyxl.load_workbook(folder / "job.xlsx")
    assert book.sheetnames == [*SHEETS, "Lists"]
    for title, held in SHEETS.items():
        if title == "Panes":
            continue
        sheet = book[title]
        labels = [row[0].value for row in sheet.iter_rows(3)]
        assert len(set(labels)) == len(labels)
        record = Job if held is None else record_in(Job.model_fields[held].annotation)[0]
        elsewhere = {*SHEETS.values(), "decisions", "readings"} if held is None else set()
        assert set(_leaves(record, elsewhere)) <= {_bare(label) for label in labels}
        for row in sheet.iter_rows(3):
            assert row[1].value and "Such as" in row[0].comment.text


def _bare(label: str) -> str:
    return ".".join(part for part in label.split(".") if not part.isdecimal())


def _leaves(record: Any, but: set[Any] = frozenset()) -> list[str]:
    """Return the names of a record's fields and of those below, by a walk of its own."""
    found = []
    for name, field in record.model_fields.items():
        if name in but:
            continue
        below, _ = record_in(field.annotation)
        found.append(name)
        found += [f"{name}.{inner}" for inner in _leaves(below)] if below else []
    return found


def test_only_what_must_be_filled_shows(tmp_path: Path) -> None:
    """Of a short start each row that shows is filled in or must be; of the panes' columns those measured."""
    write_starter(tmp_path, units="metric", full=False, kind="own-home", as_workbook=True)
    book = openpyxl.load_workbook(tmp_path / "job.xlsx")
    for title in SHEETS:
        sheet = book[title]
        if title == "Panes":
            names = [cell.value.split(" [")[0].replace(" ", "_") for cell in sheet[2]]
            folded = {names[shape.min - 1 + more] for shape in sheet.column_dimensions.values() if shape.hidden
                      for more in range(shape.max - shape.min + 1)}  # fmt: skip
            assert folded and not folded & {*REQUIRED, "width_2", "diagonal_1", "note"}
            continue
        shown = [row for row in sheet.iter_rows(3) if not sheet.row_dimensions[row[0].row].hidden]
        assert len(shown) <= 30
        for row in shown:
            below = [
                cell.value
                for other in shown
                if other[0].value.startswith(f"{row[0].value}.")
                for cell in other[3:]
            ]
            must = "Must be given" in row[0].comment.text
            assert must or any(cell.value for cell in row[3:]) or any(below), (title, row[0].value)
        hidden = [shape for shape in sheet.row_dimensions.values() if shape.hidden]
        assert all(shape.outlineLevel == 1 for shape in hidden)
        assert not sheet.sheet_properties.outlinePr.summaryBelow


def test_what_is_folded_away_is_read(folder: Path) -> None:
    """A folded row that somebody filled in and folded again counts."""
    change(folder, ("Job", "fitting.table", "3 m"))
    book = openpyxl.load_workbook(folder / "job.xlsx")
    row = int(cell_of(book["Job"], "fitting.table")[1:])
    assert book["Job"].row_dimensions[row].hidden
    assert load_job(folder).job.fitting.table == 3000


def test_units_stand_beside_the_fields(tmp_path: Path) -> None:
    """In both unit systems the unit of a bare number stands beside its field."""
    for units, expected in (("us", ("in", "ft2", "F", "%", "mm")), ("metric", ("mm", "m2", "C", "%", "mm"))):
        write_starter(tmp_path / units, units=units, as_workbook=True)
        book = openpyxl.load_workbook(tmp_path / units / "job.xlsx")
        asked = (("Rooms", "heat.ceiling"), ("Rooms", "heat.floor_area"), ("Rooms", "heat.too_hot"),
                 ("Prices", "margin_percent"), ("Glass", "lites.1.thickness_mm"))  # fmt: skip
        found = [book[title][cell_of(book[title], label).replace("D", "C")].value for title, label in asked]
        assert tuple(found) == expected
        heads = {cell.value for cell in book["Panes"][2]}
        assert f"width [{expected[0]}]" in heads


def test_lists_to_choose_from(folder: Path) -> None:
    """Words of a choice, yes and no, and the job's own names, those added later included."""
    book = openpyxl.load_workbook(folder / "job.xlsx")
    assert book["Lists"].sheet_state == "hidden"

    def words(title: str, at: str) -> list[str]:
        rule = next(rule for rule in book[title].data_validations.dataValidation if at in rule.sqref)
        name, _, cells = rule.formula1.partition("!")
        return [cell.value for (cell,) in book[name][cells.replace("$", "")]]

    assert words("Films", cell_of(book["Films"], "tint"))[:3] == ["neutral", "grey", "bronze"]
    assert words("Job", cell_of(book["Job"], "fitting.spare")) == ["yes", "no"]
    rooms = words("Job", cell_of(book["Job"], "complaint.room"))
    assert rooms == words("Panes", "B3")
    assert rooms[0] == '=IF(Rooms!D3="","",Rooms!D3)' and book["Rooms"]["D3"].value == "study"
    assert len(rooms) > 2  # columns for rooms to come
    assert words("Job", cell_of(book["Job"], "choice.job"))[0] == "none"
    assert words("Rooms", cell_of(book["Rooms"], "heat.heating.fuel"))[0] == "electricity"


@pytest.mark.parametrize(("units", "paper"), [("us", 1), ("metric", 9)])
def test_it_prints_as_a_form(tmp_path: Path, units: str, paper: int) -> None:
    """Each sheet lies across the paper of the job, its heads on every page, all of its columns in the print."""
    write_starter(tmp_path, units=units, as_workbook=True)
    book = openpyxl.load_workbook(tmp_path / "job.xlsx")
    for title in SHEETS:
        sheet = book[title]
        assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", paper)
        assert sheet.print_title_rows == "$1:$2"
        assert sheet.print_area.startswith(f"'{title}'!$A$1:")
        assert "(invented)" in sheet.oddHeader.right.text
        assert sheet.freeze_panes is not None
