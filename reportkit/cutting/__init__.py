"""Cut plans: rolls, pieces, strips, what to buy and what is proved about it."""

from reportkit.cutting.alternatives import Alternative, alternatives
from reportkit.cutting.checker import check, violations
from reportkit.cutting.planner import plan, prepare
from reportkit.cutting.records import CutRoll, Piece, Placed, Plan, Roll, Strip

__all__ = [
    "Alternative",
    "CutRoll",
    "Piece",
    "Placed",
    "Plan",
    "Roll",
    "Strip",
    "alternatives",
    "check",
    "plan",
    "prepare",
    "violations",
]
