"""``before``: what a day would have to be like to answer the question of a session."""

from __future__ import annotations

from argparse import Namespace

from core.report.before_page import before_data, before_page
from tui.output import Result
from tui.verbs.finding import read_gain
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the plan of a day: order, pairs, minutes, fuel, and what the test cannot see.

    Raises:
        NotFoundError: no such session or slot.
        InputError: no smallest gain was said, or the test has no number.
        LogError: the log cannot be opened.
    """
    gain = read_gain(arguments.gain)
    with open_to_read(arguments) as book:
        session = book.session(arguments.session)
        asked = (book, session, gain, tuple(arguments.changed))
        page, data = before_page(*asked), before_data(*asked)
        remarks = unread(book)
    return Result(page, data, remarks=remarks)
