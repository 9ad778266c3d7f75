import math

from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.cutting.buying import fill, needed, pack

LENGTHS = st.lists(st.integers(1, 40), min_size=1, max_size=8)


@given(LENGTHS, st.integers(0, 120))
@settings(max_examples=60, deadline=None)
def test_a_roll_is_filled_as_full_as_can_be(lengths, room):
    """No choice of strips comes closer to the roll's length (all choices tried)."""
    best = 0
    for choice in range(1 << len(lengths)):
        total = sum(length for i, length in enumerate(lengths) if choice >> i & 1)
        best = max(best, total if total <= room else 0)
    chosen = fill(lengths, room)
    assert len(set(chosen)) == len(chosen)
    assert sum(lengths[i] for i in chosen) == best


def fits(lengths, rooms) -> bool:
    """Return whether the lengths fit the rooms, trying every way."""
    if not lengths:
        return True
    return any(
        lengths[0] <= room and fits(lengths[1:], [*rooms[:i], room - lengths[0], *rooms[i + 1 :]])
        for i, room in enumerate(rooms)
    )


@given(
    st.lists(st.integers(5, 30), min_size=1, max_size=6),
    st.lists(st.integers(20, 50), min_size=1, max_size=3),
)
@settings(max_examples=60, deadline=None)
def test_strips_are_packed_whenever_they_fit(lengths, rooms):
    """A packing keeps every roll's length, and is found whenever there is one (all ways tried)."""
    home = pack(lengths, rooms)
    assert (home is not None) == fits(lengths, rooms)
    if home is not None:
        for number, room in enumerate(rooms):
            assert sum(length for length, h in zip(lengths, home, strict=True) if h == number) <= room


def test_the_last_roll_keeps_the_longest_rest():
    """Strips of 30, 20 and 10 fill one roll of 60 rather than leave two short rests."""
    home = pack([30, 20, 10], [60, 60])
    assert home is not None and len(set(home)) == 1


def test_four_thousand_strips_are_packed_roll_by_roll():
    """Equal lengths are packed together: rolls are as many as filling each in turn takes (arithmetic)."""
    lengths = [700] * 3000 + [500] * 1000
    assert needed(lengths, 30_500) == math.ceil(sum(lengths) / 30_500) == 86
    taken = fill(lengths, 30_500)
    assert sum(lengths[position] for position in taken) == 30_500
