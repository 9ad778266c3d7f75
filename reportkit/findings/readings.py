"""Findings of the readings taken after the work: each pair, what they say together, what was left out."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Literal

from reportkit.findings.result import Result, Share, Text, finite
from reportkit.physics.glass.readings import READING_SHARE

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.readings import Compared


class Between(Result):
    """A range of shares [1]."""

    low: float
    """Least [1]."""
    high: float
    """Most [1]."""


class AroundMiddle(Result):
    """A range of shares and its middle [1]."""

    low: float | None
    """Least [1]; null where nothing bounds it."""
    high: float | None
    """Most [1]; null where nothing bounds it."""
    middle: float
    """The middle [1]."""


class ReadingPair(Result):
    """A reading behind film and one behind bare glass beside it."""

    time: dt.datetime
    """When."""
    pane: str
    """The filmed pane."""
    beside: str
    """The bare one, or the open."""
    filmed: float
    """The meter behind film, in its unit."""
    bare: float
    """The meter behind bare glass, in its unit."""
    share: float
    """The first over the second [1]."""
    expected: Between
    """What was computed for that hour."""
    aoi_deg: float | None
    """Angle of incidence of the sun [degrees]; null without sun on the pane."""
    note: Text
    """What the reader noted."""


class ComparedFound(Result):
    """The readings of one meter, film and glazing together."""

    meter: Literal["light", "sun", "uv"]
    """What is measured."""
    film: str
    """The film."""
    glazing: str
    """The glazing."""
    in_open: bool
    """Whether the bare reading was taken in the open."""
    share: AroundMiddle
    """What was read [1]."""
    expected: Between
    """What was computed [1]."""
    verdict: Literal["as_computed", "more", "less", "cannot_tell"]
    """What they say."""
    pairs: tuple[ReadingPair, ...]
    """Pair by pair."""


class LeftOut(Result):
    """A reading that was left out."""

    time: dt.datetime
    """When."""
    pane: str
    """The pane."""
    why: Text
    """Why."""


class ReadingsFound(Result):
    """What meters showed behind the film beside bare glass."""

    reading_share: Share
    """How far a reading may be off [1]."""
    compared: tuple[ComparedFound, ...]
    """What was compared."""
    left_out: tuple[LeftOut, ...]
    """What was not."""


def fill_readings(study: Study) -> ReadingsFound | None:
    """Return what meters showed behind the film beside bare glass; None where nothing was read."""
    after = study.after
    if not after.compared and not after.left_out:
        return None
    return ReadingsFound(
        reading_share=READING_SHARE,
        compared=tuple(_compared(one) for one in after.compared),
        left_out=tuple(
            LeftOut(time=one.reading.time, pane=one.reading.pane, why=one.why) for one in after.left_out
        ),
    )


def _compared(one: Compared) -> ComparedFound:
    low, high = one.expected
    return ComparedFound(
        meter=one.meter,
        film=one.film,
        glazing=one.glazing,
        in_open=one.in_open,
        share=AroundMiddle(low=finite(one.share.low), middle=one.share.middle, high=finite(one.share.high)),
        expected=Between(low=low, high=high),
        verdict=one.verdict,
        pairs=tuple(
            ReadingPair(
                time=pair.reading.time,
                pane=pair.reading.pane,
                beside=pair.reading.beside,
                filmed=pair.reading.filmed,
                bare=pair.reading.bare,
                share=pair.share,
                expected=Between(low=pair.low, high=pair.high),
                aoi_deg=finite(pair.aoi),
                note=pair.reading.note,
            )
            for pair in one.pairs
        ),
    )
