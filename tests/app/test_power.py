"""The power is cut at random moments of ``make``, ``review`` and keeping decisions: what is there is whole.

A small ext4 disk in a file is shut down by the ioctl that the kernel's own tests of crashes use
(EXT4_IOC_SHUTDOWN without a flush of its log, `ext4.h`; from memory): what was not synced is gone, and the
next mount replays the journal. It is mounted so that it promises least: names are written every second, files
may come later and in any order. ``CUTS=20`` cuts so often, ``CUTS_FROM`` is the seed.
"""

import fcntl
import os
import random
import shutil
import signal
import struct
import subprocess
import sys
import time
from collections import Counter
from itertools import cycle

import pytest
from small_job import READINGS, written
from trials import many

from reportkit.app.archive import runs_of
from reportkit.app.audit import audit, verified
from reportkit.base.errors import DamagedError, InputError
from reportkit.job import load_job

pytestmark = pytest.mark.trial

CUTS = many("CUTS", 3, 6)
SEED = int(os.environ.get("CUTS_FROM", "7"))

SHUTDOWN, WITHOUT_FLUSH = 0x8004587D, 2
OPTIONS = "loop,commit=1,data=writeback,noauto_da_alloc"


class Disk:
    """A small disk in a file, mounted, whose power can be cut."""

    def __init__(self, home):
        self.image, self.place = home / "disk.img", home / "disk"
        self.place.mkdir()
        with self.image.open("wb") as file:
            file.truncate(192 * 2**20)
        subprocess.run(["mkfs.ext4", "-q", "-F", str(self.image)], check=True, capture_output=True)
        self.mounted = False

    def mount(self):
        """Mount it; its journal is replayed."""
        command = ["mount", "-t", "ext4", "-o", OPTIONS, str(self.image), str(self.place)]
        done = subprocess.run(command, check=False, capture_output=True)
        if done.returncode and not self.mounted:
            pytest.skip("no disk may be mounted here")
        assert not done.returncode, done.stderr
        self.mounted = True

    def cut(self):
        """Take its power: nothing is written from now on."""
        handle = os.open(self.place, os.O_RDONLY)
        try:
            fcntl.ioctl(handle, SHUTDOWN, struct.pack("I", WITHOUT_FLUSH))
        finally:
            os.close(handle)

    def begin_again(self):
        """Take it away and mount it again, once nothing is at work on it."""
        self.unmount()
        self.mount()

    def unmount(self):
        """Take it away."""
        subprocess.run(["umount", str(self.place)], check=True, capture_output=True)


@pytest.fixture
def disk(tmp_path):
    """Return a mounted disk; skips where that may not be had."""
    if not (shutil.which("mkfs.ext4") and shutil.which("mount")):
        pytest.skip("no ext4 here")
    made = Disk(tmp_path)
    made.mount()
    yield made
    made.unmount()


def _commands(disk, told):
    """Return a job on the disk, and the commands by name; how many decisions were kept goes into a file."""
    job = written(disk.place)
    (job / "readings.csv").write_text(READINGS, "utf-8")
    os.sync()
    only = ("--only", "html")
    return job, {
        "make": ("make", *only, job),
        "review": ("review", *only, job),
        "decide": ("decide", job, 20, told),
    }


def _whole(job, kept):
    """Assert that all runs of a job are as they were written, and that so many decisions are there."""
    for run in runs_of(job):
        verified(run)
    assert len(load_job(job).job.decisions) >= kept


def test_no_moment_of_a_power_cut_leaves_half_a_run(disk, forking, tmp_path, capsys):
    """Every run that has its name is whole and the same again; no decision that was kept is lost."""
    dice = random.Random(SEED)
    told = tmp_path / "told"  # on another disk: how many decisions were kept
    job, commands = _commands(disk, told)
    begun = time.monotonic()
    forking.start(*commands["make"])
    assert forking.wait() == 0
    took = time.monotonic() - begun
    whole = {"make": took, "review": took, "decide": took / 3}  # about; each is corrected as it ends or not
    os.sync()
    counts, lost = Counter(), set()
    for _, name in zip(range(CUTS), cycle(commands), strict=False):
        before, kept = {run.name for run in runs_of(job)}, len(load_job(job).job.decisions)
        told.write_text("0", "utf-8")
        process = forking.start(*commands[name])
        share = dice.uniform(0, 1.1)
        time.sleep(share * whole[name])
        disk.cut()
        os.kill(process, signal.SIGKILL)
        code = forking.wait()
        disk.begin_again()
        counts[name, "after its end" if code == 0 else f"quarter {1 + int(4 * min(share, 0.99))}"] += 1
        whole[name] *= 0.8 if code == 0 else 1.02  # other work on the machine comes and goes
        assert code in (0, 1, -signal.SIGKILL)
        after = {run.name for run in runs_of(job)}
        assert before <= after
        assert name == "decide" or code != 0 or len(after) == len(before) + 1
        _whole(job, kept + int(told.read_text("utf-8")))
        lost |= set((job / "runs").glob(".making-*"))
    for run in runs_of(job):
        assert audit(run).same
    for folder in (job / "runs").glob(".making-*"):
        for path in (*folder.iterdir(), folder):
            os.utime(path, (0, 0))  # what lost the name of its maker, too, is swept after a minute
    forking.start(*commands["make"])
    assert forking.wait() == 0
    assert {path.name for path in (job / "runs").iterdir()} == {run.name for run in runs_of(job)}
    with capsys.disabled():
        places = "; ".join(f"{name}, {moment}: {count}" for (name, moment), count in sorted(counts.items()))
        sys.stdout.write(f"\npower cut {places}; {len(lost)} times half a run lay about\n")


def test_without_syncs_a_cut_does_harm(disk, forking, tmp_path):
    """The disk forgets what nobody synced, runs and decisions, so that the test above can fail."""
    told = tmp_path / "told"
    job, commands = _commands(disk, told)
    for name in ("review", "decide"):
        forking.start(*commands[name], syncs=False)
        assert forking.wait() == 0
    (run,) = runs_of(job)
    _whole(job, int(told.read_text("utf-8")))
    time.sleep(2.5)  # names are written, files are not
    disk.cut()
    disk.begin_again()
    with pytest.raises((DamagedError, InputError)):
        _whole(job, 0)
    shutil.rmtree(run)
    with pytest.raises((AssertionError, InputError)):
        _whole(job, int(told.read_text("utf-8")))
