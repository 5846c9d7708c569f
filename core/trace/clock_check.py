"""Whether the clock of a recording can be right, and what is said when it cannot."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Final

from core.clock import to_utc
from core.trace.formats.findings import Finding
from core.trace.traces import FileClock

__all__ = ["clock_findings"]

_ROLLOVER: Final = timedelta(weeks=1024)  # satellites count weeks in ten bits
_RECENT: Final = timedelta(days=5 * 366)  # a recording is hardly read later than this
_EARLIEST: Final = date(2000, 1, 1)  # a clock that shows less was never set
_GPS_EPOCH: Final = date(1980, 1, 6)
_AHEAD: Final = timedelta(days=1)


def clock_findings(clock: FileClock, now: datetime) -> tuple[Finding, ...]:
    """Return what is odd about the clock of a file; nothing is ever put right by itself.

    Args:
        clock: of the first row.
        now: aware.

    Source: week numbers of ten bits, counted from 6 January 1980 (from memory).
    """
    if clock.second is None:
        return (_found("no clock", "The file counts seconds and tells no time of day."),)
    if clock.day is None:
        return (_found("no date", "The file tells the time of day and no date."),)
    first = datetime(clock.day.year, clock.day.month, clock.day.day, tzinfo=UTC)
    rolled = _rolled_over(first, to_utc(now))
    if rolled is not None:
        return (rolled,)
    if clock.day < _EARLIEST:
        sentence = f"The date is {clock.day.isoformat()}: the clock was never set."
        return (_found("clock never set", sentence),)
    if first - to_utc(now) > _AHEAD:
        sentence = f"The date {clock.day.isoformat()} is still to come: the clock is wrong."
        return (_found("clock ahead", sentence),)
    if not clock.utc:
        return (_found("no zone", "The file does not tell the time zone of its clock."),)
    return ()


def _found(kind: str, sentence: str) -> Finding:
    return Finding(kind, sentence)


def _rolled_over(first: datetime, now: datetime) -> Finding | None:
    """The week counter has run over once or twice, if that makes the date a recent one."""
    for times in (1, 2):
        meant = first + times * _ROLLOVER
        if first.date() != _GPS_EPOCH and -_RECENT <= meant - now <= _AHEAD:
            sentence = (
                f"The date {first.date().isoformat()} is {times * 1024:,} weeks before"
                f" {meant.date().isoformat()}: the week counter of the receiver has run over."
            )
            return Finding("week rollover", sentence, times * _ROLLOVER.total_seconds())
    return None
