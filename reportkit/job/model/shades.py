"""Shades to compare film with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator

from reportkit.job.model.about import about
from reportkit.job.model.typed import Length, Money, Record, between


class ShadeSpec(Record):
    """A shade to compare film with, at the user's own price for all panes."""

    kind: Annotated[
        Literal["outside_screen", "outside_shutter", "inside_white_blind", "inside_grey_blind", "awning"],
        about("outside_screen, outside_shutter, inside_white_blind, inside_grey_blind, awning", "awning"),
    ]
    price: Annotated[Money | None, about("price for all panes, fitted", "1200")] = None
    depth: Annotated[
        Annotated[Length, AfterValidator(between(100, 6_000))] | None,
        about("how far an awning stands out", "1.2 m"),
    ] = None
