"""One page about many jobs: which rooms, which film, what it brings, ranked by relief for its price.

Relief is the sun's heat kept out of a room at its job's worst hour: the one measure that every room has,
described or not. A room's share of its job's price is that of its filmed glass in all that is filmed. Rooms
are ranked within a currency. Nothing is computed anew: all of it stands in the runs.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from pathlib import Path
from typing import Any

from reportkit.app.batch import Outcome
from reportkit.base.formulas import guarded
from reportkit.documents.blocks import Column, Heading, Paragraph, Row, Table, plain
from reportkit.documents.frame import FRAME_WORDS
from reportkit.documents.layouts import html
from reportkit.documents.layouts.finish import Finisher


@dataclass(frozen=True)
class Room:
    """One room of one job with the film chosen there; None where it cannot be told."""

    rank: int
    job: str
    room: str
    films: str
    filmed_m2: float
    peak_w: float
    peak_with_film_w: float
    hot_hours_low: float | None
    hot_hours_high: float | None
    hot_hours_with_film_low: float | None
    hot_hours_with_film_high: float | None
    price_share: Decimal
    currency: str
    kept_out_w_per_100: float


def rooms_of(outcomes: Iterable[Outcome]) -> list[Room]:
    """Return the rooms with film of all jobs that have a run, the most relief for its price first.

    Parameters
    ----------
    outcomes
        What became of each job.
    """
    found = [room for outcome in outcomes if outcome.run for room in _rooms(outcome.job, outcome.run)]
    found.sort(key=lambda room: (room["currency"], -room["kept_out_w_per_100"], room["job"], room["room"]))
    ranks: dict[str, int] = {}
    made = []
    for room in found:
        ranks[room["currency"]] = ranks.get(room["currency"], 0) + 1
        made.append(Room(rank=ranks[room["currency"]], **room))
    return made


def _rooms(job: str, run: Path) -> list[dict[str, Any]]:
    """Return the rooms with film of one run, not yet ranked."""
    results = json.loads((run / "results.json").read_text(encoding="utf-8"))
    price = results.get("price") or {}
    filmed = [pane for pane in results["panes"] if pane["film"]]
    area = sum(pane["area_m2"] * pane["quantity"] for pane in filmed)
    if not price.get("total") or not area:
        return []
    chosen = next((option["id"] for option in results["options"] if option["chosen"]), None)
    made = []
    for room in dict.fromkeys(pane["room"] for pane in filmed):
        here = [pane for pane in results["panes"] if pane["room"] == room]
        covered = [pane for pane in here if pane["film"]]
        own = sum(pane["area_m2"] * pane["quantity"] for pane in covered)
        share = (Decimal(price["total"]) * Decimal(str(own / area))).quantize(Decimal("0.01"))
        bare = sum(pane["peak_solar_w"] for pane in here)  # of all equal panes of a row
        with_film = sum(_with_film(pane) for pane in here)
        before, after = (_hot(results["rooms"], room, option) for option in ("nothing", chosen))
        made.append(
            {
                "job": job,
                "room": room,
                "films": ", ".join(dict.fromkeys(pane["film"] for pane in covered)),
                "filmed_m2": round(own, 4),
                "peak_w": round(bare, 1),
                "peak_with_film_w": round(with_film, 1),
                "hot_hours_low": before[0],
                "hot_hours_high": before[1],
                "hot_hours_with_film_low": after[0],
                "hot_hours_with_film_high": after[1],
                "price_share": share,
                "currency": price["currency"],
                "kept_out_w_per_100": round((bare - with_film) / float(share) * 100, 2) if share else 0.0,
            }
        )
    return made


def _with_film(pane: Mapping[str, Any]) -> float:
    kept = pane.get("peak_solar_filmed_w")
    return float(pane["peak_solar_w"] if kept is None else kept)


def _hot(rooms: Sequence[Mapping[str, Any]], name: str, option: str | None) -> tuple[Any, Any]:
    """Return the ends of a room's hot hours under an option, None where they are not told."""
    for room in rooms:
        if room["id"] == name:
            for entry in room["options"]:
                if entry["id"] == option and entry["hot_hours"]:
                    return entry["hot_hours"]["p10"], entry["hot_hours"]["p90"]
    return None, None


def write(folder: Path, outcomes: Sequence[Outcome]) -> list[Path]:
    """Write what became of the jobs, and the rooms, as tables for programs and one page for people.

    Parameters
    ----------
    folder
        Where ``jobs.csv``, ``rooms.csv``, ``rooms.parquet`` (where pyarrow is installed) and ``batch.html``
        go; made if it is not there, files of the same names replaced.
    outcomes
        What became of each job.
    """
    folder.mkdir(exist_ok=True)
    rooms = rooms_of(outcomes)
    jobs = [_job_row(outcome) for outcome in outcomes]
    written = [_csv(folder / "jobs.csv", list(jobs[0]), jobs)]
    names = [field.name for field in fields(Room)]
    written.append(_csv(folder / "rooms.csv", names, [asdict(room) for room in rooms]))
    written += _parquet(folder / "rooms.parquet", names, rooms)
    page = folder / "batch.html"
    page.write_text(_page(outcomes, rooms), encoding="utf-8")
    return [*written, page]


def _job_row(outcome: Outcome) -> dict[str, Any]:
    state = "made" if outcome.fresh else "as it was" if outcome.run else "failed"
    return {
        "job": outcome.job,
        "state": state,
        "run": outcome.run.name if outcome.run else "",
        "reason": outcome.reason,
        "seconds": f"{outcome.seconds:.1f}",
    }


def _csv(path: Path, names: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> Path:
    """Write rows; a text that a spreadsheet would take for a formula begins with an apostrophe."""
    stream = io.StringIO()
    writer = csv.DictWriter(stream, names, lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({k: guarded(value) if isinstance(value, str) else value for k, value in row.items()})
    path.write_text(stream.getvalue(), encoding="utf-8", newline="")
    return path


def _parquet(path: Path, names: Sequence[str], rooms: Sequence[Room]) -> list[Path]:
    try:
        import pyarrow
        from pyarrow import parquet
    except ImportError:
        return []
    rows = [asdict(room) for room in rooms]
    money = pyarrow.decimal128(18, 2)
    kinds = {
        "rank": pyarrow.int64(), "job": pyarrow.string(), "room": pyarrow.string(), "films": pyarrow.string(),
        "currency": pyarrow.string(), "price_share": money,
    }  # fmt: skip
    columns = {
        name: pyarrow.array([row[name] for row in rows], kinds.get(name, pyarrow.float64())) for name in names
    }
    parquet.write_table(pyarrow.table(columns), path)
    return [path]


def _page(outcomes: Sequence[Outcome], rooms: Sequence[Room]) -> str:
    """Return the page: what failed first, then the rooms, then every job."""
    failed = [outcome for outcome in outcomes if not outcome.run]
    count = f"{len(outcomes) - len(failed)} of {len(outcomes)} jobs have a run."
    blocks: list[Any] = [Paragraph(count, role="lead")]
    if failed:
        rows = [Row((outcome.job, outcome.reason)) for outcome in failed]
        heads = (Column("job", "Job"), Column("reason", "Why there is no run"))
        blocks += [Heading("Failed"), Table(heads, rows, "Jobs without a run", id="failed")]
    if rooms:
        note = (
            "Heat is the sun's through all panes of the room at its job's worst hour. A room's price is its "
            "job's, shared by the area of film. Hot hours of a year lie in their range eight times of ten."
        )
        columns = (
            Column("rank", "Rank", align="right"), Column("job", "Job"), Column("room", "Room"),
            Column("films", "Film"), Column("area", "Film, m²", align="right"),
            Column("heat", "Heat now, W", align="right"), Column("then", "With film, W", align="right"),
            Column("hot", "Hot hours now", align="right"), Column("less", "With film", align="right"),
            Column("price", "Price", align="right"), Column("worth", "W kept out per 100", align="right"),
        )  # fmt: skip
        blocks += [
            Heading("Rooms, the most relief for its price first"),
            Table(columns, [Row(_cells(room)) for room in rooms], "Rooms with film", note=note, id="rooms"),
        ]
    states = (Column("job", "Job"), Column("state", "State"), Column("run", "Run"))
    rows = [Row(tuple(_job_row(outcome)[key] for key in ("job", "state", "run"))) for outcome in outcomes]
    blocks += [Heading("Every job"), Table(states, rows, "Every job", id="jobs")]
    page = {
        "kind": "batch", "title": "Many jobs at once", "subtitle": "", "lang": "en", "paper": "a4",
        "footer": "", "date": "", "timestamp": 0, "author": "reportkit", "addressee": [],
        "words": FRAME_WORDS, "blocks": Finisher().finish([plain(block) for block in blocks]),
    }  # fmt: skip
    return html.document(page, static=True)


def _cells(room: Room) -> tuple[str, ...]:
    def between(low: float | None, high: float | None) -> str:
        return "" if low is None or high is None else f"{low:,.0f} to {high:,.0f}"

    return (
        str(room.rank), room.job, room.room, room.films, f"{room.filmed_m2:,.1f}", f"{room.peak_w:,.0f}",
        f"{room.peak_with_film_w:,.0f}", between(room.hot_hours_low, room.hot_hours_high),
        between(room.hot_hours_with_film_low, room.hot_hours_with_film_high),
        f"{room.price_share:,} {room.currency}", f"{room.kept_out_w_per_100:,.0f}",
    )  # fmt: skip
