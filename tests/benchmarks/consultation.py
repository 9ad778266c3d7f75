"""Time what the desk takes to answer a change: film, pane, set point, tariff, budget, room.

Every answer is the whole one (numbers, views, cut plan, as HTML), worked out for the first time; answers seen
before are faster. Run by hand: ``python tests/benchmarks/consultation.py [--job NAME]``.
"""

import argparse
import shutil
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from reportkit.documents.desk import Desk
from reportkit.job.model import BARE
from reportkit.study import Study

JOBS = Path(__file__).parent.parent.parent / "jobs"


def seconds(change: Callable[[], object]) -> float:
    """Return how long a change takes [s]."""
    start = time.perf_counter()
    change()
    return time.perf_counter() - start


def changes(desk: Desk) -> dict[str, list[Callable[[], object]]]:
    """Return changes to make, one after the other, by kind."""

    def put(control: object, value: object) -> Callable[[], object]:
        return lambda: setattr(control, "value", value)

    films = [name for name in desk.study.films if name != BARE]
    panes = list(desk.panes.values())[:6]
    points = [] if desk.set_point.disabled else ["22 C", "23 C", "24 C"]
    return {
        "film": [put(control, film) for control in desk.films.values() for film in films],
        "pane": [put(control, False) for control in panes],
        "set point": [put(desk.set_point, text) for text in points],
        "tariff": [put(desk.rate, text) for text in ("0.21", "0.34")],
        "budget": [put(desk.budget, text) for text in ("900", "1200")],
        "room": [put(desk.room, name) for _, name in desk.room.options[1:]],
    }


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--job", action="append")
    for name in parser.parse_args().job or ["corner-shop", "harbour-house", "hill-studio"]:
        with tempfile.TemporaryDirectory() as folder:
            home = Path(folder)
            shutil.copytree(JOBS / "_shared", home / "_shared")
            shutil.copytree(JOBS / name, home / name, ignore=shutil.ignore_patterns("runs"))
            start = time.perf_counter()
            desk = Desk(Study.open(home / name))
            print(f"{name}: opened in {time.perf_counter() - start:.2f} s")
            every = []
            for kind, todo in changes(desk).items():
                taken = [seconds(change) for change in todo]
                every += taken
                if taken:
                    middle, most = statistics.median(taken), max(taken)
                    print(
                        f"  {kind:<10} {len(taken):3d} changes   median {middle:.3f} s   slowest {most:.3f} s"
                    )
            print(f"  {'all':<10} {len(every):3d} changes   median {statistics.median(every):.3f} s")


if __name__ == "__main__":
    main()
