"""The four invented offers in a real browser: proposals as those of the demos, other papers on a phone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from browser.test_documents import (  # noqa: F401 - what is named here is run for these jobs
    _assert_clean,
    opened,
    sized,
    test_axe_finds_nothing_serious,
    test_it_opens_and_fits,
    test_the_proposal_reads_on_a_phone,
    test_without_scripts_nothing_is_lost,
)

pytestmark = pytest.mark.browser

OFFERS = ("arch-house", "surgery", "long-office", "own-home")


@pytest.fixture(scope="module", params=OFFERS)
def run(request: pytest.FixtureRequest, run_of: Callable[[str], Path]) -> Path:
    """The folder of a job's run."""
    return run_of(request.param)


@pytest.fixture(scope="module")
def file(run: Path) -> Path:
    """Its proposal."""
    return run / "proposal.html"


@pytest.mark.parametrize("kind", ["basis", "fitting"])
def test_the_other_papers_fit_a_phone(open_file: Any, run: Path, kind: str) -> None:
    """At 360 px, with scripts and without: as wide as the phone; axe finds nothing serious."""
    for scripts in (True, False):
        paper = open_file(run / f"{kind}.html", 360, java_script_enabled=scripts)
        assert paper.width() <= 360
        assert paper.complaints == []
        if scripts:
            axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
            _assert_clean(axe.run(paper.page).response)
