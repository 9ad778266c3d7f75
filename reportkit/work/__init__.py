"""The work itself: sizes to cut, kit, minutes."""
