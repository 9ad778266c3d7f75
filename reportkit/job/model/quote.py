"""The paper side of the offer: for whom, from whom, its number, dates and terms."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Day, Money, Percent, Record, Text, broken


class Client(Record):
    """Who the proposal is for; nobody need be named for one's own windows."""

    name: Annotated[
        Text, about("name on the proposal; for your own windows it may be left out", "Ana Example")
    ] = ""
    address: Annotated[tuple[Text, ...], about("lines of the address", "- 1 Invented Street")] = ()
    contact: Annotated[Text, about("telephone or e-mail", "ana@example.com")] = ""


class Business(Record):
    """Who the proposal is from."""

    name: Annotated[Text, about("name on the proposal", "Example Films")]
    address: Annotated[tuple[Text, ...], about("lines of the address", "- 2 Invented Street")] = ()
    contact: Annotated[Text, about("telephone or e-mail", "hello@example.com")] = ""
    tax_number: Annotated[Text, about("tax number to print, if any", "XX 000 000")] = ""


class Discount(Record):
    """What is taken off the price, and why."""

    percent: Annotated[
        Annotated[Percent, Field(gt=0)] | None, about("share of the sum of the lines", "5")
    ] = None
    amount: Annotated[Annotated[Money, Field(gt=0)] | None, about("or an amount", "50")] = None
    reason: Annotated[Text, Field(min_length=1), about("why, as printed", "second job for this client")]

    @model_validator(mode="after")
    def _one_way(self) -> Discount:
        if (self.percent is None) is (self.amount is None):
            raise broken(translatable("must be one of percent and amount, and only one"), "percent")
        return self


class Extra(Record):
    """A line of the fitter's own, sold as typed."""

    text: Annotated[Text, Field(min_length=1), about("what it is for, as printed", "tower hire")]
    quantity: Annotated[Money, Field(gt=0), about("how many", "2")] = Decimal(1)
    unit: Annotated[Text, Field(max_length=20), about("of what, as printed", "days")] = ""
    price: Annotated[Money, about("for one, as the client pays it", "85")]


class Quote(Record):
    """The paper side of the offer."""

    number: Annotated[Text, about("number of the quote", "Q-2026-07")]
    date: Annotated[Day, about("its day", "2026-03-31")]
    valid_until: Annotated[Day | None, about("the last day it holds", "2026-04-30")] = None
    deposit_percent: Annotated[Percent, about("share of the total asked for before buying film", "40")] = 0.0
    shown: Annotated[
        Literal["lines", "area", "sum"],
        about("lines (one by one), area (one price for the area of the glass) or sum (one sum)", "lines"),
    ] = "lines"
    extras: Annotated[tuple[Extra, ...], about("lines of your own", "- text: tower hire")] = ()
    discount: Annotated[Discount | None, about("what is taken off, and why", "percent: 5")] = None
    terms: Annotated[
        tuple[Text, ...], about("sentences to print", "- The balance is due on the day of fitting.")
    ] = ()

    warranty: Annotated[
        tuple[Text, ...],
        about("what is warranted and for how long, in your own words", "- Our work for two years"),
    ] = ()

    @model_validator(mode="after")
    def _ends_after_it_starts(self) -> Quote:
        if self.valid_until and self.valid_until < self.date:
            raise broken(
                translatable("must not be before date ({date})", date=self.date),
                "valid_until",
                found=str(self.valid_until),
            )
        return self
