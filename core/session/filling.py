"""What was typed into slots becomes readings, and parts found or made on the shelf."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from core.session.book import Book
from core.session.documents import Session
from core.session.preparing import swap, touch
from core.setup import (
    Part,
    Reading,
    TwoMachines,
    TwoMachinesAnswer,
    ask_two_machines,
    fit,
    is_sprocket,
    known_value,
    new_part,
    read_reading,
    settle,
    slot_of,
)

_TEETH = re.compile(r"^(\d{1,3})\s*[tT]?$")

__all__ = ["Filled", "fill", "merged", "put_on", "swap_to"]


@dataclass(frozen=True)
class Filled:
    """What typed values come to; nothing is saved yet."""

    readings: dict[str, Reading] = field(default_factory=dict)  # by slot id
    parts: tuple[Part, ...] = ()  # documents that changed or are new
    questions: tuple[str, ...] = ()  # unusual values, one sentence each
    two_machines: TwoMachines | None = None  # to be answered before anything is done


def fill(
    book: Book,
    machine: str,
    sheet_parts: Mapping[str, Reading],
    slot: str,
    text: str,
    *,
    answer: TwoMachinesAnswer | None = None,
) -> Filled:
    """Read what was typed into one slot of a machine's sheet.

    Args:
        book: the open log, for the shelf.
        machine: id of the machine.
        sheet_parts: readings of the sheet it goes into, to see which part comes off.
        slot: id of the slot.
        text: a value as `read_reading` takes it; for a part slot the name or id of a part on the
            shelf, or a new name.
        answer: to the two-machine question, once it was put.

    Raises:
        InputError: the value is refused.
        BlockedError: the part is retired.
    """
    slot, word = _meant(sheet_parts, slot, text.strip())
    row = slot_of(slot)
    if row.kind != "part" or not word or word in ("?", "-"):
        entered = read_reading(row, text, book.clock())
        asked = (entered.question,) if entered.question else ()
        return Filled({slot: entered.reading}, questions=asked)
    part = _on_shelf(book, slot, word) or new_part(word, slot, book.fresh_id(), book.clock())
    names = {head.id: head.name for head in book.machines()}
    question = ask_two_machines(part, machine, names)
    if question is not None and answer is None:
        return Filled(two_machines=question)
    off = _part_on(book, sheet_parts.get(slot))
    if question is not None and answer is not None:
        made = settle(question, answer, book.clock(), new_id=book.fresh_id(), off=off)
    else:
        made = fit(part, machine, book.clock(), off)
    return Filled(dict(made.readings or {}), made.parts)


def _meant(sheet_parts: Mapping[str, Reading], slot: str, word: str) -> tuple[str, str]:
    """The slot and words that a bare number of teeth stands for.

    ``60`` in a sprocket's own slot is the sprocket 60T. Other teeth than those of the sprocket
    that is on are another sprocket: nobody files new teeth into the one he has.
    """
    row = slot_of(slot)
    teeth = _TEETH.match(word)
    if teeth is None:
        return slot, word
    if is_sprocket(slot):
        return slot, f"{teeth[1]}T"
    on, now = sheet_parts.get(row.of), known_value(sheet_parts.get(slot))
    if row.unit != "teeth" or on is None or not on.part or now in (None, float(teeth[1])):
        return slot, word
    read_reading(row, teeth[1])
    return row.of, f"{teeth[1]}T"


def _on_shelf(book: Book, slot: str, word: str) -> Part | None:
    """The part of this slot whose id, name or alias is exactly what was typed."""
    sought = " ".join(word.split()).casefold()
    for head in book.parts():
        names = (head.name, *head.aliases)
        if head.slot == slot and (head.id == word or sought in (n.casefold() for n in names)):
            return book.log.get(Part, head.id)
    return None


def _part_on(book: Book, reading: Reading | None) -> Part | None:
    if reading is None or not reading.part or reading.part not in book.log.ids(Part):
        return None
    return book.log.get(Part, reading.part)


def put_on(book: Book, session: Session, filled: Filled) -> Session:
    """Set the slots on the sheet before it runs; shelf and session are saved."""
    at = book.clock()
    after = touch(
        session,
        filled.readings,
        at,
        before=book.sheet_before(session),
        history=book.cleared_before(session.machine),
    )
    book.save(*filled.parts, after)
    return after


def swap_to(book: Book, session: Session, filled: Filled, *, label: str = "") -> Session:
    """Start the next sheet with these slots; shelf and session are saved."""
    history = book.cleared_before(session.machine)
    after = swap(session, filled.readings, book.clock(), label=label, history=history)
    book.save(*filled.parts, after)
    return after


def merged(many: tuple[Filled, ...]) -> Filled:
    """Return several fillings as one, the later ones winning."""
    readings: dict[str, Reading] = {}
    parts: dict[str, Part] = {}
    for one in many:
        readings |= one.readings
        parts |= {part.id: part for part in one.parts}
    questions = tuple(q for one in many for q in one.questions)
    waiting = next((one.two_machines for one in many if one.two_machines), None)
    return Filled(readings, tuple(parts.values()), questions, waiting)
