"""Speed over time drawn with braille dots, the runs marked below; and a widget that shows it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.widget import Widget

from core.report.speed_pictures import RunSpan, SpeedPicture
from tui.text import fit
from tui.widgets.big_text import big_style
from tui.widgets.picture_plot import Line
from tui.widgets.tones import as_content

__all__ = ["SpeedPlot", "drawn_speed"]

_LABEL: Final = 4  # cells left of the curve: km/h and a blank
_DOTS: Final = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))  # of a braille cell, by column
_BRAILLE: Final = 0x2800
_ENDS: Final = {False: ("├", "─", "┤"), True: ("[", "-", "]")}

Make = Callable[[int], SpeedPicture]
"""Makes the picture for so many columns."""


def drawn_speed(
    make: Make,
    width: int,
    height: int,
    *,
    here: int | None = None,
    words: str = "",
    ascii_only: bool = False,
) -> list[Line]:
    """Return speed over time as lines, the last one with the runs under their stretch.

    Args:
        make: makes the picture for so many columns.
        width: cells.
        height: lines, 2 or more.
        here: number of the run that is drawn strong; None: none is.
        words: said under that run instead of its number, where there is room.
        ascii_only: draw with nothing but ASCII.
    """
    cells = max(1, width - _LABEL)
    picture = make(cells if ascii_only else 2 * cells)
    rows = max(1, height - 1)
    curve = _plain(picture, rows) if ascii_only else _dotted(picture, cells, rows)
    top = f"{picture.top:.0f}"
    lines: list[Line] = []
    for number, text in enumerate(curve):
        label = top if number == 0 else "0" if number == rows - 1 else ""
        lines.append(((fit(label, _LABEL - 1, right=True) + " ", "quiet"), (text, "plain")))
    return [*lines, _marks(picture, cells, here, words, ascii_only=ascii_only)]


def _dotted(picture: SpeedPicture, cells: int, rows: int) -> list[str]:
    """The curve in braille: two columns and four rows of dots in a cell."""
    grid = [[0] * cells for _ in range(rows)]
    dots = 4 * rows
    for column, ends in enumerate(picture.columns):
        if ends is None:
            continue
        low, high = (_row(speed, picture.top, dots) for speed in ends)
        for dot in range(high, low + 1):
            grid[dot // 4][column // 2] |= _DOTS[column % 2][dot % 4]
    return ["".join(chr(_BRAILLE + bits) if bits else " " for bits in row) for row in grid]


def _plain(picture: SpeedPicture, rows: int) -> list[str]:
    grid = [[" "] * len(picture.columns) for _ in range(rows)]
    for column, ends in enumerate(picture.columns):
        if ends is None:
            continue
        low, high = (_row(speed, picture.top, rows) for speed in ends)
        for row in range(high, low + 1):
            grid[row][column] = "*"
    return ["".join(row) for row in grid]


def _row(speed: float, top: float, rows: int) -> int:
    """Which row from the top a speed falls in."""
    return min(rows - 1, max(0, round((1 - speed / top) * (rows - 1))))


def _marks(
    picture: SpeedPicture, cells: int, here: int | None, words: str, *, ascii_only: bool
) -> Line:
    """The line under the curve: each run as a bracket or its number, the one here strong."""
    row = [(" ", "quiet")] * cells
    for run in sorted(picture.runs, key=lambda run: run.number == here):
        is_here = run.number == here
        told = words if is_here and words else str(run.number)
        for at, sign in _bracket(run, cells, told, _ENDS[ascii_only]):
            if 0 <= at < cells:
                row[at] = (sign, "strong" if is_here else "quiet")
    return ((" " * _LABEL, "quiet"), *row)


def _bracket(
    run: RunSpan, cells: int, told: str, signs: tuple[str, str, str]
) -> list[tuple[int, str]]:
    """Cells and signs of one run: ``├─ 7.26 s ─┤``, or as much of it as there is room for."""
    first, last = round(run.first * (cells - 1)), round(run.last * (cells - 1))
    start, line, end = signs
    room = last - first + 1
    if room < cell_len(told) + 2:
        at = min(max(0, (first + last) // 2 - cell_len(told) // 2), cells - cell_len(told))
        return list(enumerate(told, at))
    text = f" {told} " if room >= cell_len(told) + 6 else told
    body = text.center(room - 2, line)
    return list(enumerate(start + body + end, first))


class SpeedPlot(Widget):
    """Shows speed over time in whatever room it is given; drawn anew only when it changes."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._make: Make | None = None
        self._key: object = None
        self._made: dict[int, SpeedPicture] = {}
        self._here: int | None = None
        self._words = ""

    def show(
        self, key: object, make: Make | None, here: int | None = None, words: str = ""
    ) -> None:
        """Show this.

        Args:
            key: what the picture depends on; nothing is made anew while it is the same.
            make: makes the picture; None: nothing is shown.
            here: number of the run that is drawn strong.
            words: said under it.
        """
        if key != self._key:
            self._key, self._make, self._made = key, make, {}
            self.refresh()
        if (here, words) != (self._here, self._words):
            self._here, self._words = here, words
            self.refresh()

    def _picture(self, columns: int) -> SpeedPicture:
        """The picture for so many columns; made once for each width."""
        assert self._make is not None  # noqa: S101  asked before
        if columns not in self._made:
            self._made[columns] = self._make(columns)
        return self._made[columns]

    def render(self) -> Content:
        """Draw the lines that fit."""
        width, height = self.content_size
        if self._make is None or width < 2 * _LABEL or height < 2:
            return Content("")
        lines = drawn_speed(
            self._picture,
            width,
            height,
            here=self._here,
            words=self._words,
            ascii_only=big_style() == "ascii",
        )
        return Content("\n").join(as_content(line) for line in lines)
