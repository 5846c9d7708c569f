"""Sentences of one kind as a table, and how tables of several kinds become rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.trace.formats.rows import RawRows, smallest_step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Places = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["COLUMNS", "FixTable", "joined"]

COLUMNS: Final = ("second", "day", "lat", "lon", "speed", "heading", "satellites", "hdop")
"""Second of the day, ordinal of the day, degrees, degrees, m/s, degrees, count, number."""

_DAY: Final = 86400.0
_NEAR: Final = 8  # lines within which the sentences of one moment stand


@dataclass(frozen=True, eq=False)
class FixTable:
    """Some sentences of one kind; all arrays are equally long, NaN where not told."""

    line: Places
    values: Mapping[str, Floats]  # by name of `COLUMNS`

    def where(self, keep: Marks) -> FixTable:
        """Return those that are marked."""
        return FixTable(self.line[keep], {k: v[keep] for k, v in self.values.items()})

    @classmethod
    def of_one(cls, line: int, values: Mapping[str, float]) -> FixTable:
        """Return a table of one sentence."""
        import numpy as np  # lazy: 0.1 s

        whole = {name: np.array([values.get(name, np.nan)]) for name in COLUMNS}
        return cls(np.array([line]), whole)

    @classmethod
    def joined(cls, tables: Sequence[FixTable]) -> FixTable:
        """Return all of them in the order of their lines."""
        import numpy as np  # lazy: 0.1 s

        if not tables:
            return cls(np.zeros(0, np.int64), {name: np.zeros(0) for name in COLUMNS})
        line = np.concatenate([table.line for table in tables])
        order = np.argsort(line, kind="stable")
        values = {
            name: np.concatenate([table.values[name] for table in tables])[order]
            for name in COLUMNS
        }
        return cls(line[order], values)


def joined(tables: Mapping[str, Sequence[FixTable]], passed_over: int) -> RawRows:
    """Return rows from the sentences of all kinds: RMC where there is one, else GGA.

    Speeds that these do not tell are taken from the VTG next to them.

    Args:
        tables: by kind.
        passed_over: sentences of other kinds.

    Raises:
        InputError: no row is in them.
    """
    import numpy as np  # lazy: 0.1 s

    rmc, gga, vtg = (FixTable.joined(tables[name]) for name in ("RMC", "GGA", "VTG"))
    base = rmc if len(rmc.line) else gga
    if len(base.line) == 0:
        raise InputError("No row with a position is in it.")
    values = dict(base.values)
    if len(vtg.line) and np.isnan(values["speed"]).any():
        _borrow(base, vtg, values, ("speed", "heading"))
    if base is rmc and len(gga.line):
        _borrow(base, gga, values, ("satellites", "hdop"))
    day, t = _times(values)
    return RawRows(
        line=base.line.astype(np.int32),
        t=t,
        speed=values["speed"],
        heading=values["heading"],
        lat=values["lat"],
        lon=values["lon"],
        day=day,
        utc=True,
        step=smallest_step(values["speed"]),
        extra={n: values[n] for n in ("satellites", "hdop") if not np.isnan(values[n]).all()},
        passed_over=passed_over,
    )


def _borrow(
    base: FixTable, other: FixTable, values: dict[str, Floats], names: tuple[str, ...]
) -> None:
    """Fill what the rows do not tell from the sentence of another kind that stands next to them.

    Where both tell a time, it must be the same.
    """
    import numpy as np  # lazy: 0.1 s

    last = len(other.line) - 1
    behind = np.searchsorted(other.line, base.line)
    for place in (np.minimum(behind, last), np.maximum(behind - 1, 0)):
        near = np.abs(other.line[place] - base.line) <= _NEAR
        told = other.values["second"][place]
        near &= np.isnan(told) | (np.abs(told - values["second"]) < 1e-6)
        for name in names:
            fill = near & np.isnan(values[name])
            values[name] = np.where(fill, other.values[name][place], values[name])


def _times(values: Mapping[str, Floats]) -> tuple[date | None, Floats]:
    """Return the day of the first row, where it is told, and seconds since its midnight."""
    import numpy as np  # lazy: 0.1 s

    second, day = values["second"], values["day"]
    if np.isnan(day).all():
        over = np.concatenate(([0], np.cumsum(np.diff(second) < -_DAY / 2)))
        return None, second + over * _DAY
    first = float(day[0])
    return date.fromordinal(int(first)), (day - first) * _DAY + second
