import random
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise, product

import numpy as np
import pytest

from reportkit.cutting import Piece, Roll, plan, stacking
from reportkit.cutting.problem import build, make_bays
from reportkit.cutting.stacking import Stacking, stacked_bound
from reportkit.cutting.strips import Cut, column_size, items

ROLL = Roll(1524, None, Decimal("10"))


def partitions(members: list[int]):
    """Yield every way to put members into unordered heaps."""
    if not members:
        yield []
        return
    first, *rest = members
    for heaps in partitions(rest):
        yield [[first], *heaps]
        for number in range(len(heaps)):
            yield [*heaps[:number], [first, *heaps[number]], *heaps[number + 1 :]]


def strip_lengths(sizes, turns, width, table):
    """Return for each subset of pieces the shortest strip of stacks that holds it, or None."""
    best: list[int | None] = [None] * (1 << len(sizes))
    for subset in range(1, 1 << len(sizes)):
        members = [i for i in range(len(sizes)) if subset >> i & 1]
        for ways in product(*(turns[i] for i in members)):
            laid = {i: sizes[i][::-1] if w else sizes[i] for i, w in zip(members, ways, strict=True)}
            for heaps in partitions(members):
                across = sum(max(laid[i][0] for i in heap) for heap in heaps)
                along = max(sum(laid[i][1] for i in heap) for heap in heaps)
                known = best[subset]
                if across <= width and along <= table and (known is None or along < known):
                    best[subset] = along
    return best


def least_length(pieces: list[Piece], width: int, table: int) -> int:
    """Return the least length of three-stage plans of all pieces, by trying everything."""
    sizes = [(int(p.width_mm), int(p.length_mm)) for p in pieces]
    strips = strip_lengths(sizes, [(False, True) if p.turn else (False,) for p in pieces], width, table)
    total: list[int | None] = [0] + [None] * (len(strips) - 1)
    for subset in range(1, len(strips)):
        part = subset
        while part:
            strip, rest = strips[part], total[subset ^ part]
            if strip is not None and rest is not None:
                known = total[subset]
                total[subset] = strip + rest if known is None else min(known, strip + rest)
            part = (part - 1) & subset
    assert total[-1] is not None
    return total[-1]


def job(seed: int) -> list[Piece]:
    """Return five invented pieces, some equal."""
    r = random.Random(seed)
    pieces: list[Piece] = []
    for k in range(5):
        size = (r.randint(25, 90) * 10, r.randint(25, 150) * 10)
        if pieces and r.random() < 0.2:
            size = (int(pieces[-1].width_mm), int(pieces[-1].length_mm))
        pieces.append(Piece(f"W{k}", *size, turn=r.random() < 0.6))
    return pieces


@pytest.mark.parametrize("start", range(0, 30, 10))
def test_no_bound_exceeds_what_trying_everything_finds(start):
    """The least three-stage length lies between the bound and the plan of every tiny job (cross-check)."""
    for seed in range(start, start + 10):
        pieces = job(seed)
        least = least_length(pieces, 1524, 1600)
        found = plan(pieces, [ROLL], table_mm=1600, stages=3)
        assert float(found.lower_bound) * 100 <= least + 1e-6, f"job {seed}"
        assert found.film_bound_m2 * 1e6 / 1524 <= least * (1 + 1e-9), f"job {seed}"
        assert least <= found.used_mm, f"job {seed}"
        if found.proven:
            assert found.used_mm == least, f"job {seed}"


@pytest.mark.parametrize("seed", range(6))
def test_pieces_sawn_from_full_strips_of_stacks_need_just_those(seed):
    """Of a layout without waste the bound never exceeds the length, which area shows to be the least."""
    r = random.Random(seed)
    pieces, length = [], 0
    for strip in range(4):
        along = r.randint(60, 200) * 10
        length += along
        edges = sorted({0, 1524, *(r.randint(30, 120) * 10 for _ in range(2))})
        for left, right in pairwise(edges):
            ends = sorted({0, along, *(r.randint(20, along // 10 - 20) * 10 for _ in range(r.randint(0, 1)))})
            for low, high in pairwise(ends):
                pieces.append(Piece(f"{strip}.{len(pieces)}", right - left, high - low))
    r.shuffle(pieces)
    found = plan(pieces, [ROLL], table_mm=2440, stages=3)
    assert float(found.lower_bound) * 100 <= length + 1e-6 <= float(found.used_mm) + 2e-6


@pytest.mark.parametrize("finest", [3000, 200])
@pytest.mark.parametrize("seed", range(6))
def test_no_strip_of_stacks_is_worth_more_than_its_price_says(seed, finest, monkeypatch):
    """For every length, the priced worth is at least that of every strip of five pieces (cross-check)."""
    monkeypatch.setattr(stacking, "FINEST", finest)
    pieces = job(seed)
    problem, behind = build(pieces, Fraction(1600))
    bays, _ = make_bays(problem, [ROLL], [1])
    r = random.Random(seed)
    worth = np.array([r.random() for _ in problem.kinds])
    tool = Stacking(problem, bays, 0, 1.0)
    values, strip = tool.best(worth, tool.lengths)
    order = [piece for kind in range(len(problem.kinds)) for piece in behind[kind]]
    kinds = [kind for kind in range(len(problem.kinds)) for _ in behind[kind]]
    sizes = [(int(p.width_mm), int(p.length_mm)) for p in order]
    turns = [(False, True) if p.turn else (False,) for p in order]
    unit = int(problem.unit)
    lengths = strip_lengths(sizes, turns, 1524, 1600)
    there = [(subset, along) for subset, along in enumerate(lengths) if subset and along is not None]
    assert there and len(tool.lengths)
    for subset, along in there:
        total = sum(worth[kinds[i]] for i in range(len(sizes)) if subset >> i & 1)
        offered = values[tool.lengths <= along // unit // tool.along_unit]
        assert offered.size and offered.max() >= total - 1e-9
    if tool.exact:
        for which in range(0, len(tool.lengths), 7):
            cut = strip(which)
            counted = sum(worth[item // 2] * n for item, n in items(cut).items())
            assert counted == pytest.approx(values[which])
            assert cut.along <= tool.lengths[which]
            shapes = [column_size(problem, column) for column in cut.columns]
            assert sum(across for across, _ in shapes) <= bays[0].width
            assert max(along for _, along in shapes) == cut.along


def test_a_coarser_grid_only_lowers_the_bound(monkeypatch):
    """Rounded down to fewer units of length, the bound stays below the finer one."""
    pieces = [piece for seed in range(3) for piece in job(seed)]
    problem, _ = build(pieces, Fraction(1600))
    bays, _ = make_bays(problem, [ROLL], [1])
    start = [
        Cut(0, item.along, ((index,),)) for index in problem.fits(bays[0]) if (item := problem.items[index])
    ]
    bounds = []
    for finest in (3000, 60, 20):
        monkeypatch.setattr(stacking, "FINEST", finest)
        bounds.append(stacked_bound(problem, bays, [1.0], start, enough=float("inf"), rounds=200)[0])
    assert bounds[0] >= bounds[1] * (1 - 1e-4) >= bounds[2] * (1 - 1e-3) > 0
