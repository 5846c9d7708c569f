"""How a CSV is laid out: delimiter, decimal sign, names of the columns, where rows begin."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from typing import Final, Literal

import msgspec

from core.errors import InputError

__all__ = ["DELIMITERS", "Layout", "cells_of", "find_layout", "is_value", "text_and_encoding"]

DELIMITERS: Final = (";", "\t", ",", "|")

_LOOKED_AT: Final = 60  # lines
_MOST_COLUMNS: Final = 400
_VALUE: Final = re.compile(
    r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?"  # a number
    r"|\d{1,2}:\d\d:\d\d([.,]\d+)?Z?"  # a clock
    r"|\d{4}[-/]\d\d[-/]\d\d([T ]\d\d:\d\d(:\d\d([.,]\d+)?)?\s?(Z|[+-]\d\d:?\d\d)?)?"  # a moment
    r"|\d{1,2}[./]\d{1,2}[./]\d{4}"  # a date
)
_BOMS_16: Final = (b"\xff\xfe", b"\xfe\xff")
_CONTROL: Final = frozenset(range(9)) | frozenset(range(14, 32)) - {27}


class Layout(msgspec.Struct, frozen=True):
    """How one CSV is laid out."""

    delimiter: str
    decimal: Literal[".", ","]
    header: tuple[str, ...]  # names of the columns; ``column 1`` and so on where none are given
    units: tuple[str, ...]  # of the units row, as many; none where there is none
    first_row: int  # number of the line with the first values
    encoding: str
    sample: tuple[tuple[str, ...], ...]  # the first rows as cells

    @property
    def key(self) -> str:
        """The header as one text, by which confirmed columns are remembered."""
        names = [" ".join(name.casefold().split()) for name in self.header]
        units = [" ".join(unit.casefold().split()) for unit in self.units]
        return "|".join(names) + ("||" + "|".join(units) if units else "")

    @property
    def named(self) -> bool:
        """Whether the file itself names its columns."""
        return self.header != tuple(_numbered(len(self.header)))


def text_and_encoding(head: bytes, name: str) -> tuple[str, str]:
    """Return the first bytes of a text file as text, and the encoding.

    Args:
        head: of the file.
        name: of the file.

    Raises:
        InputError: it is no text, or UTF-16.
    """
    if head.startswith(_BOMS_16):
        raise InputError(f"{name} is UTF-16 text.", "Save it as UTF-8.")
    odd = sum(byte in _CONTROL for byte in head[:4096])
    if odd > 0.02 * len(head[:4096]):
        raise InputError(f"{name} is not a text file.")
    try:
        return head.decode("utf-8-sig"), "utf-8-sig"
    except UnicodeDecodeError as error:
        if error.start >= len(head) - 4:  # cut within a character
            return head[: error.start].decode("utf-8-sig"), "utf-8-sig"
        return head.decode("cp1252", "replace"), "cp1252"


def cells_of(line: str, delimiter: str) -> list[str]:
    """Return the cells of one line; a quote that is not closed makes it a single odd cell."""
    if '"' not in line:
        return line.split(delimiter)
    if line.count('"') % 2:
        return [line]
    return next(csv.reader([line], delimiter=delimiter), [])


def is_value(cell: str) -> bool:
    """Tell whether a cell holds a number, a clock, a date or a moment."""
    return _VALUE.fullmatch(cell.strip()) is not None


def find_layout(text: str, name: str, encoding: str = "utf-8-sig") -> Layout:
    """Return how a CSV is laid out, from its first lines.

    Args:
        text: the first lines of the file.
        name: of the file, for sentences.
        encoding: of the file.

    Raises:
        InputError: no columns of values can be made out.
    """
    lines = re.split(r"\r\n|\n|\r", text)
    declared = lines[0][4:5] if lines[0].casefold().startswith("sep=") else ""
    tried = (declared,) if declared in DELIMITERS and declared else DELIMITERS
    found = [(_score(lines, delimiter), delimiter) for delimiter in tried]
    score, delimiter = max(found, key=lambda item: item[0])
    if score <= 0:
        raise InputError(f"{name} is no table: no columns of numbers can be made out in it.")
    rows = [cells_of(line, delimiter) for line in lines]
    first = _first_row(rows)
    width = len(rows[first])
    header, units = _names_above(rows[:first], width)
    values = [row for row in rows[first : first + _LOOKED_AT] if len(row) == width]
    return Layout(
        delimiter,
        _decimal(values, delimiter),
        tuple(header) or tuple(_numbered(width)),
        tuple(units),
        first + 1,
        encoding,
        tuple(tuple(cell.strip() for cell in row) for row in values),
    )


def _numbered(width: int) -> list[str]:
    return [f"column {number}" for number in range(1, width + 1)]


def _score(lines: Sequence[str], delimiter: str) -> float:
    """How much like a table the lines are with a delimiter: rows alike, cells that are values."""
    rows = [cells_of(line, delimiter) for line in lines[: _LOOKED_AT * 2] if line.strip()]
    good = [row for row in rows if _is_row(row)]
    if not good:
        return 0.0
    widths = [len(row) for row in good]
    width = max(set(widths), key=widths.count)
    cells = [cell for row in good if len(row) == width for cell in row if cell.strip()]
    share = sum(map(is_value, cells)) / len(cells)
    return widths.count(width) * share + min(width, 20) / 100


def _is_row(row: Sequence[str]) -> bool:
    """Whether most cells of a row are values."""
    filled = [cell for cell in row if cell.strip()]
    if not 2 <= len(row) <= _MOST_COLUMNS or not filled:
        return False
    return sum(map(is_value, filled)) >= max(2, 0.5 * len(filled))


def _first_row(rows: Sequence[Sequence[str]]) -> int:
    """Place of the first row of values, of the width that most have."""
    widths = [len(row) for row in rows if _is_row(row)]
    width = max(set(widths), key=widths.count)
    return next(i for i, row in enumerate(rows) if len(row) == width and _is_row(row))


def _names_above(rows: Sequence[Sequence[str]], width: int) -> tuple[list[str], list[str]]:
    """Names of the columns and their units, from the lines above the first values."""
    full = [row for row in rows if len(row) == width and any(cell.strip() for cell in row)]
    if not full:
        return [], []
    if len(full) > 1 and all(len(cell.strip()) <= 12 for cell in full[-1]):
        names, units = full[-2], [cell.strip() for cell in full[-1]]
    else:
        names, units = full[-1], []
    cleaned = [" ".join(cell.split()) for cell in names]
    seen: dict[str, int] = {}
    for place, cell in enumerate(cleaned):
        word = cell or f"column {place + 1}"
        seen[word] = seen.get(word, 0) + 1
        cleaned[place] = word if seen[word] == 1 else f"{word} ({seen[word]})"
    return cleaned, units


def _decimal(rows: Sequence[Sequence[str]], delimiter: str) -> Literal[".", ","]:
    """The decimal sign that most numbers have."""
    if delimiter == ",":
        return "."
    cells = [cell.strip() for row in rows for cell in row]
    commas = sum(bool(re.fullmatch(r"[+-]?\d*,\d+", cell)) for cell in cells)
    points = sum(bool(re.fullmatch(r"[+-]?\d*\.\d+", cell)) for cell in cells)
    return "," if commas > points else "."
