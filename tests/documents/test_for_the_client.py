"""No cost, margin, supplier's price, private rate or other client stands in what goes to the client.

Every file of a run of each demo job is searched: text, HTML, what is attached to a PDF and its metadata. The
business's own numbers are changed to ones that nothing else could come to.
"""

import io
import json
import re

import pikepdf
import pypdfium2
import pytest
from private import ELSEWHERE, METRE, PRIVATE, ROLL

from reportkit.documents.layouts.assemble import FOR_CLIENT

DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: Words that no paper for the client says of its own price.
WORDS = re.compile(
    r"margin|mark-?up|labour_per_hour|margin_percent|price_per_m|supplier|our cost", re.IGNORECASE
)


@pytest.fixture(scope="module", params=DEMOS)
def run(request, run_of):
    """A run of a demo job whose private numbers stand out, and of another client's beside it."""
    return run_of(request.param)


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
    theirs = [path for path in run.glob("*.pdf") if path.stem in FOR_CLIENT]
    assert {path.stem for path in theirs} >= {"proposal", "basis", "letters"}
    for path in theirs:
        with pikepdf.open(path) as file:
            assert set(file.attachments) == {"results.json"}
            results = json.loads(file.attachments["results.json"].get_file().read_bytes())
        assert not {"cutting", "materials", "labour", "schedule", "assumptions", "pieces"} & set(results)
        assert "lines" not in results["price"] and results["price"]["total"]
        assert not {"prices", "films", "business", "client"} & set(results["job"])
