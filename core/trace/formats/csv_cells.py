"""Whole columns of cells to numbers, times and dates; odd cells one by one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from core.trace.columns import DateForm, TimeForm
from core.trace.formats.csv_times import read_date, to_second

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["dates", "numbers", "times"]

_NUMBER: Final = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?")
_MISSING: Final = ("", "nan", "na", "n/a", "null", "-", "--")
_LARGEST: Final = 1e15  # no time, place or speed is larger in any unit
_NONE: Final = float("nan")


def numbers(cells: Sequence[str], decimal: str) -> tuple[Floats, Marks]:
    """Return the numbers in a column, NaN for an empty cell, and whether each cell is sound.

    Args:
        cells: of the column.
        decimal: its decimal sign.
    """
    import numpy as np  # lazy: 0.1 s

    if decimal == ",":
        cells = [cell.replace(",", ".") for cell in cells]
    try:
        values = np.fromiter(map(float, cells), np.float64, len(cells))
        plain = bool((np.abs(values) < _LARGEST).all()) and "_" not in "".join(cells)
    except ValueError:
        plain = False
    if plain:
        return values, np.ones(len(cells), bool)
    read = [_number(cell) for cell in cells]
    values = np.array([_NONE if value is None else value for value in read])
    return values, np.array([value is not None for value in read])


def _number(cell: str) -> float | None:
    """The number in a cell, NaN where it says that there is none, None where it is no number."""
    word = cell.strip()
    if word.casefold() in _MISSING:
        return _NONE
    if not _NUMBER.fullmatch(word):
        return None
    value = float(word)
    return value if abs(value) < _LARGEST else None


def times(cells: Sequence[str], form: TimeForm, decimal: str) -> tuple[Floats, Marks]:
    """Return the times in a column, s, and whether each cell tells one.

    Args:
        cells: of the column.
        form: how they tell time.
        decimal: decimal sign of numbers.
    """
    import numpy as np  # lazy: 0.1 s

    if form in ("clock", "moment"):
        values = np.fromiter(map(to_second(form), cells), np.float64, len(cells))
        return values, ~np.isnan(values)
    values, sound = numbers(cells, decimal)
    scale = 1000.0 if form in ("milliseconds", "epoch-ms") else 1.0
    return values / scale, sound & ~np.isnan(values)


def dates(cells: Sequence[str], form: DateForm) -> tuple[Floats, Marks]:
    """Return the ordinals of the dates in a column, and whether each cell is a date."""
    import numpy as np  # lazy: 0.1 s

    known: dict[str, float] = {}
    for cell in set(cells):
        found = read_date(cell, form)
        known[cell] = _NONE if found is None else float(found.toordinal())
    values = np.fromiter((known[cell] for cell in cells), np.float64, len(cells))
    return values, ~np.isnan(values)
