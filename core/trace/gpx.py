"""Reading a GPX 1.1 track: its points in order, and the ones that were rejected with a reason.

GPX 1.1 has no speed for a track point; a speed that is there stands in somebody's extension.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import msgspec

from core.errors import InputError
from core.guards import between
from core.trace.geodesy import Position, path_length

if TYPE_CHECKING:
    from xml.etree import ElementTree

__all__ = ["Track", "TrackPoint", "read_gpx"]

_MOST_CHARACTERS = 50_000_000


class TrackPoint(msgspec.Struct, frozen=True):
    """One point of a track."""

    position: Position  # degrees
    elevation: float | None  # m
    time: datetime | None  # UTC
    speed: float | None  # m/s, only from a speed element


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


def _bare(tag: str) -> str:
    return tag.rpartition("}")[2]


def _text(point: ElementTree.Element, name: str) -> str | None:
    for child in point.iter():
        if _bare(child.tag) == name and child.text and child.text.strip():
            return child.text.strip()
    return None


def _number(point: ElementTree.Element, name: str) -> float | None:
    text = _text(point, name)
    return None if text is None else float(text)


def _time(point: ElementTree.Element) -> datetime | None:
    text = _text(point, "time")
    if text is None:
        return None
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError("the time has no zone")
    return moment.astimezone(UTC)


def _point(element: ElementTree.Element) -> TrackPoint:
    position = (
        between("latitude", float(element.attrib["lat"]), -90, 90, "°"),
        between("longitude", float(element.attrib["lon"]), -180, 180, "°"),
    )
    return TrackPoint(position, _number(element, "ele"), _time(element), _number(element, "speed"))


def read_gpx(text: str) -> Track:
    """Return the track points of a GPX text.

    Args:
        text: the whole file, at most 50 million characters.

    Returns:
        Points in order of the file; a point that cannot be read, or whose time runs backward, is
        rejected with a reason.

    Raises:
        InputError: the text is no GPX, or holds declarations that a track never needs.

    Source: GPX 1.1 schema (topografix): a track point has lat, lon, ele, time and no speed.
    """
    from xml.etree import ElementTree  # lazy: 5 ms

    if len(text) > _MOST_CHARACTERS:
        raise InputError("The file is too long for a track.")
    if re.search(r"<!(DOCTYPE|ENTITY)", text, re.IGNORECASE):
        raise InputError("The file holds declarations that no track needs: it is left alone.")
    try:
        root = ElementTree.fromstring(text)  # noqa: S314  declarations are refused above
    except ElementTree.ParseError as fault:
        raise InputError(f"The file is not whole XML: {fault}.") from None
    if _bare(root.tag) != "gpx":
        raise InputError("The file is XML but not GPX.")
    points: list[TrackPoint] = []
    rejected: list[tuple[int, str]] = []
    latest: datetime | None = None
    elements = (e for e in root.iter() if _bare(e.tag) == "trkpt")
    for number, element in enumerate(elements, start=1):
        try:
            point = _point(element)
        except KeyError:
            rejected.append((number, "no latitude or longitude"))
            continue
        except (ValueError, InputError) as fault:
            rejected.append((number, str(fault)))
            continue
        if point.time is not None and latest is not None and point.time < latest:
            rejected.append((number, "its time runs backward"))
            continue
        latest = point.time or latest
        points.append(point)
    return Track(tuple(points), tuple(rejected))
