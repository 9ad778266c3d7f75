"""The rates that a job left open and took from ``_shared``, each with its value: they stand in its total."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any

from reportkit.base.translatable import english, joined, translatable
from reportkit.job.model import Job, Prices
from reportkit.job.model.prices import AreaRate, Tax
from reportkit.job.reading.defaults import Assumption

#: What each rate is called, by its field.
RATES: dict[str, str] = {
    "labour_per_hour": english("price of an hour of work"),
    "margin_percent": english("margin"),
    "margin_on": english("margin counted on"),
    "area_rates": english("prices by area"),
    "shapes_counted": english("what counts of shaped panes"),
    "film_charged": english("film charged"),
    "overtime_after_hours": english("overtime after"),
    "overtime_percent": english("surcharge of overtime"),
    "call_out": english("price of coming"),
    "minimum_charge": english("least charge"),
    "travel": english("price of travel"),
    "soap_per_litre": english("price of soap"),
    "blade_each": english("price of a blade"),
    "sheet_each": english("price of a dust sheet"),
    "tax": english("tax"),
}
#: What a rate that is a word means, by that word.
_WORDS = {
    "cost": english("the cost"),
    "price": english("the price"),
    "glass": english("the glass itself"),
    "box": english("the rectangle around it"),
    "bought": english("as bought"),
    "rest_credited": english("as bought, less rests worth keeping"),
    "length_used": english("by the length used"),
    "area": english("by its area"),
}
#: What film is charged by, in a sentence.
CHARGED = {
    "bought": english("Film is charged as it is bought: a roll sold whole counts whole."),
    "rest_credited": english("Film is charged as it is bought, less the rests worth keeping."),
    "length_used": english("Film is charged by the length pulled off the rolls, not by the rolls bought."),
    "area": english("Film is charged by the area of its pieces, not by the rolls bought."),
}
#: Why a rate of ``_shared`` holds.
_WHY = english("the job gives none of its own")


def shared_rates(job: Job, names: Iterable[str], file: str) -> tuple[Assumption, ...]:
    """Return one entry for each rate that came from ``_shared``, in the order of `RATES`.

    Parameters
    ----------
    job
        The job, shared rates among its own.
    names
        Fields of its prices that came from there; others than rates are passed over.
    file
        The file they stand in, as messages show it.
    """
    taken, mark = set(names), translatable("From {file}", file=file)
    return tuple(
        Assumption(f"prices.{name}", _value(job.prices, name, job.currency), mark, _WHY)
        for name in RATES
        if name in taken
    )


def rates_told(entries: Iterable[Assumption]) -> list[str]:
    """Return which rates came from ``_shared`` in a sentence; none where none did.

    Parameters
    ----------
    entries
        What was assumed in a job, other things among it.
    """
    kept = [entry for entry in entries if entry.why == _WHY]
    if not kept:
        return []
    told = [
        translatable(
            "{rate} {value}",
            rate=translatable(RATES[entry.field.removeprefix("prices.")]),
            value=entry.value,
        )
        for entry in kept
    ]
    return [translatable("{source}: {rates}.", source=kept[0].mark, rates=joined(", ", told))]


def _value(prices: Prices, name: str, currency: str) -> str:
    """Return a rate as it is told: money with its currency, shares in percent, words as what they mean."""
    value = getattr(prices, name)
    for kind, write in _WRITTEN.items():
        if isinstance(value, kind):
            return write(value, currency)
    if name == "overtime_after_hours":
        return translatable("{hours:g} h", hours=value)
    if isinstance(value, float):
        return translatable("{percent:g} %", percent=value)
    return translatable(_WORDS[value])


def _money(amount: Decimal, currency: str) -> str:
    return translatable("{amount:f} {currency}", amount=amount, currency=currency)


def _tax(tax: Tax, currency: str) -> str:
    told = translatable("{percent:g} %", percent=tax.percent)
    return translatable("{tax} included", tax=told) if tax.prices_include_it else told


def _areas(rates: tuple[AreaRate, ...], currency: str) -> str:
    """Return prices by area one by one, those of harder panes with what makes them so."""
    told = []
    for entry in rates:
        unit = "m²" if entry.per_ft2 is None else "ft²"
        price = translatable("{amount:f} {currency}/{unit}", amount=entry.rate, currency=currency, unit=unit)
        panes = ", ".join(word.replace("_", " ") for word in entry.panes)
        told.append(translatable("{price} ({panes})", price=price, panes=panes) if panes else price)
    return joined("; ", told)


_WRITTEN: dict[type, Callable[[Any, str], str]] = {Decimal: _money, Tax: _tax, tuple: _areas}
