"""``next``: which swap would tell most, with a ready plan."""

from __future__ import annotations

from argparse import Namespace

from core.report.next_page import next_data, next_page
from core.verdict.next import next_test
from tui.output import Result
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the swaps that could be tested next, with the plan of the first.

    Raises:
        NotFoundError: no such machine, test or slot, or an empty log.
        InputError: the test gives no number.
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        found = next_test(book, arguments.machine, arguments.test, arguments.about)
        remarks = unread(book)
    return Result(next_page(found), next_data(found), remarks=remarks)
