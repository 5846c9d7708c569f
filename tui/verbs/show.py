"""``show``: one session, as much as fits a person's question."""

from __future__ import annotations

from argparse import Namespace

from core.report.session_data import session_data
from core.report.session_pages import session_page
from tui.output import Result
from tui.verbs.finding import the_session
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the session that a word names.

    Raises:
        NotFoundError: no such session or build.
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        session = the_session(book, arguments.session)
        page, data = session_page(book, session), session_data(book, session)
        return Result(page, data, remarks=unread(book))
