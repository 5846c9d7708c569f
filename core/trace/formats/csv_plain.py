"""A block of a CSV whose cells are plain numbers and times: whole columns from the bytes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING, Final

from core.trace.columns import Columns
from core.trace.formats.csv_layout import Layout
from core.trace.formats.decimals import decimals
from core.trace.formats.line_ends import lines_in

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Places = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["PlainBlock"]

_QUOTE, _COMMA, _POINT, _COLON, _HYPHEN = 34, 44, 46, 58, 45
_DAY: Final = 86400.0
_1970: Final = date(1970, 1, 1).toordinal()
_LIMITS: Final = {"lat": 90.0, "lon": 180.0}


class PlainBlock:
    """The lines of a block: those that are plain rows as columns, the others as text.

    Args:
        data: whole lines.
        first: number of the first one in the file.
        layout: of the CSV; lines above its first row are passed over.
    """

    def __init__(self, data: bytes, first: int, layout: Layout) -> None:
        import numpy as np  # lazy: 0.1 s

        self._data = data
        self._encoding = layout.encoding
        block = np.frombuffer(data, np.uint8)
        self._number, self._starts, self._ends = lines_in(block, first)
        below = self._number >= layout.first_row
        self._number, self._starts, self._ends = (
            values[below] for values in (self._number, self._starts, self._ends)
        )
        marks = np.flatnonzero(block == ord(layout.delimiter))
        self._first = np.searchsorted(marks, self._starts)
        count = np.searchsorted(marks, self._ends) - self._first
        self._marks = np.concatenate((marks, [len(block)]))
        self._width = len(layout.header)
        self._plain = count == self._width - 1
        if (block == _QUOTE).any():
            self._plain[:] = False
        comma = layout.decimal == ","
        self._block = np.where(block == _COMMA, np.uint8(_POINT), block) if comma else block

    def columns(
        self, places: Mapping[str, int], columns: Columns
    ) -> tuple[Places, dict[str, Floats]]:
        """Return number of line and values by role of the rows that are plain all through.

        Args:
            places: of the columns that are wanted, by role.
            columns: how time is told.
        """
        import numpy as np  # lazy: 0.1 s

        rows = np.flatnonzero(self._plain)
        good = np.ones(len(rows), bool)
        found: dict[str, Floats] = {}
        for role, place in places.items():
            if role == "date":
                found[role], sound = np.zeros(len(rows)), np.zeros(len(rows), bool)
            else:
                found[role], sound = self._values(role, place, rows, columns)
            good &= sound
        self._plain[rows[~good]] = False
        return self._number[rows[good]], {role: values[good] for role, values in found.items()}

    def left(self) -> Iterator[tuple[int, str]]:
        """Yield number and text of the lines that are no plain rows; asked after `columns`."""
        import numpy as np  # lazy: 0.1 s

        for i in np.flatnonzero(~self._plain):
            line = self._data[self._starts[i] : self._ends[i]]
            yield int(self._number[i]), line.decode(self._encoding, "replace")

    def _values(
        self, role: str, place: int, rows: Places, columns: Columns
    ) -> tuple[Floats, Marks]:
        """Values of one column, and which are sound."""
        import numpy as np  # lazy: 0.1 s

        first = self._first[rows]
        starts = self._starts[rows] if place == 0 else self._marks[first + place - 1] + 1
        ends = self._ends[rows] if place == self._width - 1 else self._marks[first + place]
        if role != "time":
            values, good = decimals(self._block, starts, ends)
            return values, good & ~(np.abs(values) > _LIMITS.get(role, np.inf))
        if columns.time_form == "clock":
            return self._clock(starts, ends)
        if columns.time_form == "moment":
            return self._moment(starts, ends)
        values, good = decimals(self._block, starts, ends)
        scale = 1000.0 if columns.time_form in ("milliseconds", "epoch-ms") else 1.0
        return values / scale, good & ~np.isnan(values)

    def _clock(self, starts: Places, ends: Places) -> tuple[Floats, Marks]:
        """``hh:mm:ss`` with or without a fraction, seconds since midnight."""
        import numpy as np  # lazy: 0.1 s

        last = len(self._block) - 1
        good = ends - starts >= len("hh:mm:ss")
        for place in (2, 5):
            good &= self._block[np.minimum(starts + place, last)] == _COLON
        total = np.zeros(len(starts))
        for place, stop, scale, limit in ((0, 2, 3600, 24), (3, 5, 60, 60), (6, None, 1, 61)):
            stops = ends if stop is None else starts + stop
            part, sound = self._part(starts + place, stops, good)
            good &= sound & (part < limit) & (part >= 0)
            total += part * scale
        return total, good

    def _moment(self, starts: Places, ends: Places) -> tuple[Floats, Marks]:
        """``yyyy-mm-dd hh:mm:ss`` with or without a fraction and ``Z``, seconds since 1970."""
        import numpy as np  # lazy: 0.1 s

        last = len(self._block) - 1
        good = ends - starts >= len("yyyy-mm-ddThh:mm:ss")
        for place in (4, 7):
            good &= self._block[np.minimum(starts + place, last)] == _HYPHEN
        parting = self._block[np.minimum(starts + 10, last)]
        good &= (parting == ord("T")) | (parting == ord(" "))
        stops = ends - (self._block[np.maximum(ends - 1, 0)] == ord("Z"))
        clock, sound = self._clock(starts + 11, stops)
        good &= sound
        number = np.zeros(len(starts))
        for place, stop, scale in ((0, 4, 10_000), (5, 7, 100), (8, 10, 1)):
            part, sound = self._part(starts + place, starts + stop, good)
            good &= sound & (part >= 0)
            number += np.nan_to_num(part) * scale
        told, where = np.unique(np.where(good, number, 0), return_inverse=True)
        days = np.array([_ordinal(int(one)) for one in told])[where.reshape(-1)]
        return (days - _1970) * _DAY + clock, good & ~np.isnan(days)

    def _part(self, starts: Places, stops: Places, use: Marks) -> tuple[Floats, Marks]:
        """Numbers between starts and stops where it makes sense to look for them."""
        import numpy as np  # lazy: 0.1 s

        values = np.full(len(starts), np.nan)
        good = np.zeros(len(starts), bool)
        values[use], good[use] = decimals(self._block, starts[use], stops[use])
        return values, good & ~np.isnan(values)


def _ordinal(number: int) -> float:
    try:
        return float(date(number // 10_000, number // 100 % 100, number % 100).toordinal())
    except ValueError:
        return float("nan")
