"""``compare``: two sessions or builds against each other."""

from __future__ import annotations

from argparse import Namespace

from core.report.comparing import comparison_data, comparison_page
from core.report.side_by_side import laid_data, laid_out, laid_page
from core.verdict import compare_sessions
from tui.output import Result
from tui.verbs.finding import read_gain
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the comparison of B against A, or of several all against A.

    Raises:
        NotFoundError: no such session, build or test.
        InputError: the two cannot be compared.
        LogError: the log cannot be opened.
    """
    gain = read_gain(arguments.gain)
    with open_to_read(arguments) as book:
        if arguments.more:
            words = (arguments.a, arguments.b, *arguments.more)
            laid = laid_out(
                book, [book.side(word) for word in words], test=arguments.test, gain=gain
            )
            return Result(laid_page(laid), laid_data(laid), remarks=unread(book))
        made = compare_sessions(
            book, arguments.a, arguments.b, test=arguments.test, gain=gain, count=True
        )
        remarks = unread(book)
    return Result(comparison_page(made), comparison_data(made), remarks=remarks)
