"""The lines of a block of bytes: where each begins and ends, and its number."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Bytes = NDArray[np.uint8]
    Places = NDArray[np.int64]

__all__ = ["lines_in"]

_NEWLINE, _RETURN = 10, 13


def lines_in(block: Bytes, first_line: int) -> tuple[Places, Places, Places]:
    """Return number, start and end of each line that is not empty.

    Args:
        block: whole lines, ended with ``\\n``, ``\\r`` or both, also mixed.
        first_line: number of the first one.
    """
    import numpy as np  # lazy: 0.1 s

    ends = np.flatnonzero((block == _NEWLINE) | (block == _RETURN))
    starts = np.concatenate(([0], ends[:-1] + 1))
    second = (block[ends] == _NEWLINE) & (ends == starts) & (starts > 0)
    second &= block[np.maximum(starts - 1, 0)] == _RETURN  # the second half of one line end
    number = first_line + np.cumsum(~second) - 1
    filled = ends > starts
    return number[filled], starts[filled], ends[filled]
