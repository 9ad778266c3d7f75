"""What an earlier run said that went to the client: as much of its results as a new run is compared with.

The names are those of ``results.json``; whatever else it holds is passed over, so runs of other versions are read
as long as they hold these.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from pydantic import BaseModel, ConfigDict, Field


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="ignore", populate_by_name=True)


class PaneWas(_Part):
    """A row of the survey as it was, with the film it was to get."""

    id: str
    room: str
    face: str
    glazing: str
    quantity: int = Field(ge=1)
    number: int = 0
    width_mm: float
    height_mm: float
    film: str | None
    shape: str | None = None


class PriceWas(_Part):
    """What was to pay."""

    currency: str
    total: Decimal


class SeamWas(_Part):
    """Which part of a seamed pane a piece was."""

    part: int
    parts: int


class PieceWas(_Part):
    """A cut piece as it was."""

    pane: str
    width_mm: float
    length_mm: float
    turned: bool
    seam: SeamWas | None = None


class StripWas(_Part):
    """A strip, its pieces from the left."""

    pieces: tuple[PieceWas, ...]


class RollWas(_Part):
    """A roll, its strips from the start."""

    film: str
    strips: tuple[StripWas, ...]


class CuttingWas(_Part):
    """The cut plan as it was."""

    rolls: tuple[RollWas, ...]


class WayWas(_Part):
    """A way that stood beside others."""

    offered: bool
    name: str = ""
    better: tuple[str, ...] = ()
    total: Decimal | None = None


class Named(_Part):
    """Something with a name."""

    id: str
    name: str = ""


class AskedWas(_Part):
    """What was asked about."""

    kinds: tuple[str, ...]
    room: str | None = None


class JobWas(_Part):
    """What of the job the comparison needs: what was asked, names, what the glass was taken for, terms."""

    complaint: AskedWas
    films: tuple[Named, ...]
    rooms: tuple[Named, ...]
    glazings: tuple[dict[str, Any], ...]
    quote: dict[str, Any] | None = None


class RevisionWas(_Part):
    """Its letter."""

    letter: str = Field(pattern=r"^[A-Z]+$")


class Issued(_Part):
    """An earlier run as the client has it. ``options`` are doing nothing and the one offered, as stored."""

    version: int = Field(alias="schema")
    revision: RevisionWas | None = None
    job: JobWas
    panes: tuple[PaneWas, ...] = Field(min_length=1)
    price: PriceWas
    ways: tuple[WayWas, ...] = ()
    options: tuple[dict[str, Any], ...] = ()
    cutting: CuttingWas | None = None
