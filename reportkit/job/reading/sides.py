"""A film that may go on either side of the glass stands for two: one inside, one outside."""

from __future__ import annotations

from typing import Any

#: What is put behind the id of the film on the outside.
OUTSIDE = "-outside"


def both_sides(raw: dict[str, Any]) -> None:
    """Split every film with ``side: either`` in a job's raw tree into two entries, in place.

    The inside keeps the id; the outside is ``ID-outside``, so it can be chosen by that name. Where films to
    compare are listed, the outside joins its inside.
    """
    films = raw.get("films")
    if not isinstance(films, list):
        return
    split = [entry for entry in films if isinstance(entry, dict) and entry.get("side") == "either"]
    for entry in split:
        name = str(entry.get("id", ""))
        outside = entry | {"id": f"{name}{OUTSIDE}", "side": "outside"}
        if isinstance(entry.get("name"), str):
            outside["name"] = f"{entry['name']}, outside"
        entry["side"] = "inside"
        films.append(outside)
        compare = raw.get("compare")
        if isinstance(compare, list) and name in compare and outside["id"] not in compare:
            compare.insert(compare.index(name) + 1, outside["id"])


def base_of(name: str) -> str:
    """Return the id under which a film, or its twin on the outside, stands in a catalogue."""
    return name.removesuffix(OUTSIDE)
