"""Speed and course from positions, for all rows at once."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["are_interleaved", "courses", "metres", "speed_ratio", "speeds_along"]

_A = 6_378_137.0  # m, WGS84 equator
_E2 = (2 - 1 / 298.257223563) / 298.257223563  # first eccentricity squared
_WINDOW: Final = 1.5  # s before and after, over which a course is taken
_MOVED: Final = 2.0  # m; less is no course
_APART: Final = 1.0  # s between the positions that a speed is checked with
_MOVING: Final = 3.0  # m/s; slower rows tell nothing about a unit
_FEWEST: Final = 10  # rows that a ratio needs


def metres(lat: Floats, lon: Floats) -> tuple[Floats, Floats]:
    """Return north and east of the first position, within a few kilometres of it.

    Args:
        lat: degrees.
        lon: degrees; the step over 180 is taken the short way.

    Returns:
        m; sums of steps on the ellipsoid's radii of curvature at each step's middle.

    Source: WGS84; meridian radius ``a(1-e²)/w³``, prime vertical ``a/w``,
    ``w = sqrt(1 - e² sin²)``; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    middle = np.radians((lat[1:] + lat[:-1]) / 2)
    w = np.sqrt(1 - _E2 * np.sin(middle) ** 2)
    turn = (np.diff(lon) + 180) % 360 - 180
    north = np.radians(np.diff(lat)) * _A * (1 - _E2) / w**3
    east = np.radians(turn) * _A / w * np.cos(middle)
    zero = np.zeros(1)
    return np.concatenate((zero, np.cumsum(north))), np.concatenate((zero, np.cumsum(east)))


def courses(t: Floats, north: Floats, east: Floats) -> Floats:
    """Return the course of each row, degrees; NaN where it moved less than 2 m in 3 s."""
    import numpy as np  # lazy: 0.1 s

    first = np.searchsorted(t, t - _WINDOW)
    last = np.searchsorted(t, t + _WINDOW, side="right") - 1
    up, across = north[last] - north[first], east[last] - east[first]
    course = np.degrees(np.arctan2(across, up)) % 360
    return np.where(np.hypot(up, across) >= _MOVED, course, np.nan)


def speeds_along(t: Floats, north: Floats, east: Floats, course: Floats) -> Floats:
    """Return the speed along the course, m/s, from the positions before and after each row.

    Taken along the course, noise across it adds nothing, and a machine at rest does not creep.

    Args:
        t: s, increasing, three rows or more.
        north: m.
        east: m.
        course: degrees; where it is NaN, that of the nearest row that has one holds.

    Returns:
        Central differences, ``sigma_v = sigma_p/(sqrt(2) dt)``; rows two apart share an error.

    Source: second-order differences on uneven steps; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    up, across = np.gradient(north, t), np.gradient(east, t)
    known = np.flatnonzero(~np.isnan(course))
    if len(known) == 0:
        speeds: Floats = np.hypot(up, across)
        return speeds
    rows = np.arange(len(t))
    after = np.minimum(np.searchsorted(known, rows), len(known) - 1)
    before = np.maximum(after - 1, 0)
    nearer = np.abs(known[before] - rows) < np.abs(known[after] - rows)
    angle = np.radians(course[known[np.where(nearer, before, after)]])
    along: Floats = up * np.cos(angle) + across * np.sin(angle)
    return along


def speed_ratio(t: Floats, speed: Floats, north: Floats, east: Floats) -> float | None:
    """Return how many times faster the positions move than the speeds say; None: no telling.

    Args:
        t: s, increasing.
        speed: m/s as told.
        north: m.
        east: m.

    Returns:
        Median over rows above 3 m/s of the way in a second over what the speeds make of it.
    """
    import numpy as np  # lazy: 0.1 s

    way = np.concatenate(([0.0], np.cumsum(np.diff(t) * (speed[1:] + speed[:-1]) / 2)))
    later = np.minimum(np.searchsorted(t, t + _APART), len(t) - 1)
    told = way[later] - way
    moved = np.hypot(north[later] - north, east[later] - east)
    use = (t[later] - t >= _APART * 0.9) & (told > _MOVING * (t[later] - t))
    if np.count_nonzero(use) < _FEWEST:
        return None
    return float(np.median(moved[use] / told[use]))


def are_interleaved(north: Floats, east: Floats) -> bool:
    """Tell whether positions jump to and fro between two places at every row.

    The steps of two machines or receivers mixed row by row point against each other and agree
    with the one after next; those of one receiver's noise do not.
    """
    import numpy as np  # lazy: 0.1 s

    up, across = np.diff(north), np.diff(east)
    if len(up) < _FEWEST:
        return False
    size = float(np.sum(up * up + across * across))
    if size <= 0 or math.sqrt(size / len(up)) < 0.05:
        return False
    next_one = float(np.sum(up[1:] * up[:-1] + across[1:] * across[:-1])) / size
    after_next = float(np.sum(up[2:] * up[:-2] + across[2:] * across[:-2])) / size
    return next_one < -0.7 and after_next > 0.7
