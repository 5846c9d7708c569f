"""Asking for one slot of the sheet: a value with its doubts, a choice, or a part off the shelf."""

from __future__ import annotations

from typing import Any

from textual.app import App

from core.session import Filled, fill
from core.setup import (
    SLOTS,
    Slot,
    TwoMachines,
    TwoMachinesAnswer,
    number_words,
    reading_words,
    slot_of,
)
from core.units import UNITS
from tui.dialogs import Option, PickRow, ask_choice, ask_text, pick
from tui.screens.session.desk import Desk

__all__ = ["ask_slot", "ask_which_machine", "start", "take_part", "where_words"]

_UNKNOWN, _NONE = "?", "-"
_OTHER = (PickRow(_UNKNOWN, "unknown", "type ?"), PickRow(_NONE, "not fitted", "type -"))


def start(label: str) -> str:
    """Return a label as it begins a sentence."""
    return label[:1].upper() + label[1:]


async def ask_slot(app: App[Any], desk: Desk, slot_id: str) -> Filled | None:
    """Ask for a slot; nothing is saved yet.

    Returns:
        What it comes to, or None when it was left as it is.
    """
    slot = slot_of(slot_id)
    asker = {"part": _ask_part, "choice": _ask_choice}.get(slot.kind, _ask_value)
    return await asker(app, desk, slot)


def _now_words(desk: Desk, slot: Slot) -> str:
    reading = desk.sheet.readings.get(slot.id)
    if reading is None:
        return "Not recorded so far."
    carried = f", carried from {desk.label_of(reading.carried)}" if reading.carried else ""
    return f"Now {reading_words(slot, reading)}{carried}."


def _usual_words(slot: Slot) -> str:
    if slot.typical is None or slot.kind != "number":
        return ""
    low, high = (number_words(slot, end) for end in slot.typical)
    convertible = any(unit.symbol == slot.unit for unit in UNITS)
    units = "Any unit can be typed; " if convertible else ""
    return f"Usual is {low} to {high}. {units}~ estimate, > more than, < less than."


async def _ask_value(app: App[Any], desk: Desk, slot: Slot) -> Filled | None:
    """Ask for a typed value, and once more when it is an unusual one."""
    words = (_now_words(desk, slot), _usual_words(slot), "? unknown, - none.")
    own = slot.id not in SLOTS
    typed = ""
    while True:
        said = await ask_text(
            app,
            f"A slot of your own: {slot.label}" if own else start(slot.label),
            sentence=" ".join(filter(None, words)),
            value=typed,
            hint=slot.unit,
            check=lambda text: _fill(desk, slot, text),
        )
        if said is None:
            return None
        typed, filled = said, _fill(desk, slot, said)
        if not filled.questions or await _sure(app, filled.questions[0]):
            return filled


async def _sure(app: App[Any], question: str) -> bool:
    options = (Option("y", "yes, that is it"), Option("t", "type it again"))
    answer = await ask_choice(app, question, options, at=1)
    return answer is options[0]


async def _ask_choice(app: App[Any], desk: Desk, slot: Slot) -> Filled | None:
    options = [Option(str(i), words) for i, words in enumerate(slot.choices, 1)]
    options += [Option(_UNKNOWN, "unknown"), Option(_NONE, "not fitted")]
    answer = await ask_choice(app, start(slot.label), options, sentence=_now_words(desk, slot))
    if answer is None:
        return None
    word = answer.key if answer.key in (_UNKNOWN, _NONE) else answer.words
    return _fill(desk, slot, word)


async def _ask_part(app: App[Any], desk: Desk, slot: Slot) -> Filled | None:
    """Pick a part by a few letters or make a new one, and ask when it is on another machine."""
    names = {head.id: head.name for head in desk.book.machines()}
    rows = [
        PickRow(head.id, head.name, where_words(head.status, names.get(head.machine, head.machine)))
        for head in desk.book.parts()
        if head.slot == slot.id and head.status != "retired"
    ]
    now = desk.sheet.readings.get(slot.id)
    title = f"{start(slot.label)}: which one is on? {_now_words(desk, slot)}"
    picked = await pick(app, title, [*rows, *_OTHER], at=now.part if now else "", new="a new part")
    if picked is None:
        return None
    return await take_part(app, desk, slot, picked.id or picked.new)


async def take_part(app: App[Any], desk: Desk, slot: Slot, word: str) -> Filled | None:
    """Put a part on a slot by id or name, and ask when it is on another machine.

    Returns:
        What it comes to, or None when it was left as it is.
    """
    filled = _fill(desk, slot, word)
    if filled.two_machines is None:
        return filled
    answer = await ask_which_machine(app, filled.two_machines)
    if answer is None or answer == "mistake":
        return None
    return _fill(desk, slot, word, answer)


def where_words(status: str, machine: str) -> str:
    """Return where a part is: on a machine, or its status."""
    return f"on {machine}" if status == "fitted" and machine else status


async def ask_which_machine(app: App[Any], question: TwoMachines) -> TwoMachinesAnswer | None:
    """Put the question that a part on another machine raises."""
    keys: dict[str, TwoMachinesAnswer] = {"m": "moved", "s": "second", "k": "mistake"}
    options = [Option(key, question.answers[answer]) for key, answer in keys.items()]
    picked = await ask_choice(app, question.question, options)
    return keys[picked.key] if picked is not None else None


def _fill(desk: Desk, slot: Slot, text: str, answer: TwoMachinesAnswer | None = None) -> Filled:
    readings = desk.sheet.readings
    return fill(desk.book, desk.session.machine, readings, slot.id, text, answer=answer)
