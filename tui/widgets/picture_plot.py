"""The cells of one line of a picture: dots, bars, zero line, band, ticks and the axis below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby

from rich.cells import cell_len

from core.report.pictures import Bar, Dot, Picture, Role
from core.report.scale import Scale, Tick, round_ticks
from tui.widgets.picture_signs import Signs

__all__ = ["Line", "Plot", "Span", "plot_of"]

Span = tuple[str, str]
"""A text and its tone: ``plain``, ``quiet``, ``strong``, ``mark``, ``warn``, ``bad`` ..."""

Line = tuple[Span, ...]
"""Texts side by side."""

_BLANK: Span = (" ", "plain")
_MARGIN, _MARGIN_FROM = 2.0, 16  # cells left free at both ends, from so many cells on
_GAPS = ((40, 7), (0, 3))  # cells between two labels, from so many cells of the axis on


@dataclass
class _Cells:
    """The cells of one line; what is put later covers what was there."""

    width: int
    cells: list[Span] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.cells = [_BLANK] * self.width

    def put(self, at: int, text: str, tone: str) -> None:
        """Put a text of one-cell signs; what is outside is left out."""
        for index, sign in enumerate(text, at):
            if 0 <= index < self.width:
                self.cells[index] = (sign, tone)

    def line(self) -> Line:
        """Return the cells joined by tone."""
        runs = groupby(self.cells, key=lambda cell: cell[1])
        return tuple(("".join(sign for sign, _ in run), tone) for tone, run in runs)


@dataclass(frozen=True)
class Plot:
    """What all lines of one picture share: the scale, its ticks and the signs."""

    scale: Scale
    ticks: tuple[Tick, ...]
    signs: Signs
    is_difference: bool
    gain: float | None

    def row(self, dots: Sequence[tuple[Dot, str]], bar: Bar | None, role: Role) -> Line:
        """Return one line with a bar and dots over it, each dot with the sign of its kind."""
        cells = self._empty()
        if bar is not None:
            self._put_bar(cells, bar, role)
        for column, sign, tone in self._dots(dots):
            cells.put(column, sign, tone)
        return cells.line()

    def _empty(self) -> _Cells:
        cells = _Cells(self.scale.cells)
        for tick in self.ticks:
            cells.put(self.scale.column(tick.value), self.signs.grid, "quiet")
        if self.is_difference:
            if self.gain is not None:
                first, last = (self.scale.clipped(end) for end in (-self.gain, self.gain))
                cells.put(first, self.signs.band * (last - first + 1), "quiet")
            cells.put(self.scale.clipped(0.0), self.signs.zero, "plain")
        return cells

    def _put_bar(self, cells: _Cells, bar: Bar, role: Role) -> None:
        start, line, middle, end = self.signs.main_bar if role == "main" else self.signs.beside_bar
        tone = "mark" if role == "main" else "plain"
        if bar.low is not None and bar.high is not None:
            first, last = self.scale.clipped(bar.low), self.scale.clipped(bar.high)
            cells.put(first, line * (last - first + 1), tone)
            if self.is_difference:
                cells.put(self.scale.clipped(0.0), self.signs.zero, "plain")
            cells.put(first, start, tone)
            cells.put(last, end, tone)
        cells.put(self.scale.clipped(bar.middle), middle, tone)

    def _dots(self, dots: Sequence[tuple[Dot, str]]) -> list[tuple[int, str, str]]:
        """Return column, sign and tone for each cell that holds dots."""
        by_column: dict[int, list[tuple[Dot, str]]] = {}
        for dot, shape in dots:
            by_column.setdefault(self.scale.clipped(dot.value), []).append((dot, shape))
        return [(column, *self._sign(here)) for column, here in by_column.items()]

    def _sign(self, here: list[tuple[Dot, str]]) -> tuple[str, str]:
        """Return the sign for the dots of one cell: the one that must not be overlooked wins."""
        signs, marks = self.signs, {dot.mark for dot, _ in here}
        if "odd" in marks:
            return signs.odd, "warn"
        counted = [shape for dot, shape in here if dot.mark == "counts"]
        if not counted:
            value = here[0][0].value
            if self.scale.holds(value):
                return signs.struck, "quiet"
            return (signs.off_left if value < self.scale.low else signs.off_right), "quiet"
        if "struck" in marks:
            return signs.both, "strong"
        if len(counted) == 1:
            return counted[0], "strong"
        return (str(len(counted)) if len(counted) < 10 else signs.more), "strong"

    def ends(self, words: tuple[str, str]) -> Line:
        """Return the line over the rows that says what lies left and right of zero."""
        cells, zero = _Cells(self.scale.cells), self.scale.clipped(0.0)
        left, right = f"{self.signs.left} {words[0]} ", f" {words[1]} {self.signs.right}"
        if cell_len(left) <= zero:
            cells.put(zero - cell_len(left), left, "quiet")
        if zero + cell_len(right) < self.scale.cells:
            cells.put(zero + 1, right, "quiet")
        cells.put(zero, self.signs.zero, "plain")
        return cells.line()

    def rule(self) -> Line:
        """Return the line of the axis with its ticks."""
        cells = _Cells(self.scale.cells)
        cells.put(0, self.signs.axis * self.scale.cells, "quiet")
        for tick in self.ticks:
            cells.put(self.scale.column(tick.value), self.signs.tick, "quiet")
        return cells.line()

    def labels(self) -> Line:
        """Return the line of labels, each under its tick."""
        cells, free = _Cells(self.scale.cells), 0
        for tick in self.ticks:
            text = self._signed(tick)
            at = self.scale.column(tick.value) - len(text) // 2
            at = min(max(at, 0), self.scale.cells - len(text))
            if at >= free:
                cells.put(at, text, "plain")
                free = at + len(text) + 1
        return cells.line()

    def _signed(self, tick: Tick) -> str:
        if not self.is_difference:
            return tick.label
        if float(tick.label) == 0:
            return "0"
        return f"+{tick.label}" if tick.value > 0 else tick.label


def plot_of(picture: Picture, cells: int, signs: Signs) -> Plot | None:
    """Return what the lines of a picture share; None when there is nothing to draw.

    Args:
        picture: the picture.
        cells: cells for the axis, 2 or more.
        signs: what to draw with.
    """
    span = picture.span
    if span is None:
        return None
    low, high = span
    margin = _MARGIN * (high - low) / cells if cells >= _MARGIN_FROM else 0.0
    scale = Scale(low - margin, high + margin, cells)
    ticks = _ticks(*span, cells, signed=picture.is_difference)
    return Plot(scale, ticks, signs, picture.is_difference, picture.gain)


def _ticks(low: float, high: float, cells: int, *, signed: bool) -> tuple[Tick, ...]:
    """Return as many round ticks as have room for their labels."""
    gap = next(gap for least, gap in _GAPS if cells >= least)
    for most in range(max(1, cells // 4), 0, -1):
        ticks = round_ticks(low, high, most)
        widest = max((len(tick.label) for tick in ticks), default=1) + signed
        if len(ticks) * (widest + gap) <= cells + gap:
            return ticks
    return ()
