"""How far the hourly balance may be from the world: from the spread of detailed programs, and its own misfit.

Detailed programs differ on the same building in the same weather, because each takes up and gives off heat
in a way of its own. Nobody knows which is right, so a result of ours may be as far off as the furthest of
them. Every row tells by how much more or less gains (or losses) our balance would have come to what a program
found; the furthest and the mean of all rows are the range of two uncertain inputs, which are drawn with the
rest and so reach every energy, difference, temperature and hour.
Not covered: what all programs have in common, and cases unlike these (one room of 48 m2, 12 m2 of glass).

References
----------
ANSI/ASHRAE 140-2020, tables of example results, Denver typical year (values from copies, not from the printed
standard). Our own columns are what ``tests/physics/room/test_ashrae_140.py`` finds with the balance as it is.
"""

from __future__ import annotations

from dataclasses import dataclass

from reportkit.base.translatable import english
from reportkit.physics.room.ranges import Uncertain


@dataclass(frozen=True)
class Row:
    """One result of one case, in MWh a year or C.

    ``low`` and ``high`` of the programs, our ``own``, and the ``change`` of our own by ``MORE`` of the gains
    or losses.
    """

    case: str
    result: str
    low: float
    high: float
    own: float
    change: float

    def needed(self, value: float) -> float:
        """Return the factor on gains or losses at which our own would be ``value`` [-]."""
        return 1.0 + MORE * (value - self.own) / self.change


#: By how much gains or losses are raised to see what follows [-].
MORE = 0.05

#: What hangs on the gains (sun through the glass, people and appliances): cooling, and the hottest hour.
GAINS = (
    Row("600", "cooling", 5.432, 6.162, 5.742, 0.407),
    Row("610", "cooling", 4.117, 4.382, 4.158, 0.315),
    Row("620", "cooling", 3.841, 4.404, 3.993, 0.272),
    Row("640", "cooling", 5.237, 5.893, 5.494, 0.401),
    Row("650", "cooling", 4.186, 4.945, 4.678, 0.374),
    Row("660", "cooling", 2.966, 3.340, 3.131, 0.236),
    Row("670", "cooling", 5.954, 6.623, 6.034, 0.437),
    Row("900", "cooling", 2.267, 2.714, 2.313, 0.267),
    Row("920", "cooling", 2.549, 3.128, 2.669, 0.210),
    Row("600FF", "hottest", 62.4, 68.4, 65.64, 2.20),
    Row("650FF", "hottest", 61.1, 66.8, 64.44, 2.15),
    Row("900FF", "hottest", 43.3, 46.0, 43.51, 0.93),
)
#: What hangs on the losses (walls, windows, air): heating. The coldest hour hangs on neither.
LOSSES = (
    Row("600", "heating", 3.993, 4.504, 4.315, 0.302),
    Row("610", "heating", 4.066, 4.592, 4.420, 0.306),
    Row("620", "heating", 4.094, 4.719, 4.548, 0.315),
    Row("640", "heating", 2.403, 2.682, 2.546, 0.206),
    Row("660", "heating", 3.574, 3.821, 3.672, 0.267),
    Row("670", "heating", 5.300, 6.140, 5.636, 0.362),
    Row("900", "heating", 1.379, 1.814, 1.616, 0.245),
    Row("920", "heating", 2.956, 3.607, 3.382, 0.304),
)


def _factor(key: str, rows: tuple[Row, ...], why: str) -> Uncertain:
    """Return a factor from the furthest that any row needs to the other, with the mean of their middles."""
    needed = [row.needed(value) for row in rows for value in (row.low, row.high)]
    middle = sum(needed) / len(needed)
    return Uncertain(key, round(min(needed), 2), round(middle, 2), round(max(needed), 2), "1", "P", why)


#: The balance's own uncertain inputs: factors on what a room gains and on what it loses.
MODEL: tuple[Uncertain, ...] = (
    _factor(
        "model_gains",
        GAINS,
        english("how far detailed programs lie from one another and from this one in what a room gains"),
    ),
    _factor(
        "model_losses",
        LOSSES,
        english("how far detailed programs lie from one another and from this one in what a room loses"),
    ),
)
