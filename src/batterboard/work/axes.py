"""Items first, variants last.

stacked  : numbers, some of them arrays of variants, as items     (a, b, c) -> (3, ...variants)
together : arrays of items, some without variants, broadcast      (8,) and (8, 100) -> (8, 100) twice
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def stacked(*values: Any) -> Array:
    return np.stack(np.broadcast_arrays(*values))


def together(*arrays: Array) -> tuple[Array, ...]:
    deep = max(array.ndim for array in arrays)
    return tuple(np.broadcast_arrays(*(array.reshape(array.shape + (1,) * (deep - array.ndim)) for array in arrays)))
