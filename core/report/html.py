"""A report as one HTML file that needs nothing else: style, pictures and text in it."""

from __future__ import annotations

from functools import cache
from math import sqrt
from pathlib import Path
from typing import TYPE_CHECKING, Final

from core.report.document import (
    Bullets,
    Chart,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
    chart_table,
)
from core.report.svg import as_svg
from core.report.width import visible

if TYPE_CHECKING:
    from jinja2 import Template

__all__ = ["as_html", "print_size"]

_TEMPLATES: Final = Path(__file__).with_name("templates")
_USUAL, _LEAST = 8.0, 4.2  # pt of print, usual and smallest
_LINES_AT_USUAL = 170  # lines of three columns that fit an A4 page at the usual size
_LETTERS = 40  # of a line in one of the three columns at the usual size


@cache
def _template() -> Template:
    import jinja2  # lazy: 60 ms

    loader = jinja2.FileSystemLoader(_TEMPLATES)
    room = jinja2.Environment(
        loader=loader, autoescape=True, trim_blocks=True, lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )  # fmt: skip
    room.filters["shown"] = visible
    return room.get_template("report.html")


def as_html(report: Report) -> str:
    """Return the report as a whole HTML page; text of the user's is never taken for markup.

    It holds no script and asks nothing of the network. On a phone it is one column; printed it is
    three, in a size that puts an ordinary session on one A4 page.
    """
    import markupsafe  # lazy: with jinja2

    sections: list[tuple[str, list[tuple[str, object]]]] = [("", [])]
    for block in report.blocks:
        if isinstance(block, Heading):
            sections.append((block.text, []))
            continue
        kind: str = type(block).__name__.lower()
        shown: object = block
        if isinstance(block, Chart):
            drawn = as_svg(block.picture, block.title)
            kind, shown = ("chart", (block.title, markupsafe.Markup(drawn)))  # noqa: S704  our own
            if not drawn:
                kind, shown = "table", chart_table(block)
        sections[-1][1].append((kind, shown))
    filled = [section for section in sections if section[1] or section[0]]
    return _template().render(title=report.title, sections=filled, size=f"{print_size(report):.2f}")


def print_size(report: Report) -> float:
    """Return the size of print, pt, at which the report fits one A4 page, as far as it can be told.

    Half the size holds four times the text; below 4.2 pt nobody reads it, and it runs on.
    """
    lines = sum(_weight(block) for block in report.blocks) + 3.0
    return max(_LEAST, min(_USUAL, _USUAL * sqrt(_LINES_AT_USUAL / lines)))


def _weight(block: object) -> float:
    """About how many lines a block takes in one column."""
    if isinstance(block, Heading):
        return 2.2
    if isinstance(block, Paragraph):
        return 0.6 + sum(1 + len(line) // _LETTERS for line in block.text.split("\n"))
    if isinstance(block, Bullets):
        return 0.4 + sum(1 + len(item) // _LETTERS for item in block.items)
    if isinstance(block, Facts):
        return 0.4 + sum(1 + len(value) // (_LETTERS * 2 // 3) for _, value in block.rows)
    if isinstance(block, Table):
        longest = (max((len(cell) for cell in row), default=0) for row in block.rows)
        return 1.8 + sum(1.15 + cell // (_LETTERS * 2 // 3) for cell in longest)
    return 4.0 + 1.3 * len(block.picture.rows) if isinstance(block, Chart) else 1.0
