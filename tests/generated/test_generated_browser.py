"""Some of the generated jobs in a real browser: nothing wider than a phone, whatever the names."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from generated.conftest import FEW

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("number", FEW)
def test_a_phone_shows_it_whole(
    number: int,
    pages_of: Callable[[int], dict[str, str]],
    open_file: Callable[..., Any],
    tmp_path: Path,
) -> None:
    """One job of each script, 1 to 120 rows: no sideways scroll at 360 px, no text past its own box."""
    pages = pages_of(number)
    assert set(pages) == {"proposal", "basis", "fitting"}
    for name, page in pages.items():
        path = tmp_path / f"{name}.html"
        path.write_text(page, encoding="utf-8")
        opened = open_file(path, 360)
        assert opened.width() <= 360
        assert opened.complaints == []
        cut_off = opened.page.evaluate(
            "[...document.querySelectorAll('h1,h2,h3,h4,p,li,dt,dd,figcaption')]"
            ".filter(e => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline')"
            ".map(e => e.textContent.slice(0, 80))"
        )
        assert cut_off == []
        empty = opened.page.evaluate(
            "[...document.querySelectorAll('.still svg')].filter(e => {"
            " const b = e.getBBox(); return b.width < 50 || b.height < 20; }).map(e => e.id)"
        )
        assert empty == []
