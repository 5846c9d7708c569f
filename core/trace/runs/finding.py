"""Finding the runs of one test in a recording, and the rides of a recording without any test."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

import msgspec

from core.trace.runs.heading import Bearings, course_of, direction_of
from core.trace.runs.motion import Part, parts_of
from core.trace.runs.plateau import find_plateaus
from core.trace.runs.rolling import find_rolling
from core.trace.runs.starts import find_starts
from core.trace.traces import Trace
from core.trace.wanted import Found, FoundRun, Missed, RunShape, Wanted

__all__ = ["Ride", "find_rides", "find_runs"]

Finder = Callable[[Part, Wanted], Iterator[FoundRun | Missed]]

_FINDERS: Final[Mapping[RunShape, Finder]] = MappingProxyType(
    {
        "standing": find_starts,
        "distance": find_starts,
        "rolling": find_rolling,
        "coast": find_rolling,
        "top": find_plateaus,
    }
)
_SHORTEST_RIDE: Final = 2.0  # s
_SLOWEST_RIDE: Final = 10 / 3.6  # m/s, highest speed of a ride that is worth a line


class Ride(msgspec.Struct, frozen=True):
    """A stretch in which the machine moved."""

    start: float  # s from the first row
    end: float  # s
    top: float  # m/s, mean over 0.3 s
    way: float  # m
    heading: float | None  # degrees from north; None: not known
    straight: bool


def find_runs(trace: Trace, wanted: Wanted, bearings: Bearings = MappingProxyType({})) -> Found:
    """Return the runs of one test, in the order of the recording.

    Args:
        trace: the recording.
        wanted: what to look for.
        bearings: of the place's directions; empty: directions are not named.
    """
    runs: list[FoundRun] = []
    missed: list[Missed] = []
    find = _FINDERS[wanted.shape]
    for part in parts_of(trace):
        for found in find(part, wanted):
            if isinstance(found, Missed):
                missed.append(found)
            else:
                runs.append(_with_direction(trace, found, bearings))
    return Found(wanted, tuple(runs), tuple(missed))


def _with_direction(trace: Trace, run: FoundRun, bearings: Bearings) -> FoundRun:
    course, straight = course_of(trace, run.from_index, run.to_index)
    notes = run.notes if straight else (*run.notes, "It was not ridden straight.")
    return msgspec.structs.replace(
        run, heading=course, direction=direction_of(course, bearings), notes=notes
    )


def find_rides(trace: Trace) -> tuple[Ride, ...]:
    """Return the stretches in which the machine moved, in the order of the recording."""
    import numpy as np  # lazy: 0.1 s

    rides: list[Ride] = []
    for part in parts_of(trace):
        for first, stop in part.moves():
            t, v = part.rows.t[first:stop], part.rows.v[first:stop]
            top = float(part.smooth[first:stop].max())
            if float(t[-1] - t[0]) < _SHORTEST_RIDE or top < _SLOWEST_RIDE:
                continue
            way = float(np.sum(np.diff(t) * (v[1:] + v[:-1]) / 2))
            course, straight = course_of(trace, part.offset + first, part.offset + stop - 1)
            rides.append(Ride(float(t[0]), float(t[-1]), top, way, course, straight))
    return tuple(rides)
