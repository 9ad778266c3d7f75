"""Cut plans: rolls, pieces, strips, what to buy and what is proved about it.

What the parts bring, each left out in turn on invented lists of 12 to 60 panes (one width and several, film
by length, whole, in packs and on the shelf, view groups), as far as it was measured:

- Bays for each single roll (`Mixes.worth_splitting`): without, 3 of 34 lists lose their proof and cost more,
  one by 5 %.
- Branching on sizes together (`branching`): general whole-number programming takes 2.7 times as long on 10
  lists of one roll, with the same plans.
- A mix starting from the strips of those before it (`Mixes.prime`): 12 % of the time on 24 lists.
- All strips of a small gap weighed at once (`wholes`): without, 40 % more work on 17 lists.
- Strips filled greedily with stacks, and whole numbers of the bound's strips (`stacks`): each makes a plan
  with a third cut cheaper on one list (of 13, of 4), by up to 2 %.
- Without refuting mixes by earlier duals 3 of 6 lists on short rolls lose their proof.
- Targets: without, 9 of 48 exact plans lose their proof; dives and strips cut anew save up to 1 % on dense
  and large lists (12 of 60 to 200 panes). In the quick mode one dive saves up to 3.6 % on 14 of 73 lists,
  strips of mixes cut anew up to 4.6 % on 8, more than one greedy try 1.6 % on 12.
- Packing strips on rolls by a whole-number programme: without, one of 280 random jobs costs 17 % more.
- Gone, as no plan was better for them: shelves by decreasing length (121 lists, 280 random jobs), moving
  pieces from strip to strip after a third cut (20).
"""

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
