"""Jobs for an hour of one core: a shell's loop of `make`, on a kernel and in process, beside one `batch`.

Processor seconds of everything that runs, children included, so that it matters little what else the machine
is at. The jobs differ: a small one and three demo jobs in turn. Memory is that of the largest process. Run by
hand: ``python tests/benchmarks/batch.py [--jobs 12]``; with ``--memory 500`` it makes so many small jobs and
tells what `batch` and its processes hold as they are made, jobs in work left out (Linux, by ``/proc``).
"""

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from small_job import JOB, SURVEY, laid

DEMOS = Path(__file__).parent.parent.parent / "jobs"
REPORTKIT = [sys.executable, "-m", "reportkit"]
NAMES = ("small", "corner-shop", "harbour-house", "hill-studio")


def written(home, count, names=NAMES):
    """Write so many jobs that differ, and return their folders."""
    shutil.copytree(DEMOS / "_shared", home / "_shared")
    folders = []
    for number in range(count):
        name, folder = names[number % len(names)], home / f"job-{number:03d}"
        if name == "small":
            folder = home / "alone" / folder.name  # away from what the others share
            folder.mkdir(parents=True)
            changed = laid(JOB, {"client": {"name": f"Client {number}"}})
            (folder / "job.yaml").write_text(json.dumps(changed), encoding="utf-8")
            (folder / "windows.csv").write_text(SURVEY, encoding="utf-8")
        else:
            shutil.copytree(DEMOS / name, folder, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
        folders.append(folder)
    return folders


def spent(*commands):
    """Run commands one after the other and return processor seconds [s], clock [s]."""
    before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    for command in commands:
        subprocess.run(command, check=True, capture_output=True, env=os.environ)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return cpu, time.perf_counter() - begun


def resident(pid):
    """Return the memory a process holds [MB]; 0 where it has gone."""
    try:
        pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
    except OSError:
        return 0.0
    return pages * resource.getpagesize() / 2**20


def children(pid):
    """Return the processes that a process has started."""
    try:
        return [
            int(child)
            for task in Path(f"/proc/{pid}/task").iterdir()
            for child in (task / "children").read_text().split()
        ]
    except OSError:
        return []


def memory(count):
    """Print what `batch` and its nurseries hold in the first and the last tenth of so many small jobs."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "jobs"
        home.mkdir()
        written(home, count, names=("small",))
        command = [*REPORTKIT, "batch", str(home), "--workers", "2"]
        seen = []
        with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
            while process.poll() is None:
                done = len(list(home.glob("alone/*/runs/[0-9]*")))
                seen.append(
                    (done, resident(process.pid), max(map(resident, children(process.pid)), default=0.0))
                )
                time.sleep(1)
    part = max(count // 10, 1)
    for name, first, last in (("first", 1, part), ("last", count - part, count)):
        held = [entry[1:] for entry in seen if first <= entry[0] <= last]
        batch, nursery = (max(column) for column in zip(*held, strict=True))
        print(f"{name} {part} of {count}: batch at most {batch:.0f} MB, a nursery at most {nursery:.0f} MB")


def main():
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--jobs", type=int, default=12)
    parser.add_argument("--memory", type=int, help="make so many small jobs and tell the memory alone")
    asked = parser.parse_args()
    if asked.memory:
        memory(asked.memory)
        return
    count = asked.jobs
    ways = {
        "make --kernel, in a loop": lambda home, jobs: [
            [*REPORTKIT, "make", "--kernel", str(j)] for j in jobs
        ],
        "make, in a loop": lambda home, jobs: [[*REPORTKIT, "make", str(j)] for j in jobs],
        "batch --workers 2": lambda home, jobs: [[*REPORTKIT, "batch", str(home), "--workers", "2"]],
    }
    first = None
    for name, commands in ways.items():
        with tempfile.TemporaryDirectory() as folder:
            home = Path(folder) / "jobs"
            home.mkdir()
            cpu, clock = spent(*commands(home, written(home, count)))
        rate = count / cpu * 3600
        first = first or rate
        print(f"{name}: {rate:.0f} jobs an hour of one core ({clock:.0f} s), ratio {rate / first:.2f}")
    print(f"largest process: {resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
