"""``export --parquet``: attempts and blocks as Parquet files in a folder."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.errors import BackToBackError, UsageError
from core.exchange import plural
from core.report import Paragraph, Report
from core.verdict.fleet import ATTEMPTS, BLOCK_FILE, BLOCKS, attempt_rows, block_rows, write_table
from tui.output import Result
from tui.verbs.opening import chosen_folder, open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Write the two tables into a folder, made if it is missing.

    Raises:
        UsageError: no folder is named, it is a file, or it is in the log folder.
        LogError: the log cannot be opened.
        BackToBackError: DuckDB is not installed, or a file cannot be written.
    """
    folder = _folder(arguments)
    with open_to_read(arguments) as book:
        _make(folder)
        attempts = write_table(attempt_rows(book), ATTEMPTS, folder / "attempts.parquet")
        blocks = write_table(block_rows(book), BLOCKS, folder / BLOCK_FILE)
        remarks = unread(book)
    said = (
        f"{plural(attempts, 'attempt')} written to {folder / 'attempts.parquet'}, "
        f"{plural(blocks, 'block')} to {folder / BLOCK_FILE}."
    )
    return Result(Report("", (Paragraph(said),)), remarks=remarks, code=1 if remarks else 0)


def _folder(arguments: Namespace) -> Path:
    if arguments.file in (None, "-"):
        raise UsageError("--parquet writes two files.", "Name a folder for them.")
    folder = Path(arguments.file).expanduser()
    log = chosen_folder(arguments).resolve()
    if folder.resolve() == log or log in folder.resolve().parents:
        raise UsageError(f"{folder} would stand inside the log folder.", "Write it elsewhere.")
    if folder.exists() and not folder.is_dir():
        raise UsageError(f"{folder} is a file.", "Name a folder.")
    return folder


def _make(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise BackToBackError(f"{folder} cannot be made ({error.strerror or error}).") from error
