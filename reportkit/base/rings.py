"""How often Python looks among its objects for rings that nothing holds any more."""

from __future__ import annotations

import gc

#: How many objects are made before Python looks: a run makes millions that stay, and its imports hundreds of
#: thousands, and at Python's own 700 a tenth of both goes into looking.
OBJECTS = 50_000


def sought_seldom() -> None:
    """Have them sought seldom in this process; whatever else has run in it stays as it is."""
    gc.set_threshold(OBJECTS)
