"""On what terms and how hard to search, and the best rolls found so far."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from reportkit.cutting import buying
from reportkit.cutting.buying import Load
from reportkit.cutting.effort import Work
from reportkit.cutting.problem import Problem
from reportkit.cutting.records import Roll

#: A difference of costs that counts for none.
TINY = 1e-6


@dataclass
class Effort:
    """How hard to try: counts decide, never the clock, so that a busy machine makes the same plan.

    `first` limits the nodes of the first whole-number programme: its root alone takes the quick mode far.
    `budgets` allow linear programmes for targets before and after `dives` and strips cut `anew` (turns,
    pieces); with no turn none is. `stacked` limits the rounds of the bound on three
    stages, and the programmes for whole numbers of its strips. `work` counts the arithmetic of all of it
    and ends the search of the largest jobs.
    """

    work: Work = field(default_factory=Work)
    columns: int = 3000
    steps: int = 400_000
    nodes: int = 30_000
    first: int = 20
    rounds: int = 400
    programmes: int = 60
    deep: bool = True
    polish: tuple[tuple[int, int], ...] = ((24, 14), (40, 24))
    dives: int = 5
    anew: tuple[int, int] = (32, 22)
    stacked: tuple[int, float] = (60, 500)
    budgets: tuple[float, float] = (1500, 200)

    def nodes_for(self, columns: int) -> int:
        """Return how many branches a whole-number programme of this many strips may take."""
        return max(10, min(4000, self.nodes // max(columns, 1)))

    def worth_going_on(self, best: float, bound: float) -> bool:
        """Return whether something may still be better than the best, and work allowed to find it."""
        return best > bound + TINY * max(1.0, abs(bound)) and not self.work.over


@dataclass(frozen=True)
class Terms:
    """On what terms film is cut, whatever the pieces and the rolls.

    `table` is the longest strip that can be pulled [mm], `stages` how many cuts follow one another, `effort`
    how hard to search, and `source` what the list of pieces is called in faults.
    """

    table: Fraction | None
    stages: int
    effort: Effort
    source: str

    def part(self, of: int) -> Terms:
        """Return the same terms for the next of so many plans to make, with its part of the work left.

        The parts are equal; what a plan does not spend of its own, those after it may.
        """
        return replace(self, effort=replace(self.effort, work=self.effort.work.part(of)))


@dataclass
class Best:
    """The best rolls found, by price, then film, then the largest rest."""

    problem: Problem
    rolls: Sequence[Roll]
    loads: list[Load] | None = None
    price: Fraction = Fraction(0)
    film: Fraction = Fraction(0)
    rest: Fraction = Fraction(0)
    engine: str = ""

    def offer(self, loads: list[Load] | None, engine: str) -> bool:
        """Keep the rolls if they are better; return whether they are."""
        if loads is None:
            return False
        price = buying.cost(self.problem, self.rolls, loads)
        film = buying.film(self.problem, self.rolls, loads)
        rest = buying.largest_rest(self.problem, self.rolls, loads)
        if self.loads is not None and (price, film, -rest) >= (self.price, self.film, -self.rest):
            return False
        self.loads, self.price, self.film, self.rest, self.engine = loads, price, film, rest, engine
        return True

    @property
    def money(self) -> float:
        """Return the price as a float, infinite while nothing is found."""
        return math.inf if self.loads is None else float(self.price)

    @property
    def area(self) -> float:
        """Return the film in square units, infinite while nothing is found."""
        return math.inf if self.loads is None else float(self.film / self.problem.unit**2)
