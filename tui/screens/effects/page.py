"""The page of effects: the sentence, the picture, the table, then what the numbers rest on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from core.errors import BackToBackError
from core.report.document import Bullets
from core.report.effects_page import effects_picture, effects_table
from core.verdict.effects import PartEffect, PartEffects
from tui.widgets.page import Page
from tui.widgets.page_layout import beside, block_lines, text_lines, titled
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import Line
from tui.widgets.picture_signs import Signs, signs_for

__all__ = ["effects_page", "refusal_page", "waiting_page"]

_TWO_COLUMNS_FROM: Final = 168  # cells
_GAP: Final = 4
_WIDEST: Final = 90  # cells of running text
_BLANK: Final[Line] = ()


def effects_page(found: PartEffects, width: int, *, ascii_only: bool = False) -> Page:
    """Return the page.

    Args:
        found: what each part did.
        width: cells.
        ascii_only: draw with nothing but ASCII.
    """
    signs = signs_for(ascii_only=ascii_only)
    lines = [_BLANK, *text_lines(found.sentence, min(width, _WIDEST), "strong"), _BLANK]
    anchors = [("top", 0)]
    for name, title, part in (
        ("parts", "Parts and settings", _told(found, found.effects, width, ascii_only)),
        ("apart", "Never tested apart", _apart(found, min(width, _WIDEST), signs)),
        ("around", "Who, where and how", _told(found, found.around, width, ascii_only)),
        ("rests", "What it rests on", _rests(found, min(width, _WIDEST))),
    ):
        drawn = list(part)
        if drawn:
            anchors.append((name, len(lines)))
            lines += [titled(title, width, signs.axis), *drawn, _BLANK]
    return Page(tuple(lines), tuple(anchors))


def _told(
    found: PartEffects, effects: Sequence[PartEffect], width: int, ascii_only: bool
) -> Iterator[Line]:
    """The picture over the table, or beside it where there is room."""
    if not effects:
        return
    two = width >= _TWO_COLUMNS_FROM
    room = (width - _GAP) // 2 if two else width
    picture = effects_picture(found, effects)
    drawn = draw(picture, room, ascii_only=ascii_only) if picture.rows else []
    table = block_lines(effects_table(found, effects), room)
    if two and drawn:
        yield from beside(drawn, table, room, _GAP)
        return
    yield from drawn
    yield from [_BLANK] if drawn else []
    yield from table


def _apart(found: PartEffects, width: int, signs: Signs) -> Iterator[Line]:
    for group in found.together:
        yield from text_lines(group.sentence, width)
        yield from block_lines(Bullets(tuple(line.sentence for line in group.lines)), width)


def _rests(found: PartEffects, width: int) -> Sequence[Line]:
    notes = (*found.notes, *found.left_out)
    return block_lines(Bullets(notes), width) if notes else []


def waiting_page(words: str, width: int) -> Page:
    """Return what stands there until the effects are worked out."""
    return Page((_BLANK, *text_lines(words, width, "quiet")))


def refusal_page(error: BackToBackError, width: int) -> Page:
    """Return why there are none."""
    lines = [_BLANK, *text_lines(error.message, min(width, 76), "strong")]
    hint = " ".join(filter(None, (error.hint, "esc goes back.")))
    lines += [_BLANK, *text_lines(hint, min(width, 76), "quiet")]
    return Page(tuple(lines))
