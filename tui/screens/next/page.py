"""The page of what to test next: the sentence, every swap, the plan of the one that is shown."""

from __future__ import annotations

from typing import Final

from core.report.document import Bullets
from core.report.next_page import next_table, plan_blocks
from core.verdict.next import NextTest
from tui.widgets.page import Page
from tui.widgets.page_layout import block_lines, lines_of, text_lines, titled
from tui.widgets.picture_plot import Line
from tui.widgets.picture_signs import signs_for

__all__ = ["next_page"]

_WIDEST: Final = 96  # cells of running text
_BLANK: Final[Line] = ()


def next_page(found: NextTest, shown: int, width: int, *, ascii_only: bool = False) -> Page:
    """Return the page.

    Args:
        found: the swaps.
        shown: index of the one whose plan is shown.
        width: cells.
        ascii_only: draw with nothing but ASCII.
    """
    room, axis = min(width, _WIDEST), signs_for(ascii_only=ascii_only).axis
    lines: list[Line] = [_BLANK, *text_lines(found.sentence, room, "strong"), _BLANK]
    anchors = [("top", 0)]
    if found.proposals:
        lines += block_lines(next_table(found), width)
        _, *plan = plan_blocks(found.proposals[shown])
        anchors.append(("plan", len(lines) + 1))
        lines += [_BLANK, titled(f"{shown + 1} {found.proposals[shown].swap.words}", width, axis)]
        lines += lines_of(plan, room)
    if found.left_out:
        lines += [_BLANK, titled("Not suggested", width, axis)]
        lines += block_lines(Bullets(found.left_out), room)
    return Page(tuple(lines), tuple(anchors))
