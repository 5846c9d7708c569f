"""What a report is made of, whatever it is written as: a title and blocks in their order."""

from __future__ import annotations

from dataclasses import dataclass

from core.report.pictures import Picture

__all__ = [
    "Block",
    "Bullets",
    "Chart",
    "Column",
    "Facts",
    "Heading",
    "Paragraph",
    "Report",
    "Table",
    "chart_table",
]


@dataclass(frozen=True, slots=True)
class Heading:
    """The start of a part of the report."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; its own line ends are kept."""

    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with their values, one below the other."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list of sentences."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    title: str
    right: bool = False  # flush right, for numbers
    flexible: bool = False  # gives way when the table is too wide


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under columns; a cell that is too long is cut, or wrapped where ``wraps`` says so."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    wraps: bool = False


@dataclass(frozen=True, slots=True)
class Chart:
    """A picture of rows on one axis; where nothing can be drawn, its rows as a table."""

    title: str
    picture: Picture


Block = Heading | Paragraph | Facts | Bullets | Table | Chart


def chart_table(chart: Chart) -> Table:
    """Return the rows of a picture as a table; what does not count stands in brackets."""
    columns = (
        Column(chart.title, flexible=True),
        Column(f"result {chart.picture.unit}".rstrip(), right=True),
        Column("rests on", flexible=True),
        Column("values", flexible=True),
    )
    decimals = chart.picture.decimals
    rows = []
    for row in chart.picture.rows:
        dots = (
            f"{dot.value:.{decimals}f}" if dot.mark != "struck" else f"({dot.value:.{decimals}f})"
            for dot in row.dots
        )
        rows.append((row.label, row.said, row.note, " ".join(dots)))
    return Table(columns, tuple(rows), wraps=True)


@dataclass(frozen=True, slots=True)
class Report:
    """A title, or none, and blocks."""

    title: str
    blocks: tuple[Block, ...]
