"""The logger's file of one visit: NMEA sentences of every run, made to fit the times typed.

No machine wrote it. The position is out at sea, where no strip can be.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import Final

from core.attempts import Attempt
from core.clock import to_utc
from core.session import Book, Session
from core.trace import FIRST_MOTION, TraceDocument
from core.trace.keeping import keep_bytes

__all__ = ["RECORDED", "keep_recording", "recording"]

RECORDED: Final = "S10"
"""Label of the visit whose recording is in the season."""

_NAME: Final = "moth-0906.nmea"
_RATE: Final = 10  # rows a second
_NOISE: Final = 0.05  # m/s
_SEED: Final = 63
_FULL: Final = 22.0  # m/s, which the speed tends to: v = 22 (1 - exp(-t/lag))
_TARGET: Final = 50 / 3.6  # m/s
_TYPED: Final = 20.0  # s after the end of a run at which its time was typed
_BEFORE, _ON, _BRAKE, _AFTER = 12.0, 1.2, 2.5, 6.0  # s of rest, s past the mark, m/s², s of rest
_KNOT: Final = 1852 / 3600
_LAT, _LON = 47.0, -30.0  # degrees; mid ocean
_DEGREE: Final = 111_320.0 * math.cos(math.radians(_LAT))  # m in one degree of longitude there
_STRIP: Final = 250.0  # m between the two ends a run leaves from
_NO_FIX: Final = 3  # sentences before the receiver has a position


def keep_recording(book: Book, session: Session, read: datetime) -> None:
    """Keep the recording of a visit in the log, with its document.

    Args:
        book: the open log.
        session: with its attempts.
        read: when it was read in.
    """
    data = recording(session.attempts)
    rows = data.count(b",A,")
    first = _launch(session.attempts[0])[0] - timedelta(seconds=_BEFORE)
    book.save(
        TraceDocument(
            id=book.fresh_id(),
            name=_NAME,
            sha256=keep_bytes(book.log.folder, data, "nmea"),
            form="nmea",
            size=len(data),
            read=read,
            session=session.id,
            began=_on_grid(first),
            seconds=round(sum(_length(a) for a in session.attempts), 1),
            rows=rows,
            rate=float(_RATE),
            noise=_NOISE,
            rejected=_NO_FIX,
        )
    )


def recording(attempts: Sequence[Attempt]) -> bytes:
    """Return the sentences of all runs, ten a second, asleep in between.

    Args:
        attempts: timed from first motion to 50 km/h, in the order they ran; each was typed 20 s
            after its run.
    """
    draw = random.Random(_SEED)  # noqa: S311  noise of a made-up instrument
    start = _launch(attempts[0])[0] - timedelta(seconds=_BEFORE + 1)
    lines = [
        _sentence(f"GPRMC,{start + timedelta(seconds=i / 10):%H%M%S}.{i}00,V,,,,,,,,,,N")
        for i in range(_NO_FIX)
    ]
    for attempt in attempts:
        lines.extend(_run(attempt, draw))
    return "".join(f"{line}\r\n" for line in lines).encode("ascii")


def _launch(attempt: Attempt) -> tuple[datetime, float]:
    """When a run left, and the lag of its speed, so that its time is the one that was typed."""
    assert attempt.at is not None  # noqa: S101  every attempt of the season has both
    assert attempt.value is not None  # noqa: S101
    lag = attempt.value / math.log((_FULL - FIRST_MOTION) / (_FULL - _TARGET))
    to_end = -lag * math.log1p(-_TARGET / _FULL)
    return to_utc(attempt.at) - timedelta(seconds=_TYPED + to_end), lag


def _on_grid(moment: datetime) -> datetime:
    """The first tenth of a second at or after a moment."""
    tenth = math.ceil(moment.microsecond / 100_000)
    return moment.replace(microsecond=0) + timedelta(milliseconds=100 * tenth)


def _length(attempt: Attempt) -> float:
    """Recorded time of a run, s, from its first row to its last."""
    times = list(_times(attempt))
    return times[-1] - times[0]


def _times(attempt: Attempt) -> Iterator[float]:
    """Times of the rows of a run, s after it left."""
    left, lag = _launch(attempt)
    first = (_on_grid(left - timedelta(seconds=_BEFORE)) - left).total_seconds()
    moving = -lag * math.log1p(-_TARGET / _FULL) + _ON
    last = moving + _speed(moving, lag, moving) / _BRAKE + _AFTER
    for row in range(int((last - first) * _RATE)):
        yield first + row / _RATE


def _speed(time: float, lag: float, moving: float) -> float:
    """Speed so long after leaving, m/s: on the power for a time, then on the brake."""
    if time <= 0:
        return 0.0
    driven = _FULL * -math.expm1(-min(time, moving) / lag)
    return max(0.0, driven - _BRAKE * max(0.0, time - moving))


def _run(attempt: Attempt, draw: random.Random) -> Iterator[str]:
    """The sentences of one run, from rest to rest."""
    left, lag = _launch(attempt)
    moving = -lag * math.log1p(-_TARGET / _FULL) + _ON
    west = attempt.direction == "W"
    way = 0.0
    for time in _times(attempt):
        speed = _speed(time, lag, moving)
        way += speed / _RATE
        east = (_STRIP - way) if west else way
        told = abs(speed + draw.gauss(0, _NOISE)) if speed > 0 else 0.0
        at = left + timedelta(seconds=time)
        yield _rmc(at, _LON + east / _DEGREE, told / _KNOT, 270 if west else 90)


def _rmc(at: datetime, lon: float, knots: float, heading: int) -> str:
    at += timedelta(microseconds=500)  # of rounding
    degrees, minutes = divmod(abs(lon) * 60, 60)
    place = f"{int(_LAT):02d}00.00000,N,{int(degrees):03d}{minutes:08.5f},W"
    clock = f"{at:%H%M%S}.{at.microsecond // 100_000}00"
    return _sentence(f"GPRMC,{clock},A,{place},{knots:.3f},{heading}.0,{at:%d%m%y},,,A")


def _sentence(body: str) -> str:
    total = 0
    for letter in body.encode("ascii"):
        total ^= letter
    return f"${body}*{total:02X}"
