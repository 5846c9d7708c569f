"""Which way a run went: its course, and the place's name for it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.trace.positions import metres
from core.trace.traces import Trace

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["Bearings", "bearings_of", "course_of", "direction_of", "read_bearings"]

Bearings = Mapping[str, float]
"""Degrees from north by the place's name of each direction."""

_COMPASS: Final = MappingProxyType(
    {
        "N": 0.0,
        "NE": 45.0,
        "E": 90.0,
        "SE": 135.0,
        "S": 180.0,
        "SW": 225.0,
        "W": 270.0,
        "NW": 315.0,
    }
)
_WITHIN: Final = 60.0  # degrees from a bearing that still count as that way
_MOVING: Final = 2.0  # m/s; a slower receiver's course is noise
_STRAIGHT: Final = 0.95  # length of the mean of unit courses; less is a turn
_MOVED: Final = 3.0  # m between first and last position that make a course


def bearings_of(directions: Sequence[str]) -> Bearings:
    """Return the bearings of a place's two names, where they are points of the compass.

    >>> bearings_of(("W", "E")), bearings_of(("out", "back"))
    ({'W': 270.0, 'E': 90.0}, {})
    """
    found = {name: _COMPASS[name.upper()] for name in directions if name.upper() in _COMPASS}
    return _with_opposite(found, directions)


def _with_opposite(found: dict[str, float], directions: Sequence[str]) -> Bearings:
    """Give the other of two names the opposite bearing."""
    if len(found) == 1 and len(directions) == 2:
        known = next(iter(found))
        other = directions[1] if directions[0] == known else directions[0]
        found[other] = (found[known] + 180) % 360
    return found


def read_bearings(text: str) -> tuple[tuple[str, ...], Bearings]:
    """Return two names and their bearings as typed: ``W,E``, ``out=250,back=70``, ``out=250,back``.

    Raises:
        InputError: not two names, or a bearing that is none.

    >>> read_bearings("out=250,back")[1]
    {'out': 250.0, 'back': 70.0}
    """
    names: list[str] = []
    found: dict[str, float] = {}
    for part in text.split(","):
        name, mark, told = (word.strip() for word in part.partition("="))
        names.append(name)
        if mark:
            found[name] = _bearing(told)
    if len(names) != 2 or not all(names) or names[0] == names[1]:
        raise InputError(f"“{text[:40]}” is not two directions.", "W,E or out=250,back=70")
    known = {**bearings_of(names), **found}
    return tuple(names), _with_opposite(known, names)


def _bearing(told: str) -> float:
    try:
        bearing = float(told.removesuffix("°"))
    except ValueError:
        bearing = math.nan
    if not 0 <= bearing <= 360:
        raise InputError(f"“{told[:20]}” is no bearing: degrees from north, 0 to 360.")
    return bearing % 360


def course_of(trace: Trace, first: int, last: int) -> tuple[float | None, bool]:
    """Return the course over some rows, and whether it was straight.

    Args:
        trace: the recording.
        first: first row.
        last: last row.

    Returns:
        Degrees from north, or None where neither courses nor positions tell.
    """
    import numpy as np  # lazy: 0.1 s

    rows = slice(first, last + 1)
    heading, speed = trace.heading[rows], trace.speed[rows]
    use = ~np.isnan(heading) & (speed > _MOVING)
    if np.count_nonzero(use) >= 2:
        angle = np.radians(heading[use])
        north, east = float(np.cos(angle).mean()), float(np.sin(angle).mean())
        straight = math.hypot(north, east) >= _STRAIGHT
        return math.degrees(math.atan2(east, north)) % 360, straight
    return _from_positions(trace.lat[rows], trace.lon[rows])


def _from_positions(lat: Floats, lon: Floats) -> tuple[float | None, bool]:
    import numpy as np  # lazy: 0.1 s

    there = ~(np.isnan(lat) | np.isnan(lon))
    if np.count_nonzero(there) < 2:
        return None, True
    north, east = metres(lat[there], lon[there])
    moved = math.hypot(float(north[-1]), float(east[-1]))
    if moved < _MOVED:
        return None, True
    path = float(np.hypot(np.diff(north), np.diff(east)).sum())
    course = math.degrees(math.atan2(float(east[-1]), float(north[-1]))) % 360
    return course, moved >= _STRAIGHT * path or moved >= path - 5.0


def direction_of(course: float | None, bearings: Bearings) -> str:
    """Return the name of the direction a course belongs to; empty when it fits none.

    >>> direction_of(262.0, {"W": 270.0, "E": 90.0}), direction_of(0.0, {"W": 270.0, "E": 90.0})
    ('W', '')
    """
    if course is None or not bearings:
        return ""
    apart = {name: abs((course - bearing + 180) % 360 - 180) for name, bearing in bearings.items()}
    nearest = min(apart, key=lambda name: apart[name])
    return nearest if apart[nearest] <= _WITHIN else ""
