"""Curves over one axis as lines of text: braille dots, or letters where there is only ASCII."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final, Literal

from rich.cells import cell_len

from core.report.scale import Scale, Tick, round_ticks
from tui.text import cut
from tui.widgets.picture_plot import Line, Span
from tui.widgets.picture_signs import Signs, signs_for

__all__ = ["Curve", "CurvePlot", "draw_curves"]

Stroke = Literal["solid", "dashed", "dotted"]

_WIDE, _HIGH = 2, 4  # dots of a braille cell
_DOTS: Final = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))  # by column, then from the top
_BRAILLE: Final = 0x2800
_PATTERN: Final[dict[Stroke, tuple[int, int]]] = {
    # dots drawn, dots of a period, counted along the curve
    "solid": (1, 1),
    "dashed": (8, 12),
    "dotted": (2, 5),
}
_LETTER_EVERY: Final = 14  # cells between two letters on a curve
_LEAST: Final = (12, 3)  # cells and lines below which nothing can be drawn


@dataclass(frozen=True)
class Curve:
    """One curve; a letter that stands on it tells it from the others without colour."""

    letter: str
    name: str  # as the legend calls it
    xs: tuple[float, ...]  # rising
    ys: tuple[float, ...]
    stroke: Stroke = "solid"
    tone: str = "plain"


@dataclass(frozen=True)
class CurvePlot:
    """Several curves over one axis."""

    curves: tuple[Curve, ...]  # those drawn last cover those before
    low: float  # of the upright axis
    high: float  # what lies above is cut off
    unit: str  # of the upright axis
    across: str  # what the other axis is: ``° after top``
    at: float | None = None  # where a line stands upright; None: nowhere


def draw_curves(
    plot: CurvePlot, width: int, height: int, *, ascii_only: bool = False
) -> list[Line]:
    """Return the lines of a plot with both axes and a legend; none is wider than the width.

    Args:
        plot: what to draw.
        width: cells.
        height: lines.
        ascii_only: draw with nothing but ASCII.
    """
    signs = signs_for(ascii_only=ascii_only)
    xs = [x for curve in plot.curves for x in curve.xs]
    ticks = round_ticks(plot.low, plot.high, max(2, (height - 3) // 2))
    label = max((len(tick.label) for tick in ticks), default=1)
    cells, rows = width - label - 1, height - 3
    if not xs or cells < _LEAST[0] or rows < _LEAST[1]:
        return [((cut("No room for the curves.", width), "quiet"),)]
    canvas = _Canvas(plot, cells, rows, signs, ascii_only=ascii_only)
    upright = Scale(plot.high, plot.low, rows)
    marked = {upright.clipped(tick.value): tick.label for tick in ticks}
    body: list[Line] = [
        ((f"{marked.get(row, ''):>{label}}", "plain"), (signs.zero, "quiet"), *canvas.line(row))
        for row in range(rows)
    ]
    return [*body, *_axis(plot, canvas.across, label, signs), _legend(plot, width)]


def _axis(plot: CurvePlot, across: Scale, label: int, signs: Signs) -> Iterator[Line]:
    """Yield the axis below with its ticks, and their labels."""
    ticks = round_ticks(across.low, across.high, max(2, across.cells // 8))
    rule, words = [signs.axis] * across.cells, [" "] * across.cells
    for tick in ticks:
        at = across.clipped(tick.value)
        rule[at] = signs.tick
        _write(words, at - len(tick.label) // 2, tick)
    yield ((f"{plot.unit:>{label + 1}}"[: label + 1], "plain"), ("".join(rule), "quiet"))
    yield ((" " * (label + 1), "plain"), ("".join(words), "plain"))


def _write(words: list[str], at: int, tick: Tick) -> None:
    at = min(max(at, 0), len(words) - len(tick.label))
    words[at : at + len(tick.label)] = tick.label


def _legend(plot: CurvePlot, width: int) -> Line:
    """Return what the letters stand for; what has no room is left out from the end."""
    spans: list[Span] = []
    room = width
    for curve in plot.curves[::-1]:
        text = f"{curve.letter} {curve.name}   "
        if cell_len(text) <= room:
            spans.append((text, curve.tone))
            room -= cell_len(text)
    if cell_len(plot.across) <= room:
        spans.append((plot.across, "quiet"))
    return tuple(spans)


class _Canvas:
    """Cells that curves are drawn on, one after the other."""

    def __init__(
        self, plot: CurvePlot, cells: int, rows: int, signs: Signs, *, ascii_only: bool
    ) -> None:
        xs = [x for curve in plot.curves for x in curve.xs]
        self.across = Scale(min(xs), max(xs), cells)
        self._rows = rows
        self._fine = Scale(min(xs), max(xs), cells * _WIDE)
        self._upright = Scale(plot.high, plot.low, rows * _HIGH)
        self._coarse = Scale(plot.high, plot.low, rows)
        self._cells: list[list[Span]] = [[(" ", "plain")] * cells for _ in range(rows)]
        if plot.at is not None:
            column = self.across.clipped(plot.at)
            for row in self._cells:
                row[column] = (signs.grid, "quiet")
        for number, curve in enumerate(plot.curves):
            if not ascii_only:
                self._draw(curve)
            self._letters(curve, 2 if ascii_only else _LETTER_EVERY, number)

    def line(self, row: int) -> Line:
        """Return the cells of a line joined by tone."""
        runs = groupby(self._cells[row], key=lambda cell: cell[1])
        return tuple(("".join(sign for sign, _ in run), tone) for tone, run in runs)

    def _draw(self, curve: Curve) -> None:
        drawn, period = _PATTERN[curve.stroke]
        before: int | None = None
        gone = 0  # dots along the curve
        for column in range(self._fine.cells):
            y = _at(curve, self._fine.low + column * self._fine.step)
            if y is None:
                before = None
                continue
            row = self._upright.column(y)
            start = row if before is None else before + (row > before) - (row < before)
            before = row
            for dot in range(start, row + 1) if start <= row else range(start, row - 1, -1):
                if gone % period < drawn:
                    self._dot(column, dot, curve.tone)
                gone += 1

    def _dot(self, column: int, row: int, tone: str) -> None:
        if not 0 <= row < self._rows * _HIGH:
            return
        line, cell = self._cells[row // _HIGH], column // _WIDE
        now = ord(line[cell][0])
        bits = now - _BRAILLE if _BRAILLE <= now < _BRAILLE + 256 else 0
        bits |= _DOTS[column % _WIDE][row % _HIGH]
        line[cell] = (chr(_BRAILLE + bits), tone)

    def _letters(self, curve: Curve, every: int, number: int) -> None:
        """Put the curve's letter on it again and again, each curve at columns of its own."""
        first = every * (number + 1) // 4
        for column in range(first, self.across.cells, every):
            y = _at(curve, self.across.low + column * self.across.step)
            row = None if y is None else self._coarse.column(y)
            if row is not None and 0 <= row < self._rows:
                self._cells[row][column] = (curve.letter, curve.tone)


def _at(curve: Curve, x: float) -> float | None:
    """Return the height of a curve between its points; None beside it."""
    xs: Sequence[float] = curve.xs
    if not xs[0] <= x <= xs[-1]:
        return None
    low, high = 0, len(xs) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if xs[middle] <= x else (low, middle)
    share = (x - xs[low]) / (xs[high] - xs[low]) if xs[high] > xs[low] else 0.0
    return curve.ys[low] + share * (curve.ys[high] - curve.ys[low])
