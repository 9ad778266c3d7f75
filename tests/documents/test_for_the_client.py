"""No cost, margin, supplier's price, private rate or other client stands in what goes to the client.

Every file of a run of each demo job is searched: text, HTML, what is attached to a PDF and its metadata. The
business's own numbers are changed to ones that nothing else could come to.
"""

import csv
import json
import re
import shutil
from pathlib import Path

import pikepdf
import pytest
from private import ELSEWHERE, leaks, numbers_of, pattern, told

from reportkit.app.leaves import leaves
from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.documents.layouts.assemble import FOR_CLIENT
from reportkit.job import convert, load_job
from reportkit.job.writing.anonymous import anonymous

JOBS = Path(__file__).parents[2] / "jobs"
DEMOS = ("corner-shop", "harbour-house", "hill-studio")


@pytest.fixture(scope="module", params=DEMOS)
def run(request, run_of):
    """A run of a demo job whose private numbers stand out, and of another client's beside it."""
    return run_of(request.param)


def test_the_client_s_papers_hold_nothing_of_the_business(run):
    """No private number, no word of cost, no other client, no path; the fitter's sheet has them all."""
    files = [path for path in run.iterdir() if path.stem in FOR_CLIENT]
    assert {path.name for path in files} >= {"proposal.html", "proposal.pdf", "basis.html", "basis.pdf"}
    private = numbers_of(run)
    assert len(private) >= 5
    assert leaks(run) == []
    kept = told(run / "fitting.pdf")
    for value in private:
        assert pattern(value).search(kept), value
    assert ELSEWHERE in kept


def test_their_results_stop_at_the_price(run):
    """What is attached names net, tax and total, and no line, roll, minute or field of the business."""
    theirs = [path for path in run.glob("*.pdf") if path.stem in FOR_CLIENT]
    assert {path.stem for path in theirs} >= {"proposal", "basis", "letters"}
    for path in theirs:
        with pikepdf.open(path) as file:
            assert set(file.attachments) == {"results.json"}
            results = json.loads(file.attachments["results.json"].get_file().read_bytes())
        assert not {"cutting", "materials", "labour", "schedule", "assumptions", "pieces"} & set(results)
        assert "lines" not in results["price"] and results["price"]["total"]
        assert not {"prices", "films", "business", "client"} & set(results["job"])


#: Who the client is, and a mark in everything that a person writes freely.
CLIENT = {
    "name": "Quillfeather Oberstrand",
    "address": "77 Unlikely Crescent",
    "contact": "quill@far.example",
}
MARK = "zanzibar-marmalade"


def _marked(text):
    """Return a job whose client stands out, with a mark in its free text and in some more."""
    text = re.sub(
        r"(?m)^client:\n(  .*\n)+",
        "client:\n" + "".join(f"  {k}: {f'[{v}]' if k == 'address' else v}\n" for k, v in CLIENT.items()),
        text,
    )
    text = re.sub(r"(?m)^(\s*)(text|title|note|measured_by|place): .*$", rf"\1\2: {MARK} \2", text)
    text = re.sub(r"(?m)^(  terms:\n(    - .*\n)+)", f"  terms: [{MARK} terms]\n", text)
    text = re.sub(r"(?m)^quote:$", f"quote:\n  warranty: [{MARK} warranty]", text)
    text = re.sub(r"(?m)^complaint:$", "complaint:", text)
    return f"# {MARK} for {CLIENT['name']}\n{text}"


@pytest.fixture(scope="module", params=("corner-shop", "harbour-house"))
def nameless(request, tmp_path_factory):
    """A run of a demo job made anonymous, and the plain run of the same job."""
    home = tmp_path_factory.mktemp("nameless")
    for name in ("_shared", request.param):
        shutil.copytree(JOBS / name, home / name, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
    job = home / request.param
    (job / "job.yaml").write_text(_marked((job / "job.yaml").read_text("utf-8")), "utf-8")
    rows = (job / "windows.csv").read_text("utf-8").splitlines()
    head = next(number for number, row in enumerate(rows) if not row.lstrip('"').startswith("#"))
    sign = ";" if ";" in rows[head] else ","
    table = list(csv.DictReader(rows[head:], delimiter=sign))
    table[0]["note"] = f"{MARK} pane"
    with (job / "windows.csv").open("w", encoding="utf-8", newline="") as stream:
        stream.write(f"# {MARK}\n")
        writer = csv.DictWriter(stream, list(dict.fromkeys([*table[0], "note"])), delimiter=sign)
        writer.writeheader()
        writer.writerows(table)
    return make(job, anonymous=True), make(job, only="html")


def _all_told(path):
    """Return all that a file of a run tells, and its name."""
    if path.suffix == ".pdf":
        return f"{path.name}\n{told(path)}"
    return f"{path.name}\n{path.read_bytes().decode('utf-8', 'replace')}"


def test_an_anonymous_run_tells_nobody_who_the_client_is(nameless):
    """Neither name, address, contact nor free word in any file, attachment or metadata of the run."""
    anonymous, plain = nameless
    secrets = [*CLIENT.values(), *CLIENT["name"].split(), MARK]
    found = {
        secret
        for path in plain.rglob("*")
        if path.is_file()
        for secret in secrets
        if secret in _all_told(path)
    }
    assert found == set(secrets)  # the search finds them where they are
    files = [path for path in anonymous.rglob("*") if path.is_file()]
    assert {path.stem for path in files} >= {"proposal", "basis", "fitting", "results", "reasoning", "job"}
    for path in files:
        told = _all_told(path).casefold()
        for secret in secrets:
            assert secret.casefold() not in told, (path.name, secret)
    assert not list((anonymous / "inputs").rglob("*.png")) + list((anonymous / "inputs").rglob("*.jpg"))
    assert json.loads((anonymous / "manifest.json").read_text("utf-8"))["anonymous"] is True


def test_an_anonymous_run_comes_to_the_same_numbers(nameless):
    """Glass, sun, rooms and price are those of the named job: only words are gone."""
    anonymous, plain = (
        {
            path: value
            for path, value in leaves(json.loads((run / "results.json").read_text("utf-8")))
            if isinstance(value, float | int) or path.endswith((".total", ".net", ".amount", ".cost"))
        }
        for run in nameless
    )
    assert len(anonymous) > 3000
    assert anonymous == {path: value for path, value in plain.items() if path in anonymous}


def test_a_client_in_a_field_that_stays_is_refused(tmp_path):
    """The file is named, and nothing is written."""
    for name in ("_shared", "hill-studio"):
        shutil.copytree(JOBS / name, tmp_path / name, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
    path = tmp_path / "hill-studio" / "job.yaml"
    text = path.read_text("utf-8").replace("number: S-118", "number: Invented Potter 118")
    path.write_text(text, "utf-8")
    with pytest.raises(JobError, match=r"job\.yaml.*must not name the client.*Invented Potter"):
        make(tmp_path / "hill-studio", anonymous=True)
    assert not (tmp_path / "hill-studio" / "runs").exists()


def test_a_workbook_is_made_anonymous_as_yaml_is(tmp_path):
    """The same job in either form, without who the client is."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    job = shutil.copytree(JOBS / "corner-shop", tmp_path / "job", ignore=shutil.ignore_patterns("runs"))
    client = load_job(job).job.client.name
    made = []
    for form in ("yaml", "workbook"):
        if form == "workbook":
            convert(job, form)
        files = anonymous(load_job(job), client="The client")
        assert not [name for name, data in files.items() if client.encode() in data or name.endswith(".xlsx")]
        for name, data in files.items():
            (tmp_path / form / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / form / name).write_bytes(data)
        made.append(load_job(tmp_path / form).job)
    assert made[0] == made[1]
