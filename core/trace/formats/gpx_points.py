"""The track points of a GPX text as they are written, and refusals of XML that no track needs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, Final
from xml.parsers import expat

from core.errors import InputError
from core.guards import between
from core.trace.formats.rows import check_count

__all__ = ["BrokenXmlError", "WrittenPoint", "written_points"]

_DEEPEST: Final = 64  # elements within each other
_LARGEST_PIECE: Final = 1 << 20  # bytes of one tag or comment
_LONGEST_TEXT: Final = 64  # characters of a number or a time
_WANTED: Final = ("ele", "time", "speed", "course")
_NUMBER: Final = re.compile(r"[+-]?(\d{1,9}(\.\d{0,15})?|\.\d{1,15})")
_TIME: Final = re.compile(
    r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d:\d\d(\.\d{1,9})?(?P<zone>Z|[+-]\d\d:?\d\d)?"
)


class BrokenXmlError(InputError):
    """The XML is not whole; points before the break were given out already."""


@dataclass
class WrittenPoint:
    """One track point, every part as text."""

    number: int  # among the points of the file, from 1
    line: int  # of the file
    begins: bool  # first of a segment
    lat: str | None = None
    lon: str | None = None
    texts: dict[str, str] = field(default_factory=dict)  # by name of `_WANTED`

    def fault(self) -> str:
        """Return what is wrong with it in one sentence; empty when it can be read."""
        if self.lat is None or self.lon is None:
            return "no latitude or longitude"
        for name, text, most in (("latitude", self.lat, 90.0), ("longitude", self.lon, 180.0)):
            if not _NUMBER.fullmatch(text):
                return f"the {name} “{text[:20]}” is no number"
            try:
                between(name, float(text), -most, most, "°")
            except InputError as error:
                return error.message
        for name in ("ele", "speed", "course"):
            if name in self.texts and not _NUMBER.fullmatch(self.texts[name]):
                return f"the {name} “{self.texts[name][:20]}” is no number"
        return _time_fault(self.texts.get("time"))


def _time_fault(text: str | None) -> str:
    if text is None:
        return ""
    match = _TIME.fullmatch(text)
    if match is None:
        return f"the time “{text[:30]}” is none"
    return "" if match["zone"] else "the time has no zone"


@dataclass
class _State:
    """Where in the text the parser is."""

    name: str
    ready: list[WrittenPoint] = field(default_factory=list)
    point: WrittenPoint | None = None
    depth: int = 0
    count: int = 0
    begins: bool = True
    reading: str = ""  # name of the element whose text is wanted
    text: str = ""


def written_points(blocks: Iterable[bytes], name: str) -> Iterator[WrittenPoint]:
    """Yield the track points of a GPX text, in bounded memory.

    Args:
        blocks: the bytes of the file, in pieces.
        name: of the file.

    Raises:
        InputError: no GPX, or something that no track needs: declarations, entities, elements
            within each other without end.
        BrokenXmlError: the text is cut off or garbled; the points before that were yielded.

    Source: GPX 1.0 and 1.1 schemas (topografix): trk, trkseg, trkpt with lat and lon.
    """
    state = _State(name)
    parser = _parser(state)
    fed = 0
    for block, last in _with_last(blocks):
        broken = _feed(parser, block, last=last)
        yield from _given_out(state)
        if broken is not None:
            raise broken
        fed += len(block)
        if fed - max(parser.CurrentByteIndex, 0) > _LARGEST_PIECE + len(block):
            raise InputError(f"{name} holds a piece of XML that is larger than any track point.")


def _with_last(blocks: Iterable[bytes]) -> Iterator[tuple[bytes, bool]]:
    """Yield the blocks, and an empty one that ends the text."""
    for block in blocks:
        yield block, False
    yield b"", True


def _given_out(state: _State) -> list[WrittenPoint]:
    ready, state.ready = state.ready, []
    return ready


def _feed(parser: Any, block: bytes, *, last: bool) -> BrokenXmlError | None:
    """Give the parser a block; return what is wrong with the XML, if anything is."""
    try:
        parser.Parse(block, last)
    except expat.ExpatError as error:
        words = expat.ErrorString(error.code)
        return BrokenXmlError(f"not whole XML at line {error.lineno:,}: {words}")
    return None


def _parser(state: _State) -> Any:
    parser: Any = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True

    def refuse(*_: Any) -> None:
        raise InputError(f"{state.name} holds declarations that no track needs: it is left alone.")

    def start(tag: str, attributes: dict[str, str]) -> None:
        _start(state, tag.rpartition(" ")[2], attributes, parser)

    def end(tag: str) -> None:
        _end(state, tag.rpartition(" ")[2])

    def data(text: str) -> None:
        if state.reading and len(state.text) <= _LONGEST_TEXT:
            state.text += text

    parser.StartDoctypeDeclHandler = parser.EntityDeclHandler = refuse
    parser.ExternalEntityRefHandler = parser.SkippedEntityHandler = refuse
    parser.StartElementHandler, parser.EndElementHandler = start, end
    parser.CharacterDataHandler = data
    return parser


def _start(state: _State, tag: str, attributes: dict[str, str], parser: Any) -> None:
    state.depth += 1
    if state.depth == 1 and tag != "gpx":
        raise InputError(f"{state.name} is XML but not GPX.")
    if state.depth > _DEEPEST:
        raise InputError(f"{state.name} has elements within each other without end.")
    if state.point is not None:
        state.reading = tag if tag in _WANTED and tag not in state.point.texts else ""
        state.text = ""
    elif tag == "trkseg":
        state.begins = True
    elif tag == "trkpt":
        state.count += 1
        check_count(state.count, state.name)
        state.point = WrittenPoint(
            state.count,
            parser.CurrentLineNumber,
            state.begins,
            attributes.get("lat"),
            attributes.get("lon"),
        )
        state.begins = False


def _end(state: _State, tag: str) -> None:
    state.depth -= 1
    if state.point is None:
        return
    if tag == "trkpt":
        state.ready.append(state.point)
        state.point = None
    elif state.reading == tag:
        if state.text.strip():
            state.point.texts[tag] = state.text.strip()
        state.reading = ""
