"""The hours of a year one after another, for some lanes of a balance that lie in a row.

A step is a few linear forms of the room's slow modes. The modes are scaled so that their sum is the air
without plant, told as the power that would warm it so far [W]: then a power adds to it as it is, and an hour
is a sum, two bounds and a new state. What does not depend on the state (weather, gains) is one product of
matrices for a block of hours. Lanes are taken in parts whose numbers fit a processor's own memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array, Mask
from reportkit.physics.room.network import Coefficients
from reportkit.physics.room.opening import Openings
from reportkit.physics.room.series import Series
from reportkit.physics.room.totals import UNMET_KELVIN, Record, Totals

#: Lanes that are computed together at most, and numbers of a block of hours: what a processor's own memory
#: holds. A block has no more hours than a byte counts.
PART_LANES, BLOCK_NUMBERS, BLOCK_HOURS = 1024, 120_000, 240

#: Least weight of a mode in the air by the most of its room's modes: one that the air doesn't feel is
#: scaled by this instead.
LEAST_WEIGHT = 1e-9


@dataclass(frozen=True, eq=False)
class Flow:
    """A heat flow or a temperature by hour, and what it does to the forms of a step.

    ``forms`` (modes + 2, lanes) are those of a unit of ``series``, in the lane's own factor.
    """

    series: Series
    forms: Array


@dataclass(frozen=True, eq=False)
class Rules:
    """What holds for the hours, whatever the lane: set points [C], bins, limits [C], presence; (H,) each."""

    low: Array
    high: Array
    bins: NDArray[np.int64]
    limits: Sequence[Array]
    present: Mask
    warm_up: int
    start: float


@dataclass(frozen=True, eq=False)
class Lanes:
    """Lanes in a row: their forms and what their plant and people do; the last axis of every array.

    ``steady`` (modes + 2, lanes) is what flows that never change do. ``shift`` [K] is added to the set
    points, ``rises`` [K], one for each limit, to the limits; ``most`` and ``least`` [W] bound the plant.
    ``near`` lanes after one another have their flows in common.
    """

    step: Coefficients
    flows: Sequence[Flow]
    steady: Array
    shift: Array
    rises: Sequence[Array]
    most: Array
    least: Array
    outdoor: Series
    warmer: Array
    openings: Openings | None
    near: int

    def parts(self) -> list[slice]:
        """Return the lanes in parts that are computed together, each of whole groups or within one."""
        count = self.most.size
        if self.near >= PART_LANES:
            pieces = -(-self.near // PART_LANES)
            edges = np.linspace(0, self.near, pieces + 1).astype(int).tolist()
            return [
                slice(first + one, first + two)
                for first in range(0, count, self.near)
                for one, two in pairwise(edges)
            ]
        width = PART_LANES // self.near * self.near
        pieces = -(-count // width)
        width = -(-count // (pieces * self.near)) * self.near
        return [slice(first, min(first + width, count)) for first in range(0, count, width)]


def march(lanes: Lanes, at: slice, rules: Rules, kept: Record | None, chosen: NDArray[np.int64]) -> Totals:
    """Return the year of some lanes.

    Parameters
    ----------
    lanes
        All of them.
    at
        Which ones.
    rules
        What holds for the hours.
    kept
        Where the hours of chosen lanes are written, if any.
    chosen
        Those lanes, by their place among all.
    """
    step, openings = lanes.step, lanes.openings and lanes.openings.part(at)
    hours = len(rules.low)
    modes = len(step.decay)
    per_watt = step.power[:, at]
    kelvin = per_watt[modes]  # of the air by watt
    seen = step.air[:, at]
    weight = np.abs(seen).max(axis=0) * LEAST_WEIGHT
    scale = np.where(np.abs(seen) < weight, weight, seen) / kelvin
    decay, by_power = np.ascontiguousarray(step.decay[:, at]), scale * per_watt[:modes]
    felt_by_mode, heat = step.operative[:, at] / scale, step.heat[:, at]
    most, least = np.ascontiguousarray(lanes.most[at]), np.ascontiguousarray(lanes.least[at])
    limited = bool(np.any(np.isfinite(most)) or np.any(np.isfinite(least)))
    shift, rises = lanes.shift[at], [rise[at] for rise in lanes.rises]
    warmer = lanes.warmer[at]
    # set points of a plant that isn't there hold no opening
    unheated, uncooled = np.where(most > 0.0, 0.0, -np.inf), np.where(least < 0.0, 0.0, np.inf)

    # Row n of a block holds the modes when its hour n begins, and what adds to them to make the air of that
    # hour and the operative temperature.
    count = decay.shape[1]
    block = max(1, min(BLOCK_HOURS, BLOCK_NUMBERS // (5 * count)))
    forms = np.empty((block + 1, modes + 2, count))
    drive = _Drive(lanes, at, np.concatenate([scale, 1.0 / kelvin[None], np.ones((1, count))]))
    wish = np.empty((block, count))
    powers = np.empty((block, count)) if limited else wish
    carried = np.zeros((block, count))
    air, term = np.empty(count), np.empty((modes, count))
    spare, both = np.empty((block, count)), np.empty((block, count))
    rows = [
        (forms[n, :modes], forms[n, : modes + 1], forms[n + 1, :modes], wish[n], powers[n])
        for n in range(block)
    ]
    forms[0, :modes] = began = scale * heat * rules.start
    totals = Totals(count, int(rules.bins.max()) + 1, len(rules.limits))
    mine = np.flatnonzero((chosen >= at.start) & (chosen < at.stop))
    starts = [*range(hours - rules.warm_up, hours, block), *range(0, hours, block)]
    before = len(range(hours - rules.warm_up, hours, block))  # blocks of the warm-up
    for number, first in enumerate(starts):
        if number == before:
            began = forms[0, :modes].copy()
        now = slice(first, min(first + block, hours))
        size = now.stop - first
        drive.fill(forms, now)
        floors, floor_of = _levels(rules.low[now], shift)
        roofs, roof_of = _levels(rules.high[now], shift)
        floor_powers, roof_powers = floors / kelvin, roofs / kelvin
        for place, (state, sums, after, wanted, power) in enumerate(rows[:size]):
            np.add.reduce(sums, axis=0, out=air)
            added, opened = power, None
            if openings is not None:
                carried[place] = 0.0
                if openings.ever[first + place]:
                    opened = openings.heat(
                        first + place,
                        air * kelvin,
                        lanes.outdoor.hour(first + place, at) + warmer,
                        kelvin,
                        floors[floor_of[place]] + unheated,
                        roofs[roof_of[place]] + uncooled,
                    )
                if opened is not None:
                    carried[place] = opened
                    air += opened
            # the power that brings the air back between the set points, as far as the plant can
            np.maximum(air, floor_powers[floor_of[place]], out=wanted)
            np.minimum(wanted, roof_powers[roof_of[place]], out=wanted)
            np.subtract(wanted, air, out=wanted)
            if limited:
                np.minimum(wanted, most, out=power)
                np.maximum(power, least, out=power)
            if opened is not None:
                added = power + opened
            np.multiply(decay, state, out=term)
            np.add(after, term, out=after)
            np.multiply(by_power, added, out=term)
            np.add(after, term, out=after)
        if number >= before:
            plant = powers[:size]
            totals.add_power(plant, rules.bins[now])
            if limited:
                totals.add_unmet(np.subtract(wish[:size], plant, out=spare[:size]), UNMET_KELVIN / kelvin)
            if openings is not None:
                totals.add_opened(carried[:size])
                plant = np.add(plant, carried[:size], out=both[:size])
            runs = _runs(rules.present[now]) if kept is None else [slice(0, size)]
            for run in runs:
                felt = forms[run, modes + 1]
                for mode in range(modes):
                    felt += np.multiply(forms[run, mode], felt_by_mode[mode], out=spare[run])
                felt += np.multiply(per_watt[modes + 1], plant[run], out=spare[run])
            if kept is not None and mine.size:
                lane = chosen[mine] - at.start
                airs = forms[:size, : modes + 1].sum(axis=1) + plant
                for name, values in (
                    ("air", airs * kelvin),
                    ("operative", forms[:size, modes + 1]),
                    ("power", powers[:size]),
                    ("opened", carried[:size]),
                ):
                    getattr(kept, name)[now, mine] = values[:, lane]
            for run in runs if kept is None else _runs(rules.present[now]):
                over = [
                    limit[now][run][:, None] + rise for limit, rise in zip(rules.limits, rises, strict=True)
                ]
                totals.add_operative(forms[run, modes + 1], over)
        forms[0, :modes] = forms[size, :modes]

    totals.change = (heat / scale * (forms[0, :modes] - began)).sum(axis=0) / 3.6e6
    return totals


class _Drive:
    """What the weather and the gains add to every form of a step, whatever the state."""

    def __init__(self, lanes: Lanes, at: slice, scale: Array) -> None:
        count = at.stop - at.start
        near = min(lanes.near, count)
        self._groups = (count // near, near)
        rows = np.stack([lanes.steady[:, at], *(flow.forms[:, at] for flow in lanes.flows)], axis=1)
        rows *= scale[:, None]
        # (forms, groups, flows, lanes of a group)
        split = rows.reshape(*rows.shape[:2], *self._groups)
        self._rows = np.ascontiguousarray(split.transpose(0, 2, 1, 3))
        firsts = slice(at.start, at.stop, near)
        self._series = [(flow.series, flow.series.columns(firsts)) for flow in lanes.flows]

    def fill(self, forms: Array, now: slice) -> None:
        """Write the drive of some hours: of the modes into the row after, of the rest into the hour's own."""
        size, modes = now.stop - now.start, forms.shape[1] - 2
        columns = np.ones((self._groups[0], size, 1 + len(self._series)))
        for number, (series, where) in enumerate(self._series, start=1):
            columns[..., number] = series.values[now].T[where]
        wide = forms.reshape(*forms.shape[:2], *self._groups).transpose(1, 2, 0, 3)
        np.matmul(columns, self._rows[:modes], out=wide[:modes, :, 1 : size + 1])
        np.matmul(columns, self._rows[modes:], out=wide[modes:, :, :size])


def _levels(values: Array, shift: Array) -> tuple[Array, NDArray[np.int64]]:
    """Return the different values, shifted by lane, (levels, lanes), and which of them each hour has."""
    if (values == values[0]).all():
        return values[:1, None] + shift, np.zeros(len(values), dtype=np.int64)
    levels, which = np.unique(values, return_inverse=True)
    return levels[:, None] + shift, which


def _runs(mask: Mask) -> list[slice]:
    """Return where a mask is true, as slices."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8)))
    return [slice(int(one), int(two)) for one, two in edges.reshape(-1, 2)]


def in_a_row(values: ArrayLike, lanes: tuple[int, ...]) -> Array:
    """Return what broadcasts to the lanes in a row, (lanes,)."""
    return np.broadcast_to(np.asarray(values, dtype=float), lanes).reshape(-1)


def forms_in_a_row(values: Array, lanes: tuple[int, ...]) -> Array:
    """Return (rows, some lanes) as (rows, all lanes in a row)."""
    spread = values.reshape(len(values), *(1,) * (len(lanes) - values.ndim + 1), *values.shape[1:])
    return np.broadcast_to(spread, (len(values), *lanes)).reshape(len(values), -1)
