"""Rows as a reader takes them from a file, before their order and their clock are looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Final

from core.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int32]

__all__ = ["MOST_ROWS", "RawRows", "check_count", "many", "smallest_step"]

MOST_ROWS: Final = 2_000_000
"""Rows of one recording: 22 hours at 25 per second."""


@dataclass(frozen=True, eq=False)
class RawRows:
    """Rows in the order of the file; all arrays are equally long."""

    line: Whole  # number of the line, or of the point
    t: Floats  # s since midnight of ``day``, or since whenever the file counts from
    speed: Floats  # m/s; NaN where not told
    heading: Floats  # degrees; NaN where not told
    lat: Floats  # degrees; NaN where not told
    lon: Floats  # degrees; NaN where not told
    day: date | None = None  # day of t = 0, where told
    clock_told: bool = True  # whether t is a time of day
    utc: bool = False  # whether day and time are told to be UTC
    starts: tuple[int, ...] = ()  # rows with which the file itself begins a new track
    step: float = 0.0  # m/s, smallest step in which speeds are written; 0: not known
    extra: Mapping[str, Floats] = field(default_factory=dict)  # other columns, by name
    passed_over: int = 0  # sentences of kinds that are not needed


def check_count(rows: int, name: str) -> None:
    """Refuse a recording that is longer than any day.

    Raises:
        InputError: more than `MOST_ROWS`.
    """
    if rows > MOST_ROWS:
        raise InputError(
            f"{name} holds more than {many(MOST_ROWS, 'row')}: no single recording is that long.",
            "Split it and read the parts.",
        )


def many(count: int, thing: str) -> str:
    """Return a count with its thing.

    >>> many(1, "row"), many(1200, "row")
    ('1 row', '1,200 rows')
    """
    return f"{count:,} {thing}" if count == 1 else f"{count:,} {thing}s"


def smallest_step(values: Floats) -> float:
    """Return the smallest step between values as they were written; 0 when there is none."""
    import numpy as np  # lazy: 0.1 s

    some = values[: 1 << 14]
    apart = np.diff(np.unique(np.round(some[~np.isnan(some)], 6)))
    return float(apart.min()) if len(apart) else 0.0
