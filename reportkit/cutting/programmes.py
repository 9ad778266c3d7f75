"""Linear and whole-number programmes for HiGHS, scaled so that it can solve them, and never an error.

Costs of film in square units reach 1e11 beside costs of 1, which is more than the solver's absolute
tolerances bear: costs are divided by `scale`, and each row by its greatest entry. A programme without an
optimum gives None: whoever asked goes on with what is known. Branches are limited by count, not by time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

#: How a linear programme is tried before it is given up: (method, presolve).
WAYS = (("highs-ds", True), ("highs-ds", False), ("highs-ipm", True))

#: What the solver itself has been seen to raise, or may: it too means no answer.
FAILURES = (ValueError, RuntimeError, MemoryError)


@dataclass(frozen=True)
class Least:
    """The optimum of a linear programme: value, amounts, duals of the rows (>= 0), and its iterations.

    Where nothing meets the rows the value is infinite and amounts and duals are zeros.
    """

    value: float
    amounts: np.ndarray
    duals: np.ndarray
    turns: int


@dataclass(frozen=True)
class Whole:
    """The answer of a whole-number programme.

    ``amounts`` is None where none was found. ``value`` is at the optimum if ``solved``, infinite where
    nothing meets the rows; ``bound`` holds for every answer. ``nodes`` counts the branches taken.
    """

    value: float
    bound: float
    amounts: np.ndarray | None
    solved: bool
    nodes: int = 1


def _scaled(matrix: Any, bound: np.ndarray) -> tuple[Any, np.ndarray, np.ndarray]:
    """Return rows <= bound with every row divided by its greatest entry, and by what [-]."""
    from scipy.sparse import csr_matrix, diags_array

    rows = csr_matrix(matrix)
    greatest = np.maximum(np.asarray(abs(rows).max(axis=1).todense()).ravel(), 1e-300)
    by = np.where(greatest > 1e-12, greatest, 1.0)
    return csr_matrix(diags_array(1 / by) @ rows), np.asarray(bound, dtype=float) / by, by


def least(
    costs: Sequence[float] | np.ndarray,
    matrix: Any,
    bound: np.ndarray,
    *,
    scale: float = 1.0,
    upper: np.ndarray | None = None,
    equal: tuple[Any, np.ndarray] | None = None,
    presolve: bool = True,
) -> Least | None:
    """Solve: least ``costs @ x`` with ``matrix @ x <= bound``, ``0 <= x <= upper``.

    Parameters
    ----------
    scale : float
        What costs are divided by for the solver, over 0; the answer is in the costs as given.
    equal : pair, optional
        A matrix and what its rows equal.

    Returns
    -------
    Least or None
        None where the solver comes to no end, or the value has none.
    """
    from scipy.optimize import linprog

    rows, sides, by = _scaled(matrix, bound)
    some = np.asarray(costs, dtype=float) / scale
    limits = (0, None) if upper is None else np.column_stack([np.zeros(len(some)), upper])
    ways = WAYS if presolve else WAYS[1:]
    for method, first in ways:
        try:
            result = linprog(
                some,
                A_ub=rows,
                b_ub=sides,
                A_eq=None if equal is None else equal[0],
                b_eq=None if equal is None else equal[1],
                bounds=limits,
                method=method,
                options={"presolve": first},
            )
        except FAILURES:
            continue
        if result.status == 0 and result.x is not None and np.all(np.isfinite(result.x)):
            duals = np.maximum(-result.ineqlin.marginals, 0.0) * scale / by
            return Least(float(result.fun) * scale, result.x, duals, int(result.nit))
        if result.status == 2:  # nothing meets the rows
            return Least(math.inf, np.zeros(len(some)), np.zeros(len(by)), int(result.nit))
    return None


def whole(
    costs: Sequence[float] | np.ndarray,
    rows: Sequence[tuple[Any, np.ndarray | float, np.ndarray | float]],
    *,
    upper: np.ndarray | float,
    nodes: int,
    scale: float = 1.0,
    integral: np.ndarray | None = None,
) -> Whole:
    """Solve in whole numbers: least ``costs @ x`` with ``low <= matrix @ x <= high`` for each of `rows`.

    Parameters
    ----------
    nodes : int
        The most branches; the root counts as the first [-].
    integral : (n,) array, optional
        1 for a whole number, 0 for any; all whole where not given.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    some = np.asarray(costs, dtype=float) / scale
    constraints = []
    for matrix, low, high in rows:
        divided, _, by = _scaled(matrix, np.zeros(matrix.shape[0]))
        constraints.append(LinearConstraint(divided, np.asarray(low) / by, np.asarray(high) / by))
    try:
        result = milp(
            some,
            integrality=np.ones(len(some)) if integral is None else integral,
            bounds=Bounds(np.zeros(len(some)), upper),
            constraints=constraints,
            options={"node_limit": nodes, "mip_rel_gap": 0.0},
        )
    except FAILURES:
        return Whole(math.inf, -math.inf, None, False)
    if result.status == 2:
        return Whole(math.inf, math.inf, None, True)
    known = getattr(result, "mip_dual_bound", None)
    bound = -math.inf if known is None or math.isnan(known) else float(known) * scale
    taken = max(1, int(getattr(result, "mip_node_count", None) or 1))
    if result.x is None:
        return Whole(math.inf, bound, None, False, taken)
    return Whole(float(result.fun) * scale, bound, result.x, result.status == 0, taken)
