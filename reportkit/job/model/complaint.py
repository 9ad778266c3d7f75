"""What troubles the client, and what they will live with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Id, Money, Percent, Record, Text, broken


class Complaint(Record):
    """What troubles the client, in their words and in ours."""

    text: Annotated[Text, about("the client's own words", "By three the counter is in full sun")]
    kinds: Annotated[
        tuple[Literal["heat", "glare", "fading", "privacy", "bills"], ...],
        Field(min_length=1),
        about("heat, glare, fading, privacy, bills: one or more", "[heat, glare]"),
    ] = ("heat",)
    room: Annotated[Id | None, about("the room it is about", "kitchen")] = None

    @model_validator(mode="after")
    def _kinds_once(self) -> Complaint:
        twice = next((kind for kind in self.kinds if self.kinds.count(kind) > 1), None)
        if twice is not None:
            raise broken(
                translatable("must name each kind once"),
                "kinds",
                found=twice,
                hint=translatable("remove one of the two"),
            )
        return self


class Limits(Record):
    """What the client will live with, on their own glass."""

    darkest_visible_transmittance_percent: Annotated[
        Percent, about("least daylight that must still pass", "40")
    ] = 0.0
    most_mirrored_visible_reflectance_percent: Annotated[
        Percent, about("most daylight the outside may send back", "20")
    ] = 100.0
    must_have: Annotated[
        tuple[Literal["uv", "no_metal", "low_glare", "neutral", "inside"], ...],
        about("what a film must have: uv (block it), no_metal, low_glare, neutral, inside", "[uv]"),
    ] = ()
    budget: Annotated[Money | None, about("the most the job may cost, tax included", "1500")] = None
