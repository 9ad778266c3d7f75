"""A run's folder on the disk: its number, the order of syncs and renames, and what killed makers leave."""

import errno
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from reportkit.app.archive import MAKER_FILE, new_run, runs_of
from reportkit.base import durable, maker
from reportkit.base.durable import publish, replace_file
from reportkit.base.maker import Maker, scratch, sweep


class Recorder:
    """The system's calls, each noted as it goes through: what is synced, what is renamed, in which order."""

    def __init__(self, monkeypatch):
        self.done = []
        self.open = {}
        for name in ("open", "fsync", "rename", "replace"):
            monkeypatch.setattr(durable.os, name, getattr(self, f"_{name}")(getattr(os, name)))

    def _open(self, real):
        def opened(path, *rest, **more):
            handle = real(path, *rest, **more)
            self.open[handle] = Path(path)
            return handle

        return opened

    def _fsync(self, real):
        def synced(handle):
            self.done.append(("sync", self.open[handle]))
            real(handle)

        return synced

    def _rename(self, real):
        def renamed(old, new, **more):
            self.done.append(("rename", Path(old), Path(new)))
            real(old, new, **more)

        return renamed

    _replace = _rename


def full(handle):
    """Refuse to sync, as a full disk does."""
    raise OSError(28, "No space left on device")


def test_a_run_is_synced_then_renamed_then_its_parent_synced(tmp_path, monkeypatch):
    """Every file before the folder that names it, all before the rename, the parent after it (POSIX)."""
    with new_run(tmp_path) as run:
        (run.inputs / "photos").mkdir(parents=True)
        files = [run.folder / "results.json", run.inputs / "job.yaml", run.inputs / "photos" / "a.png"]
        for file in files:
            file.write_text("x", encoding="utf-8")
        hidden = run.folder
        record = Recorder(monkeypatch)
        kept = run.keep()
    renames = [entry for entry in record.done if entry[0] == "rename"]
    assert renames == [("rename", hidden, kept)]
    at = record.done.index(renames[0])
    before = [entry[1] for entry in record.done[:at]]
    for file in files:
        assert before.index(file) < before.index(file.parent)
    assert {hidden, hidden / "inputs"} <= set(before)
    assert before[-1] == hidden
    assert [entry[1] for entry in record.done[at + 1 :]] == [tmp_path / "runs"]
    assert not (kept / MAKER_FILE).exists()


def test_a_folder_made_for_runs_has_its_own_name_on_the_disk(tmp_path, monkeypatch):
    """``runs`` is new: the job's folder is synced before anything is made in it."""
    record = Recorder(monkeypatch)
    with new_run(tmp_path) as run:
        made, (claimed, _, claim) = record.done
        assert (made, claimed, claim) == (("sync", tmp_path), "rename", run.folder.parent)


def test_a_claim_that_cannot_be_written_leaves_nothing(tmp_path, monkeypatch):
    """A disk that is full at the maker's name: no claim, and no folder made for it."""

    def full(*_, **__):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    with pytest.raises(OSError, match="No space"), new_run(tmp_path):
        pass
    assert list(tmp_path.iterdir()) == []


def test_a_log_is_replaced_whole(tmp_path, monkeypatch):
    """Synced, put in its place at once, its folder synced; a failure leaves the old one alone."""
    log = tmp_path / "decisions.yaml"
    log.write_bytes(b"old")
    with monkeypatch.context() as patch:
        record = Recorder(patch)
        replace_file(log, b"new")
    (first, hidden), (second, source, place), last = record.done
    assert (first, second, source, place, last) == ("sync", "rename", hidden, log, ("sync", tmp_path))
    assert log.read_bytes() == b"new"

    monkeypatch.setattr(durable.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        replace_file(log, b"newer")
    assert log.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [log]


def test_a_sync_that_fails_leaves_no_run(tmp_path, monkeypatch):
    """A disk that is full at the last moment: nothing under a finished name."""
    with pytest.raises(OSError, match="No space"), new_run(tmp_path) as run:
        monkeypatch.setattr(
            durable.os, "fsync", lambda handle: (_ for _ in ()).throw(OSError(28, "No space"))
        )
        run.keep()
    assert list(tmp_path.iterdir()) == []


def test_a_number_is_nobody_elses_from_the_start(tmp_path):
    """One maker claims before it computes; a second, begun meanwhile, takes the next, whoever ends first."""
    with new_run(tmp_path) as one:
        with new_run(tmp_path) as two:
            assert [one.name, two.name] == ["0001", "0002"]
            two.keep()
        with new_run(tmp_path) as three:
            assert three.name == "0003"
        one.keep()
    assert [run.name for run in runs_of(tmp_path)] == ["0001", "0002"]


ENDED = (
    "import sys; sys.stdout.write(str(__import__('reportkit.base.maker', fromlist=['Maker']).Maker.this()))"
)


@pytest.fixture(scope="module")
def gone():
    """Return a maker of this machine that has ended."""
    told = subprocess.run([sys.executable, "-c", ENDED], capture_output=True, check=True, text=True)
    return Maker.read(told.stdout)


def test_a_maker_is_known_by_number_start_and_machine(gone, tmp_path, monkeypatch):
    """This one lives; one that ended does not, nor one whose number another process has by now."""
    this = Maker.this()
    assert Maker.read(str(this)) == this
    assert Maker.read("notes") is None
    assert not this.left(tmp_path)
    assert gone.left(tmp_path)
    assert Maker(this.number, str(int(this.started) + 1), this.machine).left(tmp_path)
    # of another machine nothing can be asked: only time tells
    other = Maker(gone.number, gone.started, "0" * 12)
    assert not other.left(tmp_path)
    monkeypatch.setattr(maker.time, "time", lambda: tmp_path.stat().st_mtime + 86_401)
    assert other.left(tmp_path)


def test_what_killed_makers_left_is_swept_by_the_next_run(tmp_path, gone, monkeypatch):
    """Folders of the dead go, beside the run and in the temporary folder; those of the living stay."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    runs = tmp_path / "job" / "runs"
    for number, name in enumerate((str(gone), str(Maker.this()), ""), start=1):
        folder = runs / f".making-{number:04d}"
        (folder / "inputs").mkdir(parents=True)
        if name:
            (folder / MAKER_FILE).write_text(name, encoding="utf-8")
    for claimant in (gone, Maker.this()):  # killed before it had its number, or about to have it
        (runs / f".claim-{claimant}-abc" / "run").mkdir(parents=True)
    for name in (f"reportkit-{gone}-abc", f"reportkit-{Maker.this()}-abc", "reportkit-notes"):
        (temporary / name / "pdf").mkdir(parents=True)
    with new_run(tmp_path / "job") as run:
        assert run.name == "0001"  # the dead maker's number is free again
        living = {".making-0001", ".making-0002", ".making-0003", f".claim-{Maker.this()}-abc"}
        assert {path.name for path in runs.iterdir()} == living
        assert not run.inputs.exists()
    assert {path.name for path in temporary.iterdir()} == {
        f"reportkit-{Maker.this()}-abc", "reportkit-notes",
    }  # fmt: skip
    # one that never wrote its name is left behind once a minute has gone
    os.utime(runs / ".making-0003", (1, 1))
    os.utime(runs / ".making-0003" / "inputs", (1, 1))
    with new_run(tmp_path / "job"):
        assert not (runs / ".making-0003").exists()


def test_scratch_folders_are_gone_with_their_process(tmp_path):
    """At its end a process takes its folder away; killed it leaves it to the sweep; a fork has its own."""
    code = (
        "import os, sys; from reportkit.base.maker import scratch; one = scratch('pdf'); print(one)\n"
        "child = os.fork()\n"
        "if not child: print(scratch('pdf')); sys.stdout.flush(); sys.exit()\n"
        "os.waitpid(child, 0); print(one.is_dir()); sys.stdout.flush()\n"
        "if 'kill' in sys.argv: os.kill(os.getpid(), 9)\n"
    )
    env = {**os.environ, "TMPDIR": str(tmp_path)}
    for asked in ([], ["kill"]):
        ended = subprocess.run(
            [sys.executable, "-u", "-c", code, *asked], env=env, capture_output=True, text=True, check=False
        )
        parent, child, there = ended.stdout.split()
        assert there == "True"
        assert Path(parent).parent != Path(child).parent
        assert len(list(tmp_path.iterdir())) == len(asked)
    swept = subprocess.run(
        [sys.executable, "-c", "from reportkit.base.maker import sweep; print(len(sweep()))"],
        env=env,
        capture_output=True,
        text=True,
        check=True,
    )
    assert swept.stdout.strip() == "1"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_being_told_to_stop_clears_up(tmp_path, name):
    """A command that waits inside a run ends with 128 and the signal's number; nothing is left (POSIX)."""
    code = (
        "import signal, sys, time; from pathlib import Path; from reportkit.app import command_line, run\n"
        "from reportkit.app.archive import new_run\n"
        # tests that a shell started in the background have it ignored
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "def wait(job, **kw):\n"
        "    with new_run(job) as one:\n"
        "        (one.folder / 'half').write_text('x')\n"
        "        print('ready', flush=True); time.sleep(60)\n"
        "run.make = wait\n"
        "sys.exit(command_line.main(['make', sys.argv[1]]))\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code, str(tmp_path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout.readline() == "ready\n"
        assert list(tmp_path.iterdir()) != []
        process.send_signal(getattr(signal, name))
        _, told = process.communicate(timeout=20)
    assert process.returncode == 128 + getattr(signal, name)
    assert told == "stopped; nothing was kept\n"
    assert list(tmp_path.iterdir()) == []


def test_publish_refuses_a_place_that_is_taken(tmp_path):
    """What stands there is never written over."""
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "file").write_text(name, encoding="utf-8")
    with pytest.raises(OSError, match="not empty"):
        publish(tmp_path / "one", tmp_path / "two")
    assert (tmp_path / "two" / "file").read_text(encoding="utf-8") == "two"


def test_sweep_leaves_what_is_not_ours(tmp_path, monkeypatch):
    """Another program's folders stay, and so do this process's own."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(maker, "_ROOTS", {})
    own = scratch("font")
    (tmp_path / "other-1-2-aaaaaaaaaaaa").mkdir()
    assert sweep() == []
    assert own.is_dir()
    shutil.rmtree(own.parent)
