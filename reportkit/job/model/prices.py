"""The fitter's own rates, and the tax on them."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field

from reportkit.job.model.about import about
from reportkit.job.model.typed import Day, Money, Number, Percent, Record, Text


class Tax(Record):
    """Sales tax or VAT on the quote."""

    name: Annotated[Text, about("what the tax is called", "VAT")] = "Tax"
    percent: Annotated[Percent, about("its rate", "20")] = 0.0
    prices_include_it: Annotated[bool, about("yes if the rates above include it already", "no")] = False


class Prices(Record):
    """The fitter's own rates. Every amount is in the job's currency."""

    labour_per_hour: Annotated[Money, about("one person, one hour", "40")]
    margin_percent: Annotated[Number, Field(ge=0, lt=95), about("what is put on top", "25")] = 0.0
    margin_on: Annotated[
        Literal["price", "cost"],
        about("cost (so much on top of cost) or price (so much of the price)", "cost"),
    ] = "cost"
    minimum_charge: Annotated[Money, about("the least a job costs", "150")] = Decimal(0)
    travel: Annotated[Money, about("travel for the whole job", "35")] = Decimal(0)
    soap_per_litre: Annotated[Money, about("mild clear soap", "6")] = Decimal(0)
    blade_each: Annotated[Money, about("one blade", "0.40")] = Decimal(0)
    sheet_each: Annotated[Money, about("one dust sheet", "2")] = Decimal(0)
    tax: Annotated[Tax, about("the tax on the quote", "percent: 20")] = Tax()
    dated: Annotated[Day | None, about("day the rates were set", "2026-03-01")] = None
