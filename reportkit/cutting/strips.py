"""Strips as they will be cut: what stands beside what, with nothing cut that was not asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reportkit.cutting.problem import Pattern, Problem


@dataclass(frozen=True, order=True)
class Cut:
    """One crosscut of a bay: columns side by side, each a stack of items (one item for two stages)."""

    bay: int
    along: int
    columns: tuple[tuple[int, ...], ...]


def column_size(problem: Problem, column: tuple[int, ...]) -> tuple[int, int]:
    """Return how far a stack reaches across and along the roll [units]."""
    items = [item for index in column if (item := problem.items[index]) is not None]
    return max(item.across for item in items), sum(item.along for item in items)


def items(cut: Cut) -> Counter[int]:
    """Return how many of each item a strip holds."""
    return Counter(item for column in cut.columns for item in column)


def pattern_of(cut: Cut) -> Pattern:
    """Return a strip as its items and their counts."""
    return Pattern(cut.bay, cut.along, tuple(sorted(items(cut).items())))


def expand(
    problem: Problem, strips: Mapping[Pattern, int], homes: Mapping[str, tuple[int, bool]]
) -> list[Cut]:
    """Write out patterns strip by strip and drop what is over the demand.

    A view group's pieces count only in its home, a (bay, turned) pair. Other surplus
    is dropped where it shortens a strip or empties it, the longest strips first.
    """
    cuts = []
    for pattern in sorted(strips):
        columns = [
            (item,)
            for item, count in pattern.items
            for _ in range(count)
            if homes.get(problem.kinds[item // 2].group, (pattern.bay, bool(item % 2)))
            == (pattern.bay, bool(item % 2))
        ]
        cuts += [Cut(pattern.bay, pattern.along, tuple(columns))] * strips[pattern]
    return settle(problem, cuts)


def settle(problem: Problem, cuts: Iterable[Cut]) -> list[Cut]:
    """Drop pieces over the demand, empty strips, and length that no piece needs."""
    kept = sorted(cuts, key=lambda cut: (-cut.along, cut.bay, cut.columns))
    surplus = [-kind.demand for kind in problem.kinds]
    for cut in kept:
        for column in cut.columns:
            for item in column:
                surplus[item // 2] += 1
    shorter = []
    for cut in kept:
        columns = []
        for column in sorted(cut.columns, key=lambda c: (-column_size(problem, c)[1], c)):
            stack = []
            for item in column:
                if surplus[item // 2] > 0:
                    surplus[item // 2] -= 1
                else:
                    stack.append(item)
            if stack:
                columns.append(tuple(stack))
        if columns:
            sizes = [column_size(problem, column) for column in columns]
            ordered = [
                c
                for _, c in sorted(zip(sizes, columns, strict=True), key=lambda p: (-p[0][1], -p[0][0], p[1]))
            ]
            shorter.append(Cut(cut.bay, max(along for _, along in sizes), tuple(ordered)))
    return sorted(shorter, key=lambda cut: (cut.bay, -cut.along, cut.columns))


def complete(problem: Problem, cuts: Iterable[Cut]) -> bool:
    """Return whether every piece asked for is cut."""
    short = [kind.demand for kind in problem.kinds]
    for cut in cuts:
        for column in cut.columns:
            for item in column:
                short[item // 2] -= 1
    return all(left <= 0 for left in short)
