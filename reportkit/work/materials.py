"""What to bring besides the film: slip solution, soap, blades, paper, cloths, sheets, tape, edge sealant.

Quantities follow from the panes by rates of use that are common practice, not measurements; every
rate is a ``Default`` that a job can replace and a report can list among its assumptions. Prices are
not here: they are the user's own (see ``reportkit.money``). What is bought in bottles, boxes or rolls is
told in them, too; what is washed or moved on is counted by the people, not by the panes. Tools are not
counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from reportkit.base.translatable import english
from reportkit.work.defaults import Default, table

#: Rates of use for materials, and what they are bought in.
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
    Default(
        "slip_first",
        25.0,
        "m2",
        "C",
        english("so much glass, about a day's work, takes that; it is mixed as it is needed"),
        20.0,
        30.0,
    ),
    Default("slip_more", 0.2, "L/m2", "C", english("what each further area of a larger job takes"), 0.1, 0.3),
    Default("soap", 3.0, "ml/L", "C", english("mild clear soap without perfume in clean water"), 1.0, 5.0),
    Default("soap_bottle", 500.0, "ml", "C", english("soap in a bottle"), 250.0, 1000.0),
    Default(
        "blade_area", 2.5, "m2", "C", english("a blunt edge tears film: a new one per pane or area"), 2.0, 3.0
    ),
    Default("blade_box", 10.0, "edges", "C", english("blade edges in a box"), 5.0, 100.0),
    Default(
        "paper_area",
        10.0,
        "m2",
        "C",
        english("glass for one roll of lint-free paper"),
        8.0,
        12.0,
    ),
    Default("cloths", 6.0, "cloths", "C", english("for each person; washed and used again"), 4.0, 8.0),
    Default(
        "floor_sheet_panes", 3.0, "panes", "C", english("panes served by one absorbent floor sheet"), 2.0, 4.0
    ),
    Default(
        "floor_sheets_most",
        4.0,
        "sheets",
        "C",
        english("for each person; moved on with the work"),
        2.0,
        6.0,
    ),
    Default(
        "tape",
        1.2,
        "m/m",
        "C",
        english("low-tack tape along the sill, in widths of the pane"),
        1.0,
        1.5,
    ),
    Default("tape_roll", 50.0, "m", "C", english("low-tack tape on a roll"), 25.0, 50.0),
    Default(
        "edge_sealant",
        8.0,
        "ml/m",
        "C",
        english("a thin bead around outside film; the maker decides"),
        5.0,
        12.0,
    ),
    Default("sealant_cartridge", 300.0, "ml", "C", english("edge sealant in a cartridge"), 290.0, 310.0),
    Default("spare_share", 0.1, "1", "C", english("spare on everything that is used up"), 0.0, 0.2),
)


@dataclass(frozen=True)
class Material:
    """One line of the kit list: what, how much, and from which defaults it came.

    ``pack`` is how much one bottle, box or roll holds, in the line's unit; None for what is not bought so.
    """

    id: str
    text: str
    quantity: Decimal
    unit: str
    from_defaults: tuple[str, ...]
    pack: Decimal | None = None

    @property
    def packs(self) -> int | None:
        """How many whole packs hold the quantity; None for what is not bought in packs."""
        return None if self.pack is None else math.ceil(self.quantity / self.pack)


class Glass(NamedTuple):
    """A kind of pane: the box around it [mm], how many, and the share of the box that is glass [1]."""

    width_mm: int
    height_mm: int
    quantity: int
    fill: float = 1.0


def materials(
    panes: Iterable[Glass],
    *,
    outside: bool = False,
    crew: int = 1,
    defaults: Mapping[str, Default] = DEFAULTS,
) -> tuple[Material, ...]:
    """Return the kit list for a set of panes.

    Parameters
    ----------
    panes
        Each kind of pane that gets film. What wets, cuts and dries the glass goes by the glass itself; tape
        and edge sealant by the box, whose foot and edge a shaped pane's do not exceed.
    outside
        Whether the film goes outside, where its edges may need sealing.
    crew
        How many people fit, at least 1.
    defaults
        Rates of use, as ``DEFAULTS``.

    Returns
    -------
    tuple of Material
        Rounded up to half litres, 5 ml, whole blades, rolls, sheets and metres.
        Empty where there is no pane.

    Raises
    ------
    ValueError
        If a size, a quantity or a fill is not over 0, or the crew under 1.

    Examples
    --------
    >>> [f"{line.quantity} {line.unit}" for line in materials([Glass(1000, 1250, 4)])][:2]
    ['4.5 L', '15 ml']
    """
    if crew < 1:
        raise ValueError(f"crew must be 1 or more, got {crew!r}")
    count = 0
    area = width = perimeter = 0.0
    edges = 0
    blade_area = defaults["blade_area"].value
    if blade_area <= 0:
        raise ValueError(f"blade_area must be over 0, got {blade_area!r}")
    for pane in panes:
        if min(pane) <= 0:
            raise ValueError(f"a pane's width, height, quantity and fill must be over 0, got {tuple(pane)}")
        wide, high, quantity, fill = pane
        one = wide * high * fill * 1e-6
        count += quantity
        area += one * quantity
        width += wide * 1e-3 * quantity
        perimeter += 2e-3 * (wide + high) * quantity
        edges += max(1, _whole(one / blade_area)) * quantity
    if count == 0:
        return ()
    spare = 1.0 + defaults["spare_share"].value
    first = min(area, defaults["slip_first"].value)
    litres = first * defaults["slip_solution"].value + (area - first) * defaults["slip_more"].value
    litres *= spare
    slip = ("slip_solution", *(("slip_first", "slip_more") if area > first else ()))
    paper = area / max(defaults["paper_area"].value, 0.1) * spare
    most = max(1.0, defaults["floor_sheets_most"].value) * crew
    floor_sheets = count / max(defaults["floor_sheet_panes"].value, 1.0)
    lines = [
        _line("slip_solution", "slip solution", litres, "0.5", "L", *slip, "spare_share"),
        _line(
            "soap",
            "mild clear soap",
            litres * defaults["soap"].value,
            "5",
            "ml",
            "soap",
            *slip,
            pack=defaults["soap_bottle"],
        ),
        _line(
            "blades",
            "new blade edges",
            edges * spare,
            "1",
            "edges",
            "blade_area",
            "spare_share",
            pack=defaults["blade_box"],
        ),
        _line("paper", "lint-free paper", paper, "1", "rolls", "paper_area", "spare_share"),
        _line("cloths", "lint-free cloths", defaults["cloths"].value * crew, "1", "cloths", "cloths"),
        _line(
            "floor_sheets",
            "absorbent floor sheets",
            min(floor_sheets, most),
            "1",
            "sheets",
            "floor_sheet_panes" if floor_sheets <= most else "floor_sheets_most",
        ),
        _line(
            "tape",
            "low-tack tape",
            width * defaults["tape"].value * spare,
            "1",
            "m",
            "tape",
            "spare_share",
            pack=defaults["tape_roll"],
        ),
    ]
    if outside:
        sealant = perimeter * defaults["edge_sealant"].value * spare
        lines.append(
            _line(
                "edge_sealant",
                "edge sealant",
                sealant,
                "5",
                "ml",
                "edge_sealant",
                "spare_share",
                pack=defaults["sealant_cartridge"],
            )
        )
    return tuple(lines)


def _whole(value: float) -> int:
    """Round up, forgiving the last digits of binary arithmetic."""
    return math.ceil(value - 1e-9)


def _line(
    id_: str, text: str, value: float, step: str, unit: str, *sources: str, pack: Default | None = None
) -> Material:
    size = Decimal(step)
    quantity = size * _whole(value / float(size))
    if pack is None:
        return Material(id_, text, quantity, unit, sources)
    return Material(id_, text, quantity, unit, (*sources, pack.key), Decimal(str(pack.value)))
