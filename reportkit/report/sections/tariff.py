"""The prices of energy that the money rests on, and the days on which prices were read or given."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from reportkit.report.blocks import Block, Fact, Facts, Paragraph
from reportkit.report.page import Page


def energy_prices(page: Page) -> list[Block]:
    """Return what energy costs as the job tells it: rates by period and tier, demand, fuels that heat."""
    words, energy = page.words, page.job["energy"]
    facts = []
    electricity = energy["electricity"]
    if electricity:
        name = words("Electricity")
        whole = {"name": "", "rate": electricity["rate"], "tiers": electricity["tiers"]}
        for period in electricity["periods"] or [whole]:
            facts.append(Fact(_joined(name, period["name"]), _rates(page, period)))
        for charge in electricity["demand"]:
            amount = words("{amount} for each kW", amount=_amount(page, charge["rate_per_kw"]))
            facts.append(Fact(_joined(words("Highest power of a month"), charge["name"]), amount))
    bodies = [room["heat"] for room in page.job["rooms"] if room["heat"]]
    burnt = {body["heating"]["fuel"] for body in bodies if body["heating"]}
    for fuel in energy["fuels"]:
        if fuel["id"] in burnt:
            amount = _amount(page, fuel["rate"])
            text = words("{amount} for each {unit}", amount=amount, unit=fuel["unit"])
            facts.append(Fact(fuel["id"], text))
    read = energy["priced_on"]
    said = (
        words("Energy prices of {date}:", date=page.fmt.date(dt.date.fromisoformat(read)))
        if read
        else words("Energy prices:")
    )
    return [Paragraph(said), Facts(facts, style="list")] if facts else []


def _amount(page: Page, rate: str) -> str:
    """Return a rate with as many decimals as it was typed with, two or more."""
    exponent = Decimal(rate).normalize().as_tuple().exponent
    digits = max(2, -exponent) if isinstance(exponent, int) else 2
    return f"{page.fmt.currency}\u00a0{page.fmt.number(rate, digits)}"


def _joined(what: str, name: str) -> str:
    return f"{what}, {name}" if name else what


def _rates(page: Page, spec: Mapping[str, Any]) -> str:
    """Return one rate, or those of tiers."""
    words = page.words
    if spec["rate"] is not None:
        return words("{amount} for each {unit}", amount=_amount(page, spec["rate"]), unit="kWh")
    parts = []
    for tier in spec["tiers"]:
        amount = _amount(page, tier["rate"])
        if tier["up_to_kwh"] is None:
            parts.append(words("{amount} for each further kWh", amount=amount))
        else:
            end = page.fmt.number(tier["up_to_kwh"])
            parts.append(words("{amount} for each kWh up to {end} a month", amount=amount, end=end))
    return ", ".join(parts)


def as_of(page: Page, films: Sequence[str]) -> str:
    """Return on which days the rates were set and the prices of these films given, as far as told."""
    words, fmt, job = page.words, page.fmt, page.job

    def day(text: str) -> str:
        return fmt.date(dt.date.fromisoformat(text))

    said = []
    given = {entry["id"]: entry["priced_on"] for entry in job["films"]}
    days = dict.fromkeys(given[name] for name in films if given[name])
    if days:
        said.append(words("Film prices of {date}.", date=", ".join(day(one) for one in sorted(days))))
    if job["prices"]["dated"]:
        said.append(words("Rates of {date}.", date=day(job["prices"]["dated"])))
    return " ".join(said)
