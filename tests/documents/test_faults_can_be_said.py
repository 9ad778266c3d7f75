"""Every fault can be said in another language: read off the code, and tried on jobs known to be wrong."""

import ast
import importlib.util
import re
from pathlib import Path
from string import Formatter

import pytest

from reportkit.documents.language import words
from reportkit.documents.language.catalogue import PACKAGE
from reportkit.documents.language.faults import fault_in_words
from reportkit.documents.language.words import Words

#: Two words in a row, which a name or a number with its unit is not.
PROSE = re.compile(r"[a-z]{3,} [a-z]{2,}")
#: What makes a fault, or an error that a person is told, by the name of the call.
MAKERS = {
    "Fault", "JobError", "InputError", "CutListError", "UnavailableError", "MachineError", "FormatError",
    "Rough", "Wrong", "TwoReadings", "_Refused", "broken", "_refuse", "fault", "in_survey", "wrong", "known",
}  # fmt: skip
#: What a sentence of a fault is kept in before it is made.
PARTS = {"rule", "hint", "mend", "found", "why", "told"}
#: Calls that mark a sentence.
MARKS = {"translatable", "english", "words"}
#: Errors that no person is told of a job: those of commands that have no job, ours, and the writer's.
ELSEWHERE = re.compile(
    r"physics/|app/(audit|batch|cluster|commands|jobs|migrations|nursery|parcel)\.py|job/writing/(?!anonymous)|documents/desk"
)
#: Bare all the same.
COMPARED = {"no such file"}


def name_of(call):
    """Return the name of what is called."""
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def bare(node, told=False):
    """Yield the sentences of faults below a node that nothing marks, and their lines.

    Parameters
    ----------
    node
        A part of a module.
    told
        Whether a text here becomes part of a fault; one that begins with "must" always does.
    """
    if isinstance(node, ast.Call):
        if name_of(node) in MARKS:
            for each in [*node.args[1:], *(word.value for word in node.keywords)]:
                yield from bare(each, True)
            return
        told = name_of(node) in MAKERS
    elif isinstance(node, ast.Assign):
        names = {
            name.id for target in node.targets for name in ast.walk(target) if isinstance(name, ast.Name)
        }
        told = bool(names & PARTS)
    elif isinstance(node, (ast.JoinedStr, ast.Constant)):
        parts = node.values if isinstance(node, ast.JoinedStr) else [node]
        text = "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in parts)
        if text.startswith("must ") or (told and PROSE.search(text)):
            yield node.lineno, text
        return
    elif isinstance(node, (ast.stmt, ast.Compare)):
        told = False
    compared = isinstance(node, ast.Compare) or (
        isinstance(node, ast.Call) and name_of(node) in ("startswith", "removeprefix")
    )
    for each in ast.iter_child_nodes(node):
        if not compared:
            yield from bare(each, told)


def test_a_bare_sentence_is_found():
    """The check itself: marked, compared and typed texts pass, others don't, however deep they are."""
    module = """
rule = f"must be {x}"
hint = ("write it" if a else translatable("write it again")), None
fault(at, translatable("must be {x}", x=f"one of {y}"), clipped(typed), "put it there")
raise ValueError(["must be over 0"])
if fault.rule == "must be a column" or text.startswith("must be"):
    note = "any other text"
    fault(at, english("must be given"), typed, f"{name}: {value}")
"""
    assert [text for _, text in bare(ast.parse(module))] == [
        "must be {}",
        "write it",
        "one of {}",
        "put it there",
        "must be over 0",
    ]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.stem)
def test_no_fault_is_made_of_a_bare_sentence(path: Path):
    """Rule, hint and what was found are marked where they are made, or they stay English for every reader."""
    where = path.relative_to(PACKAGE).as_posix()
    if ELSEWHERE.match(where):
        return
    found = [pair for pair in bare(ast.parse(path.read_text("utf-8"))) if pair[1] not in COMPARED]
    assert found == [], f"{where}: put translatable(...) or english(...) around these"


def test_no_sentence_is_filled_with_one_that_stays_english():
    """What fills a sentence is translatable itself: one marked for a table would stay English."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and name_of(node) == "translatable":
                inner = [each for word in node.keywords for each in ast.walk(word.value)]
                names = [name_of(each) for each in inner if isinstance(each, ast.Call)]
                assert "english" not in names, f"{path.name}:{node.lineno}"


class Blank:
    """A language of which every sentence has nothing but its values."""

    def gettext(self, text):
        """Return the names in braces of a template alone."""
        parts = Formatter().parse(text)
        return (
            "".join(f"{{{name}:{spec}}}" if spec else f"{{{name}}}" for _, name, spec, _ in parts if name)
            or "·"
        )


def wrong_jobs():
    """Return the module of the jobs known to be wrong."""
    path = Path(__file__).parents[1] / "job" / "reading" / "test_wrong_jobs.py"
    spec = importlib.util.spec_from_file_location("wrong_jobs", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_no_english_is_left_in_the_faults_of_wrong_jobs(tmp_path, monkeypatch):
    """With every sentence left blank, rule and hint hold nothing but names and what to type."""
    monkeypatch.setattr(words, "_catalogue", lambda tag: Blank())
    blank, jobs = Words("es"), wrong_jobs()
    left = {}
    for number, wrong in enumerate(jobs.TABLE):
        folder = jobs.starter(tmp_path / str(number))
        jobs.spoil(folder, wrong)
        for fault in jobs.faults_of(folder):
            bare_fault = type(fault)("", 0, "", fault.rule, None, fault.hint)
            said = fault_in_words(bare_fault, blank)
            if PROSE.search(said):
                left[wrong.name] = said
    assert number > 100
    assert left == {}
