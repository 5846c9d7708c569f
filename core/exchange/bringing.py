"""A file of any sort that the tool reads, into a log."""

from __future__ import annotations

from pathlib import Path

from core.exchange.csv_in import import_csv
from core.exchange.files import format_of_text, read_text
from core.exchange.lines_in import import_lines
from core.exchange.results import Imported
from core.session import Book

__all__ = ["import_file", "import_text"]


def import_file(book: Book, path: Path, *, check_only: bool = False) -> Imported:
    """Read a CSV of attempts, or a whole log as JSON lines, into a log.

    Args:
        book: an open log, to write unless ``check_only``.
        path: the file; what it is, is told by what it holds.
        check_only: say what would happen, and save nothing.

    Raises:
        InputError: no such file, or not one of the two.
        LogError: the log takes nothing; what was saved before stays.
    """
    return import_text(book, read_text(path), str(path), check_only=check_only)


def import_text(book: Book, text: str, name: str, *, check_only: bool = False) -> Imported:
    """Read the text of such a file; arguments and refusals as for `import_file`."""
    if format_of_text(text, name) == "lines":
        return import_lines(book, text, name, check_only=check_only)
    return import_csv(book, text, name, check_only=check_only)
