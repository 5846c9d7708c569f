"""``sheet``: one session with everything, to be printed."""

from __future__ import annotations

from argparse import Namespace

from core.report.session_pages import session_sheet
from tui.output import Result
from tui.verbs.finding import the_session
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the printable page of the session that a word names.

    Raises:
        NotFoundError: no such session or build.
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        page = session_sheet(book, the_session(book, arguments.session))
        return Result(page, remarks=unread(book))
