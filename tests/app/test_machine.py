"""What the machine refuses is told by name, ends with 1, and is never called our mistake or the job's."""

import errno
import os
import shutil
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest
from forked import decide
from small_job import written

from reportkit.app import machine
from reportkit.app.archive import runs_of
from reportkit.app.command_line import main
from reportkit.base.errors import InputError

#: What is said of each refusal that can be made happen here.
SAID = {
    "full": "the disk is full",
    "large": "the file is larger than this disk takes",
    "read-only": "it can only be read there, not written",
    "file": "a file is where a folder must be",
}


def _told(capsys, code):
    """Return the one line an error was told in."""
    out, err = capsys.readouterr()
    assert code == 1
    assert "mistake" not in err.replace("nothing is wrong with the job", "") and "Traceback" not in err
    assert err.count("\n") == 1 and out == ""
    return err


@pytest.fixture
def disk(tmp_path):
    """Return a function that mounts a small disk with some options; skips where this may not be done."""
    mounted = []

    def mount(options):
        place = tmp_path / "disk"
        place.mkdir()
        done = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(place)], check=False, capture_output=True
        )
        if done.returncode:
            pytest.skip("no disk may be mounted here")
        mounted.append(place)
        return place

    if shutil.which("mount") is None:
        pytest.skip("no mount(8) here")
    yield mount
    for place in mounted:
        subprocess.run(["umount", str(place)], check=True)


@pytest.mark.parametrize("size", ["24k", "600k"])
def test_a_full_disk_is_named_and_leaves_nothing(disk, capsys, size):
    """Full as the inputs are copied, and as the documents are written: it is named, no run is there."""
    place = disk(f"size={size}")
    job = written(place)
    assert SAID["full"] in _told(capsys, main(["make", str(job)]))
    assert sorted(path.name for path in job.iterdir()) == ["job.yaml", "windows.csv"]


def test_a_disk_that_can_only_be_read_is_named(disk, capsys):
    """A job on it is checked, and its run refused."""
    place = disk("size=1m")
    job = written(place)
    subprocess.run(["mount", "-o", "remount,ro", str(place)], check=True)
    assert main(["check", str(job)]) == 0
    capsys.readouterr()
    told = _told(capsys, main(["make", str(job)]))
    assert SAID["read-only"] in told and str(job / "runs") in told


@pytest.mark.skipif(os.name == "nt", reason="no limits of a process there")
@pytest.mark.parametrize("size", [100, 500_000])
def test_a_file_larger_than_is_allowed_is_named_and_leaves_nothing(tmp_path, size):
    """A limit of the process, as of a disk (POSIX, RLIMIT_FSIZE): at its first file, at its documents."""
    import resource

    job = written(tmp_path)
    ended = subprocess.run(
        [sys.executable, "-m", "reportkit", "make", "--only", "html", str(job)],
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size)),
        # what Python compiled would be kept half: it does not look how much of it was written
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        check=False,
        text=True,
    )
    assert ended.returncode == 1, ended.stderr
    assert SAID["large"] in ended.stderr and "our mistake" not in ended.stderr
    assert sorted(path.name for path in job.iterdir()) == ["job.yaml", "windows.csv"]


def test_a_decision_that_does_not_fit_leaves_the_log_as_it_was(disk):
    """On a full disk nothing is added, nothing is lost, and nothing half written lies about."""
    place = disk("size=64k")
    job = written(place)
    assert decide(job, 1) == 0
    before = (job / "decisions.yaml").read_bytes()
    with (place / "filler").open("wb", buffering=0) as filler, suppress(OSError):
        while True:
            filler.write(bytes(4096))
    with pytest.raises((OSError, InputError)):
        decide(job, 1)
    assert (job / "decisions.yaml").read_bytes() == before
    there = ["decisions.yaml", "filler", "job.yaml", "windows.csv"]
    assert sorted(path.name for path in job.iterdir()) == there


def test_a_full_temporary_folder_is_named_or_not_needed(disk, tmp_path):
    """What need not last has no room: the run is whole or refused by name, and nothing stays there."""
    place = disk("size=4k")
    (tmp_path / "job").mkdir()
    job = written(tmp_path / "job")
    ended = subprocess.run(
        [sys.executable, "-m", "reportkit", "make", "--only", "html", str(job)],
        env={**os.environ, "TMPDIR": str(place)},
        capture_output=True,
        check=False,
        text=True,
    )
    assert ended.returncode in (0, 1)
    assert (SAID["full"] in ended.stderr) is (ended.returncode == 1)
    assert "our mistake" not in ended.stderr
    assert len(runs_of(job)) == (ended.returncode == 0)


def test_a_file_called_runs_is_named(tmp_path, capsys):
    """The file, and what to do with it; it stays."""
    job = written(tmp_path)
    (job / "runs").write_text("mine", "utf-8")
    told = _told(capsys, main(["make", str(job)]))
    assert f"{job / 'runs'}: {SAID['file']}" in told
    assert (job / "runs").read_text("utf-8") == "mine"


def test_no_folder_for_what_need_not_last_is_named(tmp_path):
    """A machine without a temporary folder: said in the words of whoever looked for one."""
    job = written(tmp_path)
    code = (
        "import sys, tempfile; tempfile._candidate_tempdir_list = lambda: ['/dev/null/none'];"
        "tempfile.tempdir = None;"
        "from reportkit.app.command_line import main; sys.exit(main(sys.argv[1:]))"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code, "make", str(job)], capture_output=True, check=False, text=True
    )
    assert ended.returncode == 1
    assert "No usable temporary directory" in ended.stderr and "our mistake" not in ended.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
@pytest.mark.parametrize("command", ["start", "check", "cut"])
def test_output_that_does_not_fit_is_named(tmp_path, command):
    """What is printed goes to a full disk (Linux, full(4)): one line, exit 1."""
    pieces = tmp_path / "pieces.csv"
    pieces.write_text("id,width,length,quantity\nP,46 in,104 in,5\n", encoding="utf-8")
    asked = {
        "start": ["start", str(tmp_path / "new")],
        "check": ["check", str(tmp_path)],
        "cut": ["cut", str(pieces), "--roll", "48 in x 100 ft@200"],
    }[command]
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "reportkit", *asked],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            text=True,
        )
    assert ended.returncode == 1
    assert SAID["full"] in ended.stderr and ended.stderr.count("\n") == 1
    assert "our mistake" not in ended.stderr


@pytest.mark.parametrize(
    "number", [errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES, errno.EIO, errno.EMFILE]
)
def test_a_refusal_is_told_the_same_from_either_process(number):
    """By the error itself, and by what a notebook's kernel says of it."""
    error = OSError(number, os.strerror(number), "/far/place")
    assert str(machine.refusal(error)) == str(machine.refusal_told("OSError", str(error)))
    assert str(machine.refusal(error)).startswith("/far/place: ")
    assert "nothing is wrong with the job" in str(machine.refusal(error))


def test_other_errors_are_not_the_machines():
    """A wrong number is ours; so is a file of ours that is not there."""
    for error in (ValueError("28"), OSError("no number"), FileNotFoundError(2, os.strerror(2), "template")):
        assert machine.refusal(error) is None
    assert machine.refusal_told("ValueError", "no [Errno 28]") is None
    assert "memory" in str(machine.refusal_told("MemoryError", ""))
    assert "memory" in str(machine.refusal(MemoryError()))
