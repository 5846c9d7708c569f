"""A picture of rows on one axis as SVG that stands within a page; black on white, no script."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from core.report.pictures import Bar, Dot, Picture, PictureRow
from core.report.scale import round_ticks
from core.report.width import visible

__all__ = ["as_svg"]

_WIDTH, _ROW, _HEAD, _FOOT = 640, 22, 8, 34  # px of the drawing; it is scaled to the page
_LEFT, _RIGHT = 118, 150  # px for the names and for what each row comes to
_TICKS = 7
_LETTERS = 20  # of a name
_SAID = 25  # letters of what a row comes to


def as_svg(picture: Picture, title: str) -> str:
    """Return the picture as one SVG element; empty where there is nothing to draw.

    What counts is filled, what was struck is hollow, what stands apart is a square on its corner:
    nothing is told by colour alone.

    Args:
        picture: rows of dots and ranges.
        title: read out by a screen reader.
    """
    span = picture.span
    if span is None or not picture.rows:
        return ""
    low, high = span
    margin = (high - low) * 0.04
    axis = _Axis(low - margin, high + margin)
    height = _HEAD + _ROW * len(picture.rows) + _FOOT
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img" '
        f'class="chart"><title>{_safe(title)}</title>',
        *_grid(picture, axis, height),
    ]
    for index, row in enumerate(picture.rows):
        parts += _row(row, axis, _HEAD + _ROW * index + _ROW / 2, picture)
    return "".join((*parts, "</svg>"))


class _Axis:
    """Where a value stands, in px."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high

    def __call__(self, value: float) -> float:
        room = _WIDTH - _LEFT - _RIGHT
        share = (value - self.low) / (self.high - self.low)
        return round(_LEFT + room * min(max(share, 0.0), 1.0), 1)


def _safe(text: str) -> str:
    return escape(visible(text))


def _cut(text: str, most: int = _LETTERS) -> str:
    return _safe(text if len(text) <= most else f"{text[: most - 1]}…")


def _grid(picture: Picture, axis: _Axis, height: float) -> Iterator[str]:
    bottom = height - _FOOT + 2
    for tick in round_ticks(axis.low, axis.high, _TICKS):
        x = axis(tick.value)
        yield f'<path class="grid" d="M{x} {_HEAD}V{bottom}"/>'
        yield f'<text x="{x}" y="{bottom + 12}" text-anchor="middle">{escape(tick.label)}</text>'
    middle = (_LEFT + _WIDTH - _RIGHT) / 2
    ends = " ← → ".join(picture.ends) if any(picture.ends) else ""
    said = ", ".join(filter(None, (picture.unit, ends)))
    yield f'<text x="{middle}" y="{bottom + 26}" text-anchor="middle">{_safe(said)}</text>'
    if picture.is_difference:
        yield f'<path class="zero" d="M{axis(0.0)} {_HEAD}V{bottom}"/>'
        for gain in (picture.gain or 0.0, -(picture.gain or 0.0)):
            if gain:
                yield f'<path class="gain" d="M{axis(gain)} {_HEAD}V{bottom}"/>'


def _row(row: PictureRow, axis: _Axis, y: float, picture: Picture) -> Iterator[str]:
    weight = ' class="main"' if row.role == "main" else ""
    yield f'<text x="4" y="{y + 4}"{weight}>{_cut(row.label)}</text>'
    said = "  ".join(filter(None, (row.said, row.note)))
    yield f'<text x="{_WIDTH - _RIGHT + 10}" y="{y + 4}"{weight}>{_cut(said, _SAID)}</text>'
    if row.bar is not None:
        yield from _bar(row.bar, axis, y)
    off = picture.off_scale
    for dot in row.dots:
        if dot not in off:
            yield _dot(dot, axis(dot.value), y)


def _bar(bar: Bar, axis: _Axis, y: float) -> Iterator[str]:
    if bar.low is not None and bar.high is not None:
        low, high = axis(bar.low), axis(bar.high)
        ends = f"M{low} {y - 4}v8M{high} {y - 4}v8M{low} {y}H{high}"
        yield f'<path class="range" d="{ends}"/>'
    yield f'<path class="middle" d="M{axis(bar.middle)} {y - 6}v12"/>'


def _dot(dot: Dot, x: float, y: float) -> str:
    name = ", ".join(f"attempt {n}" for n in dot.attempts)
    told = f"<title>{escape(f'{dot.value:g} {name}'.strip())}</title>"
    if dot.mark == "odd":
        return f'<path class="odd" d="M{x} {y - 5}l5 5l-5 5l-5 -5z">{told}</path>'
    kind = "struck" if dot.mark == "struck" else "counts"
    return f'<circle class="{kind}" cx="{x}" cy="{y}" r="3.5">{told}</circle>'
