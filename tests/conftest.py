"""What many tests share."""

import ast
import functools
import gc
import os
import shutil
import sys
import tempfile
from contextlib import contextmanager, suppress
from pathlib import Path

import private
import pytest
from forked import Forking
from hypothesis import settings
from once import PURE, Once, shared
from platformdirs import user_cache_dir
from pydantic import TypeAdapter

from reportkit.app.run import make, without_grammars
from reportkit.base.cores import cores
from reportkit.documents.layouts.templates import template
from reportkit.documents.page import Page
from reportkit.documents.view import Report
from reportkit.findings.findings import Findings, Results, sections
from reportkit.study import Study

with without_grammars():  # what costs each process most of its start
    import nbformat

# What is compiled is kept in any environment: else each process that a test starts compiles all of it anew.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# as often as a run does: hundreds of thousands of objects stay, and looking among them costs a twentieth
gc.set_threshold(50_000)

# the same examples on every machine, so that a red run is about the change and can be repeated
settings.register_profile("fixed", derandomize=True, deadline=None)
settings.load_profile("fixed")

#: Modules that take longest, in this order: a process takes a module whole, and no long one must begin last.
LONGEST = (
    "browser/test_documents.py",
    "generated/test_generated_jobs.py",
    "generated/fields/test_every_field.py",
    "job/writing/test_book.py",
    "app/test_pipeline.py",
    "study/test_normals.py",
    "app/test_kills.py",
    "app/test_batch.py",
    "browser/test_consultation.py",
    "physics/glass/test_glass_fitting.py",
    "cutting/test_planner_fuzz.py",
    "app/test_command_line.py",
    "app/test_template.py",
    "documents/test_as_printed.py",
    "job/reading/test_other_writers.py",
    "generated/test_generated_browser.py",
)


def pytest_xdist_auto_num_workers():
    """Start a process more than there are cores: one that drives a browser waits for it half of its time."""
    return cores() + 1


def pytest_collection_modifyitems(items):
    """Put what takes longest first; what stays together keeps its order."""
    rank = {Path(__file__).parent / name: place for place, name in enumerate(LONGEST)}
    assert all(path.is_file() for path in rank), "LONGEST names a module that is gone"
    items.sort(key=lambda item: rank.get(item.path, len(rank)))


JOBS = Path(__file__).parent.parent / "jobs"
DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: Invented jobs that are there for the tests alone: their prices are their own.
OFFERS = Path(__file__).parent / "offers"


@pytest.fixture(scope="session")
def once(tmp_path_factory):
    """What the processes of this run compute once between them."""
    return Once(shared(tmp_path_factory))


@pytest.fixture(scope="session", autouse=True)
def _kept_apart(once):
    """What the program keeps between commands begins empty in each run, and this run's processes share it.

    What libraries keep stays where it is: matplotlib takes seconds to list the fonts.
    """
    own, usual = once.folder / "kept", Path(user_cache_dir())
    own.mkdir(mode=0o700, exist_ok=True)
    for other in usual.iterdir() if usual.is_dir() else ():
        if other.name != "reportkit":
            with suppress(FileExistsError):
                (own / other.name).symlink_to(other)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(own))
        yield


@pytest.fixture(scope="session", autouse=True)
def _pure_parts_once(once):
    """Studies take what is a function of its arguments alone from what was computed for the others."""
    with pytest.MonkeyPatch.context() as patch:
        for module, name in PURE:
            patch.setattr(module, name, once.function(getattr(module, name)))
        yield


@functools.cache
def _study(name):
    return Study.open(JOBS / name)


@pytest.fixture(scope="session")
def study_of():
    """Return a function from a demo job's name to its study, computed once."""
    return _study


@pytest.fixture(scope="session")
def results_of(once):
    """Return a function from a demo job's name to its results, computed once for all."""
    return functools.cache(lambda name: once.get(f"results-{name}", lambda: dict(Results(_study(name)))))


@pytest.fixture(scope="session")
def page_of():
    """Return a function from a study to the page of its findings, some sections replaced.

    A section is given as records, or as the data of results.json; ``job`` gives fields of the job.
    """

    def page(study, photos=None, *, job=None, **changed):
        findings = Findings(study)
        if job is not None:
            findings.__dict__["job"] = study.job.model_copy(update=dict(job))
        for name, data in changed.items():
            findings.__dict__[name] = TypeAdapter(sections()[name].type).validate_python(data)
        return Page(findings, photos)

    return page


def _book(study, *kinds):
    """Return the notebook of the reasoning as a kernel would leave it, made in this process.

    Of its sections only those that stand in documents of some kinds, where these are given.
    """
    book = nbformat.read(template("reasoning.ipynb"), as_version=4)
    report = Report(study)
    shown = {"section": report.section, "record": report.record}
    for cell in book.cells:
        if cell.cell_type != "code":
            continue
        places = cell.metadata.get("reportkit", {})
        if kinds and places and not places.keys() & {*kinds}:
            continue
        last = ast.parse(cell.source).body[-1]
        if isinstance(last, ast.Expr) and isinstance(last.value, ast.Call):
            asked = [argument.value for argument in last.value.args]
            data = shown[last.value.func.attr](*asked)._repr_mimebundle_()
            cell.outputs = [nbformat.v4.new_output("execute_result", data=data, execution_count=1)]
    return book


@pytest.fixture(scope="session")
def book():
    """Return a function from a study, and kinds of documents, to its notebook as if run, without a kernel."""
    return _book


@pytest.fixture(scope="session")
def book_of(once):
    """Return a function from a demo job's name to its notebook, made once for all without a kernel."""
    return functools.cache(lambda name: once.get(f"book-{name}", lambda: _book(_study(name))))


@pytest.fixture(scope="session")
def run_of(once):
    """Return a function from a job's name, a demo's or an offer's, to a run by the whole chain, made once.

    It has the review, too, where there is one. What is the business's own stands out in it: see `private`.
    """

    def make_run(name):
        home = Path(tempfile.mkdtemp(dir=once.folder))
        skip = shutil.ignore_patterns("runs", "*.ipynb")
        if (OFFERS / name).is_dir():
            shutil.copytree(OFFERS / name, home / name)
            skip = shutil.ignore_patterns("prices.yaml")
        else:
            shutil.copytree(JOBS / name, home / name, ignore=skip)
        shutil.copytree(JOBS / "_shared", home / "_shared", ignore=skip)
        for path in home.rglob("*.yaml"):
            path.write_text(private.marked(path.read_text("utf-8")), "utf-8")
        run = make(home / name)
        if (home / name / "readings.csv").exists():
            for path in make(home / name, documents=("review",)).glob("review.*"):
                shutil.copy(path, run)
        return run

    return lambda name: once.get(f"run-{name}", lambda: make_run(name))


@pytest.fixture(scope="session")
def forking(tmp_path_factory):
    """Return a process that forks commands, with a temporary folder of its own."""
    process = Forking(tmp_path_factory.mktemp("temporary"))
    yield process
    process.close()


@pytest.fixture(scope="session")
def edited(tmp_path_factory):
    """Return a function from a demo job and pairs of text, old and new, to the study of the changed job."""

    def study(name, *changes):
        home = tmp_path_factory.mktemp("edited")
        shutil.copytree(JOBS / "_shared", home / "_shared")
        folder = shutil.copytree(JOBS / name, home / name, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
        text = (folder / "job.yaml").read_text("utf-8")
        for old, new in changes:
            assert text.count(old) >= 1, old
            text = text.replace(old, new, 1)
        (folder / "job.yaml").write_text(text, "utf-8")
        return Study.open(folder)

    return study


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

    def __init__(self, page):
        self.page = page
        self.complaints = []
        self.requests = []
        page.on("console", lambda message: self.complaints.append(message.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self._asked(request.url))

    def _asked(self, url):
        if not url.startswith(("data:", "blob:")):
            self.requests.append(url)

    def show_all(self):
        """Bring every picture into view, and wait until each that can is interactive."""
        self.page.bring_to_front()  # a page behind another draws no frames, and a click waits for two
        for figure in self.page.query_selector_all("figure:has(.live)"):
            figure.scroll_into_view_if_needed()
            figure.wait_for_selector(".live .main-svg", timeout=20_000)
        self.page.evaluate("document.fonts.ready")

    def width(self):
        """Return how wide the page is, what must be scrolled to included [px]."""
        return int(self.page.evaluate("document.documentElement.scrollWidth"))


@pytest.fixture(scope="session")
def chromium():
    """The system's Chromium; tests are skipped where there is none."""
    api = pytest.importorskip("playwright.sync_api")
    own = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if own is None:
        pytest.skip("no Chromium here")
    with api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=own, args=QUIET)
        yield browser
        browser.close()


@contextmanager
def _opening(chromium):
    """Give a function that opens a file with the network off, and close all that it opened."""
    contexts = []

    def opened(path, width=1280, **settings):
        context = chromium.new_context(viewport={"width": width, "height": 900}, offline=True, **settings)
        contexts.append(context)
        made = Opened(context.new_page())
        made.page.goto(path.as_uri())
        return made

    yield opened
    for context in contexts:
        context.close()


@pytest.fixture
def open_file(chromium):
    """Return a function that opens a file with the network off."""
    with _opening(chromium) as opened:
        yield opened


@pytest.fixture(scope="module")
def open_for_all(chromium):
    """Return a function that opens a file with the network off, for all tests that look at it."""
    with _opening(chromium) as opened:
        yield opened
