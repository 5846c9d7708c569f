"""``health``: every document read, and what is wrong with any of them."""

from __future__ import annotations

from argparse import Namespace

from core.report.health import health_data, health_of, health_page
from tui.output import Result
from tui.verbs.opening import open_to_read

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the health of the log; the exit code is 1 when anything is wrong.

    Raises:
        LogError: the log cannot be opened.
    """
    with open_to_read(arguments) as book:
        found = health_of(book)
    return Result(health_page(found), health_data(found), code=0 if found.is_sound else 1)
