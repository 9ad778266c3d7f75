"""A cut plan by itself: every word of list, drawing and page in the language asked for."""

import gettext
import re

import pytest

from reportkit.documents.cutlist import CutSheet
from reportkit.documents.language import catalogue, words
from reportkit.study.cutting import cut_alone

#: A seam, a view group, a turned piece, two widths and film by length: every sentence has its cause.
PIECES = """id,width,length,quantity,turn,group,seam
A1,2000,1800,1,,,600
B2,900,1200,6,yes,g1,
C3,700,1100,5,yes,,
"""
ROLLS = ["1524x30500@355.50", "1220@9.80/m"]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Return the plan of a small list."""
    path = tmp_path_factory.mktemp("cut") / "l1.csv"
    path.write_text(PIECES, encoding="utf-8")
    return cut_alone(path, ROLLS)


@pytest.fixture(scope="module")
def mixed(tmp_path_factory):
    """Return a plan that has the next cheapest mix beside it."""
    path = tmp_path_factory.mktemp("cut") / "l2.csv"
    path.write_text("id,width,length,quantity\nA1,1200,1500,3\nB2,700,900,4\n", encoding="utf-8")
    return cut_alone(path, ["1524x6000@90", "1524x12000@150", "1830x12000@190"])


class Marked(gettext.NullTranslations):
    """A language that puts every sentence of the catalogue in marks."""

    def __init__(self):
        super().__init__()
        self.known = set(catalogue.sentences())

    def gettext(self, message):
        """Return the sentence in marks, if the catalogue knows it."""
        return f"«{message}»" if message in self.known else message


def visible(page):
    """Return the text of a page, without its styles and its drawings' paths."""
    return re.sub(r"<[^>]*>", " ", re.sub(r"(?s)<(style|title|defs)\b.*?</\1>", " ", page))


def outside(text):
    """Return what stands in no mark."""
    before = None
    while before != text:
        before, text = text, re.sub(r"«[^«»]*»", " ", text)
    return text


@pytest.mark.parametrize("plan", ["made", "mixed"])
def test_no_word_of_a_cut_plan_is_outside_the_catalogue(plan, request, monkeypatch):
    """With every sentence in marks, nothing else is a word of three letters in list, drawings and page."""
    alone = request.getfixturevalue(plan)
    monkeypatch.setattr(words, "_catalogue", lambda tag: Marked())
    sheet = CutSheet(alone, units="metric")
    texts = [*sheet.lines(), *map(visible, sheet.drawings()), visible(sheet.page())]
    assert sum("«" in text for text in texts) > 5
    for text in texts:
        assert re.findall(r"[^\W\d_]{3,}", outside(text).replace(alone.source.file, " ")) == [], text


def test_a_spanish_list_reads_spanish_and_counts_with_commas(made):
    """Words, the planner's proof and its notes are Spanish; amounts and areas carry Spain's comma (CLDR)."""
    text = "\n".join(CutSheet(made, units="metric", language="es").lines())
    assert text.startswith("Comprar por 355,50:")
    assert "Rollo 1, 1524 mm de ancho" in text and "girada" in text
    assert "A1 es más ancha que cualquier rollo: unión a tope a 600 mm" in text
    assert "Demostrado: el más barato" in text
    assert re.search(r"\d,\d\d m²", text) and not re.search(r"\d\.\d", text)


def test_a_spanish_drawing_and_page_read_spanish(made):
    """What is written in the picture and on the page is Spanish, lengths in metres with a comma."""
    sheet = CutSheet(made, units="metric", language="es")
    drawn = " ".join(map(visible, sheet.drawings()))
    assert re.search(r"rollo 1: 1524.mm de ancho", drawn) and re.search(r"\d,\d.m", drawn)
    page = sheet.page()
    assert 'lang="es"' in page
    assert "Plan de corte" in page and "unión a tope" in page
    assert not re.search(r"\d\.\d+\s(m|m²|%)", visible(page))


def test_us_units_in_spanish_keep_the_numbers_of_the_us(made):
    """Inches with Spanish words: a point before decimals, as the US writes Spanish, too (CLDR es-US)."""
    sheet = CutSheet(made, units="us", language="es")
    text = "\n".join(sheet.lines())
    assert text.startswith("Comprar por 355.50:")
    assert "60 in de ancho, 100.07 ft de largo" in text
    assert sheet.fmt.paper == "us-letter" and 'lang="es-US"' in sheet.page()


def test_other_ways_to_buy_are_told_by_their_rolls(mixed):
    """Each alternative names its rolls as the shopping list does, its price and the difference."""
    (entry, *_) = mixed.alternatives
    assert entry.kind == "next_mix"
    english, spanish = (
        next(line for line in CutSheet(mixed, units="metric", language=code).lines() if start in line)
        for code, start in (("en", "next cheapest mix"), ("es", "combinación más barata"))
    )
    assert f"{entry.price:.2f}, {entry.extra:.2f} more." in english and "mm wide" in english
    assert f"{entry.price:.2f}".replace(".", ",") in spanish and "mm de ancho" in spanish
