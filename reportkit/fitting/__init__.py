"""Cut plans: rolls, pieces, strips, what to buy and what is proved about it."""

from reportkit.fitting.checker import check, violations
from reportkit.fitting.planner import plan, prepare
from reportkit.fitting.records import CutRoll, Piece, Placed, Plan, Roll, Strip

__all__ = ["CutRoll", "Piece", "Placed", "Plan", "Roll", "Strip", "check", "plan", "prepare", "violations"]
