"""Cells that a spreadsheet would run are kept from it, and read as they were typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportkit.base.formulas import guarded, unguarded

#: What begins a formula or makes one of the cell (OWASP, "CSV injection", from memory).
SIGNS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"


@given(st.text(alphabet=st.sampled_from([*SIGNS, *"'1a, "]) | st.characters()))
def test_nothing_runs_and_all_reads_back(text: str) -> None:
    """No guarded cell begins as a formula does, but for a plain number; unguarded it is what was typed."""
    cell = guarded(text)
    assert cell[:1] not in set(SIGNS) or cell.lstrip("+-").replace(".", "").replace(",", "").isdigit()
    assert unguarded(cell) == text


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=1+1", "'=1+1"), ("+44 20 7946", "'+44 20 7946"), ("-2+3", "'-2+3"), ("@SUM(A1)", "'@SUM(A1)"),
        ("'=1", "''=1"), ("-2.5", "-2.5"), ("+3", "+3"), ("6' 2\"", "6' 2\""), ("'til noon", "'til noon"),
        ("", ""),
    ],
)  # fmt: skip
def test_what_is_guarded(text: str, cell: str) -> None:
    """Formulas and telephone numbers are; numbers, lengths and words are not."""
    assert guarded(text) == cell
