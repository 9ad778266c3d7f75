"""HEIC photos are decoded apart: a bomb, a hang or a decoder that dies is a fault of that photo alone."""

import shutil
import sys
from pathlib import Path

import pytest
import small_job

from reportkit.app.command_line import main
from reportkit.job import load_job
from reportkit.job.reading import apart
from reportkit.job.reading.apart import decoded
from reportkit.job.reading.pixels import from_heic

HEIC = Path(__file__).with_name("window.heic")

#: The program with a decoder that does harm where a file says so.
HARMFUL = """
import os, signal, runpy, sys
made = runpy.run_path({program!r}, run_name="pixels")
def harm(data, decode=made["from_heic"]):
    if data == b"dies": os.kill(os.getpid(), signal.SIGKILL)
    if data == b"breaks": os.abort()
    if data == b"writes": print("noise"); os.write(1, b"noise"); open({out!r}, "wb", 0).write(b"x" * 10)
    while data == b"spins": pass
    if data == b"swells": bytearray(8_000_000_000)
    return b"harm was done" if data in (b"writes", b"swells") else decode(data)
scope = made["main"].__globals__
scope["from_heic"], scope["SECONDS"] = harm, 1
pipe = os.fdopen(os.dup(1), "wb")
os.dup2(2, 1)
scope["main"](sys.stdin.buffer, pipe)
"""


def survey_with(photo: str) -> str:
    """Return the small job's survey with a photo of its first pane."""
    return small_job.SURVEY.replace("access\n", "access,photo\n").replace("floor\n", f"floor,{photo}\n")


def test_several_in_one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each file has its own answer, in order, the picture that this process would make; one process began."""
    begun = []
    run = apart.subprocess.run
    monkeypatch.setattr(apart.subprocess, "run", lambda *a, **k: (begun.append(a), run(*a, **k))[1])
    whole = HEIC.read_bytes()
    at = whole.index(b"ispe") + 8
    bomb = whole[:at] + (60_000).to_bytes(4, "big") * 2 + whole[at + 8 :]
    files = [whole, whole[:3000], b"no picture", bomb, whole]
    first, cut, none, large, last = decoded(files)
    assert first == last == from_heic(whole)
    assert str(cut).startswith("must be a picture that")
    assert none == "must be a HEIC, JPEG or PNG picture"
    assert str(large).startswith("must ")
    assert len(begun) == 1
    assert decoded([]) == [] and len(begun) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="no limits there, and no signals")
def test_a_decoder_that_dies_takes_one_photo_with_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Killed, aborted, over its memory, over its time, writing a file: refused; the others are made."""
    program, out = tmp_path / "harmful.py", tmp_path / "out"
    program.write_text(HARMFUL.format(program=str(apart.PROGRAM), out=str(out)), "utf-8")
    monkeypatch.setattr(apart, "PROGRAM", program)
    whole = HEIC.read_bytes()
    found = decoded([whole, b"dies", b"breaks", whole, b"swells", b"spins", b"writes", whole])
    assert [isinstance(one, bytes) for one in found] == [True, False, False, True, False, False, False, True]
    assert all(str(one).startswith("must ") for one in found if isinstance(one, str))
    assert not out.exists() or not out.read_bytes()


def test_a_dead_decoder_is_a_fault_of_its_row(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """`check` ends with 2 and names the row, in no word its own mistake; the photo beside it is no fault."""
    program = tmp_path / "dead.py"
    program.write_text("import sys; sys.exit(3)", "utf-8")
    folder = tmp_path / "job"
    folder.mkdir()
    small_job.written(folder, survey=survey_with("a.heic"))
    shutil.copy(HEIC, folder / "a.heic")
    assert load_job(folder).photos["A"].media_type == "image/jpeg"
    monkeypatch.setattr(apart, "PROGRAM", program)
    assert main(["check", str(folder)]) == 2
    told = capsys.readouterr()
    assert told.out.startswith("windows.csv:2 photo: must be a picture that can be read") and not told.err
    assert len(told.out.splitlines()) == 1


def test_a_job_without_heic_begins_no_process(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Other photos are read as before, here."""
    monkeypatch.setattr(apart.subprocess, "run", lambda *_, **__: pytest.fail("a process began"))
    folder = tmp_path / "job"
    folder.mkdir()
    small_job.written(folder, survey=survey_with("a.jpg"))
    shutil.copy(Path(__file__).parents[3] / "jobs" / "harbour-house" / "photos" / "L1.jpg", folder / "a.jpg")
    assert load_job(folder).photos["A"].media_type == "image/jpeg"


UNFILLED = b'["must have at most {millions} million pixels", {}]'
OTHERS = (b"no json", b"[]", b"[1, 2]", b'["{0.__class__}", {}]', b'["must be anything else", {}]', UNFILLED)


@pytest.mark.parametrize("said", OTHERS)
def test_what_a_decoder_says_is_not_taken_for_a_rule(said: bytes) -> None:
    """A file that took its decoder over says what it likes: only the program's own rules are passed on."""
    assert apart._told(said) == apart._DIED


def test_what_a_decoder_fills_a_rule_with_is_cut_short() -> None:
    """A text of any length and with braces stays text."""
    said = b'["must be a picture that can be read ({error})", {"error": "{x}' + b"x" * 5000 + b'"}]'
    rule = apart._told(said)
    assert rule.startswith("must be a picture that can be read ({x}") and len(rule) < 200
