"""Time, gap and memory of the cut planner beside simpler ways, on invented random jobs; run by hand.

    python tests/benchmarks/cutting.py [--most 1000]

First-fit and best-fit by decreasing height, turning allowed, and a general rectangle packer (rectpack,
which keeps to no two-stage cuts) cut the same panes from the same 1524 mm roll. A rise is how much more
film each takes than the planner's exact mode. Seconds are processor time.
"""

from __future__ import annotations

import argparse
import random
import time
import tracemalloc
from decimal import Decimal
from itertools import product
from statistics import median

import rectpack

from reportkit.cutting import Piece, Roll, plan

ROLL = Roll(1524, None, Decimal("10"))
TABLE = 2440
FIVE = [
    Roll(width, 30500, Decimal(price))
    for width, price in ((610, 155), (915, 225), (1220, 290), (1524, 355), (1829, 430))
]


def house(seed: int, count: int, *, small: bool) -> list[Piece]:
    """Return invented panes, all different."""
    r = random.Random(seed)
    widths, lengths = ((250, 700), (300, 900)) if small else ((350, 1500), (400, 2300))
    return [Piece(f"W{k}", r.randint(*widths), r.randint(*lengths)) for k in range(count)]


def by_shelves(pieces: list[Piece], *, tight: bool) -> float:
    """Return the length first-fit (or best-fit) by decreasing height takes, its best way of laying [mm].

    Coffman, Garey, Johnson and Tarjan, SIAM J. Computing 9 (1980), from memory of the paper.
    """
    found = []
    for lay in (min, max, lambda sides: sides[1]):
        shelves: list[list[int]] = []  # length, room across
        sizes = [
            (lay((int(p.width_mm), int(p.length_mm))), int(p.width_mm), int(p.length_mm)) for p in pieces
        ]
        laid = [(along, width + length - along) for along, width, length in sizes]
        laid = [(along, across) if across <= ROLL.width_mm else (across, along) for along, across in laid]
        for along, across in sorted(laid, reverse=True):
            ready = [shelf for shelf in shelves if across <= shelf[1]]
            if ready:
                (min(ready, key=lambda shelf: shelf[1]) if tight else ready[0])[1] -= across
            else:
                shelves.append([along, int(ROLL.width_mm) - across])
        found.append(float(sum(along for along, _ in shelves)))
    return min(found)


def by_rectpack(pieces: list[Piece]) -> float:
    """Return the length a general rectangle packer takes in one long bin [mm]."""
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline, pack_algo=rectpack.MaxRectsBl, rotation=True
    )
    packer.add_bin(1524, 10_000_000)
    for piece in pieces:
        packer.add_rect(int(piece.width_mm), int(piece.length_mm))
    packer.pack()
    return float(max(rect.y + rect.height for rect in packer[0]))


def measure(pieces: list[Piece], rolls: list[Roll], mode: str, *, stages: int = 2):
    """Return (plan, seconds of processor time)."""
    start = time.process_time()
    found = plan(pieces, rolls, table_mm=TABLE, stages=stages, mode=mode)
    return found, time.process_time() - start


def many_seeds() -> None:
    """Print times and gaps of the exact mode over eight invented houses of each size."""
    print("\neight houses of each size: median and greatest time, greatest gap, how many proved")
    for count, small in product((8, 12, 20, 40, 60, 80), (False, True)):
        found = [measure(house(seed, count, small=small), [ROLL], "exact") for seed in range(1, 9)]
        times = sorted(took for _, took in found)
        print(
            f"{count:8}  {'small' if small else 'mixed':>8}  {median(times):6.2f}  {times[-1]:6.2f}  "
            f"{max(best.gap for best, _ in found):8.2%}  {sum(best.proven for best, _ in found)}",
            flush=True,
        )


def third_cut() -> None:
    """Print what a third cut saves, and how far its plans are from their bound."""
    print("\nthree stages: time, film saved against two stages, gap")
    for count, small in product((10, 40, 80), (False, True)):
        pieces = house(1, count, small=small)
        two, _ = measure(pieces, [ROLL], "exact")
        three, took = measure(pieces, [ROLL], "exact", stages=3)
        print(
            f"{count:8}  {'small' if small else 'mixed':>8}  {took:6.2f}  "
            f"{float(1 - three.used_mm / two.used_mm):8.2%}  {three.gap:8.2%}",
            flush=True,
        )


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=1000, help="leave out jobs of more panes")
    arguments = parser.parse_args()
    head = ("panes", "kind", "exact s", "gap", "proved", "MB", "quick s", "quick", "FFDH", "BFDH", "rectpack")
    print("  ".join(f"{name:>8}" for name in head))
    for count in (10, 40, 80, 200, 1000):
        if count > arguments.most:
            continue
        for small in (False, True) if count <= 80 else (False,):
            pieces = house(1, count, small=small)
            best, took = measure(pieces, [ROLL], "exact")
            memory = float("nan")
            if count <= 200:  # tracing slows everything several times over
                tracemalloc.start()
                measure(pieces, [ROLL], "quick")
                memory = tracemalloc.get_traced_memory()[1] / 1e6
                tracemalloc.stop()
            quick, quick_took = measure(pieces, [ROLL], "quick")
            length = float(best.used_mm)
            others = [float(quick.used_mm), by_shelves(pieces, tight=False), by_shelves(pieces, tight=True)]
            others.append(by_rectpack(pieces) if count <= 200 else float("nan"))
            rises = "  ".join(f"{value / length - 1:8.1%}" for value in others)
            print(
                f"{count:8}  {'small' if small else 'mixed':>8}  {took:8.2f}  {best.gap:8.2%}  "
                f"{best.proven!s:>8}  {memory:8.1f}  {quick_took:8.2f}  {rises}",
                flush=True,
            )
    many_seeds()
    third_cut()
    print("\nfive widths in whole rolls, three view groups of four panes")
    for count in (10, 40):
        pieces = house(2, count, small=False)
        pieces = [
            Piece(p.id, p.width_mm, p.length_mm, group=f"view {k // 4}" if k < 12 else "")
            for k, p in enumerate(pieces)
        ]
        best, took = measure(pieces, FIVE, "exact")
        print(f"{count:8}  {took:.2f} s  {best.price}  bound {best.lower_bound}  {best.verdict}")


if __name__ == "__main__":
    main()
