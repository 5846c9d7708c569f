"""``changes``: what differs between two setup sheets."""

from __future__ import annotations

from argparse import Namespace

from core.report.changing import changed_between, changed_data, changed_page
from tui.output import Result
from tui.verbs.opening import open_to_read

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return what changed from A to B.

    Raises:
        NotFoundError: no such session or build.
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        found = changed_between(book, arguments.a, arguments.b)
    return Result(changed_page(found), changed_data(found))
