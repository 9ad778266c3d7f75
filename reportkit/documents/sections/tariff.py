"""The prices of energy that the money rests on, and the days on which prices were read or given."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Fact, Facts, Paragraph
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from decimal import Decimal

    from reportkit.job.model import TierSpec


def energy_prices(page: Page) -> list[Block]:
    """Return what energy costs as the job tells it: rates by period and tier, demand, fuels that heat."""
    words, energy = page.words, page.job.energy
    if energy is None:
        return []
    facts = []
    electricity = energy.electricity
    if electricity:
        name = words("Electricity")
        if not electricity.periods:
            facts.append(Fact(name, _rates(page, electricity.rate, electricity.tiers)))
        for period in electricity.periods:
            facts.append(Fact(_joined(name, period.name), _rates(page, period.rate, period.tiers)))
        for charge in electricity.demand:
            amount = words("{amount} for each kW", amount=page.fmt.money(charge.rate_per_kw, every=True))
            facts.append(Fact(_joined(words("Highest power of a month"), charge.name), amount))
    bodies = [room.heat for room in page.job.rooms if room.heat]
    burnt = {body.heating.fuel for body in bodies if body.heating}
    for fuel in energy.fuels:
        if fuel.id in burnt:
            amount = page.fmt.money(fuel.rate, every=True)
            text = words("{amount} for each {unit}", amount=amount, unit=fuel.unit)
            facts.append(Fact(fuel.id, text))
    said = (
        words("Energy prices of {date}:", date=page.fmt.date(energy.priced_on))
        if energy.priced_on
        else words("Energy prices:")
    )
    return [Paragraph(said), Facts(facts, style="list")] if facts else []


def _joined(what: str, name: str) -> str:
    return f"{what}, {name}" if name else what


def _rates(page: Page, rate: Decimal | None, tiers: Sequence[TierSpec]) -> str:
    """Return one rate, or those of tiers."""
    words = page.words
    if rate is not None:
        return words("{amount} for each {unit}", amount=page.fmt.money(rate, every=True), unit="kWh")
    parts = []
    for tier in tiers:
        amount = page.fmt.money(tier.rate, every=True)
        if tier.up_to_kwh is None:
            parts.append(words("{amount} for each further kWh", amount=amount))
        else:
            end = page.fmt.number(tier.up_to_kwh)
            parts.append(words("{amount} for each kWh up to {end} a month", amount=amount, end=end))
    return ", ".join(parts)


def as_of(page: Page, films: Sequence[str]) -> str:
    """Return on which days the rates were set and the prices of these films given, as far as told."""
    words, fmt, job = page.words, page.fmt, page.job
    said = []
    days = {film.priced_on for film in job.films if film.id in films and film.priced_on}
    if days:
        said.append(words("Film prices of {date}.", date=", ".join(fmt.date(day) for day in sorted(days))))
    if job.prices.dated:
        said.append(words("Rates of {date}.", date=fmt.date(job.prices.dated)))
    return " ".join(said)
