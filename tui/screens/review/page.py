"""The page of one session: each section under its own line, side by side where there is room."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from core.attempts import find_test
from core.report.document import Block, Facts, Heading
from core.report.pictures import Picture
from core.report.review import Found, Section, SectionId
from core.session import Session
from core.verdict import Comparison
from tui.widgets.page import Page
from tui.widgets.page_layout import (
    beside,
    block_lines,
    flowed,
    hanging,
    lines_of,
    text_lines,
    titled,
)
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import Line
from tui.widgets.picture_signs import Signs, signs_for
from tui.widgets.verdict_lines import further_lines, verdict_lines

__all__ = ["ReviewMatter", "review_page"]

_TWO_COLUMNS_FROM: Final = 108  # cells
_GAP: Final = 4
_WIDEST: Final = 90  # cells of running text
_BLANK: Final[Line] = ()


@dataclass(frozen=True)
class ReviewMatter:
    """What the page is made of."""

    session: Session
    sections: tuple[Section, ...]
    picture: Picture  # of the attempts
    found: Found | None  # None: not worked out yet


@dataclass(frozen=True)
class _Room:
    """How a section is laid out."""

    width: int
    is_wide: bool
    signs: Signs
    ascii_only: bool


def review_page(matter: ReviewMatter, width: int, *, ascii_only: bool = False) -> Page:
    """Return the page of a session.

    Args:
        matter: what there is to show.
        width: cells.
        ascii_only: draw with nothing but ASCII.
    """
    room = _Room(width, width >= _TWO_COLUMNS_FROM, signs_for(ascii_only=ascii_only), ascii_only)
    lines: list[Line] = []
    anchors: list[tuple[str, int]] = []
    for number, section in enumerate(matter.sections, 1):
        if lines:
            lines.append(_BLANK)
        anchors.append((section.id, len(lines)))
        lines.append(titled(f"{number} {section.title}", width, room.signs.axis))
        lines += _LAYOUTS.get(section.id, _plain)(matter, section, room)
    return Page(tuple(lines), tuple(anchors))


def _plain(matter: ReviewMatter, section: Section, room: _Room) -> list[Line]:
    return lines_of(section.blocks, room.width)


def _in_columns(matter: ReviewMatter, section: Section, room: _Room) -> list[Line]:
    title = section.title
    blocks = [b for b in section.blocks if not (isinstance(b, Heading) and b.text == title)]
    return flowed(blocks, room.width, 2 if room.is_wide else 1, _GAP)


def _result(matter: ReviewMatter, section: Section, room: _Room) -> list[Line]:
    """Question and answer first; beside them what the session was."""
    half = (room.width - _GAP) // 2 if room.is_wide else room.width
    said = [*_said(matter, half, room.signs)]
    facts = [
        line for block in _without_question(section.blocks) for line in block_lines(block, half)
    ]
    return beside(said, facts, half, _GAP) if room.is_wide else [*said, _BLANK, *facts]


def _without_question(blocks: tuple[Block, ...]) -> Iterator[Block]:
    for block in blocks:
        if isinstance(block, Facts):
            yield Facts(tuple(row for row in block.rows if row[0] not in ("question", "predicted")))
        else:
            yield block


def _said(matter: ReviewMatter, width: int, signs: Signs) -> Iterator[Line]:
    session, found = matter.session, matter.found
    if session.question:
        yield from text_lines(session.question, min(width, _WIDEST), "strong")
        yield _BLANK
    if session.state == "stopped":
        yield from _stopped(session, width, signs)
    elif found is None:
        yield from text_lines("Working out what it says …", width, "quiet")
    elif found.made is None:
        yield from text_lines(_nothing(session), min(width, _WIDEST))
    else:
        yield from _answer(found.made, width, signs)
    if found is not None and found.prediction:
        yield _BLANK
        yield from text_lines(found.prediction, min(width, _WIDEST))
    if session.close_out is not None and session.close_out.learnt:
        yield _BLANK
        yield from hanging((("learnt: ", "quiet"),), session.close_out.learnt, min(width, _WIDEST))


def _stopped(session: Session, width: int, signs: Signs) -> Iterator[Line]:
    count = len(session.attempts)
    ran = f"{count} attempt{'' if count == 1 else 's'}" if count else "no attempts"
    because = session.stopped_because or "no reason was noted"
    words = f"Stopped: {because}. {ran.capitalize()}; it is a full record."
    yield from hanging(((f"{signs.holds_back} ", "warn"),), words, min(width, _WIDEST), "strong")


def _nothing(session: Session) -> str:
    if not session.attempts:
        return "No attempts were made."
    return "Nothing to hold it against: it is the first of its kind."


def _answer(made: Comparison, width: int, signs: Signs) -> Iterator[Line]:
    test = find_test(made.b.test)
    yield from text_lines(f"{made.b.label} against {made.a.label}", width, "quiet")
    yield from verdict_lines(made, test, width, 0, signs)
    yield from further_lines(made, min(width, _WIDEST), signs)


def _attempts(matter: ReviewMatter, section: Section, room: _Room) -> list[Line]:
    """The picture, the numbers and every attempt; that table beside them where there is room."""
    if not matter.session.attempts:
        return lines_of(section.blocks, room.width)
    half = (room.width - _GAP) // 2 if room.is_wide else room.width
    numbers = [block for block in section.blocks if isinstance(block, Facts)]
    every = [block for block in section.blocks if not isinstance(block, Facts)]
    picture = draw(matter.picture, half, ascii_only=room.ascii_only)
    left, right = [*picture, _BLANK, *lines_of(numbers, half)], lines_of(every, half)
    return beside(left, right, half, _GAP) if room.is_wide else [*left, _BLANK, *right]


_Layout = Callable[[ReviewMatter, Section, _Room], list[Line]]

_LAYOUTS: Final[Mapping[SectionId, _Layout]] = MappingProxyType(
    {
        "result": _result,
        "setup": _in_columns,
        "checks": _in_columns,
        "attempts": _attempts,
        "closing": _in_columns,
    }
)
"""By section: how it is laid out; the others are plain blocks under each other."""
