"""What a report is made of, whatever it is written as: a title and blocks in their order."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Block", "Bullets", "Column", "Facts", "Heading", "Paragraph", "Report", "Table"]


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


Block = Heading | Paragraph | Facts | Bullets | Table


@dataclass(frozen=True, slots=True)
class Report:
    """A title, or none, and blocks."""

    title: str
    blocks: tuple[Block, ...]
