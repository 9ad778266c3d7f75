"""What to bring besides the film: slip solution, soap, blades, towels, sheets, tape, edge sealant.

Quantities follow from the panes by rates of use that are common practice, not measurements; every
rate is a ``Default`` that a job can replace and a report can list among its assumptions. Prices are
not here: they are the user's own (see ``reportkit.money``). Tools that are not used up are not
counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from reportkit.base.translatable import english
from reportkit.work.defaults import Default, table

#: Rates of use for materials.
DEFAULTS: dict[str, Default] = table(
    Default(
        "slip_solution",
        0.8,
        "L/m2",
        "C",
        english("wetting glass, film and film again, washing down"),
        0.6,
        1.0,
    ),
    Default("soap", 3.0, "ml/L", "C", english("mild clear soap without perfume in clean water"), 1.0, 5.0),
    Default(
        "blade_area", 2.5, "m2", "C", english("a blunt edge tears film: a new one per pane or area"), 2.0, 3.0
    ),
    Default(
        "towels", 6.0, "sheets/m2", "C", english("lint-free paper for edges, corners and run-off"), 4.0, 8.0
    ),
    Default(
        "towels_pane", 4.0, "sheets", "C", english("drying the gasket or bead line of each pane"), 2.0, 6.0
    ),
    Default(
        "floor_sheet_panes", 3.0, "panes", "C", english("panes served by one absorbent floor sheet"), 2.0, 4.0
    ),
    Default(
        "tape", 1.2, "m/m", "C", english("low-tack tape along the sill, per metre of pane width"), 1.0, 1.5
    ),
    Default(
        "edge_sealant",
        8.0,
        "ml/m",
        "C",
        english("a thin bead around outside film; the maker decides"),
        5.0,
        12.0,
    ),
    Default("spare_share", 0.1, "1", "C", english("spare on everything that is used up"), 0.0, 0.2),
)


@dataclass(frozen=True)
class Material:
    """One line of the kit list: what, how much, and from which defaults it came."""

    id: str
    text: str
    quantity: Decimal
    unit: str
    from_defaults: tuple[str, ...]


def materials(
    panes: Iterable[tuple[int, int, int]],
    *,
    outside: bool = False,
    defaults: Mapping[str, Default] = DEFAULTS,
) -> tuple[Material, ...]:
    """Return the kit list for a set of panes.

    Parameters
    ----------
    panes
        Width [mm], height [mm] and quantity of each kind of pane that gets film.
    outside
        Whether the film goes outside, where its edges may need sealing.
    defaults
        Rates of use, as ``DEFAULTS``.

    Returns
    -------
    tuple of Material
        Rounded up to what can be bought or mixed: half litres, 5 ml, whole blades, sheets and metres.
        Empty where there is no pane.

    Raises
    ------
    ValueError
        If a size or a quantity is not over 0.

    Examples
    --------
    >>> [f"{line.quantity} {line.unit}" for line in materials([(1000, 1250, 4)])][:2]
    ['4.5 L', '15 ml']
    """
    count = 0
    area = width = perimeter = 0.0
    edges = 0
    blade_area = defaults["blade_area"].value
    if blade_area <= 0:
        raise ValueError(f"blade_area must be over 0, got {blade_area!r}")
    for wide, high, quantity in panes:
        if min(wide, high, quantity) <= 0:
            raise ValueError(
                f"a pane's width, height and quantity must be over 0, got {(wide, high, quantity)}"
            )
        one = wide * high * 1e-6
        count += quantity
        area += one * quantity
        width += wide * 1e-3 * quantity
        perimeter += 2e-3 * (wide + high) * quantity
        edges += max(1, _whole(one / blade_area)) * quantity
    if count == 0:
        return ()
    spare = 1.0 + defaults["spare_share"].value
    litres = area * defaults["slip_solution"].value * spare
    towels = (area * defaults["towels"].value + count * defaults["towels_pane"].value) * spare
    lines = [
        _line("slip_solution", "slip solution", litres, "0.5", "L", "slip_solution", "spare_share"),
        _line("soap", "mild clear soap", litres * defaults["soap"].value, "5", "ml", "soap", "slip_solution"),
        _line("blades", "new blade edges", edges * spare, "1", "edges", "blade_area", "spare_share"),
        _line("towels", "lint-free towels", towels, "1", "sheets", "towels", "towels_pane", "spare_share"),
        _line(
            "floor_sheets",
            "absorbent floor sheets",
            count / max(defaults["floor_sheet_panes"].value, 1.0),
            "1",
            "sheets",
            "floor_sheet_panes",
        ),
        _line(
            "tape", "low-tack tape", width * defaults["tape"].value * spare, "1", "m", "tape", "spare_share"
        ),
    ]
    if outside:
        sealant = perimeter * defaults["edge_sealant"].value * spare
        lines.append(_line("edge_sealant", "edge sealant", sealant, "5", "ml", "edge_sealant", "spare_share"))
    return tuple(lines)


def _whole(value: float) -> int:
    """Round up, forgiving the last digits of binary arithmetic."""
    return math.ceil(value - 1e-9)


def _line(id_: str, text: str, value: float, step: str, unit: str, *sources: str) -> Material:
    size = Decimal(step)
    return Material(id_, text, size * _whole(value / float(size)), unit, sources)
