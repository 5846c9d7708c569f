"""A report as CSV for a spreadsheet: one part below the other, each row naming its part."""

from __future__ import annotations

from collections.abc import Iterator

from core.exchange.cells import line_of
from core.report.document import Bullets, Chart, Facts, Heading, Paragraph, Report, chart_table

__all__ = ["as_csv"]


def as_csv(report: Report) -> str:
    """Return the report as CSV with commas; no cell can be taken for a formula.

    The first column names the part of the report. Tables stand with their titles above them.
    """
    rows: list[list[str]] = [["report", report.title]] if report.title else []
    part = ""
    for block in report.blocks:
        if isinstance(block, Heading):
            part = block.text
            continue
        rows += [[part, *cells] for cells in _rows(block)]
    widest = max(map(len, rows), default=1)
    return "".join(line_of([*row, *[""] * (widest - len(row))]) for row in rows)


def _rows(block: object) -> Iterator[list[str]]:
    if isinstance(block, Paragraph):
        yield [" ".join(block.text.split())]
    elif isinstance(block, Bullets):
        yield from ([" ".join(item.split())] for item in block.items)
    elif isinstance(block, Facts):
        yield from ([name.strip(), value] for name, value in block.rows)
    else:
        table = chart_table(block) if isinstance(block, Chart) else block
        columns, body = getattr(table, "columns", ()), getattr(table, "rows", ())
        if any(column.title for column in columns):
            yield [column.title for column in columns]
        yield from (list(row) for row in body)
