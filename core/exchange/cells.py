"""CSV as bare cells: which delimiter, which line each row began on, what could not be split."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

from core.exchange.defuse import defused, restored

__all__ = ["Cells", "cells_of", "line_of", "sniffed"]

DELIMITERS = (",", ";", "\t")
_LONGEST_CELL = 4_000_000  # characters; a quotation mark that never closes ends here
_QUOTED = frozenset(',;\t"\r\n')


@dataclass(frozen=True, slots=True)
class Cells:
    """One row of a CSV file as it was split."""

    line: int  # number of the line in the file that it begins on, from 1
    cells: tuple[str, ...]  # without quotation marks and apostrophes of defusing
    fault: str = ""  # why it could not be split; then without cells


def sniffed(text: str) -> str:
    """Return the delimiter of a CSV text: the one that splits its first line into most cells.

    >>> sniffed("session;machine\\n"), sniffed("session,machine")
    (';', ',')
    """
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(DELIMITERS, key=first.count)


def cells_of(text: str) -> list[Cells]:
    """Return the rows of a CSV text, blank ones left out; the first one is the header.

    A leading ``sep=;`` line, which some spreadsheets write, tells the delimiter and is no row.

    Args:
        text: the whole file; line ends of any system.
    """
    head, _, rest = text.partition("\n")
    told = head[4:5] if head.casefold().startswith("sep=") else ""
    delimiter = told if told in DELIMITERS and told else sniffed(text)
    rows = _split(rest if told else text, delimiter, first=2 if told else 1)
    if len(rows) > 1 and not text.endswith(("\n", "\r")) and not rows[-1].fault:
        last, header = rows[-1], rows[0]
        if len(last.cells) < len(header.cells):
            rows[-1] = Cells(last.line, (), "the file ends in the middle of this row")
    return rows


def _split(text: str, delimiter: str, first: int) -> list[Cells]:
    found: list[Cells] = []
    limit = csv.field_size_limit(_LONGEST_CELL)
    try:
        stream = io.StringIO(text, newline="")
        reader = csv.reader(stream, delimiter=delimiter, strict=True, skipinitialspace=True)
        while True:
            line = reader.line_num + first
            try:
                cells = next(reader)
            except StopIteration:
                return found
            except csv.Error as error:
                found.append(Cells(line, (), _said(error)))
                continue
            told = tuple(map(restored, cells))
            if any(cell.strip() for cell in told):
                found.append(Cells(line, told))
    finally:
        csv.field_size_limit(limit)


def _said(error: csv.Error) -> str:
    """Return in plain words what the reader found wrong."""
    if "unexpected end" in str(error):
        return "a quotation mark is never closed, so the file ends in the middle of a row"
    if "field larger" in str(error):
        return "a cell is too long; is a quotation mark not closed?"
    return "a quotation mark stands in the middle of a cell"


def line_of(cells: Iterable[str]) -> str:
    """Return one row as a line of CSV with commas, defused, quoted where needed.

    >>> print(line_of(["S01", "=2", "a, b", '2" pipe', "x"]), end="")
    S01,'=2,"a, b","2"" pipe",x
    """
    return ",".join(map(_quoted, cells)) + "\n"


def _quoted(text: str) -> str:
    cell = defused(text)
    if _QUOTED.isdisjoint(cell) and cell == cell.strip():
        return cell
    return '"' + cell.replace('"', '""') + '"'
