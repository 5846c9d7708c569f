"""``list``: the sessions, newest first."""

from __future__ import annotations

from argparse import Namespace

from core.report.listing import list_data, list_page, list_rows
from tui.output import Result
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the sessions that hold every word; finding none of those looked for is code 1.

    Raises:
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        rows = list_rows(book, arguments.words)
        remarks = unread(book)
    page, code = list_page(rows, arguments.words), int(bool(arguments.words) and not rows)
    return Result(page, list_data(rows), remarks=remarks, code=code)
