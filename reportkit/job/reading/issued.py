"""What a run said that was sent: its ``results.json``, read, and kept in short with a new run's inputs."""

from __future__ import annotations

import json
from typing import Any

from pydantic import ValidationError

from reportkit.base.translatable import translatable
from reportkit.job.model.issued import Issued
from reportkit.job.reading.files import Folders
from reportkit.job.reading.rules import Rules

RUNS, RESULTS_FILE = "runs", "results.json"

#: No results are longer than this [bytes]; those of 140 panes are some 2 MB.
LARGEST_RESULTS = 50_000_000

#: Long parts of an option that nothing is compared by.
_DROPPED: dict[str, Any] = {"cash": None, "drivers": [], "excluded": [], "bare_because": []}


def place_of(run: int) -> str:
    """Return where a run's results stand in a job's folder."""
    return f"{RUNS}/{run:04d}/{RESULTS_FILE}"


def is_one(name: str) -> bool:
    """Return whether a file of a job, by its place in its folder, is an earlier run's results."""
    return name.startswith(f"{RUNS}/") and name.endswith(f"/{RESULTS_FILE}")


def parsed(data: bytes) -> Issued | None:
    """Return what a run said; None for the results of a version too old to be compared.

    Raises
    ------
    ValueError
        If the bytes are no results at all.
    """
    tree = json.loads(data)
    if not isinstance(tree, dict) or not isinstance(tree.get("schema"), int):
        raise ValueError("no results")
    options = tree.get("options")
    if isinstance(options, list):
        kept = [
            one
            for one in options
            if isinstance(one, dict) and (one.get("chosen") or one.get("kind") == "none")
        ]
        tree["options"] = [one | _DROPPED for one in kept]
    try:
        return Issued.model_validate(tree)
    except ValidationError:
        return None


def kept(data: bytes) -> bytes:
    """Return of a run's results what a new run's own copy of its inputs holds; it reads as they do."""
    made = parsed(data)
    tree: Any = (
        {"schema": json.loads(data)["schema"]}
        if made is None
        else made.model_dump(mode="json", by_alias=True)
    )
    return (json.dumps(tree, ensure_ascii=False, indent=1) + "\n").encode("utf-8")


def read(rules: Rules, folders: Folders) -> tuple[Issued | None, ...]:
    """Return what each offer said that was sent, None where it cannot be known; report runs that are lost."""
    sent = rules.group("status").get("offered")
    offers: list[Issued | None] = []
    for index, entry in enumerate(sent if isinstance(sent, list) else []):
        typed = entry.get("run") if isinstance(entry, dict) else None
        offers.append(None)
        if not isinstance(typed, str) or not typed.isdecimal() or len(typed) > 6:
            continue  # left out, or a fault of its own
        at = ("status", "offered", index, "run")
        path = folders.own / place_of(int(typed))
        data, wrong = folders.data(path, LARGEST_RESULTS)
        if data is None:
            hint = translatable(
                "give the number of a folder in runs/, or leave run out if what was sent is not kept there"
            )
            rules.fault(
                at,
                translatable(
                    "must be a run of this job: {place} {why}",
                    place=place_of(int(typed)),
                    why=_why(wrong[0].rule),
                ),
                typed,
                hint,
            )
            continue
        try:
            offers[-1] = parsed(data)
        except (ValueError, RecursionError):
            rules.fault(
                at,
                translatable("must be a run whose {results_file} is whole", results_file=RESULTS_FILE),
                typed,
                translatable("leave run out if it is lost"),
            )
    return tuple(offers)


def _why(rule: str) -> str:
    return translatable("is not there") if "no such file" in rule else rule
