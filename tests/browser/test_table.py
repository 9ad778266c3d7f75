"""The consultation as a page, opened on a tablet: changed, kept, named, followed by make, ended."""

import contextlib
import datetime as dt
import html
import json
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from at_the_desk import changed, expected, facts, job_of, labelled, said, surroundings

from reportkit.app.run import make
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.job import Choice, Decision, load_job
from reportkit.study import Study
from reportkit.study.whatif import WhatIf

pytestmark = pytest.mark.browser

JOB = "hill-studio"
REASON = "she wants to keep <the view> & the light"
NAME = "Cooler <studio> & $5 more"

#: A film for the side of the trees, which the rule leaves bare, and one that lets in more light.
DARK, LIGHT = "dual-reflective-20", "ceramic-grey-40"

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


@pytest.mark.parametrize("size", [(768, 1024), (1024, 768), (1280, 900), (390, 844)])
def test_a_tablet_can_use_it(served: Served, size: tuple[int, int]) -> None:
    """Every target is large enough for a finger, nothing is wider than the screen, axe finds nothing."""
    page = served.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    assert page.evaluate(SMALL) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    inner = """() => [...document.querySelectorAll(".desk *")].filter(n => n.scrollWidth > n.clientWidth + 1
      && ["auto", "scroll"].includes(getComputedStyle(n).overflowX)).map(n => n.className)"""
    assert page.evaluate(inner) == []
    top = "s => document.querySelector(s).getBoundingClientRect().top"
    assert page.evaluate(top, ".desk-numbers") <= page.evaluate(top, ".desk-asked") + 1
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

    page.locator(".desk-way").first.get_by_role("button", name="Remove").tap()
    said(page, ".desk-message", "is taken out of decisions.yaml")
    assert load_job(folder).job.alternatives == ()


class Talk:
    """What a fitter does at the page with a client, and what becomes of it."""

    def __init__(self, page: Any, folder: Path) -> None:
        self.page, self.folder = page, folder
        job = load_job(folder).job
        self.films = {film.id: film.name for film in job.films}
        self.faces = {face.id: face.name for face in job.faces}
        (self.room,) = (f"All of {room.name}" for room in job.rooms if room.id == "studio")
        self.first: dict[str, str] = {}

    def choose(self, label: str, option: str) -> None:
        """Choose from a list, where it is not chosen already, and wait for the answer."""
        select = labelled(self.page, "dropdown", label).locator("select")
        chosen = select.evaluate("s => s.selectedOptions[0].textContent")
        if " ".join(chosen.split()) != option:
            changed(self.page, lambda: select.select_option(label=option))

    def say(self, label: str, text: str) -> None:
        """Type something and leave the line."""
        line = labelled(self.page, "text", label).locator("input")
        line.fill(text)
        line.blur()

    def press(self, button: str, answer: str) -> None:
        """Press a button and wait for what is said."""
        self.page.get_by_role("button", name=button).tap()
        said(self.page, ".desk-message", answer)

    def kept(self) -> "Made":
        """Keep what the controls say, and make what follows from it."""
        before = len(load_job(self.folder).job.decisions)
        self.press("Keep this", "Kept in")
        assert len(load_job(self.folder).job.decisions) == before + 1
        return Made(self.folder)


class Made:
    """A run: the film on each pane, its pieces and labels, the price, the proposal's text."""

    def __init__(self, folder: Path) -> None:
        run = make(folder, only="html")
        self.results = json.loads((run / "results.json").read_text("utf-8"))
        self.films = {pane["id"]: pane["film"] for pane in self.results["panes"]}
        strips = [strip for roll in self.results["cutting"]["rolls"] for strip in roll["strips"]]
        self.cut = Counter(piece["pane"] for strip in strips for piece in strip["pieces"])
        shown = Page(Findings(Study.open(folder)))
        (block,) = SECTIONS["labels"](shown).blocks
        own = (label for label in block.labels if "spare piece" not in " ".join(label.lines))
        self.labels = Counter(label.code for label in own)
        self.total = Decimal(self.results["price"]["total"])
        source = (run / "proposal.html").read_text("utf-8")
        text = re.sub(r"<(style|script).*?</\1>|<[^>]+>", " ", source, flags=re.S)
        self.proposal = " ".join(html.unescape(text).split())
        assert " ".join(shown.fmt.money(self.total).split()) in self.proposal


def price(shown: dict[str, str]) -> Decimal:
    """Return the price that the page shows."""
    return Decimal(re.sub(r"[^\d.]", "", shown["Price, fitted"]))


@pytest.fixture(scope="module")
def talk(served: Served, folder: Path) -> Talk:
    """The page with film on the side of the trees and on the roof."""
    talk = Talk(served.page, folder)
    talk.choose(talk.faces["west"], talk.films[DARK])
    talk.say("Why another film", REASON)
    talk.first = facts(talk.page)
    return talk


def test_the_client_drops_a_pane(talk: Talk, folder: Path) -> None:
    """The second of two stays bare: page, log, proposal, cut list and labels have one of them."""
    talk.choose("Leave out one of W1", "W1.2")
    less = facts(talk.page)
    assert less["Film to buy"] != talk.first["Film to buy"]
    talk.press("Keep this", "why W1.2 is left out")
    talk.say("Why is W1.2 left out?", "her drawings hang there")
    made = talk.kept()
    assert load_job(folder).job.decisions[-1].panes_out == {"W1.2": "her drawings hang there"}
    assert (made.films["W1"], made.films["W1.2"]) == (DARK, None)
    assert [(of["W1"], of["W1.2"]) for of in (made.cut, made.labels)] == [(1, 0), (1, 0)]
    assert talk.films[DARK] in made.proposal
    assert made.total <= price(less) < price(talk.first)


def test_the_client_wants_a_lighter_film_in_one_room(talk: Talk) -> None:
    """For all of the studio: on its panes alone, with more daylight, and the proposal names no other film."""
    before = facts(talk.page)["Daylight let in"]
    talk.choose(talk.room, talk.films[LIGHT])
    after = facts(talk.page)["Daylight let in"]
    assert int(after.rstrip("%")) > int(before.rstrip("%"))
    made = talk.kept()
    rooms = {pane["id"]: pane["room"] for pane in made.results["panes"]}
    assert {film for name, film in made.films.items() if rooms[name] == "studio"} == {LIGHT, None}
    assert (made.films["W1"], made.films["W1.2"], made.films["T1"]) == (LIGHT, None, None)
    assert set(made.labels) == {name for name, film in made.films.items() if film}
    assert talk.films[LIGHT] in made.proposal and talk.films[DARK] not in made.proposal


def test_the_client_names_the_middle_way(talk: Talk) -> None:
    """Of two ways beside what is offered one is taken with one press; it is what the proposal offers then."""
    talk.choose(talk.room, talk.films[DARK])
    talk.say("Name of this way", "The middle one")
    talk.press("Keep as a way to choose", "The middle one is kept in decisions.yaml")
    wanted = facts(talk.page)
    talk.choose(talk.room, "as on each face")
    talk.choose(talk.faces["west"], "bare glass")
    talk.say("Name of this way", "The roof alone")
    talk.press("Keep as a way to choose", "The roof alone is kept in decisions.yaml")
    line = talk.page.locator(".desk-way").filter(has_text="The middle one")
    changed(talk.page, lambda: line.get_by_role("button", name="Take this").tap())
    assert facts(talk.page) == wanted
    made = talk.kept()
    assert (made.films["W1"], made.films["W1.2"]) == (DARK, None)
    assert [way["name"] for way in made.results["ways"]] == ["", "The roof alone"]
    assert "The roof alone" in made.proposal and talk.films[DARK] in made.proposal


def test_the_client_changes_back(talk: Talk, folder: Path) -> None:
    """The pane is in again and every face has its film: price and panes are those of the start."""
    talk.choose(talk.room, "as on each face")
    tick = talk.page.locator('.desk .widget-checkbox label:has-text("W1.2 ·")')
    changed(talk.page, tick.tap)
    assert facts(talk.page) == talk.first
    made = talk.kept()
    assert made.films["W1"] == DARK
    assert [of["W1"] + of["W1.2"] for of in (made.cut, made.labels)] == [2, 2]
    assert load_job(folder).job.decisions[-1].panes_out == {}
    assert made.total <= price(talk.first)


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
