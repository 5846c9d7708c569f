"""A shift of a recording's clock as it is typed: a length of time, or when a run ended."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Final

from core.errors import InputError

__all__ = ["read_shift"]

_LENGTH: Final = re.compile(r"([+-])\s*(?:(\d{1,5}):)?(?:(\d{1,6}):)?(\d{1,12}(?:[.,]\d+)?)\s*s?")
_CLOCK: Final = re.compile(r"(\d{1,2}):(\d\d)(?::(\d\d))?")
_DAY: Final = timedelta(days=1)
_HINT: Final = "Such as +7200, -0:01:30, or 14:05:30 for when this run ended."


def read_shift(text: str, ended: datetime | None, day: datetime) -> float:
    """Return the seconds to add to the clock of a recording.

    Args:
        text: as typed: a length with its sign in seconds, minutes:seconds or
            hours:minutes:seconds, or the time of day at which the run ended.
        ended: when the run ended by the recording's own clock, aware; None: not told.
        day: aware, of the session: the day and zone of a time that is typed.

    Raises:
        InputError: neither, or a time of day for a recording that tells none.

    >>> read_shift("-0:01:30", None, datetime.now().astimezone())
    -90.0
    """
    word = text.strip().replace("−", "-")
    length = _LENGTH.fullmatch(word)
    if length is not None:
        sign, first, second, rest = length.groups()
        parts = [float(part) for part in (first, second) if part is not None]
        total = 0.0
        for part in (*parts, float(rest.replace(",", "."))):
            total = 60 * total + part
        return -total if sign == "-" else total
    clock = _CLOCK.fullmatch(word)
    if clock is None:
        raise InputError(f"“{text[:20]}” is no shift.", _HINT)
    hour, minute, second = (int(part or 0) for part in clock.groups())
    if hour > 23 or minute > 59 or second > 59:
        raise InputError(f"“{text[:20]}” is no time of day.", _HINT)
    if ended is None:
        raise InputError("The recording tells no time of day to shift.", _HINT)
    right = day.replace(hour=hour, minute=minute, second=second, microsecond=0)
    if right < day - _DAY / 2:
        right += _DAY
    return (right - ended).total_seconds()
