"""Where every field of an assembled job stood: file, line, and the name a message calls it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.reading.yamltree import Path, Tree


@dataclass
class Positions:
    """File and line by path; a path not known takes its nearest parent's."""

    known: dict[Path, tuple[str, int]] = field(default_factory=dict)

    def graft(self, onto: Path, tree: Tree, start: Path = (), *, deep: bool = True) -> None:
        """Take over the lines of a tree from ``start`` down, as standing at ``onto``.

        Parameters
        ----------
        onto
            The path in the assembled job.
        tree
            The tree of the file they stand in.
        start
            The path in that tree.
        deep
            False to take only ``start`` itself.
        """
        size = len(start)
        for path, place in tree.positions.items():
            if path[:size] == start and (deep or len(path) == size):
                self.known[onto + path[size:]] = place

    def find(self, path: Path) -> tuple[str, int]:
        """Return the file and line of a path, or of its nearest parent."""
        for size in range(len(path), -1, -1):
            if path[:size] in self.known:
                return self.known[path[:size]]
        return "job.yaml", 0

    def in_words(self, path: Path) -> str:
        """Return where a path stands in words."""
        return in_words(self.find(path))


def in_words(place: tuple[str, int]) -> str:
    """Return a file and line in words: ``line 12``, or the cell of a workbook as ``Rooms!D3``."""
    fault = Fault(*place, "", "")
    return fault.cell or translatable("line {line}", line=fault.line)


def field_name(path: Path, raw: Any) -> str:
    """Return a path as a person would say it: ``films.grey.rated.shgc``, ``faces.2.bearing``."""
    if path[:1] == ("readings",) and len(path) == 3:
        return str(path[2])  # a cell goes by its column; the line names its row
    words: list[str] = []
    value = raw
    for part in path:
        if isinstance(part, int):
            value = value[part] if isinstance(value, list) and part < len(value) else None
            name = value.get("id") if isinstance(value, dict) else None
            words.append(name if isinstance(name, str) and name and len(name) <= 60 else str(part + 1))
        else:
            value = value.get(part) if isinstance(value, dict) else None
            words.append(part)
    return ".".join(words)
