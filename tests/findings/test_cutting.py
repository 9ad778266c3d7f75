"""The section of results.json on the cut plan."""

import json
from decimal import Decimal

from reportkit.cutting import Piece, Roll, plan
from reportkit.findings.cutting import planned
from reportkit.findings.result import as_json

BY_LENGTH = Roll(1524, None, Decimal("10"))


def test_the_cutting_section_has_its_keys():
    """The JSON form has the agreed keys, money as strings, and survives a round trip."""
    section = as_json(planned(plan([Piece("A", 600, 900)], [BY_LENGTH], table_mm=2440)))
    assert json.loads(json.dumps(section)) == section
    assert {"rolls", "bought_m2", "glass_m2", "waste_fraction", "lower_bound", "proven"} <= set(section)
    roll = section["rolls"][0]
    assert {"film", "width_mm", "length_mm", "price", "strips"} <= set(roll)
    assert roll["price"] == section["lower_bound"] == "6.00"  # turned, it takes 600 mm
    strip = roll["strips"][0]
    assert strip["y_mm"] == 0 and strip["length_mm"] == 600
    assert strip["pieces"] == [
        {"pane": "A", "x_mm": 0, "width_mm": 900, "length_mm": 600, "turned": True, "seam": None}
    ]
