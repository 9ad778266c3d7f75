"""What film on some panes costs at least, known before its cutting is planned: a bound for a budget's search.

Counted are film by its area and the rolls on offer, minutes and travel, or the least price by area where the
job has such prices; margin, a discount in percent, and tax. Lines of one's own, call-out, minimum charge and
overtime only raise a price, so they are left out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from reportkit.study.budget import film_at_least, unit_price

if TYPE_CHECKING:
    from reportkit import cutting
    from reportkit.job.model import Job

#: Rates are rounded line by line: a price can be that much lower than its parts say.
ROUNDING = 0.998

#: The same for a rate that comes of a roll's price: it is kept to three figures.
OF_A_ROLL = 0.995

#: How much less of a unit an area may be told as than it is [1].
UNTOLD = 0.005

SQUARE_FEET = 1 / 0.3048**2


@dataclass(frozen=True)
class Least:
    """What panes cost at least.

    ``blanks`` are the areas of film [m2], ``glass`` those of glass [m2], ``minutes`` of all people, by the
    pane's id, all of a row together.
    """

    job: Job
    rolls: Sequence[cutting.Roll]
    blanks: Mapping[str, float]
    glass: Mapping[str, float]
    minutes: Mapping[str, float]

    @property
    def rebate(self) -> Decimal:
        """What a discount of an amount takes off, with tax [currency]: a budget reaches so much further."""
        off = self.job.discount
        return (off.amount or Decimal(0)) * Decimal(str(self._taxed)) if off else Decimal(0)

    def each(self, pane: str) -> float:
        """Return what a row of panes adds at least to any price, without the rebate [currency]."""
        if self.job.prices.area_rates:
            return self._raised * self._by_area([pane])
        free = any(not roll.price for roll in self.rolls)
        film = 0.0 if free else OF_A_ROLL * unit_price(self.rolls) * self.blanks[pane]
        return self._raised * (film + self._work([pane]))

    def together(self, panes: Sequence[str]) -> float:
        """Return what rows of panes cost at least, without the rebate [currency]."""
        prices = self.job.prices
        travel = float(prices.travel)
        if prices.area_rates:
            return self._raised * self._by_area(panes)
        area = sum(self.blanks[pane] for pane in panes)
        if prices.film_charged == "bought":
            film = film_at_least(area, self.rolls)
        else:
            film = sum(self.each(pane) / self._raised - self._work([pane]) for pane in panes)
        return self._raised * (film + self._work(panes) + travel)

    def _work(self, panes: Sequence[str]) -> float:
        return float(self.job.prices.labour_per_hour or 0) / 60 * sum(self.minutes[pane] for pane in panes)

    def _by_area(self, panes: Sequence[str]) -> float:
        rates = self.job.prices.area_rates
        feet = rates[0].per_m2 is None
        area = sum(self.glass[pane] for pane in panes) * (SQUARE_FEET if feet else 1.0)
        return float(min(entry.rate for entry in rates)) * max(0.0, area - UNTOLD * len(rates) * len(panes))

    @property
    def _taxed(self) -> float:
        tax = self.job.prices.tax
        return 1.0 if tax.prices_include_it else 1 + tax.percent / 100

    @property
    def _raised(self) -> float:
        """Price over cost: margin, discount in percent, tax where the rates leave it out, rounding."""
        prices, off = self.job.prices, self.job.discount
        share = 0.0 if prices.area_rates else prices.margin_percent / 100
        margin = 1 + share if prices.margin_on == "cost" else 1 / (1 - share)
        left = 1 - off.percent / 100 if off and off.percent else 1.0
        return ROUNDING * margin * left * self._taxed
