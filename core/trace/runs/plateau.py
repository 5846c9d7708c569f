"""Top speed: a plateau that is held, never the highest single row."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from core.trace.runs.motion import HELD, Part, moving_mean
from core.trace.runs.remarks import made, remarks
from core.trace.wanted import FoundRun, Missed, Wanted

__all__ = ["find_plateaus"]

_HELD: Final = 2.0  # s that a top speed must hold; common practice
_STILL_GAINING: Final = 0.28  # m/s² (1 km/h each second) from which on there is no plateau
_UNEVEN: Final = 0.2  # m/s that a plateau may wander beyond its noise
_LEAST: Final = 15 / 3.6  # m/s; slower is no top speed
_SHARE: Final = 0.6  # of the highest plateau; slower ones are rides back
_ALIKE: Final = 3.0  # standard deviations within which a piece counts as level
_ROUNDS: Final = 5
_PICKED: Final = 1.06  # the same rows say where it begins and ends; found by simulation
_SHARED: Final = 0.05  # share of the noise of a mean that is left where neighbours share errors


def find_plateaus(part: Part, wanted: Wanted) -> Iterator[FoundRun | Missed]:
    """Yield the top speed of each ride of a part, and rides without a plateau.

    Args:
        part: rows without a break.
        wanted: of the shape ``top``.
    """
    count = max(2, round(_HELD / part.step) | 1)
    held = moving_mean(part.rows.v, count)
    rides = [ride for ride in part.moves() if ride[1] - ride[0] >= count]
    if not rides:
        return
    highest = max(float(held[first:stop].max()) for first, stop in rides)
    for first, stop in rides:
        middle = first + count // 2
        inner = held[middle : max(stop - count // 2, middle + 1)]
        top = middle + int(inner.argmax())
        if float(held[top]) >= max(_LEAST, _SHARE * highest):
            yield _plateau(part, wanted, (first, stop), top, count)


def _plateau(
    part: Part, wanted: Wanted, ride: tuple[int, int], top: int, count: int
) -> FoundRun | Missed:
    """The plateau about the highest two seconds of a ride."""
    rows = part.rows
    half = count // 2
    window = slice(max(ride[0], top - half), min(ride[1], top + half + 1))
    slope, slope_sd = _slope(part, window)
    uneven = float(rows.v[window].std())
    if abs(slope) > _STILL_GAINING + 2 * slope_sd or uneven > _UNEVEN + 1.5 * rows.noise:
        top_speed = float(part.smooth[window].max()) * 3.6
        reason = f"It went up to {top_speed:.1f} km/h and did not hold it for {_HELD:g} s."
        return Missed(float(rows.t[top]), reason)
    first, stop = _level_stretch(part, ride, window)
    v = rows.v[first:stop]
    value = float(v.mean())
    sd = _PICKED * rows.noise * math.sqrt(max(1 + 2 * rows.shared, _SHARED) / len(v))
    times = (float(rows.t[first]), float(rows.t[stop - 1]))
    notes = tuple(remarks(part, *times))
    return made(part, wanted, times, value * 3.6, sd * 3.6, end_speed=value, notes=notes)


def _slope(part: Part, window: slice) -> tuple[float, float]:
    """Slope of the line through some rows, m/s², and its standard deviation."""
    t, v = part.rows.t[window], part.rows.v[window]
    middle = t - t.mean()
    spread = float(middle @ middle)
    if spread <= 0:
        return 0.0, 0.0
    return float(middle @ v) / spread, part.rows.noise / math.sqrt(spread)


def _level_stretch(part: Part, ride: tuple[int, int], window: slice) -> tuple[int, int]:
    """From and to of the rows about a window that are level with it, within the ride.

    It grows by pieces of 0.3 s while they differ from it by no more than noise does, and again
    from what it came to, so that having picked the highest window lifts nothing. The outermost
    piece of each side is taken off, as it may have begun to sag.
    """
    piece = part.count(HELD)
    first, stop = window.start, window.stop
    for _ in range(_ROUNDS):
        low, high = _grown(part, ride, first, stop, piece)
        if (low, high) == (first, stop):
            break
        first, stop = low, high
    if stop - first - 2 * piece < window.stop - window.start:
        return first, stop
    return first + piece, stop - piece


def _grown(part: Part, ride: tuple[int, int], first: int, stop: int, piece: int) -> tuple[int, int]:
    """The stretch with the level pieces on both sides of it."""
    v = part.rows.v
    mean, count = float(v[first:stop].mean()), stop - first
    allowed = _ALIKE * part.rows.noise * math.sqrt(1 / piece + 1 / count)
    low, high = first, stop
    while low - piece >= ride[0] and abs(float(v[low - piece : low].mean()) - mean) <= allowed:
        low -= piece
    while high + piece <= ride[1] and abs(float(v[high : high + piece].mean()) - mean) <= allowed:
        high += piece
    return low, high
