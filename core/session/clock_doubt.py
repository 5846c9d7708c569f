"""Whether the clock of the computer can be right, held against what the log holds."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from core.clock import is_plausible, to_utc

__all__ = ["clock_doubt"]

_AHEAD: Final = timedelta(days=400)
"""A log that rested longer is rarer than a clock that is a year ahead; own choice, no source."""

_BEHIND: Final = timedelta(days=1)  # less may be a journey, or two computers


def clock_doubt(now: datetime, newest: datetime | None) -> str:
    """Return what is odd about the clock, as a sentence that asks; empty when nothing is.

    A session that is started under a wrong clock stands in the wrong place of the log, so this is
    said before it is.

    Args:
        now: what the clock shows, aware.
        newest: when the newest session of the log started, aware; None: there is none.

    >>> clock_doubt(datetime.fromisoformat("1970-01-01T09:00+01:00"), None)
    'The clock says 1 Jan 1970: is that right?'
    """
    said = f"The clock says {_day(now)}"
    if not is_plausible(now, now):
        return f"{said}: is that right?"
    if newest is None:
        return ""
    apart = to_utc(now) - to_utc(newest)
    if -_BEHIND <= apart <= _AHEAD:
        return ""
    return f"{said}, and the newest session is of {_day(newest)}: is the clock right?"


def _day(moment: datetime) -> str:
    return f"{moment.day} {moment:%b %Y}"
