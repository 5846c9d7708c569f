"""A GPX file to rows, point by point and in bounded memory."""

from __future__ import annotations

from array import array
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from core.errors import InputError
from core.trace.formats.blocks import FileBlocks
from core.trace.formats.findings import Finding
from core.trace.formats.gpx import TrackPoint, read_points
from core.trace.formats.gpx_points import BrokenXmlError, WrittenPoint, written_points
from core.trace.formats.rejects import Rejects
from core.trace.formats.rows import RawRows, many, smallest_step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["read_gpx_rows"]

_NONE = float("nan")
_COLUMNS = ("t", "lat", "lon", "speed", "course")


@dataclass
class _Gathered:
    """The points so far."""

    day: date | None = None
    line: array[int] = field(default_factory=lambda: array("i"))
    columns: dict[str, array[float]] = field(
        default_factory=lambda: {name: array("d") for name in _COLUMNS}
    )
    starts: list[int] = field(default_factory=list)
    begins: bool = False  # a segment began with a point that was left out


def read_gpx_rows(file: FileBlocks, rejects: Rejects) -> tuple[RawRows, tuple[Finding, ...]]:
    """Return the rows of a GPX file and what was odd about it.

    A file that breaks off gives the points before the break.

    Args:
        file: to be read.
        rejects: takes the points that are left out.

    Raises:
        InputError: no GPX, something that no track needs, or no point with a time.
    """
    found = _Gathered()
    findings: tuple[Finding, ...] = ()
    try:
        for written, point, fault in read_points(written_points(file.raw(), file.name)):
            _take(found, written, point, fault, rejects)
    except BrokenXmlError as error:
        count = len(found.line)
        if count == 0:
            raise InputError(f"{file.name} is {error.message}.") from None
        rejects.add("broken", found.line[-1], f"From here on it is {error.message}.")
        before = f"{many(count, 'point')} before that are used"
        findings = (Finding("broken", f"The file is {error.message}; {before}."),)
    if not found.line:
        raise InputError(f"{file.name} holds no track point with a time{_why(rejects)}.")
    return _rows(found), findings


def _why(rejects: Rejects) -> str:
    if not rejects.kept:
        return ""
    first = rejects.kept[0]
    return f" (line {first.line:,}: {first.reason.rstrip('.')})"


def _take(
    found: _Gathered,
    written: WrittenPoint,
    point: TrackPoint | None,
    fault: str,
    rejects: Rejects,
) -> None:
    found.begins |= written.begins
    if point is None:
        rejects.add("point", written.line, f"Point {written.number}: {fault}.".replace("..", "."))
        return
    if point.time is None:
        rejects.add("no time", written.line, f"Point {written.number} has no time.")
        return
    if found.day is None:
        found.day = point.time.date()
    if found.begins and found.line:
        found.starts.append(len(found.line))
    found.begins = False
    midnight = datetime(found.day.year, found.day.month, found.day.day, tzinfo=UTC)
    values = (
        (point.time - midnight).total_seconds(),
        *point.position,
        _NONE if point.speed is None else point.speed,
        _NONE if point.course is None else point.course,
    )
    found.line.append(written.line)
    for name, value in zip(_COLUMNS, values, strict=True):
        found.columns[name].append(value)


def _rows(found: _Gathered) -> RawRows:
    import numpy as np  # lazy: 0.1 s

    columns: dict[str, Floats] = {
        name: np.array(values, np.float64) for name, values in found.columns.items()
    }
    return RawRows(
        line=np.array(found.line, np.int32),
        t=columns["t"],
        speed=columns["speed"],
        heading=np.mod(columns["course"], 360.0),
        lat=columns["lat"],
        lon=columns["lon"],
        day=found.day,
        utc=True,
        starts=tuple(found.starts),
        step=smallest_step(columns["speed"]),
    )
