"""Speed over time as a picture: the highest and lowest speed of each column, and where runs lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from core.trace import FoundRun
from core.trace.traces import Trace

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["RunSpan", "SpeedPicture", "span_of_run", "speed_picture"]

_KMH: Final = 3.6
_AROUND: Final = 0.3  # share of a run's length shown before and behind it
_LEAST_AROUND: Final = 2.0  # s


@dataclass(frozen=True)
class RunSpan:
    """Where one run lies."""

    first: float  # share of the width where its clock starts; may lie outside 0 to 1
    last: float  # where it stops
    number: int  # from 1


@dataclass(frozen=True)
class SpeedPicture:
    """A stretch of a recording, cut into columns of equal length in time."""

    columns: tuple[tuple[float, float] | None, ...]  # km/h, lowest and highest; None: no rows
    top: float  # km/h, upper end of the scale, above zero
    start: float  # s from the first row, left edge
    end: float  # s, right edge
    runs: tuple[RunSpan, ...] = ()


def span_of_run(run: FoundRun) -> tuple[float, float]:
    """Return the stretch to show around a run, s from the first row.

    >>> run = FoundRun("0-50", 10.0, 20.0, 10.0, "s", 0.1, 0, 9)
    >>> span_of_run(run)
    (7.0, 23.0)
    """
    around = max(_LEAST_AROUND, _AROUND * (run.end - run.start))
    return run.start - around, run.end + around


def speed_picture(
    trace: Trace,
    runs: Sequence[FoundRun],
    columns: int,
    span: tuple[float, float] | None = None,
    rows: tuple[int, int] | None = None,
) -> SpeedPicture:
    """Return speed over time of a recording or of a stretch of it.

    Args:
        trace: the recording.
        runs: found in it, in the order they are numbered.
        columns: how many there are, 1 or more.
        span: from and to, s from the first row; None: all of it.
        rows: from and to (not counted in) of those that are drawn; None: all of them. Parts of a
            recording whose clock was set may cover the same time.
    """
    import numpy as np  # lazy: 0.1 s

    start, end = span or (float(trace.t.min()), float(trace.t.max()))
    end = max(end, start + 1e-3)
    drawn = slice(*rows) if rows is not None else slice(None)
    t, speed = trace.t[drawn], trace.speed[drawn] * _KMH
    inside = (t >= start) & (t <= end)
    t, speed = t[inside], speed[inside]
    place = np.minimum(((t - start) / (end - start) * columns).astype(np.int64), columns - 1)
    low, high = np.full(columns, np.inf), np.full(columns, -np.inf)
    np.minimum.at(low, place, speed)
    np.maximum.at(high, place, speed)
    if span is not None:
        _fill(low, high, t, speed, start, end)
    cells = tuple(
        None if h < lo else (float(lo), float(h))
        for lo, h in zip(low.tolist(), high.tolist(), strict=True)
    )
    top = float(speed.max()) if len(speed) else 0.0
    return SpeedPicture(cells, max(top, 1.0), start, end, _spans(runs, start, end))


def _fill(low: Floats, high: Floats, t: Floats, speed: Floats, start: float, end: float) -> None:
    """Draw a line through columns between two rows, where the picture is finer than the rows."""
    import numpy as np  # lazy: 0.1 s

    if len(t) < 2:
        return
    steps = np.diff(t)
    longest = 3 * float(np.median(steps))
    columns = len(low)
    middles = start + (np.arange(columns) + 0.5) * (end - start) / columns
    after = np.searchsorted(t, middles)
    bridged = (after > 0) & (after < len(t)) & (high < low)
    for column in np.flatnonzero(bridged).tolist():
        row = int(after[column])
        if steps[row - 1] <= longest:
            low[column] = high[column] = np.interp(middles[column], t, speed)


def _spans(runs: Sequence[FoundRun], start: float, end: float) -> tuple[RunSpan, ...]:
    length = end - start
    return tuple(
        RunSpan((run.start - start) / length, (run.end - start) / length, number)
        for number, run in enumerate(runs, start=1)
        if run.end >= start and run.start <= end
    )
