"""From one speed to another on the move: rolling up, and coasting down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from core.trace.runs.edges import Edge, edge_near
from core.trace.runs.motion import Part
from core.trace.runs.remarks import made, remarks
from core.trace.wanted import FIRST_MOTION, FoundRun, Missed, Wanted, total_sd

__all__ = ["find_rolling"]

_BRAKED: Final = 1.5  # m/s² on average; no machine coasts down so hard on the level
_HARDER: Final = 1.35  # slowing at the end over slowing at the start from which on it was braked
_STAND: Final = 1.0  # s within which a run that left from rest is no rolling one


def find_rolling(part: Part, wanted: Wanted) -> Iterator[FoundRun | Missed]:
    """Yield the runs of a part from one speed to another, and what looked like one.

    Args:
        part: rows without a break.
        wanted: of the shape ``rolling``, or ``coast``, where the speed falls.
    """
    falls = wanted.shape == "coast"
    before = part.last_before(wanted.from_speed, below=not falls)
    seen = -1
    for row in part.passes(wanted.to_speed, up=not falls):
        last = int(before[row])
        if last < 0 or last == seen:
            continue
        seen = last
        found = _between(part, wanted, last, row, falls=falls)
        if found is not None:
            yield found


def _between(
    part: Part, wanted: Wanted, last: int, row: int, *, falls: bool
) -> FoundRun | Missed | None:
    """The run whose speed leaves one level behind ``last`` and reaches the other at ``row``."""
    t = part.rows.t
    rough = float(t[row] - t[last])
    if rough > wanted.longest:
        return None
    if falls and (wanted.from_speed - wanted.to_speed) / max(rough, part.step) > _BRAKED:
        return Missed(float(t[last]), "It was braked, not left to coast.")
    if falls and part.dip(last, row, falls=True) > 1 / 3.6 + 2 * part.rows.noise:
        return Missed(float(t[last]), "It was driven on the way down.")
    start, end = _edges(part, wanted, last, row, falls=falls)
    if start is None or end is None or end.time <= start.time:
        return Missed(float(t[last]), "Where it passes the speeds cannot be made out.")
    notes = remarks(part, start.time, end.time, falls=falls)
    notes += _slowing(part, start.time, end.time) if falls else _from_stand(part, last, start)
    return made(
        part,
        wanted,
        (start.time, end.time),
        end.time - start.time,
        total_sd(start.sd, end.sd),
        end_speed=wanted.to_speed,
        notes=tuple(notes),
    )


def _edges(
    part: Part, wanted: Wanted, last: int, row: int, *, falls: bool
) -> tuple[Edge | None, Edge | None]:
    """Both passings, each within the rows of one rise or fall."""
    rows = part.rows.falling() if falls else part.rows
    sign = -1.0 if falls else 1.0
    first = _begins(part, last, falls=falls)
    stop = part.end_of_rise(row, falls=falls)
    t = part.rows.t
    start = edge_near(rows, sign * wanted.from_speed, float(t[last]), first, stop)
    end = edge_near(rows, sign * wanted.to_speed, float(t[row]), first, stop)
    return start, end


def _begins(part: Part, last: int, *, falls: bool) -> int:
    """First row of the rise or fall that goes through a row, looking back a second at most."""
    sign = -1.0 if falls else 1.0
    speed = sign * part.smooth
    ahead = min(len(part) - 1, last + part.count(1.0))
    usual = (speed[ahead] - speed[last]) / max(ahead - last, 1)
    back = part.count(0.4)
    doubt = 2 * part.rows.noise * (2 / part.width) ** 0.5
    first = last
    furthest = max(back, last - 2 * part.count(1.0))
    while first > furthest and speed[first] - speed[first - back] > usual * back / 3 - doubt:
        first -= 1
    return max(0, min(last, first - back // 2))


def _from_stand(part: Part, last: int, start: Edge) -> list[str]:
    """What is said when the run began from rest shortly before."""
    row = last
    while row > 0 and part.smooth[row] >= FIRST_MOTION:
        row -= 1
    if part.smooth[row] >= FIRST_MOTION:
        return []
    since = start.time - float(part.rows.t[row])
    steady = since - _climb(part, row, last)
    return ["It left from rest just before."] if steady < _STAND else []


def _climb(part: Part, rest: int, last: int) -> float:
    """s from rest to a row at the slope that the run has there."""
    ahead = min(len(part) - 1, last + part.count(1.0))
    t, speed = part.rows.t, part.smooth
    slope = float((speed[ahead] - speed[last]) / max(t[ahead] - t[last], part.step))
    return float(speed[last]) / slope if slope > 0 else 0.0


def _slowing(part: Part, start: float, end: float) -> list[str]:
    """What is said when it slowed harder at the end than at the start, which no coasting does."""
    import numpy as np  # lazy: 0.1 s

    third = (end - start) / 3
    first, second, last, stop = np.interp(
        [start, start + third, end - third, end], part.rows.t, part.smooth
    )
    early, late = float(first - second), float(last - stop)
    if late > _HARDER * early + 3 * part.rows.noise:
        return ["It slowed harder at the end than at the start: was the brake on?"]
    return []
