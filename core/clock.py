"""The current time as something that can be handed in, so that tests and the demo set it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Annotated

import msgspec

__all__ = ["AwareTime", "Clock", "ManualClock", "day_words", "is_plausible", "local_now", "to_utc"]

Clock = Callable[[], datetime]
"""Returns the time now, aware, with the local offset: ``2026-04-12T10:05:00+02:00``."""

AwareTime = Annotated[datetime, msgspec.Meta(tz=True)]
"""A time in a document: it must tell its offset from UTC, as times are put in order by UTC."""

_EARLIEST_YEAR = 2000  # a clock that shows less was never set (an empty battery gives 1970)


def local_now() -> datetime:
    """Return the time now with the local offset from UTC, to the millisecond."""
    now = datetime.now(UTC).astimezone()
    return now.replace(microsecond=now.microsecond // 1000 * 1000)


def to_utc(moment: datetime) -> datetime:
    """Return the same moment in UTC; times are ordered by this, whatever their local offset."""
    return moment.astimezone(UTC)


def is_plausible(moment: datetime, now: datetime) -> bool:
    """Tell whether a time can be a real entry: not before 2000, not a day or more after now."""
    return moment.year >= _EARLIEST_YEAR and moment - now < timedelta(days=1)


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(moment: date) -> str:
    """Return the local date of a moment as it is said.

    >>> day_words(datetime.fromisoformat("2026-04-12T10:05+02:00"))
    '12 Apr 2026'
    """
    return f"{moment.day} {_MONTHS[moment.month - 1]} {moment.year}"


class ManualClock:
    """A clock that stands still until it is moved.

    Args:
        start: an aware datetime.
    """

    def __init__(self, start: datetime) -> None:
        if start.tzinfo is None:
            raise ValueError("A clock needs an offset from UTC.")
        self._now = start

    def __call__(self) -> datetime:
        """Return the time it shows."""
        return self._now

    def set(self, moment: datetime) -> None:
        """Show this time from now on."""
        self._now = moment

    def advance(self, *, seconds: float = 0.0, minutes: float = 0.0) -> datetime:
        """Move on by so much; return the new time."""
        self._now += timedelta(seconds=seconds, minutes=minutes)
        return self._now
