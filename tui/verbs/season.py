"""``season``: a machine's results on one test over time."""

from __future__ import annotations

from argparse import Namespace

from core.report.season_pages import season_data, season_page
from tui.output import Result
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the season of the machine and test that the words name.

    Raises:
        NotFoundError: the machine has no attempts, or ran no such test.
        LogError: the log cannot be opened.
    """
    words = " ".join(arguments.words)
    with open_to_read(arguments) as book:
        page, data = season_page(book, words), season_data(book, words)
        return Result(page, data, remarks=unread(book))
