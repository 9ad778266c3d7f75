"""A document read back as printed: tables with lxml, their numbers with Babel as the locale writes them."""

import re
from decimal import ROUND_HALF_UP, Decimal

import lxml.html
from babel.numbers import parse_decimal

from reportkit.documents.language.words import Words
from reportkit.documents.layouts import html


class Printed:
    """A document, or a part of one, read back."""

    def __init__(self, markup, job):
        self.tree = lxml.html.fromstring(markup)
        self.job = job
        self.locale = job["locale"] or job["language"]
        #: From an English sentence to the document's, by the catalogue.
        self.words = Words(job["language"])

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

    def facts(self, label):
        """Return the values and notes under an English label, in the order of the document."""
        said = self.words(label)
        there = [node for node in self.tree.xpath("//dl/div") if node.findtext("dt") == said]
        return [[" ".join(cell.text_content().split()) for cell in node.findall("dd")] for node in there]

    def numbers(self, text):
        """Return the numbers in a text, as the locale writes them."""
        found = re.findall(r"[−-]?\d(?:[\d.,’'\u202f\u00a0 ]*\d)?", text)
        return [parse_decimal(one.replace("−", "-").replace(" ", "\u00a0"), self.locale) for one in found]

    def number(self, text):
        """Return the only number in a cell; None in an empty one."""
        found = self.numbers(text)
        assert len(found) <= 1, text
        if found and re.match(r"[−-]\D", text):  # the sign stands before that of the currency
            return -found[0]
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
