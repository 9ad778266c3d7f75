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

from reportkit.app.run import make
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
