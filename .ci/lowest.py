"""Install the lowest declared version of every dependency, and hold the demo jobs against today's versions.

Run as `.venv/bin/python .ci/lowest.py`: the environment it is run with holds today's versions. A declared
version that doesn't work fails here; raise it in pyproject.toml.
"""

import json
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import venv
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
#: How far a number may be from today's, relative to it: versions of the sky models and solvers differ in the
#: last digits shown. A number near 0 may be as far from it as it would be from 1.
TOLERANCE = 1e-3


def floors(project: dict) -> list[str]:
    """Return the dependencies pinned to the lowest version that each allows."""
    pinned = []
    for dependency in project["dependencies"]:
        found = re.fullmatch(r"([\w.-]+)>=([\w.]+)", dependency)
        if found is None:
            raise SystemExit(f"{dependency}: give a lowest version, as in name>=1.0")
        pinned.append(f"{found[1]}=={found[2]}")
    return pinned


def made(program: Path, jobs: Path) -> dict[str, dict]:
    """Make each demo job and return its results, by name."""
    results = {}
    for job in sorted(jobs.glob("*/job.yaml")):
        output = subprocess.run([program, "make", job.parent], check=True, stdout=subprocess.PIPE, text=True)
        run = Path(output.stdout.splitlines()[-1])
        for kind in ("proposal", "fitting"):
            for suffix in (".pdf", ".html"):
                if not (run / f"{kind}{suffix}").stat().st_size:
                    raise SystemExit(f"{job.parent.name}: {kind}{suffix} is empty")
        results[job.parent.name] = json.loads((run / "results.json").read_text("utf-8"))
    return results


def differences(one: object, other: object, path: str = "") -> list[str]:
    """Return where two results differ by more than the tolerance."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return [line for key in one for line in differences(one[key], other[key], f"{path}/{key}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        pairs = enumerate(zip(one, other, strict=True))
        return [line for place, pair in pairs for line in differences(*pair, f"{path}/{place}")]
    number = (int, float)
    if isinstance(one, number) and isinstance(other, number):
        return [] if abs(one - other) <= TOLERANCE * max(1, abs(one)) else [f"{path}: {one} {other}"]
    return [] if one == other else [f"{path}: {one!r} {other!r}"]


def main() -> None:
    """Make the demo jobs with both sets of versions and compare."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    with tempfile.TemporaryDirectory() as home:
        place = Path(home)
        venv.create(place / "venv", with_pip=True)
        (place / "floors.txt").write_text("\n".join(floors(project)) + "\n", "utf-8")
        python = place / "venv" / "bin" / "python"
        command = [python, "-m", "pip", "install", "--quiet", "--constraint", place / "floors.txt", ROOT]
        subprocess.run(command, check=True)
        programs = {"lowest": python, "today's": Path(sys.executable)}
        with ThreadPoolExecutor() as both:  # each waits for a program of its own
            jobs = {
                name: shutil.copytree(ROOT / "jobs", place / name, ignore=shutil.ignore_patterns("runs"))
                for name in programs
            }
            found = {
                name: both.submit(made, program.parent / "reportkit", jobs[name])
                for name, program in programs.items()
            }
            results = {name: one.result() for name, one in found.items()}
        if len(results["lowest"]) < 3:
            raise SystemExit("there are three demo jobs")
        apart = differences(results["today's"], results["lowest"])
    if apart:
        raise SystemExit("\n".join(["today's and the lowest versions differ:", *apart[:50]]))
    print(f"{len(results['lowest'])} demo jobs come to the same with the lowest versions")


if __name__ == "__main__":
    main()
