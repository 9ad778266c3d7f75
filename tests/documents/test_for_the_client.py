"""No cost, margin, supplier's price, private rate or other client stands in what goes to the client.

Every file of a run of each demo job is searched: text, HTML, what is attached to a PDF and its metadata. The
business's own numbers are changed to ones that nothing else could come to.
"""

import io
import json
import re
import shutil
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from reportkit.app.leaves import leaves
from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.documents.layouts.assemble import FOR_CLIENT

JOBS = Path(__file__).parents[2] / "jobs"
DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: The business's own: what it pays for an hour, a roll, a metre, a blade; its margin.
PRIVATE = {
    "labour_per_hour": "57.13",
    "margin_percent": "31.7",
    "soap_per_litre": "7.77",
    "blade_each": "0.93",
}
NUMBER = r"\d+(?:[.,]\d+)?"
ROLL, METRE = "1317.31", "53.91"
ELSEWHERE = "Another Client of Ours"
#: Words that no paper for the client says of its own price.
WORDS = re.compile(
    r"margin|mark-?up|labour_per_hour|margin_percent|price_per_m|supplier|our cost", re.IGNORECASE
)


def _changed(text):
    """Return a file of a job or of the shared folder with the private numbers in it."""
    for name, value in PRIVATE.items():
        text = re.sub(rf"(?m)(\b{name}: ){NUMBER}", rf"\g<1>{value}", text)
    text = re.sub(rf'(\bprice_per_m: )"?{NUMBER}"?', rf"\g<1>{METRE}", text)
    text = re.sub(rf"(\bprice_per_ft: ){NUMBER}", r"\g<1>16.43", text)
    return re.sub(rf"(?m)(length: [^}}]+?, price: ){NUMBER}", rf"\g<1>{ROLL}", text)


@pytest.fixture(scope="module", params=DEMOS)
def run(request, tmp_path_factory):
    """A run of a demo job whose private numbers stand out, and of another client's beside it."""
    home = tmp_path_factory.mktemp("client")
    for name in ("_shared", request.param):
        shutil.copytree(JOBS / name, home / name, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
    for path in home.rglob("*.yaml"):
        text = _changed(path.read_text("utf-8"))
        path.write_text(f"# {ELSEWHERE}\n{text}", "utf-8")
    made = make(home / request.param)
    if (home / request.param / "readings.csv").exists():
        review = make(home / request.param, documents=("review",))
        for path in review.glob("review.*"):
            shutil.copy(path, made)
    return made


def _told(path):
    """Return all that a file tells: its text; of a PDF also its metadata and what is attached."""
    data = path.read_bytes()
    if path.suffix == ".html":
        return data.decode("utf-8")
    with pypdfium2.PdfDocument(data) as file:
        parts = [page.get_textpage().get_text_bounded() for page in file]
    with pikepdf.open(io.BytesIO(data)) as file:
        parts += [str(value) for value in file.docinfo.values()]
        parts.append(file.Root.Metadata.read_bytes().decode("utf-8"))
        for name, one in file.attachments.items():
            parts += [name, one.description, one.get_file().read_bytes().decode("utf-8", "replace")]
    return "\n".join(parts)


def _pattern(value):
    """Return a pattern for a number by itself, whichever mark its language has."""
    return re.compile(rf"(?<![\d.,]){re.escape(value).replace(re.escape('.'), '[.,]')}(?![\d])")


def test_the_client_s_papers_hold_nothing_of_the_business(run):
    """No private number, no word of cost, no other client, no path; the fitter's sheet has them all."""
    files = [path for path in run.iterdir() if path.stem in FOR_CLIENT]
    assert {path.name for path in files} >= {"proposal.html", "proposal.pdf", "basis.html", "basis.pdf"}
    inputs = "".join(path.read_text("utf-8") for path in (run / "inputs").rglob("*.yaml"))
    private = [value for value in (*PRIVATE.values(), ROLL, METRE) if value in inputs]
    assert len(private) >= 5
    for path in files:
        told = _told(path)
        for value in private:
            assert not _pattern(value).search(told), (path.name, value)
        visible = re.sub(r"<(script|style).*?</\1>", "", told, flags=re.DOTALL)
        assert not WORDS.search(visible), (path.name, WORDS.search(visible))
        for secret in (ELSEWHERE, str(run.parents[1]), "/tmp/"):
            assert secret not in visible, path.name
    kept = _told(run / "fitting.pdf")
    for value in private:
        assert _pattern(value).search(kept), value
    assert ELSEWHERE in kept


def test_their_results_stop_at_the_price(run):
    """What is attached names net, tax and total, and no line, roll, minute or field of the business."""
    for path in run.glob("*.pdf"):
        if path.stem not in FOR_CLIENT:
            continue
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
    rows = [
        f"{row}{MARK} pane" if row.endswith((",", ";")) else row for row in rows
    ]  # its last column is note
    assert any(MARK in row for row in rows)
    (job / "windows.csv").write_text("\n".join([f"# {MARK}", *rows]) + "\n", "utf-8")
    return make(job, anonymous=True), make(job, only="html")


def _all_told(path):
    """Return all that a file of a run tells, and its name."""
    if path.suffix == ".pdf":
        return f"{path.name}\n{_told(path)}"
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
