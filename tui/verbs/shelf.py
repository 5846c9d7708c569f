"""``shelf``: parts, one part's card, what is due, a shopping list; and what was done to a part."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable

from core.ask import Asker
from core.errors import UsageError
from core.report import Paragraph, Report
from core.report.shelf_pages import (
    due_data,
    due_page,
    part_card,
    part_data,
    shelf_page,
    shopping_blocks,
)
from core.session import Book
from core.setup import Part, shopping
from core.shelf import (
    add_part,
    due_of,
    find_part,
    has_come,
    histories,
    join_parts,
    link_to,
    move_part,
    name_part,
    order_part,
    retire_part,
    set_interval,
    slot_ids,
    split_part,
    want_part,
)
from tui.output import Result
from tui.verbs.opening import open_to_read, open_to_write, unread

__all__ = ["run"]

_ACTIONS: dict[str, Callable[[Book, Part, str], str]] = {
    "rename": name_part,
    "retire": retire_part,
    "want": lambda book, part, _: want_part(book, part),
    "order": lambda book, part, _: order_part(book, part),
    "came": lambda book, part, _: has_come(book, part),
    "move": move_part,
    "link": link_to,
    "same_as": lambda book, part, other: join_parts(book, find_part(book, other), part),
}
"""By option: what is done to the part named."""


def run(arguments: Namespace) -> Result:
    """Show the shelf or change one part of it.

    Raises:
        NotFoundError: no such part, slot, machine or interval.
        InputError: what is to be done cannot be.
        LogError: the log cannot be opened, or takes nothing.
    """
    words = " ".join(arguments.words)
    action = next((name for name in _ACTIONS if getattr(arguments, name)), "")
    if action or arguments.new or arguments.split or arguments.interval:
        with open_to_write(arguments) as book:
            sentence = _done(book, arguments, action, words)
        return Result(Report("", (Paragraph(sentence),)), {"done": sentence})
    with open_to_read(arguments) as book:
        result = _shown(book, arguments, words)
        return Result(result.report, result.data, remarks=unread(book))


def _done(book: Book, arguments: Namespace, action: str, words: str) -> str:
    if arguments.interval:
        return set_interval(book, arguments.interval)
    if arguments.new:
        return add_part(book, words, arguments.new)
    if not words:
        raise UsageError("Which part?", "backtoback shelf lists them all.")
    part = find_part(book, words)
    if arguments.split:
        return split_part(book, part, arguments.split, arguments.machine, arguments.since)
    given = getattr(arguments, action)
    return _ACTIONS[action](book, part, given if isinstance(given, str) else "")


def _shown(book: Book, arguments: Namespace, words: str) -> Result:
    if arguments.due:
        asker = Asker(book, words)
        found = due_of(book, asker.machine) if asker.machine else ()
        return Result(due_page(asker.machine_name or "No machine", found), due_data(found))
    if arguments.shopping:
        rows = shopping(slot_ids(arguments.shopping), book.log.all(Part))
        data = [{"what": n.what, "status": n.status, "because": n.because} for n in rows]
        return Result(Report("To buy or have at hand", tuple(shopping_blocks(rows))), data)
    past = histories(book)
    if words:
        found_part = past[find_part(book, words).id]
        return Result(part_card(book, found_part), part_data(book, found_part))
    return Result(shelf_page(book, past), [part_data(book, one) for one in past.values()])
