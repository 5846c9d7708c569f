"""GPX 1.0 and 1.1 tracks: points are looked at first and then read by gpxpy.

GPX 1.0 has a speed for a track point. GPX 1.1 has none; one that is there stands in somebody's
extension.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from itertools import islice
from typing import Any, Final

import msgspec

from core.errors import InputError
from core.trace.formats.gpx_points import BrokenXmlError, WrittenPoint, written_points
from core.trace.geodesy import Position, path_length

__all__ = ["Track", "TrackPoint", "read_gpx", "read_points"]

_AT_ONCE: Final = 2000  # points handed to gpxpy in one go, so that memory stays bounded
_HEAD: Final = '<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0"><trk><trkseg>'
_TAIL: Final = "</trkseg></trk></gpx>"


class TrackPoint(msgspec.Struct, frozen=True):
    """One point of a track."""

    position: Position  # degrees
    elevation: float | None  # m
    time: datetime | None  # UTC
    speed: float | None  # m/s, only from a speed element
    course: float | None = None  # degrees


class Track(msgspec.Struct, frozen=True):
    """What a file held."""

    points: tuple[TrackPoint, ...]
    rejected: tuple[tuple[int, str], ...]  # point number from 1, reason

    @property
    def duration(self) -> float | None:
        """From the first time to the last, s; None when no point has one."""
        times = [point.time for point in self.points if point.time is not None]
        return (times[-1] - times[0]).total_seconds() if times else None

    @property
    def length(self) -> float:
        """Length of the path, m."""
        return path_length([point.position for point in self.points])

    @property
    def has_speed(self) -> bool:
        """Whether any point says how fast it was."""
        return any(point.speed is not None for point in self.points)


def read_gpx(text: str) -> Track:
    """Return the track points of a GPX text.

    Args:
        text: the whole file.

    Returns:
        Points in order of the file; a point that cannot be read, or whose time runs backward, is
        rejected with a reason.

    Raises:
        InputError: the text is no whole GPX, or holds declarations that a track never needs.

    Source: GPX 1.1 schema (topografix): a track point has lat, lon, ele, time and no speed.
    """
    points: list[TrackPoint] = []
    rejected: list[tuple[int, str]] = []
    latest: datetime | None = None
    try:
        for written, point, fault in read_points(written_points([text.encode()], "The file")):
            if point is None:
                rejected.append((written.number, fault))
            elif point.time is not None and latest is not None and point.time < latest:
                rejected.append((written.number, "its time runs backward"))
            else:
                latest = point.time or latest
                points.append(point)
    except BrokenXmlError as error:
        raise InputError(f"The file is {error.message}.") from None
    return Track(tuple(points), tuple(rejected))


def read_points(
    written: Iterable[WrittenPoint],
) -> Iterator[tuple[WrittenPoint, TrackPoint | None, str]]:
    """Yield each point as written, as read by gpxpy, and why it could not be read.

    Args:
        written: points as `written_points` gives them.

    Raises:
        InputError: as `written_points`, after the points before.
    """
    source = iter(written)
    broken: BrokenXmlError | None = None
    while broken is None:
        some: list[WrittenPoint] = []
        try:
            some.extend(islice(source, _AT_ONCE))
        except BrokenXmlError as error:
            broken = error
        if not some and broken is None:
            return
        faults = [point.fault() for point in some]
        good = [point for point, fault in zip(some, faults, strict=True) if not fault]
        found = iter(_by_library(good))
        for point, fault in zip(some, faults, strict=True):
            yield point, None if fault else next(found), fault
    raise broken


def _by_library(points: Sequence[WrittenPoint]) -> list[TrackPoint]:
    """Let gpxpy read points that were found sound, written afresh as plain GPX 1.0."""
    import gpxpy  # lazy: 0.1 s

    if not points:
        return []
    text = "".join((_HEAD, *map(_written, points), _TAIL))
    return [_point(p) for p in gpxpy.parse(text).tracks[0].segments[0].points]


def _written(point: WrittenPoint) -> str:
    """The point as XML; its texts are numbers and a time by now, with nothing to escape."""
    inside = "".join(f"<{n}>{t}</{n}>" for n, t in sorted(point.texts.items()))
    return f'<trkpt lat="{point.lat}" lon="{point.lon}">{inside}</trkpt>'


def _point(point: Any) -> TrackPoint:
    time = point.time.astimezone(UTC) if point.time is not None else None
    position = (point.latitude, point.longitude)
    return TrackPoint(position, point.elevation, time, point.speed, point.course)
