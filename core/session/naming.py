"""Machines and places by name: another name, a further one, and a machine that is put away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from core.errors import InputError, NotFoundError
from core.session.book import Book
from core.session.documents import Place, PlaceHead
from core.session.finding import find_named
from core.setup import Machine, MachineHead, archive
from core.setup.shelf import checked_name

__all__ = ["also_called", "archived", "called", "find_thing", "taken_back"]

Thing = Machine | Place
"""What has a name of its own and stays in one place of the log."""


def find_thing(book: Book, word: str) -> Thing:
    """Return the machine or place of that name, former name or id, or any head of a name.

    Raises:
        NotFoundError: none fits, or more than one does.
    """
    if word.strip() == "":
        raise NotFoundError("Which machine or place?", "backtoback names lists them all.")
    machines, places = list(book.machines()), list(book.places())
    if not _fit(word, machines) and not _fit(word, places):
        hint = "backtoback names lists them all."
        raise NotFoundError(f"There is no machine and no place “{word}”.", hint)
    if not _fit(word, places):
        return book.log.get(Machine, find_named(word, machines, "machine").id)
    if not _fit(word, machines):
        return book.log.get(Place, find_named(word, places, "place").id)
    hint = "Type more of it, or its id."
    raise NotFoundError(f"“{word}” fits a machine and a place.", hint)


def _fit(word: str, heads: Iterable[MachineHead] | Iterable[PlaceHead]) -> bool:
    return any(
        head.id == word.strip() or name.startswith(_plain(word))
        for head in heads
        for name in map(_plain, (head.name, *head.aliases))
    )


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def _others(book: Book, thing: Thing) -> Iterator[str]:
    heads = book.machines() if isinstance(thing, Machine) else book.places()
    for head in heads:
        if head.id != thing.id:
            yield from map(_plain, (head.name, *head.aliases))


def _free_name(book: Book, thing: Thing, name: str) -> str:
    clean = checked_name(name)
    if _plain(clean) in set(_others(book, thing)):
        what = "machine" if isinstance(thing, Machine) else "place"
        raise InputError(f"There is another {what} called {clean} already.")
    return clean


def _with_names(thing: Thing, name: str, more: Iterable[str]) -> Thing:
    aliases = tuple(dict.fromkeys(alias for alias in more if alias != name))
    return msgspec.structs.replace(thing, name=name, aliases=aliases)


def called(book: Book, thing: Thing, name: str) -> Thing:
    """Give a machine or place another name and save it; the old one still finds it.

    Raises:
        InputError: no name, or that of another one.
        LogError: nothing was saved.
    """
    clean = _free_name(book, thing, name)
    new = _with_names(thing, clean, (*thing.aliases, thing.name))
    book.save(new)
    return new


def also_called(book: Book, thing: Thing, name: str) -> Thing:
    """Let a further name find a machine or place, such as another way to write it; save it.

    Raises:
        InputError: no name, or that of another one.
        LogError: nothing was saved.
    """
    new = _with_names(thing, thing.name, (*thing.aliases, _free_name(book, thing, name)))
    book.save(new)
    return new


def archived(book: Book, thing: Thing) -> Machine:
    """Put a machine away and save it: lists to pick from leave it out, its sessions stay.

    Raises:
        InputError: it is a place.
        LogError: nothing was saved.
    """
    away = archive(_machine(thing))
    book.save(away)
    return away


def taken_back(book: Book, thing: Thing) -> Machine:
    """Take a machine that was put away back into the lists, and save it.

    Raises:
        InputError: it is a place.
        LogError: nothing was saved.
    """
    back = msgspec.structs.replace(_machine(thing), archived=False)
    book.save(back)
    return back


def _machine(thing: Thing) -> Machine:
    if isinstance(thing, Machine):
        return thing
    raise InputError(f"{thing.name} is a place: only a machine is put away.")
