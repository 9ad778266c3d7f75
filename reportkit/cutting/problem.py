"""The cut problem in whole numbers: merged sizes, bays of equal width, and strips.

Every length becomes an integer of one unit: a mm, 1/16 in or 0.1 mm, whichever holds the pieces exactly,
times their common divisor. A piece rounds up, a roll rounds down, so a plan in integers always fits.
Identical pieces merge into one `Kind` with a demand; which pane gets which is settled afterwards.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from reportkit.cutting.records import Piece, Roll, exact

SIXTEENTH = Fraction(127, 80)
UNITS = (Fraction(1), SIXTEENTH, Fraction(1, 10))


@dataclass(frozen=True, order=True)
class Kind:
    """One size to cut; `width` across the roll and `length` along it when upright [units].

    Kinds of one `group` lie on one roll in one direction; those of a `batch` take no film from the shelf.
    """

    length: int
    width: int
    turn: bool
    group: str
    batch: bool
    demand: int


@dataclass(frozen=True)
class Item:
    """A kind in one direction: `across` the roll and `along` it [units]."""

    kind: int
    turned: bool
    across: int
    along: int


@dataclass(frozen=True)
class Top:
    """Length that can be bought by steps in a bay: `price` a step of `step` units, at most `most` steps."""

    roll: int
    step: float
    price: float
    most: float
    whole: bool


@dataclass(frozen=True)
class Bay:
    """Roll of one width: `capacity` already there, `tops` to buy by length, `longest` pull [units].

    `full` is the roll's true width, of which `width` is the whole part. A `shelf` bay is one of
    rolls that are there, from which kinds of a `batch` may not come.
    """

    width: int
    full: Fraction
    capacity: int
    longest: int
    tops: tuple[Top, ...] = ()
    directional: bool = False
    shelf: bool = False

    @property
    def price(self) -> float:
        """Least price of a unit of length that is bought; 0 where none is."""
        return min((top.price / top.step for top in self.tops), default=0.0)


@dataclass(frozen=True, order=True)
class Pattern:
    """A strip across a bay: its `along` length and (item, count) pairs by rising item number."""

    bay: int
    along: int
    items: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Problem:
    """Kinds in canonical order and their items; item `2 k` is kind `k` upright, `2 k + 1` turned."""

    kinds: tuple[Kind, ...]
    items: tuple[Item | None, ...]
    unit: Fraction
    table: int | None
    groups: tuple[str, ...]

    def fits(self, bay: Bay) -> list[int]:
        """Return the items that the bay can hold, by rising number."""
        numbers = []
        for index, item in enumerate(self.items):
            if item is None or (bay.directional and item.turned):
                continue
            if bay.shelf and self.kinds[item.kind].batch:
                continue
            if item.across <= bay.width and item.along <= bay.longest:
                numbers.append(index)
        return numbers

    def members(self, group: str) -> list[int]:
        """Return the kinds of a view group."""
        return [index for index, kind in enumerate(self.kinds) if kind.group == group]

    def options(self, group: str, bay: Bay) -> list[bool]:
        """Return the directions (turned or not) in which a bay can hold the whole group."""
        held = set(self.fits(bay))
        return [
            turned
            for turned in (False, True)
            if all(2 * kind + turned in held for kind in self.members(group))
        ]

    def length_divisor(self) -> int:
        """Return the common divisor of every length a strip can have [units]."""
        return math.gcd(*(item.along for item in self.items if item is not None))


def whole(value: Fraction, unit: Fraction) -> int:
    """Return a roll's length in units, rounded down."""
    return math.floor(value / unit)


def choose_unit(pieces: Iterable[Piece]) -> Fraction:
    """Return the unit that holds the pieces best: mm, 1/16 in, else 0.1 mm, times their divisor [mm]."""
    sizes = [exact(size) for piece in pieces for size in (piece.width_mm, piece.length_mm)]
    unit = next((u for u in UNITS if all((size / u).denominator == 1 for size in sizes)), UNITS[-1])
    return unit * math.gcd(*(math.ceil(size / unit) for size in sizes)) if sizes else unit


def build(
    pieces: Sequence[Piece], table_mm: Fraction | None, *, directional: bool = False
) -> tuple[Problem, dict[int, list[Piece]]]:
    """Merge pieces into kinds in canonical order; also return the pieces behind each kind.

    The order of `pieces` has no influence: pieces behind a kind are sorted by label, id and part. With
    `directional` film about, the same size lying the other way stays a kind of its own.
    """
    unit = choose_unit(pieces)
    stacks: dict[tuple[int, int, bool, str, bool], list[Piece]] = {}
    locked = {piece.tie for piece in pieces if piece.tie and not piece.turn}
    for piece in pieces:
        width, length = (math.ceil(exact(size) / unit) for size in (piece.width_mm, piece.length_mm))
        turn = piece.turn and width != length and piece.tie not in locked
        if turn and not piece.tie and not directional and width > length:
            width, length = length, width  # the same size lying the other way is one kind
        stacks.setdefault((length, width, turn, piece.tie, piece.batch), []).extend([piece] * piece.quantity)
    order = sorted(stacks, reverse=True)
    kinds = tuple(Kind(*key, demand=len(stacks[key])) for key in order)
    items: list[Item | None] = []
    for index, kind in enumerate(kinds):
        items.append(Item(index, False, kind.width, kind.length))
        # a square in a view group may follow the group's direction
        square = bool(kind.group) and kind.width == kind.length and kind.group not in locked
        turned = kind.turn or square
        items.append(Item(index, True, kind.length, kind.width) if turned else None)
    behind = {
        index: sorted(stacks[key], key=lambda piece: (piece.label, piece.id, piece.part, piece.spare_of))
        for index, key in enumerate(order)
    }
    groups = tuple(sorted({kind.group for kind in kinds if kind.group}))
    table = None if table_mm is None else whole(table_mm, unit)
    return Problem(kinds, tuple(items), unit, table, groups), behind


def longest_pull(problem: Problem, roll: Roll) -> int:
    """Return the longest strip a roll allows: its own length or the table, whichever is less [units]."""
    limits = [] if problem.table is None else [problem.table]
    if roll.longest_mm is not None:
        limits.append(whole(roll.longest_mm, problem.unit))
    if limits:
        return min(limits)
    return max((max(kind.width, kind.length) for kind in problem.kinds), default=0)


def on_shelf(problem: Problem, roll: Roll) -> bool:
    """Return whether a roll is a batch of its own that some kind may not come from."""
    return roll.price <= 0 and any(kind.batch for kind in problem.kinds)


def held(problem: Problem, roll: Roll) -> list[int]:
    """Return the items that one roll can hold, by rising number."""
    full = exact(roll.width_mm) / problem.unit
    return problem.fits(
        Bay(
            math.floor(full),
            full,
            0,
            longest_pull(problem, roll),
            (),
            roll.directional,
            on_shelf(problem, roll),
        )
    )


def make_bays(
    problem: Problem, rolls: Sequence[Roll], counts: Sequence[int], *, each: bool = False
) -> tuple[list[Bay], list[list[int]]]:
    """Return bays for a choice of whole packs, and for each bay the rolls in it.

    Parameters
    ----------
    counts : sequence of int
        Packs of each roll; for film sold by length any count lets it be bought.
    each : bool
        Give every physical roll its own bay instead of one bay for each width.
    """
    alike: dict[tuple[Any, ...], list[int]] = {}
    for index, roll in enumerate(rolls):
        if counts[index] == 0 and not roll.by_length:
            continue
        width = whole(exact(roll.width_mm), problem.unit)
        copies = 1 if roll.by_length else counts[index] * roll.pack
        for copy in range(copies):
            full = exact(roll.width_mm) / problem.unit
            shelf = on_shelf(problem, roll)
            key = (-full, width, int(roll.directional), int(shelf), *((index, copy) if each else ()))
            alike.setdefault(key, []).append(index)
    bays, inside = [], []
    for key in sorted(alike):
        held = alike[key]
        tops = tuple(_top(problem, rolls[i], i) for i in held if rolls[i].by_length)
        longest = max(longest_pull(problem, rolls[i]) for i in held)
        bay = Bay(key[1], -key[0], 0, longest, tops, bool(key[2]), bool(key[3]))
        rooms = [whole(exact(rolls[i].length_mm or 0), problem.unit) for i in held if not rolls[i].by_length]
        known = {room: reach(problem, bay, room) for room in set(rooms)}
        bays.append(replace(bay, capacity=sum(known[room] for room in rooms)))
        inside.append(held)
    return bays, inside


def reach(problem: Problem, bay: Bay, room: int) -> int:
    """Return the most of a roll of length `room` that whole strips can use up (a subset sum) [units]."""
    copies: dict[int, int] = {}
    for index in problem.fits(bay):
        item = problem.items[index]
        if item is not None:
            copies[item.along] = copies.get(item.along, 0) + problem.kinds[item.kind].demand
    sums, mask = 1, (1 << (room + 1)) - 1
    for along, count in sorted(copies.items()):
        left, size = min(count, room // along), 1
        while left > 0:
            step = min(size, left)
            sums |= (sums << (along * step)) & mask
            left, size = left - step, size * 2
    return sums.bit_length() - 1


def _top(problem: Problem, roll: Roll, index: int) -> Top:
    """Return the steps by which a roll's length is bought."""
    step = problem.unit if roll.step_mm is None else exact(roll.step_mm)
    most = math.inf if roll.most_mm is None else math.floor(exact(roll.most_mm) / step)
    price = float(Fraction(roll.price) * step / 1000)
    return Top(index, float(step / problem.unit), price, float(most), roll.step_mm is not None)


def rate(roll: Roll) -> float:
    """Return the price of a mm of roll [currency/mm]."""
    if roll.length_mm is None:
        return float(roll.price) / 1000
    return float(Fraction(roll.price) / roll.pack / exact(roll.length_mm))
