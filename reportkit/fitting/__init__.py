"""Cut plans: rolls, pieces, strips, what to buy and what is proved about it."""

from reportkit.fitting.alternatives import Alternative, alternatives
from reportkit.fitting.checker import check, violations
from reportkit.fitting.planner import plan, prepare
from reportkit.fitting.records import CutRoll, Piece, Placed, Plan, Roll, Strip

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
