"""What a job costs against its panes, films, rooms and samples; run by hand.

    python tests/benchmarks/growth.py [--panes 10 50 200] [--films 1 4 8] [--rooms 1 3 6]
                                      [--samples 32 128 512] [--plot growth.svg]

One thing grows at a time, in invented jobs whose panes all differ, the others staying at 10 panes, 2 films,
1 room and 128 samples. Every stage is asked for in its order and told in seconds of processor time; `make`
is the whole command in this process, its imports and the weather file's reading before it. Below the
numbers stand their ratios to the first of the column.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path
from unittest import mock

sys.path.insert(0, str(Path(__file__).parent.parent))

from small_job import JOB, written

from reportkit.app.run import make
from reportkit.study import Study

USUAL = {"panes": 10, "films": 2, "rooms": 1, "samples": 128}
#: What is asked of a study, stage by stage; "cutting" is quick plans, options, and the exact plan.
STAGES = {
    "sun": ("sun", "peaks"),
    "glass": ("filmed",),
    "screen": ("screens",),
    "cutting": ("film_options", "quick_offers", "offer", "alternatives"),
    "choice": ("advised", "chosen", "options", "ranking"),
    "rooms": ("room_years",),
    "schedule": ("schedule",),
}
HEAT = {
    "floor_area": "40 m2",
    "too_hot": "26 C",
    "cooling": {"set_point": "25 C", "capacity": "6000 W", "efficiency": "3"},
}
FACES = {"north": "5", "east": "95", "south": "185", "west": "275"}


def job(folder, panes, films, rooms):
    """Write an invented job of so many panes, films and rooms into a folder, and return that."""
    first = JOB["films"][0]
    shares = [20 + 50 * number / films for number in range(films)]
    changes = {
        "site": {"latitude": "25.8", "longitude": "-80.3", "elevation_m": "2", "clock": "America/New_York"},
        "weather": {"use": "shipped", "name": "miami"},
        "complaint": {"text": "too hot", "kinds": ["heat", "glare"], "room": "room-0"},
        "rooms": [{"id": f"room-{number}", "heat": HEAT} for number in range(rooms)],
        "faces": [{"id": name, "bearing": bearing} for name, bearing in FACES.items()],
        "films": [
            first
            | {
                "id": f"film-{number}",
                "rated": first["rated"]
                | {
                    "solar_transmittance_percent": f"{share:.1f}",
                    "visible_transmittance_percent": f"{share:.1f}",
                },
            }
            for number, share in enumerate(shares)
        ],
        "choice": {"job": "film-0"},
        "fitting": {"date": "2026-03-23"},
        "prices": {"labour_per_hour": "40"},
    }
    rows = ["id,room,face,glazing,quantity,width,height,frame,access,overhang"]
    for number in range(panes):
        width, height = 500 + number * 37 % 601, 700 + number * 53 % 907
        face, room = list(FACES)[number % len(FACES)], number % rooms
        rows.append(
            f"P{number},room-{room},{face},one,1,{width} mm,{height} mm,metal,floor,{number % 7 * 100} mm"
        )
    return written(folder, changes, survey="\n".join(rows) + "\n")


def costs(home, **sizes):
    """Return the processor seconds of every stage of one job, and of its `make`."""
    place = Path(tempfile.mkdtemp(dir=home))
    samples = sizes.pop("samples")
    job(place, **sizes)
    found = {}
    with mock.patch("reportkit.study.rooms.SAMPLES", samples):
        begun = time.process_time()
        study = Study.open(place)
        found["reading"] = time.process_time() - begun
        _ = study.weather  # read from its file once in a process
        for stage, names in STAGES.items():
            begun = time.process_time()
            for name in names:
                getattr(study, name)
            found[stage] = time.process_time() - begun
        begun = time.process_time()
        make(place)
        found["make"] = time.process_time() - begun
    return found


def table(what, counts, rows):
    """Print the costs of one thing's growth, and their ratios to the first."""
    print(f"\n{what:>8}" + "".join(f"{name:>10}" for name in rows[0]))
    for count, row in zip(counts, rows, strict=True):
        print(f"{count:>8}" + "".join(f"{value:>10.2f}" for value in row.values()))
    for count, row in list(zip(counts, rows, strict=True))[1:]:
        ratios = (value / max(rows[0][name], 1e-3) for name, value in row.items())
        print(f"x{count / counts[0]:>7.1f}" + "".join(f"{ratio:>9.1f}x" for ratio in ratios))
    sys.stdout.flush()


def plotted(found, path):
    """Draw every stage's seconds against what grows, one panel for each, into a file."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(5 * len(found), 5), layout="constrained")
    panels = figure.subplots(1, len(found), squeeze=False).flat
    for axes, (what, (counts, rows)) in zip(panels, found.items(), strict=True):
        for name in rows[0]:
            axes.loglog(counts, [max(row[name], 1e-3) for row in rows], marker="o", label=name)
        axes.loglog(
            counts, [rows[0]["make"] * count / counts[0] for count in counts], "k:", label="in proportion"
        )
        axes.set(xlabel=what, ylabel="processor time [s]")
    figure.axes[0].legend(fontsize="small")
    figure.savefig(path)


def main():
    """Print the tables, and draw them where a file is named."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--panes", type=int, nargs="+", default=[10, 50, 200])
    parser.add_argument("--films", type=int, nargs="+", default=[1, 4, 8])
    parser.add_argument("--rooms", type=int, nargs="+", default=[1, 3, 6])
    parser.add_argument("--samples", type=int, nargs="+", default=[32, 128, 512])
    parser.add_argument("--only", choices=USUAL, help="let one thing grow")
    parser.add_argument("--plot", type=Path, help="draw into this file (.svg, .png, .pdf)")
    asked = parser.parse_args()
    found = {}
    with tempfile.TemporaryDirectory() as home:
        costs(home, **USUAL)  # what is loaded once in a process
        for what in [asked.only] if asked.only else USUAL:
            counts = getattr(asked, what)
            rows = [costs(home, **{**USUAL, what: count}) for count in counts]
            table(what, counts, rows)
            found[what] = counts, rows
    if asked.plot:
        plotted(found, asked.plot)


if __name__ == "__main__":
    main()
