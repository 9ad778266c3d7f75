"""One page about many jobs: which rooms, which film, what it brings, ranked by relief for its price.

Relief is the sun's heat kept out of a room at its job's worst hour: the one measure that every room has,
described or not. A room's share of its job's price is that of its filmed glass in all that is filmed. Rooms
are ranked within a currency. Nothing is computed anew: all of it stands in the runs. The page is written as
most of the jobs are; the tables for programs are SI and English. Prices stay in their own currency: no job
holds a rate of exchange.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from pathlib import Path
from typing import Any, Literal

from reportkit.app.batch import Outcome
from reportkit.base.formulas import guarded
from reportkit.base.translatable import english
from reportkit.documents.blocks import Column, Heading, Paragraph, Row, Table, plain
from reportkit.documents.frame import frame_words
from reportkit.documents.language.formats import NBSP, Formats
from reportkit.documents.language.words import Words
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


@dataclass(frozen=True)
class Manner:
    """How a job's documents are written."""

    units: Literal["us", "metric"]
    language: str
    locale: str
    currency: str

    @classmethod
    def most(cls, manners: Sequence[Manner]) -> Manner:
        """Return how most jobs are written, each thing for itself; the locale is of jobs in the language."""

        def common(name: str, among: Sequence[Manner]) -> Any:
            return Counter(getattr(one, name) for one in among).most_common(1)[0][0]

        language = common("language", manners)
        same = [one for one in manners if one.language == language]
        return cls(common("units", manners), language, common("locale", same), common("currency", manners))


def rooms_of(outcomes: Iterable[Outcome]) -> list[Room]:
    """Return the rooms with film of all jobs that have a run, the most relief for its price first.

    Parameters
    ----------
    outcomes
        What became of each job.
    """
    return _ranked(room for _, rooms in _read(outcomes) for room in rooms)


def _read(outcomes: Iterable[Outcome]) -> Iterator[tuple[Manner, list[dict[str, Any]]]]:
    """Yield how each job that has a run is written, and its rooms with film."""
    for outcome in outcomes:
        if outcome.run:
            results = json.loads((outcome.run / "results.json").read_text(encoding="utf-8"))
            job = results["job"]
            manner = Manner(job["units"], job["language"], job["locale"], job["currency"])
            yield manner, _rooms(outcome.job, results)


def _ranked(rooms: Iterable[dict[str, Any]]) -> list[Room]:
    ordered = sorted(
        rooms, key=lambda room: (room["currency"], -room["kept_out_w_per_100"], room["job"], room["room"])
    )
    ranks: dict[str, int] = {}
    made = []
    for room in ordered:
        ranks[room["currency"]] = ranks.get(room["currency"], 0) + 1
        made.append(Room(rank=ranks[room["currency"]], **room))
    return made


def _rooms(job: str, results: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the rooms with film of one run, not yet ranked."""
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
    read = list(_read(outcomes))
    rooms = _ranked(room for _, of_job in read for room in of_job)
    jobs = [_job_row(outcome) for outcome in outcomes]
    written = [_csv(folder / "jobs.csv", list(jobs[0]), jobs)]
    names = [field.name for field in fields(Room)]
    written.append(_csv(folder / "rooms.csv", names, [asdict(room) for room in rooms]))
    written += _parquet(folder / "rooms.parquet", names, rooms)
    page = folder / "batch.html"
    page.write_text(_page(outcomes, rooms, [manner for manner, _ in read]), encoding="utf-8")
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


def _page(outcomes: Sequence[Outcome], rooms: Sequence[Room], manners: Sequence[Manner]) -> str:
    """Return the page: what failed first, then the rooms, then every job."""
    own = Manner.most(manners) if manners else Manner("metric", "en", "en_IE", "EUR")
    words, fmt = _reader(own)
    failed = [outcome for outcome in outcomes if not outcome.run]
    made, all_ = fmt.number(len(outcomes) - len(failed)), fmt.number(len(outcomes))
    blocks: list[Any] = [
        Paragraph(words("{made} of {all} jobs have a run.", made=made, all=all_), role="lead")
    ]
    if failed:
        rows = [Row((outcome.job, outcome.reason)) for outcome in failed]
        heads = (Column("job", words("Job")), Column("reason", words("Why there is no run")))
        table = Table(heads, rows, words("Jobs without a run"), id="failed")
        blocks += [Heading(words("Failed")), table]
    if rooms:
        columns = (
            Column("rank", words("Rank"), align="right"), Column("job", words("Job")),
            Column("room", words("Room")), Column("films", words("Film")),
            Column("area", words("Film, area"), align="right"),
            Column("heat", words("Heat now"), align="right"),
            Column("then", words("Heat with film"), align="right"),
            Column("hot", words("Hot hours now"), align="right"),
            Column("less", words("Hot hours with film"), align="right"),
            Column("price", words("Price"), align="right"),
            Column("worth", words("Kept out for 100 of its price"), align="right"),
        )  # fmt: skip
        first = sorted(rooms, key=lambda room: (room.currency != own.currency, room.currency, room.rank))
        note = words(
            "Heat is the sun's through all panes of the room at its job's worst hour. A room's price is its "
            "job's, shared by the area of film. Hot hours of a year lie in their range eight times of ten."
        )
        cells = [Row(_cells(room, fmt)) for room in first]
        blocks += [
            Heading(words("Rooms, the most relief for its price first")),
            Paragraph(_manner_told(own, manners, words)),
            Table(columns, cells, words("Rooms with film"), note=note, id="rooms"),
        ]
    states = (Column("job", words("Job")), Column("state", words("State")), Column("run", words("Run")))
    rows = [Row((row["job"], words(STATES[row["state"]]), row["run"])) for row in map(_job_row, outcomes)]
    blocks += [Heading(words("Every job")), Table(states, rows, words("Every job"), id="jobs")]
    page = {
        "kind": "batch", "title": words("Many jobs at once"), "subtitle": "", "lang": words.language,
        "paper": fmt.paper, "footer": "", "date": "", "timestamp": 0, "author": "reportkit", "addressee": [],
        "words": frame_words(words), "blocks": Finisher().finish([plain(block) for block in blocks]),
    }  # fmt: skip
    return html.document(page, static=True)


#: What became of a job, as the tables for programs say it.
STATES = {"made": english("made"), "as it was": english("as it was"), "failed": english("failed")}

UNITS = {"us": english("US units"), "metric": english("metric units")}


def _reader(own: Manner) -> tuple[Words, Formats]:
    fmt = Formats(own.locale, units=own.units, currency=own.currency, language=own.language)
    return Words(own.language, fmt), fmt


def _manner_told(own: Manner, manners: Sequence[Manner], words: Words) -> str:
    """Return in which units, language and currency the page is, and what becomes of jobs in others."""
    from babel.core import Locale

    language = Locale.parse(own.language.replace("-", "_")).get_display_name(words.language.replace("-", "_"))
    told = [
        words(
            "Written as most of these jobs are: {language}, {units}, {currency}.",
            language=language,
            units=words(UNITS[own.units]),
            currency=own.currency,
        )
    ]
    if any(one.units != own.units for one in manners):
        told.append(words("Rooms of jobs in other units are converted."))
    if any(one.currency != own.currency for one in manners):
        told.append(
            words(
                "Prices in another currency stay in it, for no job holds a rate of exchange; those rooms are "
                "ranked among themselves."
            )
        )
    return " ".join(told)


def _cells(room: Room, fmt: Formats) -> tuple[str, ...]:
    def hours(low: float | None, high: float | None) -> str:
        return "" if low is None or high is None else fmt.range(low, low, high, "h")

    own = room.currency == fmt.currency
    price = fmt.money(room.price_share) if own else f"{room.currency}{NBSP}{fmt.number(room.price_share, 2)}"
    return (
        fmt.number(room.rank), room.job, room.room, room.films, fmt.area(room.filmed_m2),
        fmt.power(room.peak_w, 3), fmt.power(room.peak_with_film_w, 3),
        hours(room.hot_hours_low, room.hot_hours_high),
        hours(room.hot_hours_with_film_low, room.hot_hours_with_film_high),
        price, fmt.power(room.kept_out_w_per_100, 3),
    )  # fmt: skip
