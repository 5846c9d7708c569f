"""A CSV to rows by the columns that are known: block by block, whole columns at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from itertools import islice
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.trace.columns import Columns
from core.trace.formats.blocks import FileBlocks
from core.trace.formats.csv_cells import dates, numbers, times
from core.trace.formats.csv_layout import Layout, cells_of, is_value
from core.trace.formats.csv_plain import PlainBlock
from core.trace.formats.csv_times import tells_zone
from core.trace.formats.rejects import Rejects
from core.trace.formats.rows import RawRows, check_count, many, smallest_step
from core.trace.formats.speed_units import SPEED_UNITS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int64]
    Marks = NDArray[np.bool_]

__all__ = ["read_csv_rows"]

_MOST_EXTRA: Final = 6  # other columns that are kept
_DAY: Final = 86400.0
_1970: Final = date(1970, 1, 1).toordinal()
_SHOWN: Final = 30
_AT_ONCE: Final = 20_000  # lines that are taken apart cell by cell; a block may hold 500,000


@dataclass
class _Gathered:
    """The rows so far, one array for each block."""

    line: list[Whole] = field(default_factory=list)
    columns: dict[str, list[Floats]] = field(default_factory=dict)
    count: int = 0

    def take(self, line: Whole, columns: dict[str, Floats]) -> None:
        """Add the rows of a block."""
        self.line.append(line)
        for name, values in columns.items():
            self.columns.setdefault(name, []).append(values)
        self.count += len(line)

    def joined(self) -> tuple[Whole, dict[str, Floats]]:
        """Return all of them in the order of their lines."""
        import numpy as np  # lazy: 0.1 s

        line = np.concatenate(self.line)
        order = np.argsort(line, kind="stable")
        columns = {name: np.concatenate(parts)[order] for name, parts in self.columns.items()}
        return line[order], columns


def read_csv_rows(file: FileBlocks, layout: Layout, columns: Columns, rejects: Rejects) -> RawRows:
    """Return the rows of a CSV.

    Args:
        file: to be read.
        layout: how it is laid out.
        columns: which column is what.
        rejects: takes the rows that are left out.

    Raises:
        InputError: no row can be read.
    """
    places = _places(layout, columns)
    extra = _extra_places(layout, places)
    wanted = places | extra
    found = _Gathered()
    for data, first in file.lines(rejects):
        lines = PlainBlock(data, first, layout)
        plain = lines.columns(wanted, columns)
        found.take(*plain)
        left = lines.left()
        while slow := list(islice(left, _AT_ONCE)):
            _take(found, slow, layout, columns, wanted, rejects)
        check_count(found.count, file.name)
    if found.count == 0:
        first_reason = f": {rejects.kept[0].reason}" if rejects.kept else "."
        raise InputError(f"{file.name} holds no row that can be read{first_reason}")
    return _rows(found, layout, columns, tuple(extra))


def _places(layout: Layout, columns: Columns) -> dict[str, int]:
    """Place of each role's column."""
    roles = ("time", "date", "speed", "heading", "lat", "lon")
    named = {role: getattr(columns, role) for role in roles}
    return {role: layout.header.index(name) for role, name in named.items() if name}


def _extra_places(layout: Layout, places: dict[str, int]) -> dict[str, int]:
    """Places of other columns that hold numbers, by their names with a mark before them."""
    found: dict[str, int] = {}
    for place, name in enumerate(layout.header):
        cells = [row[place] for row in layout.sample if row[place]]
        plain = bool(cells) and all(is_value(cell) and ":" not in cell for cell in cells)
        if place not in places.values() and plain and len(found) < _MOST_EXTRA:
            found[f"+{name}"] = place
    return found


def _take(
    found: _Gathered,
    lines: Sequence[tuple[int, str]],
    layout: Layout,
    columns: Columns,
    places: dict[str, int],
    rejects: Rejects,
) -> None:
    """Read lines that are no plain rows of numbers, each with its number in the file."""
    import numpy as np  # lazy: 0.1 s

    rows, number = _whole_rows(lines, layout, rejects)
    if not rows:
        return
    cells = list(zip(*rows, strict=True))
    good = np.ones(len(rows), bool)
    values: dict[str, Floats] = {}
    for role, place in places.items():
        column = cells[place]
        if role == "time":
            values[role], sound = times(column, columns.time_form, layout.decimal)
        elif role == "date":
            values[role], sound = dates(column, columns.date_form)
        else:
            values[role], sound = numbers(column, layout.decimal)
            if role.startswith("+"):
                continue
        limit = {"lat": 90.0, "lon": 180.0}.get(role)
        if limit is not None:
            sound &= ~(np.abs(values[role]) > limit)
        _refuse(number, column, good & ~sound, layout.header[place], rejects)
        good &= sound
    found.take(number[good], {name: column[good] for name, column in values.items()})


def _whole_rows(
    lines: Sequence[tuple[int, str]], layout: Layout, rejects: Rejects
) -> tuple[list[list[str]], Whole]:
    """The lines as cells, without those that are empty or have too few or too many."""
    import numpy as np  # lazy: 0.1 s

    width = len(layout.header)
    rows, number = [], []
    for line, text in lines:
        cells = cells_of(text, layout.delimiter)
        if len(cells) == width:
            rows.append(cells)
            number.append(line)
        elif text.strip():
            reason = f"It has {many(len(cells), 'cell')}, and the header {width}."
            rejects.add("cells", line, reason)
    return rows, np.array(number, np.int64)


def _refuse(number: Whole, column: Sequence[str], bad: Marks, name: str, rejects: Rejects) -> None:
    """Leave out the rows whose cell in one column is none."""
    import numpy as np  # lazy: 0.1 s

    rows = np.flatnonzero(bad)

    def reason(place: int) -> str:
        shown = " ".join(column[rows[place]].split())[:_SHOWN]
        return f"“{shown}” in the column “{name}” cannot be."

    rejects.add_many("value", number[rows].tolist(), reason)


def _rows(found: _Gathered, layout: Layout, columns: Columns, extra: Sequence[str]) -> RawRows:
    import numpy as np  # lazy: 0.1 s

    line, values = found.joined()
    nothing = np.full(len(line), np.nan)
    written = values.get("speed", nothing)
    scale = SPEED_UNITS.get(columns.speed_unit, 1.0)
    t, day, clock_told, utc = _clock(values, layout, columns)
    return RawRows(
        line=line.astype(np.int32),
        t=t,
        speed=written * scale,
        heading=np.mod(values.get("heading", nothing), 360.0),
        lat=values.get("lat", nothing),
        lon=values.get("lon", nothing),
        day=day,
        clock_told=clock_told,
        utc=utc,
        step=smallest_step(written) * scale,
        extra={name[1:]: values[name] for name in extra},
    )


def _clock(
    values: dict[str, Floats], layout: Layout, columns: Columns
) -> tuple[Floats, date | None, bool, bool]:
    """Seconds since midnight of the first day, that day, and what is told about them."""
    import numpy as np  # lazy: 0.1 s

    t = values["time"]
    if columns.time_form in ("seconds", "milliseconds"):
        return t, None, False, False
    if columns.time_form == "clock":
        utc = layout.sample[0][layout.header.index(columns.time)].endswith("Z")
        utc |= "utc" in columns.time.casefold()
        if "date" in values:
            first = float(values["date"][0])
            return t + (values["date"] - first) * _DAY, date.fromordinal(int(first)), True, utc
        over = np.concatenate(([0], np.cumsum(np.diff(t) < -_DAY / 2)))
        return t + over * _DAY, None, True, utc
    days = int(t[0] // _DAY)
    told = columns.time_form != "moment" or tells_zone(
        layout.sample[0][layout.header.index(columns.time)]
    )
    return t - days * _DAY, date.fromordinal(_1970 + days), True, told
