"""The fitter's own rates, and the tax on them."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.quantities import Area
from reportkit.job.model.typed import Day, Money, Number, Percent, Record, Text, broken

#: What makes a pane harder to fit than others.
Harder = Literal["divided", "old_film", "large", "timber", "outside", "step_ladder", "tower", "safety_film"]


class Tax(Record):
    """Sales tax or VAT on the quote."""

    name: Annotated[Text, about("what the tax is called", "VAT")] = "Tax"
    percent: Annotated[Percent, about("its rate", "20")] = 0.0
    prices_include_it: Annotated[bool, about("yes if the rates above include it already", "no")] = False


class AreaRate(Record):
    """A price for glass with film on it, all in; rates for the same panes are steps, the last without end."""

    per_m2: Annotated[Money | None, about("price of 1 m2 of glass", "65")] = None
    per_ft2: Annotated[Money | None, about("price of 1 ft2 of glass", "7.50")] = None
    up_to: Annotated[
        Annotated[Area, Field(ge=0.1, le=100_000)] | None,
        about("area up to which it holds; what is beyond takes the next rate for the same panes", "10 m2"),
    ] = None
    panes: Annotated[
        tuple[Harder, ...],
        about(
            "the panes it is for, by what makes them harder: divided, old_film, large (over 2.5 m2), timber, outside, step_ladder, tower or safety_film; the first rate that fits a pane is its own; left out: all others",
            "[tower, step_ladder]",
        ),
    ] = ()

    @model_validator(mode="after")
    def _one_rate(self) -> AreaRate:
        if (self.per_m2 is None) is (self.per_ft2 is None):
            raise broken(translatable("must be one of per_m2 and per_ft2, and only one"), "per_m2")
        return self

    @property
    def rate(self) -> Decimal:
        """Price of a unit of area [currency]."""
        return next(rate for rate in (self.per_m2, self.per_ft2) if rate is not None)


class Prices(Record):
    """The fitter's own rates. Every amount is in the job's currency."""

    labour_per_hour: Annotated[
        Money | None, about("one person, one hour; with business, and left out for your own windows", "40")
    ] = None
    margin_percent: Annotated[Number, Field(ge=0, lt=95), about("what is put on top", "25")] = 0.0
    margin_on: Annotated[
        Literal["price", "cost"],
        about("cost (so much on top of cost) or price (so much of the price)", "cost"),
    ] = "cost"
    area_rates: Annotated[
        tuple[AreaRate, ...],
        about(
            "prices by area, in place of film, materials and labour with what is put on top", "- per_m2: 65"
        ),
    ] = ()
    shapes_counted: Annotated[
        Literal["glass", "box"],
        about(
            "for prices by area, what counts of a pane with a shape: glass (its own area) or box (width times height)",
            "glass",
        ),
    ] = "glass"
    film_charged: Annotated[
        Literal["bought", "rest_credited", "length_used", "area"],
        about(
            "bought (whole rolls, ordered lengths), rest_credited (the same less rests worth keeping), length_used (what is pulled off the rolls) or area (that of the pieces)",
            "bought",
        ),
    ] = "bought"
    overtime_after_hours: Annotated[
        Annotated[Number, Field(gt=0, le=24)] | None,
        about("hours of a day's work after which an hour is overtime", "8"),
    ] = None
    overtime_percent: Annotated[
        Number, Field(ge=0, le=300), about("how much more an hour of overtime costs", "50")
    ] = 50.0
    call_out: Annotated[Money, about("charge for coming, sold as typed", "45")] = Decimal(0)
    minimum_charge: Annotated[Money, about("the least a job costs", "150")] = Decimal(0)
    travel: Annotated[Money, about("travel for the whole job", "35")] = Decimal(0)
    soap_per_litre: Annotated[Money, about("mild clear soap", "6")] = Decimal(0)
    blade_each: Annotated[Money, about("one blade", "0.40")] = Decimal(0)
    sheet_each: Annotated[Money, about("one dust sheet", "2")] = Decimal(0)
    tax: Annotated[Tax, about("the tax on the quote", "percent: 20")] = Tax()
    dated: Annotated[Day | None, about("day the rates were set", "2026-03-01")] = None

    @model_validator(mode="after")
    def _rates_by_area_are_whole(self) -> Prices:
        if not self.area_rates:
            return self
        if len({entry.per_m2 is None for entry in self.area_rates}) > 1:
            raise broken(translatable("must all be per_m2, or all per_ft2"), "area_rates")
        groups: dict[tuple[Harder, ...], list[AreaRate]] = {}
        for entry in self.area_rates:
            groups.setdefault(entry.panes, []).append(entry)
        if () not in groups:
            hint = translatable("add a rate without panes, for all others")
            raise broken(translatable("must have a rate for all panes"), "area_rates", hint=hint)
        for rates in groups.values():
            ends = [entry.up_to for entry in rates]
            first = [end for end in ends[:-1] if end is not None]
            if ends[-1] is not None or len(first) < len(ends) - 1 or first != sorted(set(first)):
                hint = translatable("give up_to in rising order, and leave it out in the last")
                raise broken(
                    translatable("must rise in area for the same panes, and end without up_to"),
                    "area_rates",
                    hint=hint,
                )
        return self
