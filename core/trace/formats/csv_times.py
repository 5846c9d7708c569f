"""The ways a CSV can tell time: seconds, milliseconds, a clock, moments, with or without a date."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime
from typing import Final

from core.trace.columns import DateForm, TimeForm

__all__ = [
    "DATE_FORMS",
    "date_forms",
    "read_date",
    "tells_zone",
    "time_form",
    "to_second",
]

DATE_FORMS: Final[tuple[DateForm, ...]] = ("year first", "day first", "month first")

_CLOCK: Final = re.compile(r"(\d{1,2}):(\d\d):(\d\d(?:[.,]\d+)?)Z?")
_DATE: Final = re.compile(r"(\d{1,4})([-./])(\d{1,2})\2(\d{1,4})")
_EPOCH: Final = (9.4e8, 4.2e9)  # s since 1970: from 1999 to 2103
_NONE: Final = float("nan")
_MIDNIGHT: Final = datetime(1970, 1, 1, tzinfo=UTC)


def time_form(cells: Sequence[str], unit: str) -> TimeForm | None:
    """Return how a column tells time, judged by its first cells; None when it tells none.

    Args:
        cells: some of the column, with a decimal point.
        unit: ``s`` or ``ms`` where its header says so, else empty.

    >>> time_form(["10:00:00.1"], ""), time_form(["1775980800.2"], ""), time_form(["0.1"], "s")
    ('clock', 'epoch', 'seconds')
    """
    filled = [cell for cell in cells if cell]
    if not filled:
        return None
    if all(_CLOCK.fullmatch(cell) for cell in filled):
        return "clock"
    try:
        numbers = [float(cell) for cell in filled]
    except ValueError:
        return None if any(math.isnan(_moment(cell)) for cell in filled) else "moment"
    if all(_EPOCH[0] < number < _EPOCH[1] for number in numbers):
        return "epoch"
    if all(_EPOCH[0] < number / 1000 < _EPOCH[1] for number in numbers):
        return "epoch-ms"
    return "milliseconds" if unit == "ms" else "seconds"


def to_second(form: TimeForm) -> Callable[[str], float]:
    """Return what reads one cell: s since midnight for a clock, since 1970 for a moment.

    The reader gives NaN for a cell that tells no time.
    """
    return _clock if form == "clock" else _moment


def _clock(cell: str) -> float:
    match = _CLOCK.fullmatch(cell.strip())
    if match is None:
        return _NONE
    hour, minute, second = int(match[1]), int(match[2]), float(match[3].replace(",", "."))
    if hour > 23 or minute > 59 or second >= 61:
        return _NONE
    return hour * 3600 + minute * 60 + second


def _moment(cell: str) -> float:
    """Seconds since 1970, of the zone that is told, or of none."""
    try:
        moment = datetime.fromisoformat(cell.strip().replace("/", "-").replace(" Z", "Z"))
    except ValueError:
        return _NONE
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=UTC)
    return (moment - _MIDNIGHT).total_seconds()


def tells_zone(cell: str) -> bool:
    """Tell whether a moment comes with its zone."""
    try:
        moment = datetime.fromisoformat(cell.strip().replace("/", "-").replace(" Z", "Z"))
    except ValueError:
        return False
    return moment.tzinfo is not None


def date_forms(cells: Sequence[str]) -> tuple[DateForm, ...]:
    """Return the orders of day, month and year in which all these cells are dates."""
    filled = [cell for cell in cells if cell]
    return tuple(f for f in DATE_FORMS if filled and all(read_date(cell, f) for cell in filled))


def read_date(cell: str, form: DateForm) -> date | None:
    """Return the date in a cell, or None.

    >>> read_date("12.04.2026", "day first"), read_date("2026-04-12", "day first")
    (datetime.date(2026, 4, 12), None)
    """
    match = _DATE.fullmatch(cell.strip())
    if match is None:
        return None
    first, mark, second, third = match[1], match[2], match[3], match[4]
    order = {
        "year first": (first, second, third),
        "day first": (third, second, first),
        "month first": (third, first, second),
    }
    if form not in order or (form == "month first" and mark == "."):
        return None
    year, month, day = order[form]
    if len(year) != 4 or len(day) > 2:
        return None
    try:
        return date(int(year), int(month), int(day))
    except ValueError:
        return None
