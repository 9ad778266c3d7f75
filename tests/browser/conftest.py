"""A Chromium for the tests of whole documents."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

#: A browser that neither asks for a sandbox nor talks to anybody.
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


class Opened:
    """A page, and what it complained of and asked for."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.requests: list[str] = []
        page.on("console", lambda message: self.complaints.append(message.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self._asked(request.url))

    def _asked(self, url: str) -> None:
        if not url.startswith(("data:", "blob:")):
            self.requests.append(url)

    def show_all(self) -> None:
        """Bring every picture into view, and wait until each that can is interactive."""
        for figure in self.page.query_selector_all("figure:has(.live)"):
            figure.scroll_into_view_if_needed()
            figure.wait_for_selector(".live .main-svg", timeout=20_000)
        self.page.evaluate("document.fonts.ready")

    def width(self) -> int:
        """Return how wide the page is, what must be scrolled to included [px]."""
        return int(self.page.evaluate("document.documentElement.scrollWidth"))


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """The system's Chromium; tests are skipped where there is none."""
    api = pytest.importorskip("playwright.sync_api")
    own = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if own is None:
        pytest.skip("no Chromium here")
    with api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=own, args=QUIET)
        yield browser
        browser.close()


@pytest.fixture
def open_file(chromium: Any) -> Iterator[Callable[..., Opened]]:
    """Return a function that opens a file with the network off."""
    contexts = []

    def opened(path: Path, width: int = 1280, **settings: Any) -> Opened:
        context = chromium.new_context(viewport={"width": width, "height": 900}, offline=True, **settings)
        contexts.append(context)
        made = Opened(context.new_page())
        made.page.goto(path.as_uri())
        return made

    yield opened
    for context in contexts:
        context.close()
