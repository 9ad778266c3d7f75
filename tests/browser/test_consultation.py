"""A real JupyterLab in a browser: the consultation, changed, kept and followed; the archived notebook."""

import datetime as dt
import json
import secrets
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest
from archived import amounts, notebook, shown, text_of
from at_the_desk import changed, expected, facts, job_of, labelled, said, surroundings

from reportkit.app.run import consultation, make
from reportkit.job import Choice, Decision, load_job
from reportkit.study import Study
from reportkit.study.whatif import WhatIf

pytestmark = pytest.mark.browser

JOB = "harbour-house"
FACE = "south-east"
REASON = "she wants to keep <the view> & the light"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of a demo job with the consultation put into it."""
    place = job_of(JOB, tmp_path_factory.mktemp("talk"))
    consultation(place)
    return place


@pytest.fixture(scope="module")
def page(folder: Path, tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[Any]:
    """The consultation open in JupyterLab; skipped where there is no Chromium."""
    pytest.importorskip("jupyterlab")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    token = secrets.token_hex(16)
    server = _server(folder, tmp_path_factory.mktemp("lab"), port, token)
    shown = None
    try:
        _wait_for(f"http://127.0.0.1:{port}/api/status?token={token}", server)
        shown = chromium.new_page(viewport={"width": 1500, "height": 1300})
        shown.goto(f"http://127.0.0.1:{port}/lab/tree/consultation.ipynb?token={token}&reset")
        yield shown
    finally:
        if shown is not None:
            shown.close()
        server.terminate()
        server.communicate(timeout=20)


def _server(folder: Path, home: Path, port: int, token: str) -> "subprocess.Popen[bytes]":
    """Start JupyterLab on this machine alone, with settings of its own."""
    quiet = home / "settings" / "@jupyterlab" / "apputils-extension"
    quiet.mkdir(parents=True)
    text = '{"fetchNews": "false", "checkForUpdates": false}'
    (quiet / "notification.jupyterlab-settings").write_text(text, encoding="utf-8")
    whole = home / "settings" / "@jupyterlab" / "notebook-extension"
    whole.mkdir(parents=True)
    text = '{"windowingMode": "none"}'  # every cell is drawn, seen or not
    (whole / "tracker.jupyterlab-settings").write_text(text, encoding="utf-8")
    more = {"JUPYTERLAB_SETTINGS_DIR": "settings", "JUPYTERLAB_WORKSPACES_DIR": "workspaces"}
    return subprocess.Popen(
        [
            sys.executable,
            "-m",
            "jupyterlab",
            "--no-browser",
            "--ServerApp.ip=127.0.0.1",
            f"--ServerApp.port={port}",
            "--ServerApp.port_retries=0",
            "--ServerApp.allow_root=True",
            f"--IdentityProvider.token={token}",
            f"--ServerApp.root_dir={folder}",
        ],
        env=surroundings(home, **{name: str(home / part) for name, part in more.items()}),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _wait_for(address: str, server: "subprocess.Popen[bytes]") -> None:
    for _ in range(200):
        if server.poll() is not None:
            pytest.fail(f"JupyterLab ended with {server.returncode}")
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.2)
    pytest.fail("JupyterLab did not answer")


def test_change_keep_and_make(page: Any, folder: Path) -> None:
    """A film changed at the desk gives the library's numbers; kept with a reason, make follows it."""
    what_if = WhatIf(Study.open(folder))
    start = what_if.start(dt.date.today())
    best = start.films.faces[FACE]
    other = next(name for name in what_if.base.films if name != best)
    room = what_if.base.job.complaint.room

    page.wait_for_selector(".jp-Notebook", timeout=40_000)
    page.get_by_text("| Idle").wait_for(timeout=40_000)
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
    page.wait_for_selector(".desk-numbers .facts", timeout=40_000)
    before = facts(page)
    assert before.items() >= expected(what_if.study(start, room=room)).items()

    words = what_if.base.job
    face = next(entry.name or entry.id for entry in words.faces if entry.id == FACE)
    film = next(entry.name or entry.id for entry in words.films if entry.id == other)
    select = labelled(page, "dropdown", face).locator("select")
    changed(page, lambda: select.select_option(label=film))
    faces = {**start.films.faces, FACE: other}
    tried = Decision(date=dt.date.today(), films=Choice(faces=faces), panes_out=start.panes_out)
    after = facts(page)
    assert after != before
    assert after.items() >= expected(what_if.study(tried, room=room)).items()

    page.get_by_role("button", name="Keep this").click()
    said(page, ".desk-message", "Not kept yet")
    assert not (folder / "decisions.yaml").exists()
    labelled(page, "text", "Why another film").locator("input").fill(REASON)
    labelled(page, "text", "Who decides").locator("input").fill("Invented Owner")
    page.get_by_role("button", name="Keep this").click()
    said(page, ".desk-message", "Kept in")

    kept = load_job(folder).job.decisions[-1]
    assert kept.films.faces == faces
    assert (kept.overrides, kept.who) == (REASON, "Invented Owner")
    run = make(folder, only="html")
    results = json.loads((run / "results.json").read_text(encoding="utf-8"))
    films = {pane["id"]: pane["film"] for pane in results["panes"]}
    chosen = what_if.study(tried).chosen
    assert films == {pane.id: film for pane, film in zip(words.panes, chosen.film_by_pane, strict=True)}
    assert results["choice"]["by"] == "job"
    proposal = (run / "basis.html").read_text(encoding="utf-8")
    assert "she wants to keep &lt;the view&gt; &amp; the light" in proposal
    assert (run / "inputs" / "decisions.yaml").read_bytes() == (folder / "decisions.yaml").read_bytes()


#: Pictures that are not there, or of which a frame that does not scroll, or the page's side, cuts something.
CUT = """pictures => pictures.filter(picture => {
  const box = picture.getBoundingClientRect();
  if (!(picture.naturalWidth > 100 && box.width > 100 && box.right <= innerWidth)) return true;
  if (Math.abs(box.height / box.width - picture.naturalHeight / picture.naturalWidth) > 0.02) return true;
  for (let around = picture.parentElement; around; around = around.parentElement) {
    const frame = around.getBoundingClientRect(), style = getComputedStyle(around);
    const beside = box.left < frame.left - 1 || box.right > frame.right + 1;
    if (style.overflowX !== 'visible' && beside) return true;
    if (['auto', 'scroll'].includes(style.overflowY)) return false;
    const above = box.top < frame.top - 1 || box.bottom > frame.bottom + 1;
    if (style.overflowY !== 'visible' && above) return true;
  }
}).map(picture => picture.alt)"""

#: An output that is not ours: JupyterLab sets its dollars as a formula, and takes out what could run.
OF_OTHERS = '<p class="of-others" onclick="x()">From $5 to $9.</p>'


def test_the_archived_notebook_shows_everything_untrusted(
    page: Any, folder: Path, run_of: Callable[[str], Path]
) -> None:
    """In JupyterLab, trusted by nobody, every picture shows whole and every dollar is a dollar.

    An output of others beside them shows that outputs are looked through for formulas, and not trusted.
    """
    book = notebook(run_of("corner-shop"))
    outputs = shown(book)
    others = nbformat.v4.new_output("display_data", data={"text/html": OF_OTHERS})
    book.cells.append(nbformat.v4.new_code_cell(outputs=[others]))
    nbformat.write(book, folder / "archived.ipynb")
    pictures = sum(html.count("<img") for html in outputs)
    assert pictures > 10
    held = amounts(text_of(outputs))
    assert len(held) > 20
    address = page.url.split("/lab")[0]
    page.goto(f"{address}/lab/tree/archived.ipynb?reset")
    page.wait_for_selector(".of-others mjx-container", timeout=60_000)
    page.wait_for_function(
        "n => document.querySelectorAll('.jp-OutputArea img').length === n", arg=pictures, timeout=30_000
    )
    page.wait_for_function("[...document.querySelectorAll('.jp-OutputArea img')].every(i => i.complete)")
    assert page.locator(".jp-OutputArea img").evaluate_all(CUT) == []
    assert page.locator("mjx-container").count() == 1
    assert page.locator(".of-others[onclick]").count() == 0
    assert amounts(" ".join(page.locator(".jp-OutputArea .reportkit").all_text_contents())) == held
