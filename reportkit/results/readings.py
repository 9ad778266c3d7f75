"""Results of the readings taken after the work: each pair, what they say together, what was left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.glass.readings import READING_SHARE
from reportkit.results.plain import plain

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.readings import Compared


def readings(study: Study) -> dict[str, Any] | None:
    """Return what meters showed behind the film beside bare glass; None where nothing was read."""
    after = study.after
    if not after.compared and not after.left_out:
        return None
    return {
        "reading_share": READING_SHARE,
        "compared": [_compared(one) for one in after.compared],
        "left_out": [
            {"time": plain(one.reading.time), "pane": one.reading.pane, "why": one.why}
            for one in after.left_out
        ],
    }


def _compared(one: Compared) -> dict[str, Any]:
    low, high = one.expected
    return {
        "meter": one.meter,
        "film": one.film,
        "glazing": one.glazing,
        "in_open": one.in_open,
        "share": {"low": plain(one.share.low), "middle": one.share.middle, "high": plain(one.share.high)},
        "expected": {"low": low, "high": high},
        "verdict": one.verdict,
        "pairs": [
            {
                "time": plain(pair.reading.time),
                "pane": pair.reading.pane,
                "beside": pair.reading.beside,
                "filmed": pair.reading.filmed,
                "bare": pair.reading.bare,
                "share": pair.share,
                "expected": {"low": pair.low, "high": pair.high},
                "aoi_deg": plain(pair.aoi),
                "note": pair.reading.note,
            }
            for pair in one.pairs
        ],
    }
