"""``names``: machines and places; another name, a further one, or a machine that is put away."""

from __future__ import annotations

from argparse import Namespace
from collections import Counter
from typing import Any

from core.errors import UsageError
from core.report import Column, Paragraph, Report, Table
from core.session import Book, Place
from core.session.naming import also_called, archived, called, find_thing, taken_back
from core.setup import Machine
from tui.output import Result
from tui.verbs.opening import open_to_read, open_to_write, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """List machines and places, or change one of them.

    Raises:
        NotFoundError: none has that name, or several have.
        InputError: it cannot be called or put away so.
        LogError: the log cannot be opened, or takes nothing.
    """
    words = " ".join(arguments.words)
    if arguments.rename or arguments.also or arguments.archive or arguments.back:
        if not words:
            raise UsageError("Which machine or place?", "backtoback names lists them all.")
        with open_to_write(arguments) as book:
            sentence = _done(book, arguments, words)
        return Result(Report("", (Paragraph(sentence),)), {"done": sentence})
    with open_to_read(arguments) as book:
        rows = _rows(book, words)
        return Result(_page(rows), rows, remarks=unread(book))


def _done(book: Book, arguments: Namespace, words: str) -> str:
    thing = find_thing(book, words)
    if arguments.rename:
        return f"{thing.name} is called {called(book, thing, arguments.rename).name} now."
    if arguments.also:
        new = also_called(book, thing, arguments.also)
        return f"{new.name} is found by these as well: {', '.join(new.aliases)}."
    if arguments.archive:
        said = "its sessions stay, and no list to pick from shows it"
        return f"{archived(book, thing).name} is put away: {said}."
    return f"{taken_back(book, thing).name} is in the lists again."


def _rows(book: Book, words: str) -> list[dict[str, Any]]:
    """Return what the list shows of each, as plain data."""
    heads = book.sessions()
    ran = Counter(h.machine for h in heads) + Counter(h.place for h in heads)
    things: list[Machine | Place] = [*book.log.all(Machine), *book.log.all(Place)]
    if words:
        things = [find_thing(book, words)]
    return [
        {
            "id": thing.id,
            "what": "machine" if isinstance(thing, Machine) else "place",
            "name": thing.name,
            "also": list(thing.aliases),
            "sessions": ran[thing.id],
            "archived": isinstance(thing, Machine) and thing.archived,
        }
        for thing in sorted(things, key=lambda t: (isinstance(t, Place), t.name.casefold()))
    ]


def _page(rows: list[dict[str, Any]]) -> Report:
    if not rows:
        return Report("", (Paragraph("No machine and no place yet."),))
    columns = (
        Column("name"), Column("what"), Column("sessions", right=True), Column("also called"),
    )  # fmt: skip
    cells = tuple(
        (
            row["name"],
            f"{row['what']}, put away" if row["archived"] else row["what"],
            str(row["sessions"]),
            ", ".join(row["also"]),
        )
        for row in rows
    )
    return Report("", (Table(columns, cells),))
