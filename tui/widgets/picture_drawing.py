"""A picture as lines of text: label, cells, what it comes to; fits any width and height."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from rich.cells import cell_len

from core.report.pictures import Dot, Picture, PictureRow
from core.units import format_number
from tui.text import CUT_MARK, cut, fit
from tui.widgets.picture_plot import Line, Plot, Span, plot_of
from tui.widgets.picture_signs import Signs, signs_for

__all__ = ["draw"]

_FEWEST: Final = 16  # cells of the axis below which other columns give way
_WIDEST_LABEL: Final = 22
_SHORT_LABEL: Final = 8
_EMPTY: Final = "No timed attempts yet."
_WORDS_ONLY: Final = "This test gives words, no numbers."


@dataclass(frozen=True)
class _Strip:
    """One line to be drawn: a row of the picture, or several directions of a block together."""

    row: PictureRow
    dots: tuple[tuple[Dot, str], ...]  # with the sign each one has when it counts


@dataclass(frozen=True)
class _Columns:
    """Cells of label, axis and numbers."""

    label: int
    has_notes: bool
    axis: int
    said: int


def draw(
    picture: Picture, width: int, *, ascii_only: bool = False, height: int | None = None
) -> list[Line]:
    """Return the lines of a picture; none is wider than the width.

    Args:
        picture: what to draw.
        width: cells, 1 or more.
        ascii_only: draw with nothing but ASCII.
        height: lines there are, 1 or more; None: as many as it takes.

    Where there is not enough height the directions of a block go on one line, then only the bars
    are left, then the newest of them.
    """
    signs = signs_for(ascii_only=ascii_only)
    lines = _lines(picture, width, signs, height)
    if not ascii_only:
        return lines
    return [
        tuple((text.replace(CUT_MARK, signs.cut), tone) for text, tone in line) for line in lines
    ]


def _lines(picture: Picture, width: int, signs: Signs, height: int | None) -> list[Line]:
    strips = _strips(picture, signs, height)
    columns = _columns([strip.row for strip in strips], width, signs)
    plot = plot_of(picture, columns.axis, signs) if columns.axis > 1 else None
    if plot is None:
        return _without_axis(picture, width, signs, height)
    drawn = [plot.row(strip.dots, strip.row.bar, strip.row.role) for strip in strips]
    lines = [
        _framed(strip.row, cells, columns, signs)
        for strip, cells in zip(strips, drawn, strict=True)
    ]
    head = [_beside_axis(plot.ends(picture.ends), columns)] if picture.is_difference else []
    axis = [
        _beside_axis(plot.rule(), columns),
        _beside_axis(plot.labels(), columns, picture.unit),
    ]
    told = "   ".join(_legend(picture, plot, signs, drawn))
    legend: list[Line] = [((cut(told, width), "quiet"),)] if told else []
    return _within(lines, head, axis, legend, height)


def _within(
    lines: list[Line], head: list[Line], axis: list[Line], legend: list[Line], height: int | None
) -> list[Line]:
    """Put the parts together; what matters least is left out first, then the oldest rows."""
    if height is None:
        return [*head, *lines, *axis, *legend]
    for above, below, last in (
        (head, axis, legend),
        (head, axis, []),
        (head, axis[1:], []),
        ([], axis[1:], []),
    ):
        if len(above) + len(lines) + len(below) + len(last) <= height:
            return [*above, *lines, *below, *last]
    return [*lines[-max(1, height - 1) :], *axis[1:]][:height]


def _strips(picture: Picture, signs: Signs, height: int | None) -> list[_Strip]:
    """Return the lines to draw, as many as there is height for."""
    for make in (_apart, _together):
        strips = list(make(picture.rows, signs))
        room = len(strips) + 2 + picture.is_difference
        if height is None or room <= height:
            return strips
    return [strip for strip in strips if strip.row.bar is not None] or strips


def _apart(rows: Sequence[PictureRow], signs: Signs) -> Iterator[_Strip]:
    """Yield every row by itself; one that has dots and a bar takes two lines."""
    for row in rows:
        dots = tuple((dot, signs.counts) for dot in row.dots)
        if row.dots and row.bar is not None:
            yield _Strip(replace(row, bar=None, said=""), dots)
            yield _Strip(replace(row, label="", note="", dots=()), ())
        else:
            yield _Strip(row, dots)


def _together(rows: Sequence[PictureRow], signs: Signs) -> Iterator[_Strip]:
    """Yield the directions of a block on one line, each with its own shape, and bars under dots."""
    ways: list[PictureRow] = []
    for row in rows:
        if row.role == "way":
            ways = [*(way for way in ways if way.block == row.block), row]
            if sum(other.role == "way" and other.block == row.block for other in rows) == len(ways):
                yield _one_line(ways, signs)
        else:
            yield _Strip(row, tuple((dot, signs.counts) for dot in row.dots))


def _one_line(ways: list[PictureRow], signs: Signs) -> _Strip:
    shapes = [signs.shapes[min(i, len(signs.shapes) - 1)] for i in range(len(ways))]
    names = [way.label.removeprefix(way.block).strip() for way in ways]
    told = " ".join(f"{shape}{cut(name, 5)}" for shape, name in zip(shapes, names, strict=True))
    label = " ".join(filter(None, (ways[0].block, told)))
    dots = tuple((dot, sh) for way, sh in zip(ways, shapes, strict=True) for dot in way.dots)
    return _Strip(replace(ways[0], label=label, note="", said=""), dots)


def _columns(rows: Sequence[PictureRow], width: int, signs: Signs) -> _Columns:
    """Share the width out: the axis keeps its fewest cells, notes go first, then numbers."""
    short = min(max((cell_len(row.label) for row in rows), default=0), _WIDEST_LABEL)
    noted = max((cell_len(_label(row, signs)) for row in rows), default=0)
    said = max((cell_len(_said(row, signs)) for row in rows), default=0)
    cut_short = min(short, _SHORT_LABEL)
    for label, notes, numbers in (
        (min(noted, _WIDEST_LABEL), True, said),
        (short, False, said),
        (cut_short, False, said),
        (cut_short, False, 0),
        (0, False, 0),
    ):
        axis = width - (label + 1 if label else 0) - (numbers + 1 if numbers else 0)
        if axis >= _FEWEST:
            return _Columns(label, notes, axis, numbers)
    return _Columns(0, False, width, 0)


def _label(row: PictureRow, signs: Signs) -> str:
    note = row.note.replace("×", signs.times)
    return f"{row.label}  {note}" if note and row.label else row.label or note


def _said(row: PictureRow, signs: Signs) -> str:
    return row.said.replace("±", signs.plus_minus)


def _framed(row: PictureRow, cells: Line, columns: _Columns, signs: Signs) -> Line:
    text = _label(row, signs) if columns.has_notes else row.label
    tone = "strong" if row.role == "main" else "plain"
    label: list[Span] = [(fit(text, columns.label) + " ", tone)] if columns.label else []
    said: list[Span] = (
        [(" " + fit(_said(row, signs), columns.said, right=True), tone)] if columns.said else []
    )
    return (*label, *cells, *said)


def _beside_axis(cells: Line, columns: _Columns, unit: str = "") -> Line:
    """Return a line of the axis, with blanks for the label and the unit behind it."""
    label: list[Span] = [(" " * (columns.label + 1), "plain")] if columns.label else []
    said: list[Span] = [(" " + fit(unit, columns.said), "plain")] if columns.said else []
    return (*label, *cells, *said)


def _without_axis(picture: Picture, width: int, signs: Signs, height: int | None) -> list[Line]:
    """Return the numbers alone, where there is nothing to draw or no room for it."""
    if not picture.rows:
        return [((cut(_EMPTY if picture.unit else _WORDS_ONLY, width), "quiet"),)]
    said = (f"{row.label} {_said(row, signs)}".strip() for row in picture.rows)
    lines: list[Line] = [((cut(text, width), "plain"),) for text in said]
    return lines[-(height or len(lines)) :]


def _legend(picture: Picture, plot: Plot, signs: Signs, drawn: Sequence[Line]) -> Iterator[str]:
    """Yield what the signs mean that occur and do not explain themselves."""
    marks = {dot.mark for row in picture.rows for dot in row.dots}
    used = "".join(text for line in drawn for text, _ in line)
    if "struck" in marks and signs.struck in used:
        yield f"{signs.struck} struck"
    if signs.both in used and "struck" in marks:
        yield f"{signs.both} struck beside one that counts"
    if "odd" in marks:
        yield f"{signs.odd} stands apart"
    for dot in picture.off_scale:
        sign = signs.off_left if dot.value < plot.scale.low else signs.off_right
        yield f"{sign} {format_number(dot.value, picture.decimals)} struck, off the scale"
    if picture.is_difference and picture.gain is not None:
        gain = f"{picture.gain:g} {picture.unit}"
        yield f"{signs.band} within {gain}, the smallest gain worth having"
