"""``report``: a page to keep or to post, as text, Markdown, HTML or CSV."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.errors import UsageError
from core.report import Column, Paragraph, Report, Table
from core.report.reports import FORMS, REPORTS, made_report, written
from tui.output import Result
from tui.verbs.opening import open_to_read, unread
from tui.writing import write_whole

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return a report, or write it to a file.

    Raises:
        NotFoundError: no such report or form, or nothing of the name.
        UsageError: the file cannot be one.
        LogError: the log cannot be opened.
    """
    if not arguments.kind:
        return Result(_listing())
    form = _form(arguments)
    with open_to_read(arguments) as book:
        words = tuple(arguments.words)
        page = made_report(book, arguments.kind, words, hide=arguments.hide)
        remarks = unread(book)
    if not arguments.out and form == "text":
        return Result(page, remarks=remarks)
    data = written(page, form).encode()
    if not arguments.out:
        return Result(raw=data, remarks=remarks)
    path = Path(arguments.out).expanduser()
    if path.is_dir():
        raise UsageError(f"--out: {path} is a folder.")
    write_whole(path, data)
    return Result(Report("", (Paragraph(f"Written to {path}."),)), remarks=remarks)


def _form(arguments: Namespace) -> str:
    """The form asked for, else the one that the file's name tells, else text."""
    if arguments.form:
        if arguments.form not in FORMS:
            raise UsageError(f"--as: there is no form “{arguments.form}”.",
                             f"One of: {', '.join(FORMS)}.")  # fmt: skip
        return str(arguments.form)
    suffix = Path(arguments.out).suffix.casefold()
    by_suffix = {form.suffix: name for name, form in FORMS.items()} | {".htm": "html"}
    return by_suffix.get(suffix, "text")


def _listing() -> Report:
    columns = (Column("report"), Column("what", flexible=True), Column("about", flexible=True))
    rows = tuple((row.name, row.words, row.about) for row in REPORTS.values())
    more = f"Each with --as {', '.join(FORMS)}; --out FILE; --hide for posting."
    return Report("", (Table(columns, rows, wraps=True), Paragraph(more)))
