"""``effects``: what each part did, over all sessions of a machine and test."""

from __future__ import annotations

from argparse import Namespace

from core.report.effects_page import effects_data, effects_page
from core.verdict.effects import effects_of
from tui.output import Result
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return what each part did.

    Raises:
        NotFoundError: no such machine or test, or an empty log.
        InputError: the test gives no number.
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        found = effects_of(book, arguments.machine, arguments.test, allow=not arguments.raw)
        remarks = unread(book)
    return Result(effects_page(found), effects_data(found), remarks=remarks)
