"""A report as Markdown that any site takes: headings, lists, tables with bars."""

from __future__ import annotations

import re
from collections.abc import Iterator

from core.report.document import (
    Block,
    Bullets,
    Chart,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
    chart_table,
)
from core.report.width import visible

__all__ = ["as_markdown"]

_MEANT = re.compile(r"([\\`*_\[\]<>|#~])")
_LIST = re.compile(r"^(\s*)([-+]|\d+[.)])(\s)")


def as_markdown(report: Report) -> str:
    """Return the report as Markdown (CommonMark with tables); nothing in it is taken for markup."""
    lines = [f"# {_text(report.title)}", ""] if report.title else []
    for block in report.blocks:
        lines += [*_lines(block), ""]
    return "\n".join(lines).rstrip() + "\n"


def _text(text: str) -> str:
    """One line in which no sign of the user's own means anything to Markdown or HTML."""
    line = " ".join(visible(part) for part in text.splitlines())
    return _LIST.sub(r"\1\\\2\3", _MEANT.sub(r"\\\1", line).replace("&", "&amp;"))


def _lines(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield f"## {_text(block.text)}"
    elif isinstance(block, Paragraph):
        yield "  \n".join(_text(line) for line in block.text.split("\n"))
    elif isinstance(block, Bullets):
        yield from (f"- {_text(item)}" for item in block.items)
    elif isinstance(block, Facts):
        yield from _table(("", ""), block.rows, ("---", "---"))
    else:
        table = chart_table(block) if isinstance(block, Chart) else block
        titles = tuple(column.title for column in table.columns)
        rule = tuple("---:" if column.right else "---" for column in table.columns)
        yield from _table(titles, _one_line(table), rule)


def _one_line(table: Table) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(" ".join(cell.split()) for cell in row) for row in table.rows)


def _table(
    titles: tuple[str, ...], rows: tuple[tuple[str, ...], ...], rule: tuple[str, ...]
) -> Iterator[str]:
    yield f"| {' | '.join(map(_text, titles))} |"
    yield f"| {' | '.join(rule)} |"
    for row in rows:
        yield f"| {' | '.join(map(_text, row))} |"
