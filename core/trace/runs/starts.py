"""Standing starts: to a speed, or over a distance."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import msgspec

from core.trace.runs.edges import Edge, edge_from_rest, edge_near
from core.trace.runs.motion import HELD, Part
from core.trace.runs.remarks import made, remarks
from core.trace.runs.way import way_from
from core.trace.wanted import FIRST_MOTION, FoundRun, Missed, StartRule, Wanted, total_sd

__all__ = ["find_starts"]

_RESTED: Final = 0.5  # s of rest before a start, or one row of it; less is a turn
_BEFORE: Final = 0.5  # s by which first motion may lie before the smoothed speeds show it
_CREPT: Final = 2.0  # s between first motion and twice that speed from which on it is told
_PUSHED: Final = 2.5  # m/s on average; slower over a distance is pushed, not driven
_REST_DOUBT: Final = 0.25  # share of the time from rest to first motion that is not known
_NEARLY: Final = 0.8  # share of the speed wanted that makes a miss worth telling


class _Launch(msgspec.Struct, frozen=True):
    """How a machine left."""

    time: float  # s, when the clock starts
    sd: float  # s
    speed: float  # m/s then
    row: int  # first row that surely moves


def find_starts(part: Part, wanted: Wanted) -> Iterator[FoundRun | Missed]:
    """Yield the standing starts of a part, and what looked like one.

    Args:
        part: rows without a break.
        wanted: of the shape ``standing`` or ``distance``.
    """
    find = _to_speed if wanted.shape == "standing" else _over_distance
    stood_from = 0
    for first, stop in part.moves():
        stood = float(part.rows.t[first] - part.rows.t[stood_from])
        stood_from = stop
        if first == 0 or stood < min(_RESTED, part.step):
            continue
        found = find(part, wanted, first, stop)
        if found is not None:
            yield found


def _to_speed(part: Part, wanted: Wanted, first: int, stop: int) -> FoundRun | Missed | None:
    row = _reached(part, wanted.to_speed, first, stop)
    if row is None:
        top = float(part.smooth[first:stop].max())
        if top < _NEARLY * wanted.to_speed:
            return None
        return _missed(part, first, f"It went up to {top * 3.6:.1f} km/h only.")
    launch = _launch(part, wanted.start, first, row)
    if launch is None:
        return _missed(part, first, "It did not cover the rollout.")
    end = edge_near(
        part.rows, wanted.to_speed, float(part.rows.t[row]), launch.row, part.end_of_rise(row)
    )
    if end is None or end.time <= launch.time:
        return _missed(part, first, "Where it reaches the speed cannot be made out.")
    return _run(part, wanted, launch, (end.time, end.sd, wanted.to_speed))


def _over_distance(part: Part, wanted: Wanted, first: int, stop: int) -> FoundRun | Missed | None:
    top = first + int(part.smooth[first:stop].argmax())
    if float(part.smooth[top]) < _PUSHED:
        return None
    launch = _launch(part, wanted.start, first, max(top, first + 2))
    if launch is None:
        return _missed(part, first, "It did not cover the rollout.")
    way = way_from(part, launch.time, launch.speed, stop)
    reached = way.reaching(wanted.distance)
    if reached is None:
        if float(way.x[-1]) < _NEARLY * wanted.distance:
            return None
        return _missed(part, first, f"It went {float(way.x[-1]):.0f} m only.")
    if wanted.distance / (reached[0] - launch.time) < _PUSHED:
        return _missed(part, first, "It was pushed or rolled along, not driven.")
    return _run(part, wanted, launch, reached)


def _run(
    part: Part, wanted: Wanted, launch: _Launch, end: tuple[float, float, float]
) -> FoundRun | Missed:
    """The run from a launch to an end: time, its standard deviation, speed there."""
    time, sd, speed = end
    value = time - launch.time
    if value > wanted.longest:
        return Missed(launch.time, f"It took {value:.0f} s: no run of {wanted.test}.")
    notes = [*remarks(part, launch.time, time), *_crept(part, launch)]
    return made(
        part,
        wanted,
        (launch.time, time),
        value,
        total_sd(launch.sd, sd),
        start_rule=wanted.start.words,
        end_speed=speed,
        notes=tuple(notes),
    )


def _missed(part: Part, first: int, reason: str) -> Missed:
    return Missed(float(part.rows.t[first]), reason)


def _reached(part: Part, speed: float, first: int, stop: int) -> int | None:
    """First row at which the smoothed speed is reached."""
    there = part.smooth[first:stop] >= speed
    return first + int(there.argmax()) if there.any() else None


def _launch(part: Part, start: StartRule, first: int, end: int) -> _Launch | None:
    """When the clock starts, by its rule.

    Args:
        part: rows without a break.
        start: the rule.
        first: first row that moves, by the smoothed speeds.
        end: row by which the rise is over.
    """
    around = max(3, part.count(0.6))
    low = max(0, first - around)
    sure = FIRST_MOTION + 2 * part.rows.noise
    below = int((part.rows.v[low : first + around] < sure).sum())
    row = min(low + below, end - 1)
    edge = edge_from_rest(part.rows, FIRST_MOTION, row, max(end, row + 2))
    earliest = float(part.rows.t[first]) - max(_BEFORE, 2 * part.step)
    if edge is None or edge.time < earliest or edge.time > float(part.rows.t[row]) + part.step:
        edge = _by_rows(part, first)
    return _by_rule(part, start, edge, row, end)


def _by_rows(part: Part, first: int) -> Edge:
    """First motion of a machine that creeps: no slope to go by, so between two smoothed rows."""
    t, smooth = part.rows.t, part.smooth
    step = float(t[first] - t[first - 1])
    rise = max(float(smooth[first] - smooth[first - 1]), 1e-9)
    share = min(max((FIRST_MOTION - float(smooth[first - 1])) / rise, 0.0), 1.0)
    sd = max(step, HELD) / math.sqrt(12)
    return Edge(float(t[first - 1]) + share * step, sd, rise / step, 2)


def _by_rule(part: Part, start: StartRule, edge: Edge, row: int, end: int) -> _Launch | None:
    if start.rule == "motion":
        return _Launch(edge.time, edge.sd, FIRST_MOTION, row)
    before = FIRST_MOTION / edge.slope
    rest = edge.time - before
    sd = total_sd(edge.sd, _REST_DOUBT * before)
    if start.rule == "rest":
        return _Launch(rest, sd, 0.0, row)
    way = way_from(part, rest, 0.0, max(end, row + 2))
    over = way.reaching(start.distance)
    return None if over is None else _Launch(over[0], sd, over[2], row)


def _crept(part: Part, launch: _Launch) -> list[str]:
    """What is said when it moved for a while before it left."""
    row = launch.row
    while row < len(part) and part.smooth[row] < 2 * FIRST_MOTION:
        row += 1
    crept = float(part.rows.t[min(row, len(part) - 1)]) - launch.time
    return [f"It crept for {crept:.1f} s before it left."] if crept > _CREPT else []
