"""What an array holds, said once for every module that takes or returns one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

#: Numbers with a unit: hours, panes, faces.
Array = NDArray[np.float64]
#: Yes or no for each.
Mask = NDArray[np.bool_]
#: Whole numbers: months, hours of the day, places in a list.
Whole = NDArray[np.int64]
