"""What tests of the consultation in a browser share: a job to talk over, the desk's controls and answers."""

import os
import shutil
from pathlib import Path
from typing import Any

import reportkit
from reportkit.documents.page import Page
from reportkit.findings.findings import Findings
from reportkit.study import Study

JOBS = Path(__file__).parent.parent / "jobs"


def job_of(name: str, home: Path) -> Path:
    """Return a copy of a demo job without its runs and decisions."""
    shutil.copytree(JOBS / "_shared", home / "_shared")
    skip = shutil.ignore_patterns("runs", "decisions.yaml", "*.ipynb")
    return shutil.copytree(JOBS / name, home / name, ignore=skip)


def surroundings(home: Path, **more: str) -> dict[str, str]:
    """Return an environment of its own: settings of nobody, and the package under test in every kernel."""
    names = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "IPYTHONDIR": "ipython",
    }
    own = {name: str(home / part) for name, part in names.items()}
    return os.environ | own | {"PYTHONPATH": str(Path(reportkit.__file__).parents[1])} | more


def labelled(page: Any, kind: str, label: str) -> Any:
    """Return a control by the text of its label."""
    return page.locator(f'.desk .widget-{kind}:has(> label:text-is("{label}"))')


def facts(page: Any) -> dict[str, str]:
    """Return what the desk shows, value by label."""
    pairs = page.locator(".desk-numbers .facts > div")
    texts = pairs.evaluate_all("all => all.map(d => [...d.children].map(c => c.textContent))")
    return {parts[0].strip(): parts[1].strip() for parts in texts}


def expected(study: Study) -> dict[str, str]:
    """Return what the desk has to show for a study, by the library alone."""
    shown = Page(Findings(study))
    entry = shown.chosen
    return {
        "Sun's heat at the worst hour": shown.fmt.power(entry.peak_solar_w, 3),
        "Daylight let in": shown.fmt.percent(entry.t_visible),
        "Price, fitted": shown.fmt.money(entry.cost),
    }


def said(page: Any, where: str, words: str) -> None:
    """Wait until one of the desk's messages says something."""
    page.wait_for_function(
        "([where, words]) => [...document.querySelectorAll(where)].some(n => n.textContent.includes(words))",
        arg=[where, words],
        timeout=20_000,
    )


def changed(page: Any, act: Any) -> None:
    """Do something and wait until the numbers follow."""
    old = page.locator(".desk-numbers").text_content()
    act()
    page.wait_for_function(
        "old => document.querySelector('.desk-numbers').textContent !== old", arg=old, timeout=20_000
    )
