"""Asking for one change on paper: which slot, then a value, a choice or a part; none is saved."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from textual.app import App

from core.errors import InputError
from core.session import Book
from core.setup import (
    Part,
    Sheet,
    Slot,
    number_words,
    part_readings,
    read_reading,
    reading_words,
    slot_of,
    slot_order,
)
from core.setup.seeking import match_slots
from core.units import read_quantity
from tui.dialogs import Option, PickRow, ask_choice, ask_text, pick
from tui.screens.what_if.plan import Planned

__all__ = ["ask_change", "ask_top_speed"]

_UNKNOWN, _NONE = "?", "-"
_FASTEST = 250.0  # km/h; above it is a slip of the finger


async def ask_slot_id(app: App[Any], sheet: Sheet) -> str:
    """Ask which slot is to be changed; empty after esc."""
    ids = sorted({*sheet.readings, *(slot.id for slot in match_slots(""))}, key=slot_order)
    ids.sort(key=lambda slot: slot not in sheet.readings)
    rows = [
        PickRow(one, slot_of(one).label, reading_words(slot_of(one), sheet.readings.get(one)))
        for one in ids
    ]
    picked = await pick(app, "Change what, on paper?", rows)
    return picked.id if picked is not None else ""


async def ask_change(
    app: App[Any], book: Book, sheet: Sheet, planned: Planned, slot_id: str, at: datetime
) -> Planned | None:
    """Ask for a slot's value on paper.

    Args:
        app: the app.
        book: the open log, for the shelf.
        sheet: as the machine stands.
        planned: what the plan holds so far.
        slot_id: of the slot; empty: it is asked for.
        at: the time now.

    Returns:
        The plan with it, or None after esc.
    """
    slot_id = slot_id or await ask_slot_id(app, sheet)
    if not slot_id:
        return None
    slot = slot_of(slot_id)
    if slot.kind == "part":
        return await _ask_part(app, book, sheet, planned, slot, at)
    said = await (_ask_choice if slot.kind == "choice" else _ask_value)(app, sheet, planned, slot)
    return None if said is None else planned.with_change(slot_id, said, said)


def _now(sheet: Sheet, slot: Slot) -> str:
    return f"Now {reading_words(slot, sheet.readings.get(slot.id))}."


async def _ask_value(app: App[Any], sheet: Sheet, planned: Planned, slot: Slot) -> str | None:
    """Ask for a typed value, and once more when it is an unusual one."""
    usual = ""
    if slot.typical is not None and slot.kind == "number":
        low, high = (number_words(slot, end) for end in slot.typical)
        usual = f"Usual is {low} to {high}. "
    typed = planned.words.get(slot.id, "")
    while True:
        said = await ask_text(
            app,
            f"On paper: {slot.label}",
            sentence=f"{_now(sheet, slot)} {usual}Any unit can be typed; ? unknown, - none.",
            value=typed,
            hint=slot.unit,
            check=lambda text: read_reading(slot, text),
        )
        if said is None:
            return None
        typed, question = said, read_reading(slot, said).question
        options = (Option("y", "yes, that is it"), Option("t", "type it again"))
        if not question or await ask_choice(app, question, options, at=1) is options[0]:
            return said


async def _ask_choice(app: App[Any], sheet: Sheet, planned: Planned, slot: Slot) -> str | None:
    options = [Option(str(i), words) for i, words in enumerate(slot.choices, 1)]
    options += [Option(_UNKNOWN, "unknown"), Option(_NONE, "not fitted")]
    answer = await ask_choice(app, f"On paper: {slot.label}", options, sentence=_now(sheet, slot))
    if answer is None:
        return None
    return answer.key if answer.key in (_UNKNOWN, _NONE) else answer.words


async def _ask_part(
    app: App[Any], book: Book, sheet: Sheet, planned: Planned, slot: Slot, at: datetime
) -> Planned | None:
    """Pick a part of the shelf with what it tells of itself, or name one that is not there yet."""
    shelf = {
        part.id: part
        for part in book.log.all(Part)
        if part.slot == slot.id and part.status != "retired"
    }
    rows = [PickRow(part.id, part.name, part.status) for part in shelf.values()]
    title = f"On paper: which {slot.label}? {_now(sheet, slot)}"
    picked = await pick(app, title, rows, new="one that is not on the shelf")
    if picked is None:
        return None
    if not picked.id:
        return planned.with_change(slot.id, picked.new, picked.new)
    part = shelf[picked.id]
    for name, reading in part_readings(part, at).items():
        planned = planned.with_change(name, reading, reading.text or part.name)
    return planned


def _read_speed(text: str) -> float | None:
    if not text.strip():
        return None
    speed = read_quantity(text, "km/h").value
    if not 0 < speed <= _FASTEST:
        raise InputError(f"{speed:g} km/h is no top speed of such a machine.")
    return speed


async def ask_top_speed(app: App[Any], planned: Planned) -> Planned | None:
    """Ask for the top speed expected at the place; None after esc."""
    said = await ask_text(
        app,
        "Top speed that is expected at the place, km/h",
        sentence="For the rpm there, without slip and with 3 %. Blank: not told.",
        value="" if planned.top_speed is None else f"{planned.top_speed:g}",
        hint="km/h",
        check=_read_speed,
    )
    if said is None:
        return None
    return replace(planned, top_speed=_read_speed(said))
