"""The board over the attempts: the last time and the next direction, large enough for the sun."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from rich.cells import cell_len
from textual.content import Content
from textual.widget import Widget

from tui.text import cut, fit
from tui.widgets.big_text import BigStyle, big_lines, big_style, can_be_big

__all__ = ["Board", "TimeBoard"]

_GAP: Final = 3
_LARGE: Final = 3  # rows that large letters need
_WORDS: Final = 12  # cells of its words at least, so that nothing moves from run to run
_SIDE: Final = 24  # cells of the right-hand part: next attempt and direction


@dataclass(frozen=True)
class Board:
    """What the board says."""

    value: str = ""  # last time as shown, without unit; empty: none yet
    unit: str = ""
    lines: tuple[str, ...] = ()  # words beside it, at most three
    coming: str = ""  # such as ``attempt 9``
    direction: str = ""  # of the coming attempt; empty: not known, or one way
    directions: tuple[str, ...] = ()  # the names that can stand there
    kind: str = ""  # said with it when it is no timed attempt: ``warm-up``
    since: str = ""  # time since the last attempt


class TimeBoard(Widget):
    """Draws a `Board` in three rows, or five where there is room."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "time-board--value",
        "time-board--next",
        "time-board--words",
    }

    def __init__(self) -> None:
        super().__init__()
        self._board = Board()

    @property
    def board(self) -> Board:
        """What it says now."""
        return self._board

    def show(self, board: Board) -> None:
        """Say this; nothing is drawn anew when it is what is said already."""
        if board != self._board:
            self._board = board
            self.refresh()

    def render(self) -> Content:
        """Draw the rows."""
        width, rows = self.content_size
        style = big_style(tall=rows >= 5)
        height = 1 if rows < _LARGE else 3 if style == "half" else min(rows, 5)
        left = self._large(self._board.value or "-", self._board.unit, style, height)
        right = self._coming(style, height, min(_SIDE + 12, max(0, width // 3)))
        used = cell_len(left[0]) + cell_len(right[0]) + 2 * _GAP
        words = self._words(height, max(0, width - used))
        gap = " " * _GAP
        return Content("\n").join(
            Content.assemble(
                Content.styled(a, self.get_visual_style("time-board--value")),
                gap,
                Content.styled(b, self.get_visual_style("time-board--words")),
                gap,
                Content.styled(c, self.get_visual_style("time-board--next")),
            ).truncate(width)
            for a, b, c in zip(left, words, right, strict=True)
        )

    def _large(self, text: str, unit: str, style: BigStyle, height: int) -> list[str]:
        lines = list(big_lines(text, style)) if can_be_big(text) and height >= _LARGE else [text]
        lines += [" " * cell_len(lines[0])] * (height - len(lines))
        suffix = [""] * (height - 1) + [f" {unit}"] if unit else [""] * height
        full = [a + b for a, b in zip(lines[:height], suffix, strict=True)]
        return [fit(line, max(map(cell_len, full))) for line in full]

    def _words(self, height: int, width: int) -> list[str]:
        lines = list(self._board.lines[:height])
        return [fit(line, width) for line in (*lines, *[""] * (height - len(lines)))]

    def _coming(self, style: BigStyle, height: int, width: int) -> list[str]:
        """Return the right-hand part: attempt and clock in words, the direction large."""
        board = self._board
        if height < _LARGE:
            words = [" ".join(filter(None, (board.kind or "next", board.direction)))]
            return [fit(words[0], cell_len(words[0]))]
        words = [board.coming, board.kind or "next", board.since]
        name = board.direction
        large = list(big_lines(name, style)) if can_be_big(name) else []
        if not large or cell_len(large[0]) > width - 12:
            large = []
            words[1] = f"{words[1]}  {cut(name, 14)}".rstrip()
        size = max(_WORDS, *map(cell_len, words))
        words += [""] * (height - len(words))
        big_size = max(map(cell_len, large), default=0)
        for other in board.directions if large else ():
            if can_be_big(other):
                big_size = max(big_size, cell_len(big_lines(other, style)[0]))
        large += [""] * (height - len(large))
        return [
            fit(word, size) + ("  " + fit(drawn, big_size) if big_size else "")
            for word, drawn in zip(words[:height], large[:height], strict=True)
        ]
