"""``merge``: another log into this one, by id; what contradicts is for the user to decide."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.errors import UsageError
from core.exchange.merge import Decision, apply_merge, plan_merge, read_decision, source_of
from core.report.merging import merge_data, merge_page
from core.session import Book
from tui.output import Result
from tui.verbs.opening import open_to_read, open_to_write

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Merge, and return what became of it; the exit code is 1 while conflicts are left.

    Raises:
        UsageError: a decision fits no conflict.
        InputError: the other is this log, or no log.
        LogError: a log cannot be opened, or takes nothing more.
    """
    decisions = _decisions(arguments)
    if arguments.check_only and decisions:
        raise UsageError("--check-only decides nothing.", "Leave out --here, --there and --both.")
    opened = open_to_read(arguments) if arguments.check_only else open_to_write(arguments)
    with opened as book:
        return _merged(book, arguments, decisions)


def _merged(book: Book, arguments: Namespace, decisions: dict[str, Decision]) -> Result:
    source = source_of(book, Path(arguments.other) if arguments.other else None)
    plan = plan_merge(book, source)
    merged = None if arguments.check_only else apply_merge(book, plan, decisions)
    still = merged.open if merged is not None else plan.clashes
    clean = not still and not plan.left_out and not source.in_part
    return Result(merge_page(plan, merged), merge_data(plan, merged), code=0 if clean else 1)


def _decisions(arguments: Namespace) -> dict[str, Decision]:
    found: dict[str, Decision] = {}
    for which in ("here", "there", "both"):
        for text in getattr(arguments, which):
            name, decision = read_decision(text, which)
            if name in found:
                raise UsageError(f"{name} is decided twice.")
            found[name] = decision
    return found
