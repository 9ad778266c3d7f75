"""Strips across one bay: the best by value for every crosscut length at once, or all within a gap.

Items are taken by rising length along the roll, so one knapsack over the roll's width, read off after
each length, prices every crosscut [1]_. The same table bounds a depth-first listing of every full strip
whose cost exceeds its value by less than a threshold.

References
----------
.. [1] Gilmore and Gomory, "Multistage cutting stock problems of two and more dimensions",
   Operations Research 13 (1965), from memory of the paper.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from reportkit.cutting.effort import Work
from reportkit.cutting.problem import Bay, Pattern, Problem

TINY = 1e-9


#: Copies of an item: its position, how many, their size across the roll [units] and their value.
Chunk = tuple[int, int, int, float]

#: So many chunks lie between the rows of a table that are kept to go on from.
APART = 16


class _Table:
    """A knapsack over the width of a roll, filled chunk by chunk; `full`: the whole width's value after each.

    Filled again, it goes on from the first chunk that is another than before: strip after strip of a greedy
    plan, which takes the longest pieces first, differ in their last chunks alone.
    """

    def __init__(self, width: int) -> None:
        self.width = width
        self.chunks: list[Chunk] = []
        self.takes: list[np.ndarray] = []
        self.full: list[float] = [0.0]
        self._rows = [np.zeros(width + 1)]  # before every APART-th chunk

    def fill(self, chunks: list[Chunk]) -> None:
        """Fill it with chunks in their order."""
        pairs = enumerate(zip(chunks, self.chunks, strict=False))
        same = next((n for n, (now, before) in pairs if now != before), min(len(chunks), len(self.chunks)))
        del self._rows[same // APART + 1 :]
        first = APART * (len(self._rows) - 1)
        del self.takes[first:], self.full[first + 1 :]
        best = self._rows[-1].copy()
        for number in range(first, len(chunks)):
            if number % APART == 0 and number > first:
                self._rows.append(best.copy())
            _, _, size, value = chunks[number]
            beside = best[size:]
            offer = best[: self.width + 1 - size] + value
            take = offer > beside + TINY
            np.copyto(beside, offer, where=take)
            self.takes.append(take)
            self.full.append(float(best[self.width]))
        self.chunks = chunks


class Crosscuts:
    """The items of one bay by rising length, ready to be priced again and again."""

    def __init__(
        self,
        problem: Problem,
        bays: Sequence[Bay],
        number: int,
        allowed: Sequence[int] | None = None,
        work: Work | None = None,
    ) -> None:
        self.number, self.work = number, Work() if work is None else work
        self.width = bays[number].width
        chosen = problem.fits(bays[number]) if allowed is None else allowed
        held = [(index, problem.items[index]) for index in chosen]
        order = sorted((item.along, item.across, index) for index, item in held if item is not None)
        self.items = [index for _, _, index in order]
        self.along = [along for along, _, _ in order]
        self.across = [across for _, across, _ in order]
        self.kind = [index // 2 for index in self.items]
        self.demand = [problem.kinds[kind].demand for kind in self.kind]
        self._table = _Table(self.width)
        self.ends = [  # positions after the last item of each length
            pos + 1
            for pos in range(len(order))
            if pos + 1 == len(order) or self.along[pos + 1] != self.along[pos]
        ]

    def _chunks(self, pos: int) -> list[int]:
        """Return counts 1, 2, 4, ... that make up any number of copies the width and demand allow."""
        left, size, chunks = min(self.demand[pos], self.width // self.across[pos]), 1, []
        while left > 0:
            chunks.append(min(size, left))
            left -= chunks[-1]
            size *= 2
        return chunks

    def price(
        self, values: np.ndarray, *, cost: float = 1.0, limit: int = 0, ratio: bool = False
    ) -> list[tuple[int, float, Pattern]]:
        """Return (length, value, strip) of the best strip for each crosscut length that adds any value.

        Parameters
        ----------
        values : (n_items,) array
            Worth of one copy of each item, by the problem's item number; worthless ones are left out.
        limit : int
            Return only this many strips, those of least cost x length - value; 0 for all.
        cost : float
            Price of a unit of length.
        ratio : bool
            Rank strips by value over length instead.
        """
        item_values = values[self.items].tolist()
        chunks: list[Chunk] = []
        ends: list[tuple[int, int]] = []  # length, chunks up to it
        start = 0
        for end in self.ends:
            for pos in range(start, end):
                if item_values[pos] > TINY:
                    across = self.across[pos]
                    chunks += [(pos, n, across * n, item_values[pos] * n) for n in self._chunks(pos)]
            start = end
            ends.append((self.along[end - 1], len(chunks)))
        self._table.fill(chunks)
        priced: list[tuple[int, float, int]] = []
        for along, upto in ends:
            value = self._table.full[upto]
            if value > (priced[-1][1] if priced else 0.0) + TINY:  # else a shorter strip is as good
                priced.append((along, value, upto))
        self.work.tables(3 * len(chunks), self.width)
        if limit and ratio:
            priced = sorted(priced, key=lambda entry: (-entry[1] / entry[0], entry[0]))[:limit]
        elif limit:
            priced = sorted(priced, key=lambda entry: (cost * entry[0] - entry[1], entry[0]))[:limit]
        return [(along, value, self._trace(along, upto)) for along, value, upto in priced]

    def _trace(self, along: int, upto: int) -> Pattern:
        """Walk the knapsack back; the strip is as long as its longest piece, at most `along`."""
        width, counts, longest = self.width, dict[int, int](), 0
        for number in range(upto - 1, -1, -1):
            pos, count, size, _ = self._table.chunks[number]
            if width >= size and self._table.takes[number][width - size]:
                counts[self.items[pos]] = counts.get(self.items[pos], 0) + count
                longest = max(longest, self.along[pos])
                width -= size
        return Pattern(self.number, longest, tuple(sorted(counts.items())))

    def values(self, values: np.ndarray) -> np.ndarray:
        """Return the greatest value by (number of items allowed, width) for bounding, bounded copies."""
        table = np.zeros((len(self.items) + 1, self.width + 1))
        for pos in range(len(self.items)):
            row = table[pos + 1]
            row[:] = table[pos]
            value = float(values[self.items[pos]])
            if value <= 0:
                continue
            for count in self._chunks(pos):
                size = self.across[pos] * count
                np.maximum(row[size:], row[: self.width + 1 - size] + value * count, out=row[size:])
        return table

    def within(
        self, values: np.ndarray, cost: float, gap: float, *, most: int, steps: int
    ) -> tuple[list[Pattern], bool]:
        """List every full strip with cost x length - value <= gap.

        A strip is full when no piece still asked for fits beside it; taking more than is needed never
        costs more, so full strips suffice.

        Parameters
        ----------
        cost : float
            Price of a unit of length.
        most, steps : int
            Stop after so many strips, or so many steps of the search.

        Returns
        -------
        tuple of (list of Pattern, bool)
            The strips, and whether the list is complete.
        """
        table = self.values(values)
        strips: list[Pattern] = []
        left = [steps]
        start = 0
        for end in self.ends:
            along = self.along[end - 1]
            need = cost * along - gap
            if table[end][self.width] >= need - TINY:
                self._search(table, values, (start, end), need, strips, left, most)
            if left[0] <= 0 or len(strips) > most:
                return strips[:most], False
            start = end
        return strips, True

    def _search(
        self,
        table: np.ndarray,
        values: np.ndarray,
        span: tuple[int, int],
        need: float,
        strips: list[Pattern],
        left: list[int],
        most: int,
    ) -> None:
        """Search depth first, the longest items first; one of the longest must be taken."""
        start, end = span
        item_values = [float(values[item]) for item in self.items]
        used: dict[int, int] = {}
        taken: list[tuple[int, int]] = []
        narrow = sorted((self.across[pos], pos) for pos in range(end))
        along = self.along[end - 1]

        def full(room: int) -> bool:
            for across, pos in narrow:
                if across > room:
                    return True
                if used.get(self.kind[pos], 0) < self.demand[pos]:
                    return False
            return True

        def walk(pos: int, room: int, value: float) -> None:
            while True:
                left[0] -= 1
                while pos >= 0 and self.across[pos] > room:
                    pos -= 1
                if left[0] <= 0 or len(strips) > most or (pos < start and not taken):
                    return
                if value + table[pos + 1][room] < need - TINY:
                    return
                if pos < 0:
                    if full(room):
                        strips.append(Pattern(self.number, along, tuple(sorted(taken))))
                    return
                kind = self.kind[pos]
                have = used.get(kind, 0)
                for count in range(min(self.demand[pos] - have, room // self.across[pos]), 0, -1):
                    used[kind] = have + count
                    taken.append((self.items[pos], count))
                    walk(pos - 1, room - count * self.across[pos], value + count * item_values[pos])
                    taken.pop()
                used[kind] = have
                pos -= 1

        walk(end - 1, self.width, 0.0)
