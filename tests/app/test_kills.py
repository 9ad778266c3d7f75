"""Commands killed at random moments leave what was there before, or all that they were to write.

``KILLS=300`` kills so many, ``KILLS_FROM`` is their seed.
"""

import contextlib
import os
import random
import shutil
import signal
import sys
import time
from collections import Counter
from pathlib import Path

import papermill
import pytest
from nbclient.exceptions import DeadKernelError
from small_job import READINGS, written
from trials import many

from reportkit.app.archive import runs_of
from reportkit.app.audit import audit, verified
from reportkit.app.run import make
from reportkit.app.stopping import Stopped, stoppable
from reportkit.job import load_job

KILLS = many("KILLS", 3, 12)
SEED = int(os.environ.get("KILLS_FROM", "1503"))

COMMANDS = {
    "make": ("make", "--only", "html"),
    "kernel": ("make", "--only", "html", "--kernel"),
    "review": ("review", "--only", "html"),
    "decide": ("decide",),
}
#: How often each is picked; a kernel takes longest.
PICKED = ("make", "make", "make", "review", "review", "review", "decide", "decide", "decide", "kernel")


@pytest.fixture
def job(tmp_path):
    """Return a small job that can be made and reviewed; one beside it, to be decided about."""
    for name in ("job", "decided"):
        (tmp_path / name).mkdir()
        written(tmp_path / name)
        (tmp_path / name / "readings.csv").write_text(READINGS, "utf-8")
    return tmp_path / "job"


def _asked(name, job):
    return (*COMMANDS[name], job) if name != "decide" else ("decide", job.parent / "decided", 20)


def _notes(job):
    return [decision.note for decision in load_job(job.parent / "decided").job.decisions]


@pytest.mark.trial
@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="processes are looked up in /proc")
def test_no_moment_to_be_killed_at_leaves_half_a_run(job, forking, capsys):
    """Runs are whole and come out again, no decision is lost, nothing lives 5 s longer, the next sweeps."""
    dice = random.Random(SEED)  # the same moments again, as far as the machine allows
    whole = {}
    for name in COMMANDS:
        begun = time.monotonic()
        forking.start(*_asked(name, job))
        assert forking.wait() == 0
        whole[name] = time.monotonic() - begun
    first = runs_of(job)
    assert len(first) == 3 and all(audit(run).same for run in first)
    same = {(run / "results.json").read_bytes() for run in first}
    log = job.parent / "decided" / "decisions.yaml"
    counts, swept = Counter(), set()
    for _ in range(KILLS):
        name = dice.choice(PICKED)
        before, notes = set(runs_of(job)), _notes(job)
        process = forking.start(*_asked(name, job))
        share = dice.uniform(0, 1.1)
        time.sleep(share * whole[name])
        sign = dice.choice((signal.SIGKILL, signal.SIGKILL, signal.SIGTERM))
        os.kill(process, sign)
        ended_with = forking.wait()
        # one told to stop before it listens ends as one killed
        assert ended_with in {0, -sign, *((128 + sign,) if sign == signal.SIGTERM else ())}
        counts[name, "after its end" if ended_with == 0 else f"quarter {1 + int(4 * min(share, 0.99))}"] += 1
        whole[name] *= 0.8 if ended_with == 0 else 1.02  # other work on the machine comes and goes
        ended = time.monotonic()
        while forking.others():
            assert time.monotonic() - ended < 5, forking.others()
            time.sleep(0.05)
        for run in set(runs_of(job)) - before:
            verified(run)
            assert (run / "results.json").read_bytes() in same
        assert _notes(job)[: len(notes)] == notes
        swept |= set(_half_done(job, forking))
        for run in sorted(before)[3:-2]:
            shutil.rmtree(run)
        if len(notes) > 60:
            log.unlink()
    for name in ("make", "decide"):
        forking.start(*_asked(name, job))
        assert forking.wait() == 0
    assert _half_done(job, forking) == []
    assert {path.name for path in (job / "runs").iterdir()} == {run.name for run in runs_of(job)}
    assert all(audit(run).same for run in runs_of(job))
    with capsys.disabled():
        told = "; ".join(f"{name}, {moment}: {count}" for (name, moment), count in sorted(counts.items()))
        sys.stdout.write(
            f"\nkilled {told}; {len(swept)} times something half done lay about, and was swept\n"
        )


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="processes are looked up in /proc")
def test_told_to_stop_a_command_ends_its_kernel_first(job, forking):
    """A kernel just started would look for its folder, and make another where that is gone."""
    process = forking.start(*_asked("kernel", job))
    begun = time.monotonic()
    while not any(map(_is_a_kernel, forking.others())):
        assert time.monotonic() - begun < 60
        time.sleep(0.01)
    time.sleep(1.0)  # whoever started it knows it, on a busy machine too
    os.kill(process, signal.SIGTERM)
    assert forking.wait() == 128 + signal.SIGTERM
    assert forking.others() == []
    assert _half_done(job, forking) == []


def test_a_kernel_that_dies_of_a_stop_is_no_failed_notebook(job, monkeypatch):
    """Where the stop itself is lost on the way, what ends is still a stop."""

    def execute(*asked, **how):
        with contextlib.suppress(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGTERM)
            time.sleep(1)
        raise DeadKernelError("Kernel died")

    monkeypatch.setattr(papermill, "execute_notebook", execute)
    with pytest.raises(Stopped), stoppable():
        make(job, kernel=True)
    assert runs_of(job) == []


def _is_a_kernel(number):
    """Return whether a process is a kernel; one that has gone is none."""
    try:
        return b"ipykernel" in Path(f"/proc/{number}/cmdline").read_bytes()
    except OSError:
        return False


def _half_done(job, forking):
    """Return what lies about that no run and no log is."""
    runs, logs = (job / "runs").glob(".*"), (job.parent / "decided").glob(".*")
    return [*runs, *logs, *forking.temporary.iterdir()]
