"""Widths, breaking and spreading of labels."""

from __future__ import annotations

from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.documents.figures.canvas import spread
from reportkit.documents.layouts.fonts import face_file
from reportkit.documents.layouts.lettering import POINT, shortened, width_mm, wrapped

NAMES = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=60)


def test_width_is_that_of_the_font_file() -> None:
    """A line is as wide as the advances in the font's own table say (fontTools, cross-check)."""
    font = TTFont(face_file())
    names, widths = font.getBestCmap(), font["hmtx"]
    text = "Sun heat 1,240 W/m²"
    expected = sum(widths[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm * 10 * POINT
    assert width_mm(text, 10) == pytest.approx(expected, rel=1e-3)


def test_wide_letters_count_a_full_em() -> None:
    """Letters the typeface lacks take the room that East Asian ones need."""
    assert width_mm("虚构", 10) == pytest.approx(20 * POINT)


@given(NAMES, st.floats(8, 60))
@settings(deadline=None, max_examples=60)
def test_lines_fit_their_width(name: str, width: float) -> None:
    """No line of a wrapped name is wider than asked, and there are at most two."""
    lines = wrapped(name, width)
    assert len(lines) <= 2
    assert all(width_mm(line) <= width + 1e-6 for line in lines)


def test_shortened_keeps_what_fits() -> None:
    """A name that fits is untouched; one that does not ends in an ellipsis."""
    assert shortened("East", 40) == "East"
    cut = shortened("A very long name of a film indeed", 25)
    assert cut.endswith("…")
    assert width_mm(cut) <= 25


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(2, 8)), min_size=1, max_size=9))
@settings(deadline=None, max_examples=80)
def test_spread_labels_never_touch(labels: list[tuple[float, float]]) -> None:
    """Labels keep their order, stay in their room and leave a gap between them."""
    centers, heights = zip(*labels, strict=True)
    places = spread(centers, heights, 0.0, 100.0, 0.6)
    order = sorted(range(len(places)), key=lambda i: (centers[i], i))
    edges = [(places[i] - heights[i] / 2, places[i] + heights[i] / 2) for i in order]
    assert all(upper[1] + 0.6 <= lower[0] + 1e-6 for upper, lower in pairwise(edges))
    assert edges[0][0] >= -1e-6
    assert edges[-1][1] <= 100.0 + 1e-6
