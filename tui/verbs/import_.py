"""``import``: files into the log."""

from __future__ import annotations

import sys
import tempfile
from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from core.errors import BackToBackError, InputError, LogError, UsageError
from core.exchange import Imported, format_of_text, import_text, read_text, text_of
from core.report.importing import import_data, import_page
from core.session import Book
from tui.output import Result
from tui.verbs.opening import chosen_folder, open_to_read, open_to_write, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Read the files in, one after the other; one that is refused does not hold up the others.

    Raises:
        LogError: the log cannot be opened, or takes nothing more.
    """
    texts, refused = _texts(arguments.files)
    outcomes: list[Imported] = []
    lost: tuple[str, ...] = ()
    if texts:
        with _opened(arguments) as book:
            for name, text in texts:
                try:
                    check = arguments.check_only
                    outcomes.append(import_text(book, text, name, check_only=check))
                except LogError:
                    raise
                except BackToBackError as error:
                    refused.append(error)
            lost = unread(book)
    clean = not refused and all(outcome.is_clean for outcome in outcomes)
    said = tuple(f"{e.message} ({e.hint})" if e.hint else e.message for e in refused)
    data = [*import_data(outcomes), *({"file": None, "error": e.message} for e in refused)]
    return Result(import_page(outcomes), data, remarks=(*lost, *said), code=0 if clean else 1)


def _texts(files: list[str]) -> tuple[list[tuple[str, str]], list[BackToBackError]]:
    """Return the texts of the files with their names, and the refusals of the others."""
    texts: list[tuple[str, str]] = []
    refused: list[BackToBackError] = []
    for file in files:
        name = "standard input" if file == "-" else file
        try:
            text = _stdin() if file == "-" else read_text(Path(file))
            format_of_text(text, name)
        except InputError as error:
            refused.append(error)
        else:
            texts.append((name, text))
    return texts, refused


def _stdin() -> str:
    if sys.stdin is None or sys.stdin.closed:
        raise InputError("Standard input is closed: there is nothing to read in.")
    if sys.stdin.isatty():
        raise UsageError("Standard input is the keyboard.", "Give a file, or pipe one in.")
    return text_of(sys.stdin.buffer.read(), "standard input")


@contextmanager
def _opened(arguments: Namespace) -> Iterator[Book]:
    """Open the log: to write, or only to look; a log that is not there yet looks empty."""
    if not arguments.check_only:
        with open_to_write(arguments) as book:
            yield book
    elif chosen_folder(arguments).exists():
        with open_to_read(arguments) as book:
            yield book
    else:
        with tempfile.TemporaryDirectory() as folder, Book.open(Path(folder) / "log") as book:
            yield book
