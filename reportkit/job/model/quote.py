"""The paper side of the offer: for whom, from whom, its number, dates and terms."""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from reportkit.job.model.about import about
from reportkit.job.model.typed import Day, Percent, Record, Text, broken


class Client(Record):
    """Who the proposal is for."""

    name: Annotated[Text, about("name on the proposal", "Ana Example")]
    address: Annotated[tuple[Text, ...], about("lines of the address", "- 1 Invented Street")] = ()
    contact: Annotated[Text, about("telephone or e-mail", "ana@example.com")] = ""


class Business(Record):
    """Who the proposal is from."""

    name: Annotated[Text, about("name on the proposal", "Example Films")]
    address: Annotated[tuple[Text, ...], about("lines of the address", "- 2 Invented Street")] = ()
    contact: Annotated[Text, about("telephone or e-mail", "hello@example.com")] = ""
    tax_number: Annotated[Text, about("tax number to print, if any", "XX 000 000")] = ""


class Quote(Record):
    """The paper side of the offer."""

    number: Annotated[Text, about("number of the quote", "Q-2026-07")]
    date: Annotated[Day, about("its day", "2026-03-31")]
    valid_until: Annotated[Day | None, about("the last day it holds", "2026-04-30")] = None
    deposit_percent: Annotated[Percent, about("share of the total asked for before buying film", "40")] = 0.0
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
            raise broken(f"must not be before date ({self.date})", "valid_until", found=str(self.valid_until))
        return self
