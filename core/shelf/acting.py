"""What a person does to a part on the shelf: each action saved at once, and told in a sentence."""

from __future__ import annotations

import re
from datetime import date
from typing import Literal

import msgspec

from core.errors import InputError, NotFoundError
from core.session import Book
from core.setup import (
    INTERVALS,
    Interval,
    Machine,
    Part,
    came,
    find_slot,
    fit,
    linked,
    make_one,
    new_part,
    order,
    part_readings,
    put_interval,
    rename,
    retire,
    settle,
    slot_of,
    split,
    supply_part,
    want,
)
from core.setup.fitting import ask_two_machines
from core.setup.supplies import SUPPLIES
from core.units import read_number

__all__ = [
    "add_part",
    "find_machine",
    "find_part",
    "has_come",
    "join_parts",
    "link_to",
    "move_part",
    "name_part",
    "order_part",
    "retire_part",
    "set_interval",
    "slot_ids",
    "split_part",
    "want_part",
]

ShelfStatus = Literal["wanted", "ordered", "here"]

_FIGURE = re.compile(r"([\d.,]+)\s*(h|hours?|attempts?|d|days?|uses?)")
_FIGURES = {"h": "hours", "a": "attempts", "d": "days", "u": "uses"}


def find_part(book: Book, words: str) -> Part:
    """Return the part of that name, former name or id, or of any head of a name that fits only it.

    Raises:
        NotFoundError: none, or more than one.
    """
    sought = " ".join(words.split()).casefold()
    heads = [head for head in book.parts() if not head.same_as]
    names = {h.id: [n.casefold() for n in (h.name, *h.aliases)] for h in heads}
    whole = [h for h in heads if h.id == words.strip() or h.name.casefold() == sought]
    whole = whole or [h for h in heads if sought in names[h.id]]
    found = whole or [h for h in heads if sought and any(n.startswith(sought) for n in names[h.id])]
    if len(found) == 1:
        return book.log.get(Part, found[0].id)
    if found:
        listed = ", ".join(f"{h.name} ({h.id})" for h in found[:5])
        raise NotFoundError(f"“{words}” fits {len(found)} parts: {listed}.", "Say the id.")
    raise NotFoundError(f"There is no part “{words}”.", "backtoback shelf lists them all.")


def find_machine(book: Book, words: str) -> Machine:
    """Return the machine of that name or id, or one of whose words the typed one begins.

    Raises:
        NotFoundError: none, or more than one.
    """
    try:
        return book.machine(words)
    except NotFoundError:
        sought = words.strip().casefold()
        found = [
            head.id
            for head in book.machines()
            if sought and any(w.startswith(sought) for w in head.name.casefold().split())
        ]
        if len(found) != 1:
            raise
        return book.log.get(Machine, found[0])


def add_part(book: Book, name: str, slot: str, *, status: ShelfStatus = "here") -> str:
    """Put a new part, or something that is used up, on the shelf.

    Args:
        book: open to write.
        name: nickname; empty for a supply: its own words.
        slot: id or any name of a part slot, or the name of a supply such as ``clay``.
        status: ``here``, ``wanted`` or ``ordered``.

    Raises:
        InputError: no name, or the slot holds no part.
        NotFoundError: no such slot.
    """
    supply = next((s for s in SUPPLIES if slot.casefold() in (s.id, s.words)), None)
    if supply is not None and supply.id not in _slots():
        part = supply_part(supply, book.fresh_id())
        part = rename(part, name) if name.strip() else part
    else:
        part = new_part(name, slot, book.fresh_id(), book.clock())
    part = msgspec.structs.replace(part, status=status)
    book.save(part)
    twins = [h for h in book.parts() if h.name.casefold() == part.name.casefold()]
    twin = " There is another one of that name." if len(twins) > 1 else ""
    return f"{part.name} is on the shelf as {part.status}, for {slot_of(part.slot).label}.{twin}"


def _slots() -> frozenset[str]:
    return frozenset(s.id for s in SUPPLIES if slot_of(s.id).kind == "part")


def name_part(book: Book, part: Part, name: str) -> str:
    """Give a part another name; old sheets keep the name of then."""
    after = rename(part, name)
    if after == part:
        return f"It is called {part.name} already."
    book.save(after)
    twin = any(h.id != part.id and h.name.casefold() == after.name.casefold() for h in book.parts())
    more = " Another part has that name as well." if twin else ""
    return f"{part.name} is called {after.name} now; old sheets keep the name of then.{more}"


def retire_part(book: Book, part: Part, because: str) -> str:
    """Retire a part; one that is still fitted comes off its machine, and that is said."""
    after = retire(part, because)
    book.save(after)
    if part.status != "fitted":
        return f"{part.name} is retired: {after.retired_because}. Its history stays."
    machine = book.name_of(part.machine) or "its machine"
    return (
        f"{part.name} is retired while fitted: it is off {machine} in the log, and the next "
        f"setup sheet of {machine} needs another {slot_of(part.slot).label}. Its history stays."
    )


def want_part(book: Book, part: Part) -> str:
    """Wish for a part."""
    book.save(want(part))
    return f"{part.name} is wanted."


def order_part(book: Book, part: Part) -> str:
    """Note that a part was ordered."""
    book.save(order(part))
    return f"{part.name} is ordered."


def has_come(book: Book, part: Part) -> str:
    """Note that a part is on the shelf: it came, or came off its machine."""
    book.save(came(part))
    return f"{part.name} is here, on the shelf."


def move_part(book: Book, part: Part, machine: str) -> str:
    """Note that a part is on a machine now, also when the log had it on another.

    Args:
        book: open to write.
        part: not retired.
        machine: name or id.

    Raises:
        NotFoundError: no such machine.
        BlockedError: it is retired.
    """
    to = find_machine(book, machine)
    at, names = book.clock(), {head.id: head.name for head in book.machines()}
    question = ask_two_machines(part, to.id, names)
    made = settle(question, "moved", at) if question is not None else fit(part, to.id, at)
    book.save(*made.parts)
    came_off = f", off {question.other}" if question is not None else ""
    told = " Its setup sheet says so once you pick it there." if part_readings(part) else ""
    return f"{part.name} is on {to.name}{came_off}.{told}"


def link_to(book: Book, part: Part, path: str, caption: str = "") -> str:
    """Link a photo or file to a part; a file that is not there is linked and said to be missing."""
    after = linked(part, path, caption)
    book.save(after)
    there = (book.log.folder / after.links[-1].path).exists()
    return f"{part.name} is linked to {path.strip()}{'' if there else ', which is not there now'}."


def join_parts(book: Book, kept: Part, gone: Part) -> str:
    """Make two parts one; old sheets stay as they are."""
    one, other = make_one(kept, gone, book.log.all(Part))
    book.save(one, other)
    return f"{gone.name} was {one.name} all along: its history counts for {one.name} now."


def split_part(book: Book, part: Part, name: str, machine: str = "", since: str = "") -> str:
    """Say that part of a part's history was another part's.

    Args:
        book: open to write.
        part: the one in the log.
        name: of the other one.
        machine: name or id: what ran on it was the other one; empty: on any.
        since: ISO date: from that day on; empty: from the first.

    Raises:
        InputError: neither machine nor day, or not a day.
    """
    try:
        day = date.fromisoformat(since.strip()) if since.strip() else None
    except ValueError:
        raise InputError(f"“{since}” is no day.", "Such as 2026-06-02.") from None
    where = find_machine(book, machine).id if machine.strip() else ""
    old, new = split(part, name, book.fresh_id(), book.clock(), machine=where, since=day)
    book.save(old, new)
    return f"{new.name} is a part of its own now; what it ran counts for it, sheets stay as is."


def set_interval(book: Book, text: str) -> str:
    """Set an interval: ``oil=8h,365d``, ``lash=40attempts``; ``oil=`` puts the usual one back.

    Raises:
        NotFoundError: no such interval.
        InputError: a figure cannot be read, or is not above zero.
    """
    name, _, figures = text.partition("=")
    found: dict[str, float] = {}
    for word in filter(None, (w.strip() for w in figures.split(","))):
        read = _FIGURE.fullmatch(word.casefold())
        if read is None:
            raise InputError(f"“{word}” is no figure of an interval.",
                             "Such as 8h, 365d, 40attempts or 2uses.")  # fmt: skip
        found[_FIGURES[read[2][0]]] = read_number(read[1])
    made = _interval(name.strip(), found, book) if found else _usual(name.strip(), book)
    book.save(made)
    said = ", ".join(f"{value:g} {what}" for what, value in found.items())
    return f"{name.strip()}: {said}." if found else f"{name.strip()}: the usual interval is back."


def _interval(name: str, found: dict[str, float], book: Book) -> Interval:
    whole = {k: int(v) for k, v in found.items() if k != "hours"}
    hours, attempts = found.get("hours"), whole.get("attempts")
    days, uses, at = whole.get("days"), whole.get("uses"), book.clock()
    return put_interval(name, hours=hours, attempts=attempts, days=days, uses=uses, at=at)


def _usual(name: str, book: Book) -> Interval:
    row = next((row for row in INTERVALS if row.id == name), None)
    if row is None:
        return put_interval(name)
    return put_interval(name, hours=row.hours, attempts=row.attempts, days=row.days,
                        uses=row.uses, at=book.clock())  # fmt: skip


def slot_ids(words: str) -> tuple[str, ...]:
    """Return the ids of slots named with commas between them.

    Raises:
        NotFoundError: one of them is none.
    """
    return tuple(find_slot(word).id for word in words.split(",") if word.strip())
