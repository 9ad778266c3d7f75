"""Hidden signs become visible, harmless ones stay: against Unicode's data and words of many scripts."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportkit.base.errors import Fault
from reportkit.base.visible import visible

#: Format characters that are drawn, or seen by what they do: the soft hyphen at the end of a line, signs that
#: enclose the number behind them, joiners of hieroglyphs (Unicode, chapters 9, 11 and 23; from memory).
SEEN = {
    0xAD, *range(0x600, 0x606), 0x6DD, 0x70F, 0x890, 0x891, 0x8E2, 0x110BD, 0x110CD, *range(0x13430, 0x13440),
}  # fmt: skip

TURNING = (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x61C)


def test_every_format_character_is_shown() -> None:
    """All of category Cf in the Unicode data of Python stand as their code between Latin letters."""
    hidden = [n for n in range(0x110000) if unicodedata.category(chr(n)) == "Cf" and n not in SEEN]
    assert len(hidden) > 130 and set(TURNING) <= set(hidden)
    for number in hidden:
        assert visible(f"a{chr(number)}b") == f"a[U+{number:04X}]b"


def test_no_sign_without_width_is_left() -> None:
    """What takes no width (wcwidth, from Unicode's tables) and is no mark or part of a syllable."""
    wcwidth = pytest.importorskip("wcwidth")
    syllables = {*range(0x1160, 0x1200), *range(0xD7B0, 0xD800)}  # vowels and ends of Hangul
    left = [
        n
        for n in range(0xA0, 0x110000)
        if unicodedata.category(chr(n)) not in ("Mn", "Me", "Mc", "Cn", "Cc")
        and wcwidth.wcwidth(chr(n)) == 0
        and n not in SEEN | syllables
        and visible(f"a{chr(n)}b") == f"a{chr(n)}b"
    ]
    assert [hex(n) for n in left] == []


@pytest.mark.parametrize(
    "text",
    [
        "שלום עולם", "مرحبا بالعالم", "می‌خواهم", "क्‍ष", "Nguyễn Thị Ánh", "Ελένη", "Мария", "東京", "한국어",
        "👨‍👩‍👧", "❤️‍🔥", "👩🏽‍🚒", "co\N{SOFT HYPHEN}operate", "葛\N{VARIATION SELECTOR-17}", "1 234,5", "",
    ],
)  # fmt: skip
def test_honest_words_stay(text: str) -> None:
    """Names in many scripts, Persian with its non-joiner, emoji put together: as they were."""
    assert visible(text) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("total \u202e001", "total [U+202E]001"),
        ("pay\u200bpal", "pay[U+200B]pal"),
        ("Zoe\u200c", "Zoe[U+200C]"),
        ("1\u200d2", "1[U+200D]2"),
        ("م\u200c\u202eخ", "م[U+200C][U+202E]خ"),
        ("x\ufe0f\ufe0f", "x\ufe0f[U+FE0F]"),
        ("\ufeff\U000e0041", "[U+FEFF][U+E0041]"),
        ("a" + "\u2066" * 2000 + "\u2069", "a[U+2066]…[U+2069]"),
        ("\udcff", "[U+DCFF]"),
    ],
)
def test_what_hides_is_shown(text: str, shown: str) -> None:
    """A joiner where none belongs, a second selector, many in a row: by their codes."""
    assert visible(text) == shown


@given(
    st.text(alphabet=st.characters() | st.sampled_from([*map(chr, TURNING), "\u200c", "\u200d", "م", "a"]))
)
def test_nothing_that_turns_is_left(text: str) -> None:
    """Whatever stands around it, no mark of direction is left; shown twice is shown once."""
    shown = visible(text)
    assert not set(map(chr, TURNING)) & set(shown)
    assert visible(shown) == shown


def test_a_fault_hides_nothing() -> None:
    """What is wrong, where, and what was found are printed without signs that turn them round."""
    fault = Fault("a\u202eb.csv", 3, "wi\u2066dth", "must be \u200bshort", "10\u202e01", "mend\ufeff it")
    assert not any(unicodedata.category(sign) == "Cf" for sign in str(fault))
    assert '(found "10[U+202E]01")' in str(fault)
