"""``export``: the log to a file or to standard output."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.errors import UsageError
from core.exchange import export_csv, export_lines, plural
from core.report import Paragraph, Report
from core.session import Book
from tui.output import Result
from tui.verbs.opening import chosen_folder, open_to_read
from tui.writing import write_whole

__all__ = ["run"]

_LINES_SUFFIXES = (".jsonl", ".ndjson", ".json")


def run(arguments: Namespace) -> Result:
    """Write the attempts as CSV, or the whole log as JSON lines.

    Raises:
        UsageError: the file would stand in the log folder itself, or is a folder.
        LogError: the log cannot be opened.
        BackToBackError: the file cannot be written.
    """
    if arguments.parquet:
        from tui.verbs.parquet import run as write_parquet  # lazy: 0.1 s

        return write_parquet(arguments)
    path = Path(arguments.file).expanduser() if arguments.file not in (None, "-") else None
    if path is not None:
        path = path.resolve() if path.is_symlink() else path
        _check(path, chosen_folder(arguments))
    named_lines = path is not None and path.suffix.lower() in _LINES_SUFFIXES
    as_lines = arguments.lines or (named_lines and not arguments.csv)
    with open_to_read(arguments) as book:
        data, count, left_out = _lines(book) if as_lines else _csv(book)
    code = 1 if left_out else 0
    if path is None:
        return Result(raw=data, remarks=left_out, code=code)
    write_whole(path, data)
    said = f"{plural(count, 'document' if as_lines else 'row')} written to {path}."
    return Result(Report("", (Paragraph(said),)), remarks=left_out, code=code)


def _csv(book: Book) -> tuple[bytes, int, tuple[str, ...]]:
    made = export_csv(book)
    told = " ".join(made.left_out)
    unread = tuple(p.sentence for p in book.log.problems if p.file not in told)
    return made.data, made.rows, (*made.left_out, *unread)


def _lines(book: Book) -> tuple[bytes, int, tuple[str, ...]]:
    lines = list(export_lines(book))
    problems = tuple(f"Left out: {problem.sentence}" for problem in book.log.problems)
    return b"".join(lines), len(lines) - 1, problems


def _check(path: Path, log: Path) -> None:
    if path.is_dir():
        raise UsageError(f"{path} is a folder.", "Name a file in it.")
    if log.resolve() in path.resolve().parents:
        raise UsageError(f"{path} would stand inside the log folder.", "Write it elsewhere.")
