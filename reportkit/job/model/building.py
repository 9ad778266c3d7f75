"""What the building, its owner and its neighbours have to say about film: facts that permissions follow from.

All of it may be left out; a caution then says that it is not known. Only buildings: vehicle glass is not
covered.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, WithJsonSchema

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Record, Whole


def _country(code: str) -> str:
    if not (len(code) == 2 and code.isascii() and code.isalpha() and code.isupper()):
        raise ValueError(translatable("must be a country's two-letter code in capitals (ISO 3166-1)"))
    return code


#: A country; whether it exists is for ``reportkit.job.reading.rules``.
Country = Annotated[
    str, AfterValidator(_country), WithJsonSchema({"type": "string", "pattern": "^[A-Z]{2}$"})
]


class Building(Record):
    """Where the building stands in law, who lives in it, and what is near its glass."""

    country: Annotated[Country | None, about("where it stands, as a two-letter code (ISO 3166-1)", "IE")] = (
        None
    )
    year_built: Annotated[
        Annotated[Whole, Field(ge=1000, le=2200)] | None,
        about("year it was built; old paint may hold lead", "1968"),
    ] = None
    paid_work: Annotated[
        bool | None, about("yes where the work is paid, no where people fit their own home", "yes")
    ] = None
    tenure: Annotated[
        Literal["owner", "tenant", "owners_association"] | None,
        about("owner, tenant or owners_association (shared walls and windows)", "tenant"),
    ] = None
    listed: Annotated[bool | None, about("yes where heritage law protects the building", "no")] = None
    plants: Annotated[bool, about("yes where plants live behind the glass", "no")] = False
    alarm_sensors: Annotated[bool, about("yes where alarm sensors or foil are on the glass", "no")] = False
    radio: Annotated[bool, about("yes where radio or telephone must get through the glass", "no")] = False
    vinyl_siding: Annotated[
        bool, about("yes where vinyl siding stands within reach of mirrored sun", "no")
    ] = False
