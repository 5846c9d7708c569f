"""A report as plain text of at most 80 columns."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from core.report.document import (
    Block,
    Bullets,
    Chart,
    Column,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
    chart_table,
)
from core.report.width import cut, fill, to_ascii, visible, width_of, wrapped

__all__ = ["COLUMNS", "as_text"]

COLUMNS = 80
"""Width that every report fits into."""

_GAP = "  "  # between columns
_NARROWEST = 6  # cells a flexible column keeps
_NAMES = 40  # cells the names of facts may take
_BULLET = "- "
_HEAD = re.compile(r" {0,20}(- )?")  # what a line of running text hangs from
_MARKS = {ord("…"): "~", ord("·"): "."}  # marks of one cell that laying out put in


def as_text(report: Report, *, width: int = COLUMNS, ascii_only: bool = False) -> str:
    """Return the report as text that ends with a line end.

    Args:
        report: what to write.
        width: cells of the longest line, at least 20.
        ascii_only: write nothing but ASCII, for printers and terminals that know no more.
    """
    lines: list[str] = []
    if report.title:
        title = wrapped(to_ascii(report.title) if ascii_only else report.title, width)
        lines += [*title, "=" * max(map(width_of, title))]
    for block in report.blocks:
        if lines:
            lines.append("")
        lines += _block_lines(_plain(block) if ascii_only else block, width)
    text = "".join(f"{line.rstrip()}\n" for line in lines)
    return text.translate(_MARKS) if ascii_only else text


def _plain(block: Block) -> Block:
    """Return the block with all its texts in ASCII, before they are measured and wrapped."""
    if isinstance(block, (Heading, Paragraph)):
        return replace(block, text=to_ascii(block.text))
    if isinstance(block, Bullets):
        return Bullets(tuple(map(to_ascii, block.items)))
    if isinstance(block, Facts):
        return Facts(tuple((to_ascii(name), to_ascii(value)) for name, value in block.rows))
    if isinstance(block, Chart):
        return _plain(chart_table(block))
    columns = tuple(replace(column, title=to_ascii(column.title)) for column in block.columns)
    rows = tuple(tuple(map(to_ascii, row)) for row in block.rows)
    return replace(block, columns=columns, rows=rows)


def _block_lines(block: Block, width: int) -> Iterator[str]:
    if isinstance(block, Heading):
        lines = wrapped(block.text, width)
        yield from lines
        yield "-" * max(map(width_of, lines))
    elif isinstance(block, Paragraph):
        for line in block.text.split("\n"):
            found = _HEAD.match(line)
            head = found[0] if found else ""
            yield from _hanging(head, line.removeprefix(head), width)
    elif isinstance(block, Bullets):
        for item in block.items:
            yield from _hanging(_BULLET, item, width)
    elif isinstance(block, Facts):
        yield from _fact_lines(block, width)
    elif isinstance(block, Chart):
        yield from _table_lines(chart_table(block), width)
    else:
        yield from _table_lines(block, width)


def _hanging(head: str, text: str, width: int) -> Iterator[str]:
    """Yield the text with the head before its first line and blanks before the others."""
    room = width - width_of(head)
    for index, line in enumerate(wrapped(text, room, whole_paths=True)):
        yield (head if index == 0 else " " * width_of(head)) + line


def _fact_lines(facts: Facts, width: int) -> Iterator[str]:
    longest = max((width_of(visible(name)) for name, _ in facts.rows), default=0)
    room = min(longest, _NAMES, width // 2)
    for name, value in facts.rows:
        yield from _hanging(fill(cut(name, room), room) + _GAP, value, width)


def _table_lines(table: Table, width: int) -> Iterator[str]:
    widths = _widths(table, width)
    if any(column.title for column in table.columns):
        titles = [column.title for column in table.columns]
        yield _joined(titles, table.columns, widths)
        yield _GAP.join("-" * w for w in widths)
    for row in table.rows:
        yield from _row_lines(row, table, widths)


def _widths(table: Table, width: int) -> list[int]:
    """Return the cells of each column: as wide as its widest, the flexible ones giving way."""
    widths = [
        max([width_of(visible(column.title)), *(width_of(visible(row[i])) for row in table.rows)])
        for i, column in enumerate(table.columns)
    ]
    flexible = [i for i, column in enumerate(table.columns) if column.flexible]
    too_much = sum(widths) + len(_GAP) * (len(widths) - 1) - width
    while too_much > 0:
        widest = max(flexible, key=lambda i: widths[i], default=None)
        if widest is None or widths[widest] <= _NARROWEST:
            break
        widths[widest] -= 1
        too_much -= 1
    return widths


def _row_lines(row: tuple[str, ...], table: Table, widths: list[int]) -> Iterator[str]:
    if not table.wraps:
        yield _joined(list(row), table.columns, widths)
        return
    cells = [
        wrapped(cell, w) if w > 1 else [cut(cell, w)] for cell, w in zip(row, widths, strict=True)
    ]
    for index in range(max(map(len, cells))):
        part = [cell[index] if index < len(cell) else "" for cell in cells]
        yield _joined(part, table.columns, widths)


def _joined(cells: list[str], columns: tuple[Column, ...], widths: list[int]) -> str:
    shown = (
        fill(cut(cell, w), w, right=column.right)
        for cell, column, w in zip(cells, columns, widths, strict=True)
    )
    return _GAP.join(shown)
