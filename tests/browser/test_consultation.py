"""The consultation in a real JupyterLab and browser: change a film, keep the decision, make follows it."""

import datetime as dt
import json
import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from reportkit.app.run import consultation, make
from reportkit.documents.page import Page
from reportkit.findings.findings import Findings
from reportkit.job import Choice, Decision, load_job
from reportkit.study import Study
from reportkit.study.whatif import WhatIf

pytestmark = pytest.mark.browser

JOBS = Path(__file__).parents[2] / "jobs"
JOB = "harbour-house"
FACE = "south-east"
REASON = "she wants to keep <the view> & the light"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of a demo job with the consultation put into it."""
    home = tmp_path_factory.mktemp("talk")
    shutil.copytree(JOBS / "_shared", home / "_shared")
    skip = shutil.ignore_patterns("runs", "decisions.yaml", "*.ipynb")
    shutil.copytree(JOBS / JOB, home / JOB, ignore=skip)
    consultation(home / JOB)
    return home / JOB


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
    names = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
        "IPYTHONDIR": "ipython",
    }
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
        env=os.environ | {name: str(home / part) for name, part in names.items()},
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


def _labelled(page: Any, kind: str, label: str) -> Any:
    """Return a control by the text of its label."""
    return page.locator(f'.desk .widget-{kind}:has(> label:text-is("{label}"))')


def _facts(page: Any) -> dict[str, str]:
    """Return what the desk shows, value by label."""
    pairs = page.locator(".desk-numbers .facts > div")
    texts = pairs.evaluate_all("all => all.map(d => [...d.children].map(c => c.textContent))")
    return {parts[0].strip(): parts[1].strip() for parts in texts}


def _expected(study: Study) -> dict[str, str]:
    """Return what the desk has to show for a study, by the library alone."""
    shown = Page(Findings(study))
    entry = shown.chosen
    return {
        "Sun's heat at the worst hour": shown.fmt.power(entry.peak_solar_w, 3),
        "Daylight let in": shown.fmt.percent(entry.t_visible),
        "Price, fitted": shown.fmt.money(entry.cost),
    }


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
    before = _facts(page)
    assert before.items() >= _expected(what_if.study(start, room=room)).items()

    words = what_if.base.job
    face = next(entry.name or entry.id for entry in words.faces if entry.id == FACE)
    film = next(entry.name or entry.id for entry in words.films if entry.id == other)
    _labelled(page, "dropdown", face).locator("select").select_option(label=film)
    page.wait_for_function(
        "old => document.querySelector('.desk-numbers .facts').textContent !== old",
        arg=page.locator(".desk-numbers .facts").text_content(),
        timeout=20_000,
    )
    faces = {**start.films.faces, FACE: other}
    tried = Decision(date=dt.date.today(), films=Choice(faces=faces), panes_out=start.panes_out)
    expected = _expected(what_if.study(tried, room=room))
    after = _facts(page)
    assert after != before
    assert after.items() >= expected.items()

    page.get_by_role("button", name="Keep this").click()
    page.wait_for_function("document.querySelector('.desk-message').textContent.includes('Not kept yet')")
    assert not (folder / "decisions.yaml").exists()
    _labelled(page, "text", "Why another film").locator("input").fill(REASON)
    _labelled(page, "text", "Who decides").locator("input").fill("Invented Owner")
    page.get_by_role("button", name="Keep this").click()
    page.wait_for_function("document.querySelector('.desk-message').textContent.includes('Kept in')")

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
