"""What stands between two rows of a table?

    between(3.5, (3, 4), (10, 20))          15.0
    between(5.0, (3, 4), (10, 20))          20.0, or nan with outside=nan

Straight lines from row to row. A number gives a plain number, an array an array of its shape.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np


def between(x: Any, rows: Sequence[float], values: Sequence[float], outside: float | None = None) -> Any:
    """Values at x, interpolated; beyond the first and last row as at them, or what `outside` says."""
    y = np.interp(x, rows, values, left=outside, right=outside)
    return y if np.ndim(y) else float(y)
