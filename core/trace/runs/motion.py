"""One part of a recording made ready for finding runs: smoothed speeds, rest, way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from core.trace.noise import SHARED_TWO_APART
from core.trace.runs.edges import Samples
from core.trace.traces import Trace
from core.trace.wanted import FIRST_MOTION

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Places = NDArray[np.int64]

__all__ = ["HELD", "Part", "moving_mean", "parts_of"]

HELD: Final = 0.3
"""s for which a speed must hold to count; common practice."""

_FEWEST: Final = 4  # rows of a part in which a run can be
_DROP: Final = 0.4  # s over which a slope is looked at


@dataclass(frozen=True, eq=False)
class Part:
    """Rows without a break, at a rate that is about even."""

    rows: Samples
    offset: int  # row of the recording that is row 0 here
    smooth: Floats  # m/s, mean over 0.3 s
    step: float  # s from row to row, as a rule
    width: int  # rows that the mean goes over

    def __len__(self) -> int:
        """How many rows."""
        return len(self.smooth)

    def passes(self, level: float, *, up: bool = True) -> list[int]:
        """Return the first rows at or beyond a level after rows on its other side."""
        import numpy as np  # lazy: 0.1 s

        above = self.smooth >= level if up else self.smooth <= level
        return (np.flatnonzero(above[1:] & ~above[:-1]) + 1).tolist()

    def last_before(self, level: float, *, below: bool = True) -> Places:
        """Return for each row the last row up to it that is below (above) a level, or -1."""
        import numpy as np  # lazy: 0.1 s

        there = self.smooth < level if below else self.smooth > level
        return np.maximum.accumulate(np.where(there, np.arange(len(self)), -1))

    def count(self, seconds: float) -> int:
        """How many steps a time has, at least one."""
        return max(1, round(seconds / self.step))

    def end_of_rise(self, row: int, *, falls: bool = False) -> int:
        """Return the row behind the last that goes on rising (falling) as around ``row``.

        Args:
            row: one on the rise.
            falls: look for the end of a fall.
        """
        sign = -1.0 if falls else 1.0
        speed = sign * self.smooth
        back, ahead = self.count(1.0), self.count(_DROP)
        first = max(0, row - back)
        usual = (speed[row] - speed[first]) / max(row - first, 1)
        doubt = 2 * self.rows.noise * (2 / self.width) ** 0.5
        last = row
        furthest = min(len(self) - ahead - 1, row + 2 * back)
        while last < furthest and speed[last + ahead] - speed[last] > usual * ahead / 3 - doubt:
            last += 1
        return min(len(self), max(row + 1, last + ahead // 2 + 1))

    def dip(self, first: int, last: int, *, falls: bool = False) -> float:
        """Return by how much the speed goes back between two rows, m/s (rises, in a fall)."""
        import numpy as np  # lazy: 0.1 s

        speed = -self.smooth[first : last + 1] if falls else self.smooth[first : last + 1]
        return float((np.maximum.accumulate(speed) - speed).max(initial=0.0))

    def longest_gap(self, first: int, last: int) -> float:
        """Return the longest step between two rows that is no usual one, s; 0: there is none."""
        import numpy as np  # lazy: 0.1 s

        steps = np.diff(self.rows.t[first : last + 1])
        longest = float(steps.max(initial=0.0))
        return longest if longest > 1.6 * self.step else 0.0

    def moves(self) -> list[tuple[int, int]]:
        """Return from and to (not counted in) of stretches in which it moves."""
        import numpy as np  # lazy: 0.1 s

        moving = np.concatenate(([False], self.smooth >= FIRST_MOTION, [False]))
        edges = np.flatnonzero(moving[1:] != moving[:-1])
        return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def parts_of(trace: Trace) -> Iterator[Part]:
    """Yield the parts of a recording that are long enough to hold a run."""
    import numpy as np  # lazy: 0.1 s

    shared = SHARED_TWO_APART if trace.from_positions else 0.0
    for start, to in trace.parts:
        if to - start < _FEWEST:
            continue
        t, v = trace.t[start:to], trace.speed[start:to]
        step = float(np.median(np.diff(t)))
        width = max(1, round(HELD / step) | 1)
        smooth = moving_mean(v, width)
        yield Part(Samples(t, v, trace.noise, shared, step), start, smooth, step, width)


def moving_mean(values: Floats, width: int) -> Floats:
    """Return the mean over so many values about each (an odd number), fewer at the ends."""
    import numpy as np  # lazy: 0.1 s

    if width <= 1:
        return values
    sums = np.concatenate(([0.0], np.cumsum(values)))
    rows = np.arange(len(values))
    low = np.maximum(rows - width // 2, 0)
    high = np.minimum(rows + width // 2 + 1, len(values))
    means: Floats = (sums[high] - sums[low]) / (high - low)
    return means
