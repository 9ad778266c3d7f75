"""Every choice of a job may be written in each language that ships, in the catalogue's own word for it."""

import gettext
from collections import Counter

import pytest

from reportkit.base.languages import DOMAIN, LOCALE_DIR, SOURCE, languages
from reportkit.job.model import Job, Pane, Reading
from reportkit.job.model.about import fields_of_choice
from reportkit.job.reading.words import meant_by

FIELDS = list(fields_of_choice(Job, Pane, Reading))
OTHERS = [language for language in languages() if language != SOURCE]


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize(("record", "name", "words"), FIELDS)
def test_a_choice_is_read_in_the_words_of_the_catalogue(language, record, name, words):
    """The translation as it stands, in capitals, without accents hyphened: each is the field's own word."""
    said = gettext.translation(DOMAIN, LOCALE_DIR, [language]).gettext
    plain = str.maketrans("áéíóúüñ", "aeiouun")
    for word in words:
        for written in (
            said(word),
            said(word).upper(),
            said(word).translate(plain),
            said(word).replace(" ", "-"),
        ):
            assert meant_by(written, words) == word, (record.__name__, name, written)


@pytest.mark.parametrize("language", OTHERS)
def test_no_two_choices_of_a_field_share_a_word(language):
    """A word that two choices share could be read as the other."""
    said = gettext.translation(DOMAIN, LOCALE_DIR, [language]).gettext
    for record, name, words in FIELDS:
        counted = Counter(said(word).casefold() for word in words)
        assert max(counted.values()) == 1, (record.__name__, name, counted)


@pytest.mark.parametrize(
    ("said", "words", "meant"),
    [
        ("Mate", ("ceramic", "frosted"), "frosted"),
        ("teñida", ("dyed", "ceramic"), "dyed"),
        ("luz", ("light", "sun", "uv"), "light"),
        ("aluminium", ("metal", "timber"), "metal"),
        ("días despejados", ("shipped", "clear_days"), "clear_days"),
        ("barn", ("home", "shop"), None),
    ],
)
def test_other_words_of_the_trade_are_read_too(said, words, meant):
    """Words that people use and the documents do not (common practice, no source); others stay unknown."""
    assert meant_by(said, words) == meant
