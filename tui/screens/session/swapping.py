"""A swap at the strip: what was changed, the sheet that starts with it, and the way back to A."""

from __future__ import annotations

from typing import Any

import msgspec
from textual.app import App

from core.session import Filled, fill, merged
from core.setup import Part, Reading, Sheet, changes, main_changes, reading_words, slot_of
from tui.dialogs import PickRow, pick
from tui.screens.session.desk import Desk
from tui.screens.session.slot_asking import ask_slot, take_part, where_words
from tui.screens.session.slot_rows import slot_choices

__all__ = ["ask_swap", "back_to"]

_BACK = "back:"
_PART = "part:"


async def ask_swap(app: App[Any], desk: Desk) -> str:
    """Ask what was changed and take it; return what is on now, or nothing after esc."""
    desk.need_writing()
    slots = [PickRow(row.id, row.words, row.note) for row in slot_choices(desk)]
    rows = [*_ways_back(desk), *slots, *_parts(desk)]
    picked = await pick(app, "What was changed?", rows)
    if picked is None:
        return ""
    if picked.id.startswith(_BACK):
        filled: Filled | None = back_to(desk, desk.session.sheets[int(picked.id[len(_BACK) :])])
    elif picked.id.startswith(_PART):
        part = desk.book.log.get(Part, picked.id[len(_PART) :])
        filled = await take_part(app, desk, slot_of(part.slot), part.id)
    else:
        filled = await ask_slot(app, desk, picked.id)
    if filled is None:
        return ""
    desk.put(filled)
    name, reading = next(iter(filled.readings.items()))
    what = f"{slot_of(name).label} {reading_words(slot_of(name), reading)}"
    return f"Build {desk.letters[-1]} from here: {what}. Anything else? Add it in the setup."


def _parts(desk: Desk) -> list[PickRow]:
    """Return a row for each part that is not on the sheet, to be found by its own name."""
    names = {head.id: head.name for head in desk.book.machines()}
    on = {reading.part for reading in desk.sheet.readings.values()}
    return [
        PickRow(
            f"{_PART}{head.id}",
            head.name,
            f"{slot_of(head.slot).label}, "
            + where_words(head.status, names.get(head.machine, head.machine)),
        )
        for head in desk.book.parts()
        if head.slot and head.id not in on and head.status != "retired"
    ]


def _ways_back(desk: Desk) -> list[PickRow]:
    """Return a row for each other build that ran in this session."""
    letters = desk.letters
    rows = []
    for index, letter in enumerate(letters):
        if letter == letters[-1] or letter in letters[:index]:
            continue
        differing = main_changes(changes(desk.sheet, desk.session.sheets[index]))
        words = ", ".join(change.words for change in differing)
        rows.append(PickRow(f"{_BACK}{index}", f"back to {letter}", words))
    return rows


def back_to(desk: Desk, sheet: Sheet) -> Filled:
    """Return what it takes to be on an earlier sheet of this session again."""
    now = desk.now()
    known = set(desk.book.log.ids(Part))
    made = []
    for change in changes(desk.sheet, sheet):
        reading = change.after
        if reading is None:
            continue
        if reading.part in known:
            filled = fill(
                desk.book,
                desk.session.machine,
                desk.sheet.readings,
                change.slot,
                reading.part,
                answer="moved",
            )
            made.append(Filled({change.slot: _again(reading, now)}, filled.parts))
        else:
            made.append(Filled({change.slot: _again(reading, now)}))
    return merged(tuple(made))


def _again(reading: Reading, now: Any) -> Reading:
    return msgspec.structs.replace(reading, at=now, carried="")
