"""The consultation as a page, opened on a tablet: changed, kept, named, followed by make, ended."""

import contextlib
import datetime as dt
import json
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from at_the_desk import changed, expected, facts, job_of, labelled, said, surroundings

from reportkit.app.run import make
from reportkit.job import Choice, Decision, load_job
from reportkit.study import Study
from reportkit.study.whatif import WhatIf

pytestmark = pytest.mark.browser

JOB = "hill-studio"
REASON = "she wants to keep <the view> & the light"
NAME = "Cooler <studio> & $5 more"

#: Controls that can be seen and are smaller than a finger needs: 44 by 44 CSS pixels (WCAG 2.2, 2.5.5, AAA).
SMALL = """() => [...document.querySelectorAll("select, input, button")].flatMap(node => {
  const target = node.type === "checkbox" ? node.closest("label") : node;
  const box = target.getBoundingClientRect();
  const small = box.width && (box.width < 44 || box.height < 44);
  return small ? [`${node.outerHTML} ${box.width} ${box.height}`] : [];
})"""


class Served:
    """The command, its page, and what the page asked for."""

    def __init__(self, command: "subprocess.Popen[str]", home: Path, address: str, page: Any) -> None:
        self.command, self.home, self.address, self.page = command, home, address, page
        self.asked: list[str] = []
        page.on("request", lambda request: self.asked.append(request.url))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of a demo job that is quick to compute."""
    return job_of(JOB, tmp_path_factory.mktemp("table"))


@pytest.fixture(scope="module")
def served(folder: Path, tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[Served]:
    """The page, opened by the command on an upright tablet; skipped where Voila is not installed."""
    pytest.importorskip("voila", reason="the extra 'table' is not installed")
    home = tmp_path_factory.mktemp("home")
    command = subprocess.Popen(
        [sys.executable, "-m", "reportkit", "consult", str(folder), "--no-browser"],
        env=surroundings(home, TMPDIR=str(home)),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    context = chromium.new_context(viewport={"width": 768, "height": 1024}, has_touch=True)
    try:
        assert command.stdout is not None
        address = command.stdout.readline().strip()
        made = Served(command, home, address, context.new_page())
        made.page.goto(address)
        made.page.wait_for_selector(".desk-numbers .facts", timeout=60_000)
        yield made
    finally:
        context.close()
        if command.poll() is None:
            command.terminate()
            command.communicate(timeout=30)


def test_it_is_a_page_of_its_own(served: Served, folder: Path) -> None:
    """Title and heading are ours; no code, no menu, no request to elsewhere, nothing without the key."""
    page = served.page
    job = load_job(folder).job
    assert page.title() == f"At the table: {job.title}"
    assert page.locator("h1").all_text_contents() == [page.title()]
    text = page.locator("body").inner_text()
    assert "import" not in text and "job_dir" not in text and "Run all cells" not in text
    assert page.locator(".jp-CodeCell, .jp-InputArea, .lm-MenuBar").count() == 0
    own = served.address.split("/?")[0]
    assert own.startswith("http://127.0.0.1:")
    elsewhere = [url for url in served.asked if not url.startswith((own + "/", "data:", "blob:"))]
    assert (elsewhere, len(served.asked) > 10) == ([], True)
    for place in ("/", "/api/kernels/00000000-0000-0000-0000-000000000000"):
        try:
            with urllib.request.urlopen(own + place, timeout=5) as answer:
                assert answer.url.startswith(f"{own}/login")
        except urllib.error.HTTPError as refused:
            assert refused.code == 403
    request = urllib.request.Request(served.address, headers={"Host": "evil.example"})
    with pytest.raises(urllib.error.HTTPError, match="403"):
        urllib.request.urlopen(request, timeout=5)
    with pytest.raises(urllib.error.HTTPError, match="403"):
        urllib.request.urlopen(f"{own}/voila/files/photos/L1.jpg", timeout=5)


@pytest.mark.parametrize("size", [(768, 1024), (1024, 768), (1280, 900)])
def test_a_tablet_can_use_it(served: Served, size: tuple[int, int]) -> None:
    """Every target is large enough for a finger, nothing is wider than the screen, axe finds nothing."""
    page = served.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    assert page.evaluate(SMALL) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    inner = """() => [...document.querySelectorAll(".desk *")].filter(n => n.scrollWidth > n.clientWidth + 1
      && ["auto", "scroll"].includes(getComputedStyle(n).overflowX)).map(n => n.className)"""
    assert page.evaluate(inner) == []
    if size[0] == 768:
        axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
        assert [entry["id"] for entry in axe.run(page).response["violations"]] == []


def test_changed_kept_named_and_followed(served: Served, folder: Path) -> None:
    """A film changed shows the library's numbers; decision and way are kept, and make prints both."""
    page = served.page
    what_if = WhatIf(Study.open(folder))
    start, job = what_if.start(dt.date.today()), what_if.base.job
    room = job.complaint.room or job.panes[0].room
    assert facts(page).items() >= expected(what_if.study(start, room=room)).items()

    face = next(entry for entry in job.faces if any(pane.face == entry.id for pane in job.panes))
    film = next(entry for entry in job.films if entry.id != start.films.faces[face.id])
    select = labelled(page, "dropdown", face.name or face.id).locator("select")
    changed(page, lambda: select.select_option(label=film.name))
    faces = {**start.films.faces, face.id: film.id}
    films = Choice(faces=faces, panes=start.films.panes)
    tried = Decision(date=dt.date.today(), films=films, panes_out=start.panes_out)
    assert facts(page).items() >= expected(what_if.study(tried, room=room)).items()

    labelled(page, "text", "Name of this way").locator("input").fill(NAME)
    page.get_by_role("button", name="Keep as a way to choose").tap()
    said(page, ".desk-message", "is kept in decisions.yaml")
    assert load_job(folder).job.alternatives[0].name == NAME
    assert NAME in page.locator(".desk-way").first.inner_text()

    other = next(entry for entry in job.films if entry.id not in faces.values())
    changed(page, lambda: select.select_option(label=other.name))
    page.get_by_role("button", name="Keep this").tap()
    said(page, ".desk-message", "Not kept yet")
    labelled(page, "text", "Why another film").locator("input").fill(REASON)
    page.get_by_role("button", name="Keep this").tap()
    said(page, ".desk-message", "Kept in")
    assert load_job(folder).job.decisions[-1].films.faces[face.id] == other.id

    results = json.loads((make(folder, only="html") / "results.json").read_text(encoding="utf-8"))
    offered, named = results["ways"]
    assert (offered["offered"], named["name"]) == (True, NAME)
    on_face = [{part["film"] for part in way["films"] if part["face"] == face.id} for way in (offered, named)]
    assert (other.id in on_face[0], film.id in on_face[1]) == (True, True)
    proposal = (folder / "runs" / "0001" / "proposal.html").read_text(encoding="utf-8")
    assert "Cooler &lt;studio&gt; &amp; $5 more" in proposal

    page.locator(".desk-way button").first.tap()
    said(page, ".desk-message", "is taken out of decisions.yaml")
    assert load_job(folder).job.alternatives == ()


def test_a_job_gone_wrong_is_said_on_the_page(served: Served, folder: Path) -> None:
    """With a mistake in the survey nothing is kept, and the page says which one; the file is left alone."""
    page, survey = served.page, folder / "windows.csv"
    good, before = survey.read_bytes(), (folder / "decisions.yaml").read_bytes()
    survey.write_text("id,room\nS1,nowhere\n", encoding="utf-8")
    page.get_by_role("button", name="Keep this").tap()
    said(page, ".desk-message", "windows.csv")
    survey.write_bytes(good)
    assert (folder / "decisions.yaml").read_bytes() == before


def test_ctrl_c_ends_it_and_cleans_up(served: Served) -> None:
    """The command ends well, and leaves no kernel, and no file of one in the temporary folder."""
    command = served.command
    assert list(served.home.glob("voila_*/kernel-*.json"))
    command.send_signal(signal.SIGINT)
    _, heard = command.communicate(timeout=30)
    assert command.returncode == 0
    assert "Ctrl-C ends it" in heard
    assert "Traceback" not in heard and "WARNING" not in heard
    assert list(served.home.glob("voila_*")) == []
    for process in Path("/proc").glob("[0-9]*/cmdline"):
        with contextlib.suppress(OSError):
            assert str(served.home).encode() not in process.read_bytes()
