"""Blocks of a report as drawn lines: headings, text, facts, lists and tables in any width."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from core.report.document import (
    Block,
    Bullets,
    Chart,
    Column,
    Facts,
    Heading,
    Paragraph,
    Table,
)
from core.report.width import cut, fill, visible, width_of, wrapped
from tui.widgets.picture_drawing import draw
from tui.widgets.picture_plot import Line, Span

__all__ = [
    "beside",
    "block_lines",
    "cropped",
    "flowed",
    "hanging",
    "line_width",
    "lines_of",
    "text_lines",
    "titled",
]

_GAP: Final = "  "  # between two columns of a table
_NARROWEST: Final = 6  # cells that a column keeps that gives way
_NAMES: Final = 34  # cells that the names of facts may take
_BLANK: Final[Line] = ()

MARK_TONES: Final = {"○": "quiet", "·": "quiet", "-": "quiet", "◆": "warn", "×": "bad"}
"""By the mark a table's row begins with: its tone."""


def line_width(line: Line) -> int:
    """Return how many cells a line takes."""
    return sum(width_of(text) for text, _ in line)


def cropped(line: Line, width: int) -> Line:
    """Return a line that is no wider than so many cells."""
    if line_width(line) <= width:
        return line
    kept: list[Span] = []
    for text, tone in line:
        text = cut(text, width - line_width(tuple(kept)))
        kept += [(text, tone)] if text else []
    return tuple(kept)


def text_lines(text: str, width: int, tone: str = "plain") -> list[Line]:
    """Return running text broken at blanks."""
    return [((line, tone),) for line in wrapped(text, max(2, width))]


def titled(title: str, width: int, rule: str = "─") -> Line:
    """Return the line that a section begins with."""
    name = cut(title, max(1, width - 4))
    left = max(0, width - width_of(name) - 1)
    return ((name, "strong"), (" " + rule * left, "quiet")) if left else ((name, "strong"),)


def lines_of(blocks: Iterable[Block], width: int) -> list[Line]:
    """Return the lines of blocks; a blank line before each heading, and between texts.

    Args:
        blocks: in their order.
        width: cells, 1 or more.
    """
    found = tuple(blocks)
    return _lines(found, width, _kin(found))


Kin = Mapping[tuple[Column, ...], tuple[tuple[str, ...], ...]]
"""By the columns that several tables have in common: the rows of all of them."""


def _kin(blocks: Iterable[Block]) -> Kin:
    """Return the rows of tables with the same columns, which are drawn equally wide."""
    rows: dict[tuple[Column, ...], tuple[tuple[str, ...], ...]] = {}
    for block in blocks:
        if isinstance(block, Table):
            rows[block.columns] = rows.get(block.columns, ()) + block.rows
    return rows


def _lines(blocks: Iterable[Block], width: int, kin: Kin) -> list[Line]:
    lines: list[Line] = []
    before: Block | None = None
    for block in blocks:
        follows_heading = before is None or isinstance(before, Heading)
        if not follows_heading and not _belongs_to(before, block):
            lines.append(_BLANK)
        lines += block_lines(block, width, kin)
        before = block
    return lines


def _belongs_to(before: Block | None, block: Block) -> bool:
    """Tell whether a block continues the sentence before it."""
    return (
        isinstance(before, Paragraph) and before.text.endswith(":") and isinstance(block, Bullets)
    )


def block_lines(block: Block, width: int, kin: Kin = MappingProxyType({})) -> list[Line]:
    """Return the lines of one block.

    Args:
        block: what to draw.
        width: cells, 1 or more.
        kin: rows of other tables that a table is to be as wide as.
    """
    if isinstance(block, Heading):
        return text_lines(block.text, width, "strong")
    if isinstance(block, Paragraph):
        return text_lines(block.text, width)
    if isinstance(block, Bullets):
        return [line for item in block.items for line in hanging((("- ", "quiet"),), item, width)]
    if isinstance(block, Facts):
        return list(_fact_lines(block, width))
    if isinstance(block, Chart):
        return [*text_lines(block.title, width, "strong"), *draw(block.picture, width)]
    drawn = _table_lines(block, width, kin.get(block.columns, block.rows))
    return [cropped(line, width) for line in drawn]


def hanging(head: Line, text: str, width: int, tone: str = "plain") -> Iterator[Line]:
    """Yield a text with the head before its first line and blanks before the others."""
    indent = line_width(head)
    for index, line in enumerate(wrapped(text, max(2, width - indent))):
        yield (*(head if index == 0 else ((" " * indent, "plain"),)), (line, tone))


def _fact_lines(facts: Facts, width: int) -> Iterator[Line]:
    longest = max((width_of(visible(name)) for name, _ in facts.rows), default=0)
    room = min(longest, _NAMES, max(1, width // 2 - 2))
    for name, value in facts.rows:
        head: Line = ((fill(cut(name, room), room) + _GAP, "quiet"),)
        yield from hanging(head, value, width)


def _table_lines(table: Table, width: int, rows: tuple[tuple[str, ...], ...]) -> Iterator[Line]:
    widths = _widths(table.columns, rows, width)
    if any(column.title for column in table.columns):
        titles = (
            fill(cut(column.title, w), w, right=column.right)
            for column, w in zip(table.columns, widths, strict=True)
        )
        yield ((_GAP.join(titles), "quiet"),)
    for row in table.rows:
        yield from _row_lines(row, table, widths)


def _widths(
    columns: tuple[Column, ...], rows: tuple[tuple[str, ...], ...], width: int
) -> list[int]:
    """Return the cells of each column: as wide as its widest, the flexible ones giving way."""
    widths = [
        max([width_of(visible(column.title)), *(width_of(visible(row[i])) for row in rows)])
        for i, column in enumerate(columns)
    ]
    flexible = [i for i, column in enumerate(columns) if column.flexible]
    too_much = sum(widths) + len(_GAP) * (len(widths) - 1) - width
    while too_much > 0:
        widest = max(flexible, key=lambda i: widths[i], default=None)
        if widest is None or widths[widest] <= _NARROWEST:
            break
        widths[widest] -= 1
        too_much -= 1
    return widths


def _row_lines(row: tuple[str, ...], table: Table, widths: Sequence[int]) -> Iterator[Line]:
    tone = MARK_TONES.get(row[0], "plain")
    cells = [
        wrapped(cell, w) if table.wraps and w > 1 else [cut(cell, w)]
        for cell, w in zip(row, widths, strict=True)
    ]
    for index in range(max(map(len, cells))):
        part = (
            fill(cell[index] if index < len(cell) else "", w, right=column.right)
            for cell, w, column in zip(cells, widths, table.columns, strict=True)
        )
        yield ((_GAP.join(part), tone),)


def flowed(blocks: Iterable[Block], width: int, columns: int, gap: int = 3) -> list[Line]:
    """Return blocks in columns side by side, each heading with what follows it kept together.

    Args:
        blocks: in their order; they go down the first column, then down the next.
        width: cells of all columns together.
        columns: how many, 1 or more.
        gap: blank cells between two columns.
    """
    if columns < 2:
        return lines_of(blocks, width)
    room = (width - gap * (columns - 1)) // columns
    found = tuple(blocks)
    kin = _kin(found)
    chunks = [_lines(chunk, room, kin) for chunk in _chunks(found)]
    total = sum(len(chunk) + 1 for chunk in chunks)
    stacks: list[list[Line]] = [[] for _ in range(columns)]
    used, at = 0, 0
    for chunk in chunks:
        while at < columns - 1 and used + len(chunk) / 2 > total * (at + 1) / columns:
            at += 1
        stacks[at] += [*([_BLANK] if stacks[at] else []), *chunk]
        used += len(chunk) + 1
    joined = stacks[0]
    for number, stack in enumerate(stacks[1:], 1):
        joined = beside(joined, stack, number * room + (number - 1) * gap, gap)
    return joined


def _chunks(blocks: Iterable[Block]) -> Iterator[list[Block]]:
    chunk: list[Block] = []
    for block in blocks:
        if isinstance(block, Heading) and chunk:
            yield chunk
            chunk = []
        chunk.append(block)
    if chunk:
        yield chunk


def beside(left: Sequence[Line], right: Sequence[Line], width: int, gap: int = 3) -> list[Line]:
    """Return two stacks of lines side by side.

    Args:
        left: what is wider than ``width`` is cut.
        right: any.
        width: cells of the left stack.
        gap: blank cells between them.
    """
    lines: list[Line] = []
    for index in range(max(len(left), len(right))):
        one = cropped(left[index], width) if index < len(left) else _BLANK
        other = right[index] if index < len(right) else _BLANK
        blanks = " " * (max(0, width - line_width(one)) + gap)
        lines.append((*one, (blanks, "plain"), *other) if other else one)
    return lines
