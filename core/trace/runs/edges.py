"""When a noisy recording passes a speed: a local straight line, the bend around it taken off.

The first row above a speed comes early, the more so the more rows there are; a line through the
rows around it does not.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import msgspec

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["Edge", "Samples", "edge_from_rest", "edge_near"]

_HALF: Final = 0.3  # s; rows so far to either side go into the line, more where noise asks for it
_PILOT: Final = 1.0  # s; the same for the first rough line
_SLOPE_SD: Final = 0.12  # share of the slope up to which noise may blur it
_FROM_REST: Final = 0.25  # s of rows that a line from rest goes through at least
_CLEAR: Final = 1.5  # standard deviations by which a row must lie behind rest to count as moving
_BY_PLACES: Final = 0.03  # of a step: what is not known of leaving, where positions tell speeds
_BEND_DOUBT: Final = 0.15  # share of the correction for the bend that is taken as its error


class Edge(msgspec.Struct, frozen=True):
    """The passing of a speed."""

    time: float  # s
    sd: float  # s
    slope: float  # m/s² there, above zero also where the speed falls
    rows: int  # that the line went through


class Samples:
    """The rows of one part of a recording, with what is known of their errors.

    Args:
        t: s, increasing.
        v: m/s.
        noise: standard deviation of one speed, m/s.
        shared: correlation of errors two rows apart.
        step: s from row to row, as a rule.
    """

    def __init__(self, t: Floats, v: Floats, noise: float, shared: float, step: float) -> None:
        self.t = t
        self.v = v
        self.noise = noise
        self.shared = shared
        self.step = step

    def falling(self) -> Samples:
        """Return the same with speeds below zero, so that what falls rises."""
        return Samples(self.t, -self.v, self.noise, self.shared, self.step)

    def count_for(self, slope: float) -> int:
        """How many rows a line needs so that noise blurs its slope by 12 % at most.

        Source: ``sd(slope) = noise/sqrt(S)``, ``S = dt² n³/12``; closed form.
        """
        if slope <= 0 or self.step <= 0:
            return 2
        spread = (self.noise / (_SLOPE_SD * slope)) ** 2
        return max(2, math.ceil(math.cbrt(12 * spread / self.step**2)))


def edge_near(rows: Samples, level: float, about: float, first: int, end: int) -> Edge | None:
    """Return when the speed rises through a level, near a time that is roughly known.

    Args:
        rows: of one part.
        level: m/s.
        about: s, roughly when.
        first: first row that belongs to the rise.
        end: row behind the last that does.

    Returns:
        None when the rows do not rise there.

    Source: least-squares line and its inverse prediction, less the bend of a parabola through
    twice as many rows; errors to first order; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    wide = max(2, round(_PILOT / rows.step))
    centre = int(np.searchsorted(rows.t, about))
    rough = _line(rows, level, *_window(centre, 2 * wide, first, end))
    if rough is None:
        return None
    at, slope = rough
    at = min(
        max(at, float(rows.t[max(first, centre - wide)])),
        float(rows.t[min(end, centre + wide) - 1]),
    )
    count = max(rows.count_for(slope), 2 * round(_HALF / rows.step), 2)
    centre = int(np.searchsorted(rows.t, at))
    if (
        count % 2
        and centre > 0
        and at - rows.t[centre - 1] < rows.t[min(centre, len(rows.t) - 1)] - at
    ):
        centre -= 1
    start, stop = _window(centre, count, first, end)
    around = max(1, count // 2)
    wider = max(first, min(start - around, stop - 4)), min(end, max(stop + around, start + 4))
    return _fitted(rows, level, (start, stop), wider)


def edge_from_rest(rows: Samples, level: float, moved: int, end: int) -> Edge | None:
    """Return when a machine that leaves from rest passes a low speed.

    Only rows that move go into the line, so that the rest before does not bend it; where rows are
    few it goes back from the first of them.

    Args:
        rows: of one part.
        level: m/s.
        moved: a row by which it surely moves.
        end: row behind the last that belongs to the rise.

    Returns:
        None when the rows do not rise there.

    Source: as :func:`edge_near`.
    """
    import numpy as np  # lazy: 0.1 s

    wide = max(4, rows.count_for(1.0), round(_PILOT / rows.step))
    if rows.shared:
        return _from_rest_by_places(rows, level, moved, wide, end)
    rough = _from(rows, level, moved, wide, end)
    if rough is None:
        return None
    rest = rough.time - level / rough.slope
    clear = _CLEAR * rough.sd if rows.step < _FROM_REST / 2 else 0.0  # no row to spare else
    earliest = max(rest + clear, rough.time - _FROM_REST)
    first = min(moved, int(np.searchsorted(rows.t, earliest)))
    after = int(np.searchsorted(rows.t, rough.time)) + 2 - first
    count = max(rows.count_for(rough.slope), round(2 * _FROM_REST / rows.step), after)
    return _from(rows, level, first, count, end) or rough


def _from_rest_by_places(
    rows: Samples, level: float, moved: int, wide: int, end: int
) -> Edge | None:
    """The same where speeds are differences of the positions before and after each row.

    Those within a row of leaving are a mean of rest and motion and go into no line: on constant
    acceleration all later ones are right.

    Source: central differences are exact for a parabola; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    first, found = moved + 1, None
    for _ in range(3):
        edge = _from(rows, level, first, wide, end)
        if edge is None:
            return found
        found = msgspec.structs.replace(edge, sd=math.hypot(edge.sd, _BY_PLACES * rows.step))
        rest = edge.time - level / edge.slope
        clear = int(np.searchsorted(rows.t, rest + rows.step))
        if clear == first:
            break
        first = clear
    return found


def _from(rows: Samples, level: float, first: int, count: int, end: int) -> Edge | None:
    """The line through so many rows from one on."""
    first = max(0, min(first, len(rows.t) - 2))
    stop = min(max(min(first + count, end), first + 2), len(rows.t))
    wider = first, min(max(stop + count // 2, first + 4), max(end, stop))
    return _fitted(rows, level, (first, stop), wider)


def _window(centre: int, count: int, first: int, end: int) -> tuple[int, int]:
    """So many rows about a place, moved as far as it must be to stay among those that belong."""
    start = max(first, min(centre - count // 2, end - count))
    return start, min(end, start + count)


def _line(rows: Samples, level: float, start: int, stop: int) -> tuple[float, float] | None:
    """Time at which the line through some rows meets the level, and its slope."""
    if stop - start < 2:
        return None
    t, v = rows.t[start:stop], rows.v[start:stop]
    middle, mean = float(t.sum()) / len(t), float(v.sum()) / len(v)
    off = t - middle
    slope = float(off @ v) / float(off @ off)
    if slope <= 0:
        return None
    return middle + (level - mean) / slope, slope


def _fitted(
    rows: Samples, level: float, window: tuple[int, int], wider: tuple[int, int]
) -> Edge | None:
    """The line through a window, corrected for the bend seen in a wider one, with its error."""
    import numpy as np  # lazy: 0.1 s

    line = _line(rows, level, *window)
    if line is None:
        return None
    at, slope = line
    start, stop = window
    low, high = min(wider[0], start), max(wider[1], stop)
    x = rows.t[low:high] - at
    v = rows.v[low:high]
    inside = slice(start - low, stop - low)
    weights = np.zeros(len(x))
    weights[inside] = _value_weights(x[inside])
    bend = _bend_weights(x)
    shape = float(weights[inside] @ x[inside] ** 2) / 2  # what one unit of bend adds to the line
    doubt = rows.noise**2 * _norm(bend, rows.shared)
    seen = float(bend @ v)
    trust = seen**2 / (seen**2 + doubt) if seen else 0.0
    shift = trust * seen * shape / slope
    total = (trust * shape * bend - weights) / slope
    off = x[inside] - float(x[inside].sum()) / (stop - start)
    blur = rows.noise**2 / float(off @ off) / slope**2  # of the slope, relative, squared
    variance = rows.noise**2 * _norm(total, rows.shared) * (1 + 3 * blur)
    variance += (_BEND_DOUBT * shift) ** 2
    return Edge(at + shift, math.sqrt(max(variance, 0.0)), slope, stop - start)


def _norm(weights: Floats, shared: float) -> float:
    """Variance of a weighted sum of errors of unit variance."""
    return float(weights @ weights + 2 * shared * (weights[2:] @ weights[:-2]))


def _value_weights(x: Floats) -> Floats:
    """Weights that give the value at 0 of the line through the rows."""
    middle = float(x.sum()) / len(x)
    off = x - middle
    weights: Floats = 1 / len(x) - middle * off / float(off @ off)
    return weights


def _bend_weights(x: Floats) -> Floats:
    """Weights that give the second derivative of the parabola through the rows.

    Source: orthogonal polynomials, ``p2 = u² - (Su³/Su²) u - Su²/n``; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    if len(x) < 3:
        return np.zeros(len(x))
    u = x - x.sum() / len(x)
    square = u * u
    second = float(square.sum())
    shape = square - float((square * u).sum()) / second * u - second / len(x)
    weights: Floats = 2 * shape / float(shape @ shape)
    return weights
