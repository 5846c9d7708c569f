"""The page of a comparison: the answer, the pictures, what limits it, what changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from core.errors import BackToBackError
from core.report.comparison_view import ComparisonView, Seen
from core.report.document import Bullets, Facts
from core.verdict import LookId
from tui.widgets.page import Page
from tui.widgets.page_layout import beside, block_lines, text_lines
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import Line
from tui.widgets.picture_signs import signs_for
from tui.widgets.verdict_lines import further_lines, verdict_lines

__all__ = ["comparison_page", "refusal_page", "waiting_page"]

_TWO_COLUMNS_FROM: Final = 108  # cells
_RIGHT: Final = 44  # cells of the right column
_GAP: Final = 4
_TALL: Final = 30  # lines of the view from which dots and bars have lines of their own
_WIDEST: Final = 90  # cells of running text
_BLANK: Final[Line] = ()


def comparison_page(
    view: ComparisonView,
    look: LookId,
    *,
    unfolded: bool,
    width: int,
    height: int,
    ascii_only: bool = False,
) -> Page:
    """Return the page of a comparison.

    Args:
        view: what was worked out.
        look: which way to look at it; the answer is always that of the first.
        unfolded: whether to show also what is no cause.
        width: cells.
        height: lines of the view.
        ascii_only: draw with nothing but ASCII.
    """
    signs = signs_for(ascii_only=ascii_only)
    two = width >= _TWO_COLUMNS_FROM
    room = width - _RIGHT - _GAP if two else width
    main = [
        *verdict_lines(view.made, view.test, room, height, signs),
        *_pictures(view, look, room, height, ascii_only),
        *([_BLANK] if view.made.more else []),
        *further_lines(view.made, min(room, _WIDEST), signs),
        *_days(view, room, ascii_only),
    ]
    right = _RIGHT if two else width
    side = [_BLANK, *_changed(view, right, unfolded), _BLANK, *_rests_on(view, right)]
    lines = beside(main, side, room, _GAP) if two else [*main, *side]
    return Page(tuple(lines), (("top", 0),))


def waiting_page(words: str, width: int) -> Page:
    """Return what stands there until the comparison is worked out."""
    return Page((_BLANK, *text_lines(words, width, "quiet")))


def refusal_page(error: BackToBackError, width: int) -> Page:
    """Return why the two cannot be compared."""
    lines = [_BLANK, *text_lines(error.message, min(width, 76), "strong")]
    hint = " ".join(filter(None, (error.hint, "esc goes back.")))
    lines += [_BLANK, *text_lines(hint, min(width, 76), "quiet")]
    return Page(tuple(lines))


def _pictures(
    view: ComparisonView, look: LookId, width: int, height: int, ascii_only: bool
) -> Iterator[Line]:
    seen = next((s for s in view.seen if s.look.id == look), view.seen[0] if view.seen else None)
    if seen is None:
        return
    yield _BLANK
    if seen.look.id != "as it counts":
        yield from _looked_at(seen, width)
    room = None if height >= _TALL else len(seen.sides.rows) + 2
    yield from draw(seen.sides, width, ascii_only=ascii_only, height=room)
    yield _BLANK
    yield from draw(seen.difference, width, ascii_only=ascii_only)


def _days(view: ComparisonView, width: int, ascii_only: bool) -> Iterator[Line]:
    for words, picture in view.days:
        yield _BLANK
        yield from text_lines(words, min(width, _WIDEST), "quiet")
        yield from draw(picture, width, ascii_only=ascii_only)


def _looked_at(seen: Seen, width: int) -> list[Line]:
    return [*text_lines(seen.look.sentence, min(width, _WIDEST), "warn"), _BLANK]


def _changed(view: ComparisonView, width: int, unfolded: bool) -> Iterator[Line]:
    labels = f"{view.made.a.label} to {view.made.b.label}"
    yield from text_lines(f"What changed, {labels}", width, "strong")
    if not view.causes and not view.rest:
        yield from text_lines("Nothing that was recorded.", width)
    elif not view.causes:
        yield from text_lines("Nothing that could be a cause.", width)
    yield from block_lines(Bullets(view.causes), width)
    if not view.rest:
        return
    words = f"{len(view.rest)} more: what follows from it, was measured or only noted"
    if unfolded:
        yield from text_lines(words, width, "quiet")
        yield from block_lines(Bullets(view.rest), width)
    else:
        yield from text_lines(f"{words}; f shows it.", width, "quiet")


def _rests_on(view: ComparisonView, width: int) -> Sequence[Line]:
    return [
        *text_lines("What it rests on", width, "strong"),
        *block_lines(Facts(view.facts), width),
    ]
