"""How often is tried what is made at random, or by force: jobs, plans, mutations, kills, cuts of the power.

A few of each in the suite; with ``TRIALS=1`` in the environment as many as `.ci/run` tries, which takes
minutes; and as many as asked where the trial's own variable holds a number. Their tests carry the marker
``trial``.
"""

import os

TRIALS = os.environ.get("TRIALS") == "1"


def many(name: str, few: int, more: int) -> int:
    """Return how often to try what ``name`` in the environment counts."""
    return int(os.environ.get(name) or (more if TRIALS else few))
