"""Numbers by hour that several lanes have in common."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array


@dataclass(frozen=True, eq=False)
class Series:
    """Numbers by hour, (H, S), and which of the S each lane has, (lanes,).

    ``over`` is how many lanes after one another have the same.
    """

    values: Array
    of_lane: NDArray[np.int64]
    over: int

    @classmethod
    def of(cls, values: ArrayLike, lanes: tuple[int, ...], hours: int, name: str) -> Series:
        """Return what ends with the hours, or has none, as a series of lanes in a row.

        Raises
        ------
        ValueError
            If it does not end with the hours.
        """
        array = np.asarray(values, dtype=float)
        if array.ndim == 0:
            array = array[None]
        if array.shape[-1] not in (1, hours):
            raise ValueError(f"{name} must end with {hours} hours, got shape {array.shape}")
        kinds = array.shape[:-1]
        each = np.moveaxis(np.broadcast_to(array, (*kinds, hours)), -1, 0).reshape(hours, -1)
        numbers = np.arange(each.shape[1], dtype=np.int64).reshape(kinds)
        aligned = (*(1,) * (len(lanes) - len(kinds)), *kinds)
        varies = [place for place, length in enumerate(aligned) if length > 1]
        over = int(np.prod(lanes[varies[-1] + 1 :] if varies else lanes, dtype=int))
        return cls(np.ascontiguousarray(each), np.broadcast_to(numbers, lanes).reshape(-1), over)

    @property
    def steady(self) -> bool:
        """Whether no hour differs from the first."""
        return bool((self.values == self.values[:1]).all())

    def hour(self, hour: int, lanes: slice) -> Array:
        """Return one hour of some lanes."""
        values: Array = self.values[hour].take(self.of_lane[lanes])
        return values

    def columns(self, lanes: slice) -> NDArray[np.int64]:
        """Return which column of the values each of some lanes has."""
        return self.of_lane[lanes]
