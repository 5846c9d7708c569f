"""From rows as read to a recording: speeds, order, gaps, noise, and all that was found odd."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.trace.agreement import position_findings
from core.trace.clock_check import clock_findings
from core.trace.documents import TraceKind
from core.trace.formats.findings import Finding
from core.trace.formats.rejects import Rejects
from core.trace.formats.rows import RawRows, many
from core.trace.noise import speed_noise
from core.trace.ordering import Order, put_in_order
from core.trace.positions import courses, metres, speeds_along
from core.trace.traces import FileClock, Gap, Trace

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["Source", "clean"]

_FASTEST: Final = 150.0  # m/s; no machine this is for, no receiver's slip either
_SPIKE: Final = (3.0, 15.0)  # m/s and m/s²: a single row farther out than both together
_MOST_GAPS: Final = 100
_DAY: Final = 86400.0

Parts = tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Source:
    """Where rows come from."""

    kind: TraceKind
    name: str
    sha256: str
    size: int
    rejects: Rejects
    findings: tuple[Finding, ...] = ()  # of the reader


def clean(raw: RawRows, source: Source, now: datetime) -> Trace:
    """Return the recording that the rows make.

    Args:
        raw: rows in the order of the file.
        source: the file.
        now: the time now, to judge the clock of the file by.

    Raises:
        InputError: fewer than three rows can be used, or two recordings are mixed in the file.
    """
    import numpy as np  # lazy: 0.1 s

    derived = bool(np.isnan(raw.speed).all())
    raw = _possible(raw, source.rejects, derived=derived)
    _need_rows(raw, source)
    order = put_in_order(raw, source.name, source.rejects)
    speed, parts, order = _speeds(raw, order, source, derived=derived)
    t, clock = _from_first(raw, order.keep)
    rate, gaps, gap_count = _rate_and_gaps(t, parts)
    step = 0.0 if derived else raw.step
    trace = Trace(
        kind=source.kind,
        name=source.name,
        sha256=source.sha256,
        size=source.size,
        t=t,
        speed=speed,
        heading=raw.heading[order.keep],
        lat=raw.lat[order.keep],
        lon=raw.lon[order.keep],
        line=raw.line[order.keep],
        parts=parts,
        clock=clock,
        rate=rate,
        noise=speed_noise(speed, parts, from_positions=derived, step=step),
        from_positions=derived,
        extra={name: values[order.keep] for name, values in raw.extra.items()},
        gaps=gaps,
        gap_count=gap_count,
        duplicates=order.duplicates,
        jumps=order.jumps,
        rejected=source.rejects.kept,
        reject_counts=source.rejects.counts,
        passed_over=raw.passed_over,
    )
    return replace(trace, findings=(*source.findings, *_findings(trace, order, now)))


def _findings(trace: Trace, order: Order, now: datetime) -> tuple[Finding, ...]:
    return (
        *clock_findings(trace.clock, now),
        *order.findings,
        *_gap_findings(trace),
        *_break_findings(trace),
        *_jump_findings(order),
        *position_findings(trace),
        *_overlaps(trace.t, trace.parts),
    )


def _need_rows(raw: RawRows, source: Source) -> None:
    if len(raw.t) < 3:
        raise InputError(
            f"{source.name} holds {many(len(raw.t), 'row')} that can be used: no recording."
        )


def _possible(raw: RawRows, rejects: Rejects, *, derived: bool) -> RawRows:
    """Leave out rows whose speed cannot be, or is missing where others have one."""
    import numpy as np  # lazy: 0.1 s

    if derived:
        bad, missing = np.zeros(len(raw.t), bool), np.isnan(raw.lat) | np.isnan(raw.lon)
    else:
        missing = np.isnan(raw.speed)
        bad = ~missing & ((raw.speed < 0) | (raw.speed > _FASTEST))
    speeds = raw.speed[bad]
    rejects.add_many(
        "speed",
        raw.line[bad].tolist(),
        lambda i: f"The speed {speeds[i] * 3.6:.0f} km/h cannot be.",
    )
    words = "It has no position." if derived else "It has no speed."
    rejects.add_many("no value", raw.line[missing].tolist(), lambda _: words)
    return _only(raw, ~(bad | missing))


def _only(raw: RawRows, keep: Marks) -> RawRows:
    import numpy as np  # lazy: 0.1 s

    if keep.all():
        return raw
    new_place = np.concatenate(([0], np.cumsum(keep)))
    starts = {int(new_place[row]) for row in raw.starts}
    columns = ("line", "t", "speed", "heading", "lat", "lon")
    return replace(
        raw,
        **{name: getattr(raw, name)[keep] for name in columns},
        starts=tuple(sorted(row for row in starts if row < new_place[-1])),
        extra={name: values[keep] for name, values in raw.extra.items()},
    )


def _speeds(
    raw: RawRows, order: Order, source: Source, *, derived: bool
) -> tuple[Floats, Parts, Order]:
    """The speeds of the rows that are kept: as told without spikes, or from the positions."""
    import numpy as np  # lazy: 0.1 s

    parts = _parts(order)
    t = raw.t[order.keep]
    if derived:
        speed = np.zeros(len(t))
        for start, to in parts:
            if to - start > 2:
                north, east = metres(raw.lat[order.keep[start:to]], raw.lon[order.keep[start:to]])
                along = courses(t[start:to], north, east)
                speed[start:to] = speeds_along(t[start:to], north, east, along)
        return speed, parts, order
    speed = raw.speed[order.keep]
    spikes = _spikes(t, speed, parts)
    if not spikes.any():
        return speed, parts, order
    source.rejects.add_many(
        "spike",
        raw.line[order.keep[spikes]].tolist(),
        lambda i: f"The speed jumps to {speed[spikes][i] * 3.6:.0f} km/h for this one row.",
    )
    kept_before = np.concatenate(([0], np.cumsum(~spikes)))
    left = Order(
        order.keep[~spikes],
        np.unique(kept_before[order.starts]),
        order.duplicates,
        order.jumps,
        order.findings,
    )
    return speed[~spikes], _parts(left), left


def _spikes(t: Floats, speed: Floats, parts: Parts) -> Marks:
    """Rows whose speed lies far above or far below both neighbours."""
    import numpy as np  # lazy: 0.1 s

    spikes = np.zeros(len(t), bool)
    before, after = speed[1:-1] - speed[:-2], speed[1:-1] - speed[2:]
    base, slope = _SPIKE
    far = (np.abs(before) > base + slope * np.diff(t)[:-1]) & (
        np.abs(after) > base + slope * np.diff(t)[1:]
    )
    spikes[1:-1] = far & (before * after > 0)
    edges = [edge for start, to in parts for edge in (start, to - 1)]
    spikes[edges] = False
    return spikes


def _parts(order: Order) -> Parts:
    ends = [*order.starts[1:].tolist(), len(order.keep)]
    return tuple(zip(order.starts.tolist(), ends, strict=True))


def _from_first(raw: RawRows, keep: NDArray[np.int64]) -> tuple[Floats, FileClock]:
    """Times from the first row, and what the clock showed there."""
    t = raw.t[keep]
    first = float(t[0])
    if not raw.clock_told:
        return t - first, FileClock(None, None, False)
    days = int(first // _DAY)
    day = raw.day + timedelta(days=days) if raw.day is not None else None
    return t - first, FileClock(day, first - days * _DAY, raw.utc)


def _rate_and_gaps(t: Floats, parts: Parts) -> tuple[float, tuple[Gap, ...], int]:
    """Rows per second, and where rows are missing within a part."""
    import numpy as np  # lazy: 0.1 s

    steps = np.diff(t)
    inner = np.ones(len(steps), bool)
    inner[[start - 1 for start, _ in parts[1:]]] = False
    usual = float(np.median(steps[inner])) if inner.any() else 0.0
    if usual <= 0:
        return 0.0, (), 0
    missing = np.flatnonzero((steps > 1.6 * usual) & inner)
    gaps = tuple(Gap(float(t[i]), float(steps[i])) for i in missing[:_MOST_GAPS].tolist())
    return 1 / usual, gaps, len(missing)


def _gap_findings(trace: Trace) -> tuple[Finding, ...]:
    if not trace.gaps:
        return ()
    longest = max(trace.gaps, key=lambda gap: gap.seconds)
    return (
        Finding(
            "gaps",
            f"Rows are missing in {many(trace.gap_count, 'place')}, at most"
            f" {longest.seconds:.4g} s (from {longest.t:.1f} s on) at {trace.rate:.3g} rows a"
            " second.",
        ),
    )


def _break_findings(trace: Trace) -> tuple[Finding, ...]:
    """What is said of a recording that stopped and went on."""
    breaks = [
        float(trace.t[start] - trace.t[start - 1])
        for start, _ in trace.parts[1:]
        if 0 < trace.t[start] - trace.t[start - 1] < _DAY
    ]
    if not breaks:
        return ()
    sentence = (
        f"It stopped and went on {many(len(breaks), 'time')}, after {_long(max(breaks))} at most."
    )
    return (Finding("breaks", sentence),)


def _jump_findings(order: Order) -> tuple[Finding, ...]:
    if not order.jumps:
        return ()
    first = order.jumps[0]
    way = "back" if first.seconds < 0 else "ahead"
    more = f", and {many(len(order.jumps) - 1, 'more time')}" if len(order.jumps) > 1 else ""
    return (
        Finding(
            "clock jump",
            f"The clock goes {way} by {_long(abs(first.seconds))} at line {first.line:,}{more}.",
        ),
    )


def _long(seconds: float) -> str:
    """A length of time in words.

    >>> _long(0.2), _long(7200.0), _long(1.77e9)
    ('0.2 s', '2 h', '20,486 days')
    """
    for limit, size, word in ((120, 1, "s"), (7200, 60, "min"), (172800, 3600, "h")):
        if seconds < limit:
            return f"{seconds / size:.3g} {word}"
    return f"{seconds / _DAY:,.0f} days"


def _overlaps(t: Floats, parts: Parts) -> tuple[Finding, ...]:
    """Parts that cover the same time are two recordings in one file."""
    spans = sorted((float(t[start]), float(t[to - 1])) for start, to in parts)
    latest = float("-inf")
    for first, last in spans:
        if first < latest:
            sentence = "Parts of the file cover the same time: it may hold two recordings."
            return (Finding("overlap", sentence),)
        latest = max(latest, last)
    return ()
