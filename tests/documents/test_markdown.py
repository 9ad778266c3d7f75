"""The Markdown of the notebooks: found whole, said in the job's language, untouched in English."""

import copy
import gettext
import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.base.languages import languages
from reportkit.documents.language import catalogue, words
from reportkit.documents.language.markdown import sentences, spoken
from reportkit.documents.language.words import Words
from reportkit.documents.layouts.templates import template

NOTEBOOKS = ["reasoning.ipynb", "consultation.ipynb"]
TRANSLATED = [name for name in languages() if name != "en"]


def book(name):
    """Return a template as plain data."""
    return json.loads(template(name).read_text(encoding="utf-8"))


def texts(notebook):
    """Return the texts of the Markdown cells."""
    return ["".join(cell["source"]) for cell in notebook["cells"] if cell["cell_type"] == "markdown"]


class Marked(gettext.NullTranslations):
    """A language that puts every sentence of the catalogue in marks."""

    def __init__(self):
        super().__init__()
        self.known = set(catalogue.sentences())

    def gettext(self, message):
        """Return the sentence in marks, if the catalogue knows it."""
        return f"«{message}»" if message in self.known else message


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_english_stays_as_the_template_has_it(name):
    """Every cell is the template's own, and the notebook given is not touched."""
    given_one = book(name)
    before = copy.deepcopy(given_one)
    assert spoken(given_one, Words("en")) == before == given_one


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_every_word_of_the_markdown_is_in_the_catalogue(name, monkeypatch):
    """With every sentence in marks, no letter stands outside them in any Markdown cell."""
    monkeypatch.setattr(words, "_catalogue", lambda tag: Marked())
    found = texts(spoken(book(name), Words("xx")))
    assert found
    for text in found:
        assert "«" in text
        assert not re.search(r"[^\W\d_]", re.sub(r"«[^«»]*»", "", text)), text


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("name", NOTEBOOKS)
def test_another_language_keeps_the_marks_the_code_and_the_names(name, language):
    """Headings, items, labels and names in backticks stand where they stood; every sentence is another."""
    english = book(name)
    other = spoken(english, Words(language))
    for one, two in zip(english["cells"], other["cells"], strict=True):
        if one["cell_type"] == "code":
            assert one == two
            continue
        assert {**one, "source": ""} == {**two, "source": ""}
        lines, said = ("".join(cell["source"]).splitlines() for cell in (one, two))
        for line, told in zip(lines, said, strict=True):
            assert re.match(r"[#\- ]*(\*\*)?", line).group() == re.match(r"[#\- ]*(\*\*)?", told).group()
            assert re.findall(r"`[^`]*`", line) == re.findall(r"`[^`]*`", told)
            assert line.count("*") == told.count("*")
            assert line != told or not line
    assert not set(sentences(english)) & set(sentences(other))


def test_a_source_in_lines_stays_in_lines():
    """nbformat allows a text or a list of lines; either comes back as it was."""
    lines = ["# The sun\n", "\n", "- **In:** the survey."]
    cells = [{"cell_type": "markdown", "source": source} for source in (lines, "".join(lines))]
    one, two = spoken({"cells": cells}, Words("es"))["cells"]
    assert one["source"] == ["# El sol\n", "\n", "- **Entra:** el levantamiento."]
    assert two["source"] == "".join(one["source"])


@given(st.text(alphabet=st.sampled_from("ab .#-*1\n\r\t\u2028»`{"), max_size=60) | st.text(max_size=30))
@settings(max_examples=150, deadline=None)
def test_any_markdown_without_a_translation_stays_to_the_letter(text):
    """What no catalogue knows comes back unchanged, whatever marks and line ends it holds."""
    notebook = {"cells": [{"cell_type": "markdown", "source": text}]}
    assert spoken(notebook, Words("en")) == notebook
