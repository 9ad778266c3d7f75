"""Many jobs on hosts that share no disk: one scheduler and two workers, each in a network of its own.

Network namespaces stand for machines, joined by veth pairs and a bridge (Linux, iproute2, root). In the
last round one worker is killed, and the other's link is cut for ten seconds. Every job must end in exactly
one run that is whole by its own sums. Run by hand, as root: ``python tests/benchmarks/hosts.py [--jobs 60]``.
"""

import argparse
import contextlib
import json
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from small_job import JOB, SURVEY, laid

HUB, HOSTS = "rk-hub", ("rk-one", "rk-two")
ADDRESS = "tcp://10.77.0.1:8786"


def ip(*words):
    """Run one command of iproute2."""
    subprocess.run(["ip", *words], check=True)


@contextlib.contextmanager
def network():
    """Three namespaces on one bridge: the hub at 10.77.0.1, the hosts at .2 and .3."""
    try:
        for place in (HUB, *HOSTS):
            ip("netns", "add", place)
            ip("-n", place, "link", "set", "lo", "up")
        ip("-n", HUB, "link", "add", "br0", "type", "bridge")
        ip("-n", HUB, "addr", "add", "10.77.0.1/24", "dev", "br0")
        ip("-n", HUB, "link", "set", "br0", "up")
        for number, host in enumerate(HOSTS, start=2):
            near = f"v{number}"
            ip("link", "add", near, "netns", HUB, "type", "veth", "peer", "name", "eth0", "netns", host)
            ip("-n", HUB, "link", "set", near, "master", "br0", "up")
            ip("-n", host, "addr", "add", f"10.77.0.{number}/24", "dev", "eth0")
            ip("-n", host, "link", "set", "eth0", "up")
        yield
    finally:
        for place in (HUB, *HOSTS):
            subprocess.run(["ip", "netns", "del", place], check=False)


def inside(place, *command, folder):
    """Start a command in a namespace, with a temporary folder of its own: no shared disk."""
    home = folder / place
    home.mkdir(exist_ok=True)
    return subprocess.Popen(
        ["ip", "netns", "exec", place, *command],
        env={**os.environ, "TMPDIR": str(home), "DASK_TEMPORARY_DIRECTORY": str(home)},
        stdout=subprocess.DEVNULL,
        stderr=(home / "said.txt").open("ab"),
        start_new_session=True,
    )


def worker(host, folder):
    """Start a worker of one thread."""
    return inside(
        host, sys.executable, "-m", "distributed.cli.dask_worker", ADDRESS, "--nthreads", "1",
        "--death-timeout", "60", folder=folder,
    )  # fmt: skip


def jobs(folder, count):
    """Write small jobs that differ."""
    for number in range(count):
        job = folder / f"job-{number:03d}"
        job.mkdir(parents=True)
        changed = laid(JOB, {"client": {"name": f"Client {number}"}})
        (job / "job.yaml").write_text(json.dumps(changed), encoding="utf-8")
        (job / "windows.csv").write_text(SURVEY, encoding="utf-8")


def batch(home, folder):
    """Make the jobs from the hub; return the seconds it took, and what the command said."""
    begun = time.perf_counter()
    done = inside_and_wait(home, folder)
    return time.perf_counter() - begun, done


def inside_and_wait(home, folder):
    """Run the batch in the hub."""
    return subprocess.run(
        ["ip", "netns", "exec", HUB, sys.executable, "-m", "reportkit", "batch", str(home)]
        + ["--scheduler", ADDRESS],
        check=False, capture_output=True, text=True, env={**os.environ, "TMPDIR": str(folder)},
    )  # fmt: skip


def whole(home):
    """Return how many jobs have exactly one run, whole by its sums."""
    from reportkit.app.archive import runs_of
    from reportkit.app.bag import harms, listed

    runs = [runs_of(job) for job in sorted(home.iterdir()) if job.name.startswith("job-")]
    return sum(len(one) == 1 and not harms(one[0], listed(one[0])) for one in runs)


def trouble(victim):
    """Kill one worker and cut the other's link for ten seconds, early in the work."""
    time.sleep(12)
    os.killpg(victim.pid, signal.SIGKILL)
    time.sleep(5)
    ip("-n", HUB, "link", "set", "v3", "down")
    time.sleep(10)
    ip("-n", HUB, "link", "set", "v3", "up")


def main():
    """Print jobs, runs and throughput."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--jobs", type=int, default=60)
    count = parser.parse_args().jobs
    with tempfile.TemporaryDirectory() as place, network():
        folder = Path(place)
        started = [inside(HUB, sys.executable, "-m", "distributed.cli.dask_scheduler", "--host", "10.77.0.1",
                          "--no-dashboard", folder=folder)]  # fmt: skip
        try:
            time.sleep(4)
            started.append(worker(HOSTS[0], folder))
            time.sleep(6)
            jobs(folder / "a", count // 3)
            took, done = batch(folder / "a", folder)
            print(
                f"1 worker: {whole(folder / 'a')} of {count // 3} whole, {count // 3 / took * 3600:.0f} an hour"
            )
            started.append(worker(HOSTS[1], folder))
            time.sleep(6)
            jobs(folder / "b", count)
            took, done = batch(folder / "b", folder)
            print(f"2 workers: {whole(folder / 'b')} of {count} whole, {count / took * 3600:.0f} an hour")
            jobs(folder / "c", count)
            threading.Thread(target=trouble, args=(started[1],), daemon=True).start()
            took, done = batch(folder / "c", folder)
            print(
                f"one killed, one cut: {whole(folder / 'c')} of {count} whole, {took:.0f} s; exit {done.returncode}"
            )
            print(done.stderr[-500:])
        finally:
            for process in started:
                with contextlib.suppress(ProcessLookupError):
                    os.killpg(process.pid, signal.SIGKILL)


if __name__ == "__main__":
    main()
