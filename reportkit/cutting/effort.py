"""How much arithmetic a search has done: a count that is the same on a quiet machine and a busy one."""

from __future__ import annotations

import math
from dataclasses import dataclass

CELL = 0.0015  # of one entry of a table
STEP = 4.0  # of one pass over a table, however short
PROGRAMME = 2000.0  # of handing a programme to the solver
EACH = 5.0  # of each of its columns, once
ENTRY = 0.01  # of each row and column in one iteration
BRANCH = 30  # iterations in one branch
TURN = 20.0  # of one iteration


@dataclass
class Work:
    """What a search may do and has done, in steps of about a microsecond of a small computer."""

    allowed: float = math.inf
    spent: float = 0.0
    whole: Work | None = None

    def part(self, of: int) -> Work:
        """Return an equal part of what is left for each of so many; what it spends, this has spent."""
        return Work(max(0.0, self.allowed - self.spent) / of, whole=self)

    @property
    def over(self) -> bool:
        """Return whether all that was allowed is done."""
        return self.spent >= self.allowed

    def spend(self, steps: float) -> None:
        """Count steps."""
        self.spent += steps
        if self.whole is not None:
            self.whole.spend(steps)

    def tables(self, passes: int, cells: int) -> None:
        """Count passes over a table of so many cells."""
        self.spend(passes * (STEP + CELL * cells))

    def branches(self, rows: int, columns: int, nodes: int) -> None:
        """Count a whole-number programme by its size and its branches."""
        self.programme(rows, columns, BRANCH * nodes)

    def programme(self, rows: int, columns: int, turns: int) -> None:
        """Count a linear programme by its size and the solver's iterations."""
        self.spend(PROGRAMME + EACH * columns + turns * (TURN + ENTRY * (rows + columns)))
