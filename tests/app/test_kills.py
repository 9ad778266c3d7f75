"""Commands killed at random moments leave what was there before, or all that they were to write.

``KILLS=300`` kills so many; without it a few.
"""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small_job import written

from reportkit.app.archive import runs_of
from reportkit.app.audit import verified
from reportkit.job import load_job

KILLS = int(os.environ.get("KILLS", "4"))

READINGS = """time,meter,pane,filmed,beside,bare,note
2026-04-20 15:00,sun,A,210,open,640,
2026-04-20 15:20,sun,A,190,open,600,
"""
DECIDE = """
import datetime, sys
from pathlib import Path
from reportkit.job.model.decisions import Decision
from reportkit.job.writing.decisions import keep
for number in range(100_000):
    keep(Path(sys.argv[1]), Decision(date=datetime.date(2026, 3, 3), note=f"number {number}"), units="metric")
"""
COMMANDS = {
    "make": ["-m", "reportkit", "make", "--only", "html"],
    "kernel": ["-m", "reportkit", "make", "--only", "html", "--kernel"],
    "review": ["-m", "reportkit", "review", "--only", "html"],
    "decide": ["-c", DECIDE],
}


@pytest.fixture
def job(tmp_path):
    """Return a small job that can be made, reviewed and decided about."""
    folder = tmp_path / "job"
    folder.mkdir()
    written(folder)
    (folder / "readings.csv").write_text(READINGS, "utf-8")
    return folder


def _ours(temporary):
    """Return the processes that were started with a temporary folder: the command's own, its kernel's."""
    found = []
    for entry in Path("/proc").iterdir():
        try:
            if entry.name.isdecimal() and f"TMPDIR={temporary}".encode() in (entry / "environ").read_bytes():
                found.append(int(entry.name))
        except OSError:  # gone meanwhile
            continue
    return found


def _start(name, job, temporary):
    command = COMMANDS[name]
    return subprocess.Popen(
        [sys.executable, *command, str(job)],
        env={**os.environ, "TMPDIR": str(temporary)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="processes are looked up in /proc")
def test_no_moment_to_be_killed_at_leaves_half_a_run(job, tmp_path, capsys):
    """Every run found is whole by its sums, the log of decisions loads, no kernel lives 5 s longer."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    dice = random.Random(1503)  # the same moments again, as far as the machine allows
    begun = time.monotonic()
    process = _start("make", job, temporary)
    assert process.wait() == 0
    whole = time.monotonic() - begun
    counts = dict.fromkeys(COMMANDS, 0)
    finished = 0
    for _ in range(KILLS):
        name = dice.choice(("make", "make", "kernel", "review", "decide"))
        process = _start(name, job, temporary)
        time.sleep(dice.uniform(0, 1.1 * whole if name != "decide" else 4.0))
        sign = dice.choice((signal.SIGKILL, signal.SIGKILL, signal.SIGTERM))
        process.send_signal(sign)
        ended_with = process.wait()
        # one told to stop while Python still starts ends as one killed
        assert ended_with in {0, -sign, *((128 + sign,) if sign == signal.SIGTERM else ())}
        finished += ended_with == 0
        counts[name] += 1
        ended = time.monotonic()
        while _ours(temporary):
            assert time.monotonic() - ended < 5, _ours(temporary)
            time.sleep(0.05)
        for run in runs_of(job):
            verified(run)
        load_job(job)
    (job / "decisions.yaml").unlink(missing_ok=True)
    assert _start("make", job, temporary).wait() == 0
    assert {path.name for path in (job / "runs").iterdir()} == {run.name for run in runs_of(job)}
    assert list(temporary.iterdir()) == []
    with capsys.disabled():
        told = f"killed {counts}, {finished} after their end; {len(runs_of(job))} runs, all whole"
        sys.stdout.write(f"\n{told}\n")
