"""What the building, its owner and its neighbours have to say about film: facts that permissions follow from.

All of it may be left out; a caution then says that it is not known. Only buildings: vehicle glass is not
covered.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, WithJsonSchema

from reportkit.job.typed import Record, Whole


def _country(code: str) -> str:
    if not (len(code) == 2 and code.isascii() and code.isalpha() and code.isupper()):
        raise ValueError("must be a country's two-letter code in capitals (ISO 3166-1)")
    return code


#: A country; whether it exists is for ``reportkit.job.rules``.
Country = Annotated[
    str, AfterValidator(_country), WithJsonSchema({"type": "string", "pattern": "^[A-Z]{2}$"})
]


class Building(Record):
    """Where the building stands in law, who lives in it, and what is near its glass."""

    country: Country | None = None
    year_built: Annotated[Whole, Field(ge=1000, le=2200)] | None = None
    paid_work: bool | None = None
    tenure: Literal["owner", "tenant", "owners_association"] | None = None
    listed: bool | None = None
    plants: bool = False
    alarm_sensors: bool = False
    radio: bool = False
    vinyl_siding: bool = False
