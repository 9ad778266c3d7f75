"""Air through opened windows."""

import pytest

from reportkit.physics.room.opening import Opening


def test_impossible_openings_are_refused() -> None:
    """An area, height or fan under 0 raises."""
    with pytest.raises(ValueError, match="area"):
        Opening(-0.1)
    with pytest.raises(ValueError, match="fan"):
        Opening(0.1, fan=[-1.0, 0.0])
