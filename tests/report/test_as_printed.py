"""What is printed follows from what is printed beside it: read off rendered pages, written three ways.

The tables are read back from the HTML with lxml, their numbers with Babel as the locale writes them.
"""

import copy
import re
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

import lxml.html
import pytest
from babel.numbers import parse_decimal

from reportkit.findings.findings import Results
from reportkit.report import html
from reportkit.report.assemble import assemble
from reportkit.report.blocks import plain
from reportkit.report.sections import SECTIONS

#: US units, metric, and metric in Spanish.
WRITINGS = ["corner-shop", "harbour-house", "hill-studio", "spanish"]
CENT = Decimal("0.01")


@pytest.fixture(scope="module")
def printed(book_of, book, edited):
    """Return a function from a job's name to its proposal as rendered: tables, text and PDF text."""

    @cache
    def made(name):
        if name == "spanish":
            study = edited(
                "harbour-house", ("language: en", "language: es"), ("locale: ", "locale: es_ES  # ")
            )
            notebook = book(study)
        else:
            notebook = book_of(name)
        return of_document(assemble(notebook, "proposal"))

    return made


class Printed:
    """A document, or a part of one, read back."""

    def __init__(self, markup, job):
        self.tree = lxml.html.fromstring(markup)
        self.locale = job["locale"] or job["language"]

    def rows(self, identifier):
        """Return the rows of a table, each as the text of its cells."""
        (table,) = self.tree.xpath(f"//table[@id='{identifier}']")
        return [
            [" ".join(cell.text_content().split()) for cell in row.xpath("./th|./td")]
            for row in table.xpath("./tbody/tr")
        ]

    def texts(self, path):
        """Return the text of each element a path leads to."""
        return [" ".join(node.text_content().split()) for node in self.tree.xpath(path)]

    def numbers(self, text):
        """Return the numbers in a text, as the locale writes them."""
        found = re.findall(r"[−-]?\d(?:[\d.,’'\u202f\u00a0 ]*\d)?", text)
        return [parse_decimal(one.replace("−", "-").replace(" ", "\u00a0"), self.locale) for one in found]

    def number(self, text):
        """Return the only number in a cell; None in an empty one."""
        found = self.numbers(text)
        assert len(found) <= 1, text
        return found[0] if found else None


def of_document(assembled):
    """Return a whole document read back from its HTML."""
    return Printed(html.document(assembled.page, static=True), assembled.results["job"])


def check_price(read, digits=2):
    """Check a price table as a client with a pocket calculator would; return its rows as numbers."""
    cent = Decimal(1).scaleb(-digits)
    rows = read.rows("price-list")
    sums = [at for at, row in enumerate(rows) if not row[1] and not row[2]]
    lines = []
    for what, quantity, rate, amount in rows:
        if quantity or rate:
            n, each, due = (read.number(text) for text in (quantity, rate, amount))
            assert (n * each).quantize(cent, ROUND_HALF_UP) == due, (what, quantity, rate, amount)
            lines.append((n, each, due))
    amounts = [read.number(row[3]) for row in rows]
    taxed = [at for at in sums if "%" in rows[at][0]]
    if taxed:
        (at,) = taxed
        share = read.number(re.sub(r".*,\s", "", rows[at][0])) / 100
        if at == len(rows) - 1:  # inside: lines, total, of which tax
            assert sum(amounts[: at - 1]) == amounts[at - 1]
            assert (amounts[at - 1] * share / (1 + share)).quantize(cent, ROUND_HALF_UP) == amounts[at]
        else:  # on top: lines, net, tax, total
            assert sum(amounts[: at - 1]) == amounts[at - 1]
            assert (amounts[at - 1] * share).quantize(cent, ROUND_HALF_UP) == amounts[at]
            assert amounts[at - 1] + amounts[at] == amounts[at + 1]
    else:
        assert sum(amounts[:-1]) == amounts[-1]
    return lines, [amounts[at] for at in sums]


@pytest.mark.parametrize("name", WRITINGS)
def test_a_price_adds_up_as_printed(printed, name):
    """Quantity times rate is the amount, the amounts sum to net or total, tax follows from its percent."""
    lines, _ = check_price(printed(name))
    assert lines


@pytest.mark.parametrize("name", WRITINGS)
def test_shares_follow_from_the_watts_beside_them(printed, name):
    """Each "less than now" is that of the two powers printed, and page one agrees with the table's rows."""
    read = printed(name)
    rows = read.rows("all")
    watts = [read.number(row[1]) for row in rows]
    for row, then in zip(rows, watts, strict=True):
        share = (100 * (1 - then / watts[0])).quantize(Decimal(1), ROUND_HALF_UP)
        assert read.number(row[2]) == share, row
    leads = [text for text in read.texts("//p") if re.search(r"\d\sW\b.*\d\sW\b.*\d\s?%", text)]
    # page one tells watts where heat was asked about
    assert len(leads) == (name in ("corner-shop", "hill-studio"))
    if not leads:
        return
    (lead,) = leads
    powers = [read.numbers(one)[0] for one in re.findall(r"[\d.,]+\sW", lead)]
    (percent,) = re.findall(r"(\d+)\s?%", lead)
    assert (powers[0], powers[1]) in {(watts[0], then) for then in watts}
    assert Decimal(percent) == (100 * (1 - powers[1] / powers[0])).quantize(Decimal(1), ROUND_HALF_UP)


@pytest.mark.parametrize("name", WRITINGS)
def test_page_one_names_the_price_of_the_tables(printed, name):
    """The price on page one is the total of the price list and stands in the table of options."""
    read = printed(name)
    _, sums = check_price(read)
    total = max(sums)
    assert any(total in read.numbers(text) for text in read.texts("//*[contains(@class, 'fact')]"))
    assert total in [read.number(row[-1]) for row in read.rows("all")]


@pytest.mark.parametrize("over", ["30.2", "30.04", "31"])
@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_pane_over_its_limit_is_printed_over_it(study_of, results_of, page_of, units, over):
    """Table and reason show a middle warmer than allowed, in the digits it takes (30 K, common practice)."""
    results = copy.deepcopy(dict(results_of("corner-shop")))
    pane = next(pane for pane in results["panes"] if pane["id"] == "E3")
    (found,) = pane["screen"]["findings"]
    assert (found["about"], found["verdict"], found["limit"]) == ("difference", "refuse", 30.0)
    pane["screen"]["difference_k"] = found["value"] = float(over)
    job = results["job"] | {"units": units}
    page = page_of(study_of("corner-shop"), job={"units": units}, panes=results["panes"])
    blocks = [plain(block) for block in SECTIONS["verdicts"](page)]
    read = Printed(html.fragment(blocks), job)
    row = next(row for row in read.rows("verdict-list") if row[0] == "E3")
    (said,) = [text for text in read.texts("//li") if text.startswith("E3:")]
    for value, limit in (
        (read.number(row[4]), read.number(row[5])),
        read.numbers(said.removeprefix("E3:").partition("Who decides")[0]),
    ):
        assert value > limit == (54 if units == "us" else 30)


BY_LENGTH = "{width: 1524 mm, length: 30.5 m, price_per_m: 55.00, step: 1 m}"
TAX = "tax: {name: GST, percent: 15, prices_include_it: no}"

#: How film, margin and tax can be told: changes of the job, its film's line (quantity, rate, amount) and the
#: sums at the end, worked by hand. The roof takes two pieces of 776 x 1176 mm, turned: 1552 mm off the roll,
#: which is 5.09 ft. 15 % on cost, tax 15 % on top. Besides film: kit 6.49; 3.25 h x (70 x 1.15 = 80.50) =
#: 261.625, so 261.63; travel 60 x 1.15 = 69.00; together 337.12.
STYLES = {
    "by the metre": ([], ("2", "63.25", "126.50"), ("463.62", "69.54", "533.16")),
    "any length": (
        [(BY_LENGTH, BY_LENGTH.replace(", step: 1 m", ""))],
        ("1.56", "63.25", "98.67"),
        ("435.79", "65.37", "501.16"),
    ),
    "by the foot": (
        [(BY_LENGTH, "{width: 1524 mm, length: 30.5 m, price_per_ft: 17.00, step: 1 ft}")],
        ("6", "19.55", "117.30"),
        ("454.42", "68.16", "522.58"),
    ),
    "a whole roll": (
        [(BY_LENGTH, "{width: 1524 mm, length: 30.5 m, price: 1100}")],
        ("1", "1265", "1265"),
        ("1602.12", "240.32", "1842.44"),
    ),
    "packs": (
        [(BY_LENGTH, "{width: 1524 mm, length: 5 m, price: 300, pack: 2}")],
        ("1", "345", "345"),
        ("682.12", "102.32", "784.44"),
    ),
    "off the shelf": (
        [(BY_LENGTH, "{width: 1524 mm, length: 5 m, in_stock: 1}")],
        None,
        ("337.12", "50.57", "387.69"),
    ),
    # made up to 900: 436.38 more
    "minimum charge": (
        [("minimum_charge: 0", "minimum_charge: 900")],
        ("2", "63.25", "126.50"),
        ("900", "135", "1035"),
    ),
    # 55/.85 = 64.7059; 70/.85 = 82.3529 x 3.25 = 267.6475 at 82.35 = 267.6375; 60/.85 = 70.5882; kit below
    "margin on price": ([("margin_on: cost", "margin_on: price")], ("2", "64.71", "129.42"), None),
    # 463.62 x 15/115 = 60.472
    "tax inside": ([(TAX, TAX.replace(": no", ": yes"))], ("2", "63.25", "126.50"), ("463.62", "60.47")),
    # 463.62 x 8.875 % = 41.146
    "tax of three decimals": (
        [(TAX, TAX.replace("15,", "8.875,"))],
        ("2", "63.25", "126.50"),
        ("463.62", "41.15", "504.77"),
    ),
    "no tax": ([(TAX, TAX.replace("15,", "0,"))], ("2", "63.25", "126.50"), ("463.62",)),
    # half a cent in the rate: typed as it is, without a margin
    "rates finer than a cent": (
        [(BY_LENGTH, BY_LENGTH.replace("55.00", "55.1234")), ("margin_percent: 15", "margin_percent: 0")],
        ("2", "55.1234", "110.25"),
        None,
    ),
}


@pytest.mark.parametrize(
    "writing", [("us", "en_US", "en"), ("metric", "en_GB", "en"), ("metric", "es_ES", "es")]
)
@pytest.mark.parametrize("style", STYLES)
def test_every_way_to_sell_adds_up_as_printed(priced, page_of, style, writing):
    """Worked by hand, and again from the printed table, whatever units and language it is printed in."""
    _, film, sums = STYLES[style]
    study = priced(style)
    units, locale, language = writing
    job = study.job.model_copy(update={"units": units, "locale": locale, "language": language})
    page = page_of(study, job=job)
    read = Printed(html.fragment([plain(block) for block in SECTIONS["price"](page)]), page.job)
    lines, last = check_price(read)
    if film is None:
        assert len(lines) == 2  # work and travel
    else:
        assert lines[0] == tuple(map(Decimal, film))
    if sums is not None:
        assert tuple(last)[-len(sums) :] == tuple(map(Decimal, sums))


@pytest.mark.parametrize("style", STYLES)
def test_the_results_hold_the_same_product(priced, style):
    """In results.json too quantity times rate is the amount, materials one by one, in the same units."""
    made = Results(priced(style))["price"]
    lines = [{key: Decimal(line[key]) for key in ("quantity", "rate", "amount")} for line in made["lines"]]
    for line in lines:
        assert (line["quantity"] * line["rate"]).quantize(CENT, ROUND_HALF_UP) == line["amount"]
    total = sum(line["amount"] for line in lines)
    assert total == Decimal(made["total"] if made["tax_included"] else made["net"])
    assert Decimal(made["net"]) + Decimal(made["tax"]) == Decimal(made["total"])


@pytest.fixture(scope="module")
def priced(edited):
    """Return a function from a style to the study of the studio's job so priced."""
    return cache(lambda style: edited("hill-studio", *STYLES[style][0]))
