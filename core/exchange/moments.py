"""Dates and times in a CSV: ISO 8601, with or without offset from UTC."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from core.attempts.asking import quoted
from core.errors import InputError

__all__ = ["Moment", "read_moment", "write_moment"]

_FIRST_YEAR, _LAST_YEAR = 1900, 2200  # outside it is a slip of the keyboard
_FARTHEST = timedelta(hours=15)  # of local time from UTC; today -12 to +14 hours
_DATE_DIGITS = 10  # a longer text tells a time as well


@dataclass(frozen=True, slots=True)
class Moment:
    """A date, or a date and a time."""

    at: datetime  # aware; midnight where only the day is told
    only_day: bool


def read_moment(text: str) -> Moment:
    """Read a date or a date and time; without an offset it is local.

    Raises:
        InputError: not ISO 8601, a year in which nothing of this kind ran, or no offset of a place.

    >>> read_moment("2026-04-12").only_day, read_moment("2026-04-12 10:05+02:00").at.hour
    (True, 10)
    """
    word = text.strip()
    try:
        found = datetime.fromisoformat(word)
    except ValueError:
        raise InputError(
            f"{quoted(word)} is not a date such as 2026-04-12, or 2026-04-12T10:05+02:00."
        ) from None
    if not _FIRST_YEAR <= found.year <= _LAST_YEAR:
        raise InputError(f"{quoted(word)}: the year {found.year} cannot be meant.")
    if found.tzinfo is None:
        found = found.astimezone()
    offset = found.utcoffset() or timedelta()
    if offset % timedelta(minutes=1) or abs(offset) > _FARTHEST:
        raise InputError(f"{quoted(word)}: no place has that offset from UTC.")
    return Moment(found, len(word) <= _DATE_DIGITS)


def write_moment(at: datetime) -> str:
    """Return a date and time as it is written, with its offset.

    >>> write_moment(datetime.fromisoformat("2026-04-12T10:05:00+02:00"))
    '2026-04-12T10:05:00+02:00'
    """
    return at.isoformat()
