"""Four invented jobs made by the whole chain and opened.

A house with an arch in US units, a surgery in Spanish, an office of 140 panes, somebody's own home.
"""

import json
import re
from decimal import Decimal
from fractions import Fraction

import lxml.html
import pypdfium2
import pytest
from babel.numbers import parse_decimal
from printed import Printed, check_price
from private import ELSEWHERE, leaks, numbers_of, pattern, told
from stranger import strange

from reportkit.documents.language.words import Words
from reportkit.job import load_job

#: Each job with the most pages its proposal may have.
OFFERS = {"arch-house": 4, "surgery": 4, "long-office": 6, "own-home": 4}
#: Words of buying and selling, which nobody needs in their own home.
TRADE = re.compile(r"accept|deposit|offer|\bprice\b|signature|\btax\b|we recommend|\bour\b", re.IGNORECASE)


class Offer:
    """A run of a job, opened."""

    def __init__(self, run, name):
        self.run, self.name, self._opened = run, name, {}
        self.job = load_job(run / "inputs").job
        self.results = json.loads((run / "results.json").read_text("utf-8"))
        self.words = Words(self.job.language)
        self.locale = self.job.locale or self.job.language

    def html(self, kind):
        """Return a document's web page as a tree."""
        return lxml.html.fromstring((self.run / f"{kind}.html").read_text("utf-8"))

    def pages(self, kind):
        """Return the text of each page of a PDF, and how far down it something is drawn, as a share."""
        if kind not in self._opened:
            with pypdfium2.PdfDocument(self.run / f"{kind}.pdf") as file:
                self._opened[kind] = [
                    (" ".join(page.get_textpage().get_text_bounded().split()), _reach(page)) for page in file
                ]
        return self._opened[kind]

    def amount(self, text):
        """Return the last amount of money in a text, as the locale writes it."""
        return parse_decimal(re.findall(r"\d[\d.,]*\d", text)[-1], self.locale)


def _reach(page):
    image = page.render(scale=0.5, grayscale=True).to_numpy()
    high = image.shape[0]
    inked = (image < 200).reshape(high, -1).any(axis=1)
    return max((row for row in range(int(0.93 * high)) if inked[row]), default=0) / high


@pytest.fixture(scope="module", params=OFFERS)
def offer(request, run_of):
    """Each job's run, opened."""
    return Offer(run_of(request.param), request.param)


def test_a_proposal_is_short(offer):
    """Two to four pages for a home, six for 140 panes."""
    assert 2 <= len(offer.pages("proposal")) <= OFFERS[offer.name]


def test_each_letter_has_a_page(offer):
    """As many pages as letters, each headed by whom it is to."""
    pages = offer.pages("letters")
    assert len(pages) == len(offer.results["letters"]) > 0


@pytest.mark.parametrize("kind", ["proposal", "basis", "fitting"])
def test_no_page_is_nearly_empty(offer, kind):
    """Each is filled to a third at least, the client's care aside, which has the last page to itself."""
    reach = [share for _, share in offer.pages(kind)]
    if kind == "basis":
        reach.pop()
    assert min(reach) > 1 / 3, [round(share, 2) for share in reach]


def test_page_one_is_for_a_stranger(offer):
    """From the question to the map: no unit of power, no code, no word outside the plain ones."""
    tree = offer.html("proposal")
    said, after = [], tree.xpath("//*[@id='windows']")[0]
    for node in tree.xpath("//*[@id='asked']")[0].itersiblings():
        if node is after or after in node.iter():
            break
        said += node.itertext()
    text = " ".join(" ".join(said).split())
    assert len(text) > 300
    assert strange(text, offer.job) == []


def test_nothing_of_the_business_goes_to_the_client(offer):
    """No private number, other client or path in any client's file, its attachments and its metadata."""
    if offer.job.own_home:
        assert ELSEWHERE in told(offer.run / "fitting.pdf")
        assert not [path for path, word in leaks(offer.run) if word in (ELSEWHERE, str(offer.run.parents[1]))]
        return
    assert len(numbers_of(offer.run)) >= 5
    assert leaks(offer.run) == []
    kept = told(offer.run / "fitting.pdf")
    assert all(pattern(value).search(kept) for value in numbers_of(offer.run)) and ELSEWHERE in kept


def test_the_lines_add_up_to_the_total(offer):
    """What the price is made up of, to the cent: as the proposal says it, and in the table of the reasons."""
    total = Decimal(offer.results["price"]["total"])
    own = offer.job.own_home
    head = "The cost is made up of: {parts}." if own else "The price is made up of: {parts}."
    head = offer.words(head, parts="\0").partition("\0")[0]
    tree = offer.html("proposal")
    points = [" ".join(node.text_content().split()) for node in tree.xpath("//li")]
    told = [point for point in points if point.startswith(head)]
    assert len(told) == (len(offer.results["price"]["lines"]) > 1)
    for lines in told:  # of one line alone the total says it
        amounts = [offer.amount(part) for part in lines.split("; ")]
        assert len(amounts) > 1 and sum(amounts) == total
    cards = [node.text_content() for node in tree.xpath("//*[@class='group frame']//*[@class='lead']")]
    assert [offer.amount(card) for card in cards] == [Decimal(way["total"]) for way in offer.results["ways"]]
    assert offer.amount(cards[0]) == total
    check_price(Printed((offer.run / "basis.html").read_text("utf-8"), offer.results["job"]))


def test_the_cut_list_has_every_strip_once(offer):
    """Equal strips in one row: as many places to cut as strips, each where the plan has it."""
    tree = offer.html("fitting")
    found = {}
    for row in tree.xpath("//table[starts-with(@id, 'strip-list')]/tbody/tr"):
        strip, _, cut, _ = (" ".join(cell.text_content().split()) for cell in row.xpath("./th|./td"))
        roll, first, last = re.fullmatch(r"(\d+)\.(\d+)(?:–(\d+))?", strip).groups()
        span = range(int(first), int(last or first) + 1)
        ends = [_length(text, offer.job.units) for text in cut.split(", ")]
        assert len(ends) == len(span)
        found |= {(int(roll), index): end for index, end in zip(span, ends, strict=True)}
    planned = {
        (number, index): strip["y_mm"] + strip["length_mm"]
        for number, roll in enumerate(offer.results["cutting"]["rolls"], 1)
        for index, strip in enumerate(roll["strips"], 1)
    }
    assert {k: float(v) for k, v in found.items()} == pytest.approx(
        planned, abs=0.9
    )  # to the millimetre, or the nearest 1/16 in


def _length(text, units):
    """Return a length as the sheet writes it [mm]."""
    return sum(Fraction(part) for part in text.split()) * (Fraction("25.4") if units == "us" else 1)


def test_their_own_home_is_a_plan(run_of):
    """A cost, an order of the work; no price, deposit or acceptance, nothing of buying and selling."""
    home = Offer(run_of("own-home"), "own-home")
    said = " ".join(text for text, _ in home.pages("proposal"))
    assert "Cost" in said and "The order of the work" in said
    assert not TRADE.search(said), TRADE.search(said)
