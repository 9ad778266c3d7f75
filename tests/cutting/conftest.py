"""Tiny cut problems solved by trying everything: subsets of pieces for each strip, roll and direction.

It shares nothing with the planner but the records, and serves as a cross-check, not an authority.
"""

from __future__ import annotations

import random
from decimal import Decimal
from fractions import Fraction
from itertools import product
from types import SimpleNamespace

import pytest

from reportkit.cutting.records import Piece, Roll, exact

INF = (Fraction(10**12), Fraction(0))


def strip_lengths(sizes, width, limit, directions):
    """Return for each subset of pieces the shortest single strip that holds it, or None."""
    n = len(sizes)
    best: list[Fraction | None] = [None] * (1 << n)
    for subset in range(1, 1 << n):
        members = [i for i in range(n) if subset >> i & 1]
        for turns in product(*(directions[i] for i in members)):
            across = sum(sizes[i][1] if t else sizes[i][0] for i, t in zip(members, turns, strict=True))
            along = max(sizes[i][0] if t else sizes[i][1] for i, t in zip(members, turns, strict=True))
            known = best[subset]
            fits = across <= width and (limit is None or along <= limit)
            if fits and (known is None or along < known):
                best[subset] = along
    return best


def roll_lengths(strips):
    """Return for each subset the least total length of strips that hold it, or None."""
    total: list[Fraction | None] = [Fraction(0)] + [None] * (len(strips) - 1)
    for subset in range(1, len(strips)):
        first = subset & -subset
        part = subset
        while part:
            if part & first and strips[part] is not None and total[subset ^ part] is not None:
                length = strips[part] + total[subset ^ part]
                if total[subset] is None or length < total[subset]:
                    total[subset] = length
            part = (part - 1) & subset
    return total


def cheapest(pieces: list[Piece], rolls: list[Roll], table_mm=None):
    """Return (exact price, film in mm2) of the cheapest plan and then the least film; None if none exists."""
    flat = [p for p in pieces for _ in range(p.quantity)]
    n = len(flat)
    sizes = [(exact(p.width_mm), exact(p.length_mm)) for p in flat]
    groups = sorted({p.group for p in flat if p.group})
    masks = [sum(1 << i for i, p in enumerate(flat) if p.group == g) for g in groups]
    best = INF
    full = (1 << n) - 1
    for ways in product((False, True), repeat=len(groups)):
        if any(
            way and not all(p.turn for p in flat if p.group == g) for g, way in zip(groups, ways, strict=True)
        ):
            continue
        way_of = dict(zip(groups, ways, strict=True))
        lengths = []
        for roll in rolls:
            free = [[way_of[p.group]] if p.group else ([False, True] if p.turn else [False]) for p in flat]
            if roll.directional:
                free = [[w for w in f if not w] for f in free]
            limits = [
                x for x in (None if table_mm is None else exact(table_mm), roll.longest_mm) if x is not None
            ]
            strips = strip_lengths(sizes, exact(roll.width_mm), min(limits, default=None), free)
            lengths.append(roll_lengths(strips))
        state: list[tuple[Fraction, Fraction]] = [(Fraction(0), Fraction(0))] + [INF] * full
        for roll, total in zip(rolls, lengths, strict=True):
            most = n if roll.stock is None else roll.stock * roll.pack
            copies = 1 if roll.by_length else min(n, most)
            options = []
            for subset in range(1, full + 1):
                length = total[subset]
                whole = all(not subset & m or subset & m == m for m in masks)
                if length is None or not whole:
                    continue
                taken = roll.ordered(length) if roll.by_length else length
                if roll.longest_mm is not None and taken > roll.longest_mm:
                    continue
                price = roll.cost(roll.ordered(length)) if roll.by_length else Fraction(0)
                options.append((subset, (price, length * exact(roll.width_mm))))
            results = list(state)
            for used in range(1, copies + 1):
                grown = list(state)
                for subset, (price, film) in options:
                    for rest in range(full + 1):
                        if rest & subset or state[rest] == INF:
                            continue
                        offer = (state[rest][0] + price, state[rest][1] + film)
                        if offer < grown[rest | subset]:
                            grown[rest | subset] = offer
                state = grown
                packs = -(-used // roll.pack)
                fee = Fraction(0) if roll.by_length else Fraction(roll.price) * packs
                for subset, (price, film) in enumerate(grown):
                    if (price, film) != INF:
                        results[subset] = min(results[subset], (price + fee, film))
            state = results
        best = min(best, state[full])
    return None if best == INF else best


def tiny_job(seed: int, *, groups: bool = False):
    """Return (pieces, rolls, table) of a random job of up to six pieces."""
    r = random.Random(seed)
    n, pieces = r.randint(1, 6), []
    while sum(p.quantity for p in pieces) < n:
        quantity = min(r.choice((1, 1, 1, 2)), n - sum(p.quantity for p in pieces))
        size = (r.choice((r.randint(20, 60), 30, 45)) * 10, r.choice((r.randint(20, 120), 60)) * 10)
        group = r.choice(("", "A", "B")) if groups else ""
        pieces.append(Piece(f"P{len(pieces)}", *size, quantity, r.random() < 0.8, group))
    rolls = []
    for _ in range(r.randint(1, 3)):
        width = r.choice((610, 760, 915, 1220))
        if r.random() < 0.5:
            step = r.choice((None, None, 100, 500))
            rolls.append(Roll(width, None, Decimal(r.randint(50, 200)) / 10, step_mm=step))
        else:
            length = r.choice((1300, 2000, 3000, 5000))
            price = Decimal(r.choice((0, r.randint(5, 60))))
            stock = r.randint(1, 2) if price == 0 else r.choice((None, None, 2))
            rolls.append(Roll(width, length, price, pack=r.choice((1, 1, 2)) if price else 1, stock=stock))
    rolls = list(dict.fromkeys(rolls))
    return pieces, rolls, r.choice((None, 1250, 1500))


@pytest.fixture(scope="session")
def brute() -> SimpleNamespace:
    """Give tests `tiny_job` and `cheapest`."""
    return SimpleNamespace(tiny_job=tiny_job, cheapest=cheapest)
