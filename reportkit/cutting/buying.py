"""Which rolls a set of strips needs: strips packed along rolls, and the cheapest rolls bought for them.

Strips that share a view group stay on one roll. Rolls are filled by subset sums, the last one keeping the
longest rest; where that fails, a small whole-number programme decides.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from reportkit.cutting import programmes
from reportkit.cutting.problem import Problem, whole
from reportkit.cutting.records import Roll, exact
from reportkit.cutting.strips import Cut

MANY = 600  # strips times rolls, above which they are packed by filling one roll after another


@dataclass(frozen=True)
class Load:
    """Strips on one physical roll of kind `roll`, `used` long in all [units]."""

    roll: int
    used: int
    cuts: tuple[Cut, ...]


def bundles(problem: Problem, cuts: Sequence[Cut]) -> list[tuple[int, tuple[Cut, ...]]]:
    """Join strips that share a view group; return (length, strips), longest first."""
    sets: list[tuple[set[str], list[Cut]]] = []
    single: list[tuple[int, tuple[Cut, ...]]] = []
    for cut in cuts:
        groups = {problem.kinds[i // 2].group for column in cut.columns for i in column} - {""}
        if not groups:
            single.append((cut.along, (cut,)))
            continue
        joined = [entry for entry in sets if entry[0] & groups]
        rest = [entry for entry in sets if not entry[0] & groups]
        strips = [strip for entry in joined for strip in entry[1]] + [cut]
        sets = [*rest, (groups.union(*(entry[0] for entry in joined)), strips)]
    bundled = [*single, *((sum(cut.along for cut in strips), tuple(strips)) for _, strips in sets)]
    return sorted(bundled, key=lambda bundle: (-bundle[0], bundle[1]))


def fill(lengths: Sequence[int], room: int) -> list[int]:
    """Return the positions of lengths whose sum comes closest to `room` from below (subset sum)."""
    places: dict[int, list[int]] = {}
    for position, length in enumerate(lengths):
        places.setdefault(length, []).append(position)
    parts: list[tuple[int, int]] = []  # (length, copies): equal lengths by ones, twos, fours
    for length, held in places.items():
        left, size = min(len(held), room // length), 1
        while left > 0:
            parts.append((length, min(size, left)))
            left, size = left - size, size * 2
    reach = [1]
    mask = (1 << (room + 1)) - 1
    for length, copies in parts:
        reach.append((reach[-1] | (reach[-1] << length * copies)) & mask)
    left = reach[-1].bit_length() - 1
    chosen = []
    for number in range(len(parts) - 1, -1, -1):
        if not (reach[number] >> left) & 1:
            length, copies = parts[number]
            left -= length * copies
            chosen += [places[length].pop() for _ in range(copies)]
    return sorted(chosen)


def needed(lengths: Sequence[int], room: int) -> int:
    """Return how many rooms lengths take, each filled as full as can be before the next."""
    todo, rooms = list(lengths), 0
    while todo:
        taken = set(fill(todo, room))
        if not taken:
            return len(lengths) + 1
        todo = [length for position, length in enumerate(todo) if position not in taken]
        rooms += 1
    return rooms


def pack(lengths: Sequence[int], rooms: Sequence[int], *, exact_try: bool = True) -> list[int] | None:
    """Assign each length to a room (its number), or return None where they are found not to fit.

    Rooms are filled in order as full as can be, so the last room used keeps the longest rest.
    """
    if sum(lengths) > sum(rooms):
        return None
    orders = [
        sorted(range(len(rooms)), key=lambda r: (rooms[r], r)),
        sorted(range(len(rooms)), key=lambda r: (-rooms[r], r)),
    ]
    best: tuple[int, int, list[int]] | None = None
    for order in orders:
        home = [-1] * len(lengths)
        todo = list(range(len(lengths)))
        rest = 0
        for room in order:
            taken = [todo[i] for i in fill([lengths[t] for t in todo], rooms[room])]
            for position in taken:
                home[position] = room
            todo = [t for t in todo if home[t] < 0]
            rest = max(rest, rooms[room] - sum(lengths[t] for t in taken))
        if not todo and (best is None or (-rest, len(set(home))) < best[:2]):
            best = (-rest, len(set(home)), home)
    if best is not None:
        return best[2]
    if exact_try and len(lengths) * len(rooms) <= MANY:
        return _pack_exactly(lengths, rooms)
    return None


def _pack_exactly(lengths: Sequence[int], rooms: Sequence[int]) -> list[int] | None:
    """Decide by a whole-number programme whether lengths fit the rooms, equal lengths merged."""
    from scipy.sparse import coo_matrix

    sizes = sorted(set(lengths), reverse=True)
    number = {size: n for n, size in enumerate(sizes)}
    n, m = len(sizes), len(rooms)
    rows, cols, data = [], [], []
    for size in range(n):
        for room in range(m):
            col = size * m + room
            rows += [size, n + room]
            cols += [col, col]
            data += [1.0, float(sizes[size])]
    counts = [float(list(lengths).count(size)) for size in sizes]
    matrix = coo_matrix((data, (rows, cols)), shape=(n + m, n * m)).tocsr()
    low = np.array(counts + [0.0] * m)
    high = np.array(counts + [float(room) for room in rooms])
    result = programmes.whole(np.zeros(n * m), [(matrix, low, high)], upper=np.inf, nodes=2000)
    if result.amounts is None:
        return None
    left = np.rint(result.amounts).astype(int).reshape(n, m)
    home = []
    for length in lengths:
        room = next((r for r in range(m) if left[number[length], r] > 0), -1)
        left[number[length], room] -= 1
        home.append(room)
    return home


def load_rolls(
    problem: Problem, rolls: Sequence[Roll], inside: Sequence[Sequence[int]], cuts: Sequence[Cut]
) -> list[Load] | None:
    """Put the strips of each bay on its rolls; None when they do not fit.

    Whole rolls are filled first; what is over goes to the film sold by length, the cheapest that can hold it.
    """
    loads: list[Load] = []
    for bay, held in enumerate(inside):
        mine = [cut for cut in cuts if cut.bay == bay]
        if not mine:
            continue
        joined = bundles(problem, mine)
        lengths = [length for length, _ in joined]
        fixed = [i for i in held if not rolls[i].by_length]
        rooms = [whole(exact(rolls[i].length_mm or 0), problem.unit) for i in fixed]
        open_rolls = sorted((i for i in held if rolls[i].by_length), key=lambda i: (rolls[i].price, i))
        home = pack(lengths, rooms) if rooms else None
        if home is None and not open_rolls:
            return None
        if home is None:
            home = _overflow(problem, rolls, lengths, rooms, open_rolls)
            if home is None:
                return None
        homed: list[list[Cut]] = [[] for _ in (*fixed, *open_rolls)]
        for room, (_, part) in zip(home, joined, strict=True):
            homed[room] += part
        for roll, strips in zip((*fixed, *open_rolls), homed, strict=True):
            if strips:
                ordered = sorted(strips, key=lambda cut: (-cut.along, cut.columns))
                loads.append(Load(roll, sum(cut.along for cut in strips), tuple(ordered)))
    return loads


def _overflow(
    problem: Problem,
    rolls: Sequence[Roll],
    lengths: Sequence[int],
    rooms: Sequence[int],
    open_rolls: Sequence[int],
) -> list[int] | None:
    """Fill whole rolls as full as can be and put the rest on film by length."""
    home = [-1] * len(lengths)
    for room in sorted(range(len(rooms)), key=lambda r: (rooms[r], r)):
        todo = [b for b in range(len(lengths)) if home[b] < 0]
        for position in fill([lengths[b] for b in todo], rooms[room]):
            home[todo[position]] = room
    for number, roll in enumerate(open_rolls):
        todo = [b for b in range(len(lengths)) if home[b] < 0]
        limit = rolls[roll].longest_mm
        room = sum(lengths) if limit is None else whole(limit, problem.unit)
        for position in fill([lengths[b] for b in todo], room):
            home[todo[position]] = len(rooms) + number
    return None if -1 in home else home


def cost(problem: Problem, rolls: Sequence[Roll], loads: Sequence[Load]) -> Fraction:
    """Return the exact price of the rolls a plan needs, packs bought whole [currency]."""
    total = Fraction(0)
    counts: dict[int, int] = {}
    for load in loads:
        roll = rolls[load.roll]
        if roll.by_length:
            total += roll.cost(roll.ordered(load.used * problem.unit))
        else:
            counts[load.roll] = counts.get(load.roll, 0) + 1
    for index, used in counts.items():
        total += Fraction(rolls[index].price) * math.ceil(used / rolls[index].pack)
    return total


def film(problem: Problem, rolls: Sequence[Roll], loads: Sequence[Load]) -> Fraction:
    """Return the film pulled off the rolls [mm2]."""
    return sum((exact(rolls[load.roll].width_mm) * load.used * problem.unit for load in loads), Fraction(0))


def largest_rest(problem: Problem, rolls: Sequence[Roll], loads: Sequence[Load]) -> Fraction:
    """Return the area of the largest rest left on one whole or ordered roll [mm2]."""
    rests = [Fraction(0)]
    for load in loads:
        roll = rolls[load.roll]
        used = load.used * problem.unit
        rests.append(exact(roll.width_mm) * (roll.ordered(used) - used))
    return max(rests)


def buy(
    problem: Problem, rolls: Sequence[Roll], widths: Sequence[Sequence[int]], cuts: Sequence[Cut]
) -> list[Load] | None:
    """Choose rolls for strips whose bays are the given lists of roll kinds; None when they cannot hold them.

    Rolls that cost nothing are filled first; for the rest each count of each whole roll is tried with film
    by length for what is over, and the cheapest kept.
    """
    loads: list[Load] = []
    for bay, kinds in enumerate(widths):
        mine = [Cut(0, cut.along, cut.columns) for cut in cuts if cut.bay == bay]
        if not mine:
            continue
        total = sum(cut.along for cut in mine)
        free = [i for i in kinds if not rolls[i].by_length and rolls[i].price == 0]
        priced = [i for i in kinds if not rolls[i].by_length and rolls[i].price > 0]
        by_length = [i for i in kinds if rolls[i].by_length]
        shelf: list[int] = []
        for i in free:
            most = max(1, math.ceil(total / whole(exact(rolls[i].length_mm or 1), problem.unit))) + len(mine)
            packs = rolls[i].stock
            shelf += [i] * (most if packs is None else min(packs * rolls[i].pack, most))
        best: tuple[Fraction, Fraction, list[Load]] | None = None
        choices: list[list[int]] = [[]]
        for i in priced:
            room = max(1, whole(exact(rolls[i].length_mm or 1), problem.unit))
            least = max(1, math.ceil(total / room / rolls[i].pack))
            if least * len(mine) > MANY:  # too many to try each count
                count = math.ceil(needed([cut.along for cut in mine], room) / rolls[i].pack)
                choices += [[i] * (count * rolls[i].pack)] if count <= (rolls[i].stock or count) else []
                continue
            most = least + max(2, least // 3)
            packs = rolls[i].stock
            most = most if packs is None else min(most, packs)
            low = 1 if by_length or shelf or len(priced) > 1 else min(least, most)
            choices += [[i] * (count * rolls[i].pack) for count in range(low, most + 1)]
            if not by_length:
                choices += [
                    [i] * (count * rolls[i].pack) + [j] * rolls[j].pack
                    for count in range(max(1, least - 2), most + 1)
                    for j in priced
                    if j != i
                ]
        for choice in choices:
            if not choice and not by_length and not shelf:
                continue
            if best is not None and sum(Fraction(rolls[i].price) / rolls[i].pack for i in choice) > best[0]:
                continue
            loaded = load_rolls(problem, rolls, [[*shelf, *choice, *by_length]], mine)
            if loaded is None:
                continue
            key = (cost(problem, rolls, loaded), -largest_rest(problem, rolls, loaded))
            if best is None or key < best[:2]:
                best = (*key, loaded)
        if best is None:
            return None
        loads += best[2]
    return loads
