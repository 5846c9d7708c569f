"""Which log a command works on, and opening it: to read without a trace, or to write."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from core.errors import LogFolderError, LogReadOnlyError, UsageError

if TYPE_CHECKING:
    from core.session import Book

__all__ = [
    "VARIABLE",
    "chosen_folder",
    "default_folder",
    "make_default_parent",
    "open_to_read",
    "open_to_write",
    "unread",
]

VARIABLE = "BACKTOBACK_LOG"
"""Environment variable that names the log folder."""


def default_folder() -> Path:
    """Return where the log is when nothing else is said."""
    from platformdirs import user_data_path  # lazy: 8 ms

    return user_data_path("backtoback", appauthor=False) / "log"


def chosen_folder(arguments: Namespace) -> Path:
    """Return the log folder: ``--log``, else the environment's, else the default one.

    Raises:
        UsageError: ``--log`` is blank, or in the home of a user who has none.
    """
    if arguments.log is not None and not arguments.log.strip():
        raise UsageError("--log: which folder?", "Leave it out for the log that is your own.")
    told = arguments.log or os.environ.get(VARIABLE, "")
    if not told:
        return default_folder()
    try:
        return Path(told).expanduser()
    except RuntimeError as error:
        raise UsageError(f"{told}: {error}") from None


def make_default_parent(folder: Path) -> None:
    """Make the folders above the default log; a log named by the user is made in one there is.

    Raises:
        LogFolderError: they cannot be made.
    """
    if folder != default_folder():
        return
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        reason = error.strerror or str(error)
        raise LogFolderError(f"{folder.parent} cannot be made ({reason}).") from error


def open_to_read(arguments: Namespace) -> Book:
    """Open the log without writing anything; another process may have it open.

    Raises:
        LogFolderError: there is no log.
        LogError: it cannot be opened.
    """
    from core.session import Book  # lazy: 0.1 s

    folder = chosen_folder(arguments)
    if folder == default_folder() and not folder.exists():
        raise LogFolderError(
            f"There is no log yet ({folder}).",
            "backtoback starts one, backtoback demo shows one, --log names another.",
        )
    return Book.open(folder, read_only=True, create=False)


def open_to_write(arguments: Namespace) -> Book:
    """Open the log to write, made if it is missing.

    Raises:
        LogReadOnlyError: another process writes to it, or the disk takes nothing.
        LogError: it cannot be opened.
    """
    from core.session import Book  # lazy: 0.1 s

    folder = chosen_folder(arguments)
    make_default_parent(folder)
    book = Book.open(folder)
    if book.log.read_only:
        reason, hint = book.log.read_only_reason, book.log.read_only_hint
        book.close()
        raise LogReadOnlyError(f"Nothing was saved. {reason}", hint)
    return book


def unread(book: Book) -> tuple[str, ...]:
    """Return a sentence for each file that could not be read: what it holds is not counted."""
    return tuple(problem.sentence for problem in book.log.problems)
