"""What of the results a client may have: their own sun, glass, rooms and price, and nothing of the business.

Taken by name, so that a new section or key stays with the fitter until it is named here.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

#: Sections that tell of the client's building and of what film does there.
SECTIONS = (
    "schema", "choice", "ways", "weather", "faces", "glazings", "panes", "options", "rooms", "by_window",
    "bad_day", "views", "screens", "letters", "cautions", "readings", "revision",
)  # fmt: skip

#: What of the job says which it is.
JOB = ("id", "title", "invented", "units", "language", "currency", "rating", "site", "complaint")

#: What of the price is the client's to pay.
PRICE = ("currency", "net", "tax", "tax_name", "tax_fraction", "tax_included", "total", "deposit", "balance")


def shared(results: Mapping[str, Any]) -> dict[str, Any]:
    """Return what of the results a client may have.

    Parameters
    ----------
    results
        The data of ``results.json``.
    """
    made = {name: results[name] for name in SECTIONS if name in results}
    for name, keys in (("job", JOB), ("price", PRICE)):
        if name in results:
            made[name] = {key: results[name][key] for key in keys if key in results[name]}
    return made
