"""Readings of the setup sheet as cells of a CSV, and back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import msgspec

from core.errors import InputError
from core.setup import SLOTS, Reading, Slot, find_slot, read_reading, slot_of
from core.units import format_number

__all__ = ["NOT_RECORDED", "Told", "cell_of", "counted_teeth", "key_of", "read_cell"]

NOT_RECORDED = "not recorded"
"""What stands in a cell when a slot that had a value earlier in the session has none any more."""

_MARK = re.compile(r"^(?P<cell>.*?)\s*\((?P<mark>stale|copied)\)$", re.DOTALL)
_POINTED = re.compile(r"^(\d+),(\d+)$")
_TEETH = re.compile(r"^(\d{1,3})\s*[tT]?$")
_PARTLESS = {"?": "unknown", "unknown": "unknown", "-": "not fitted", "not fitted": "not fitted"}


@dataclass(frozen=True, slots=True)
class Told:
    """What one cell says."""

    reading: Reading | None  # None: not recorded
    part: str = ""  # name of the part, for a part slot; its id is found or made later
    teeth: Told | None = None  # what the name of a sprocket says of its teeth
    question: str = ""  # why the value is unusual; it went in as written
    key: str = ""  # what it says, to be compared; empty: not recorded


@lru_cache(maxsize=4096)
def read_cell(slot_id: str, cell: str) -> Told:
    """Read a cell that is not blank, as if it had been typed into the sheet.

    Args:
        slot_id: id of the slot.
        cell: a value with or without unit, ``?`` for unknown, ``-`` for not fitted, ``>2.0`` for a
            bound, words; the name of a part; ``not recorded``.

    Raises:
        InputError: no value of that slot, outside its hard range, or not one clear reading.
    """
    slot = find_slot(slot_id)
    word = cell.strip()
    if word.casefold() == NOT_RECORDED:
        return Told(None)
    if slot.kind == "part":
        return _part(slot, word)
    marked = _MARK.match(word)
    entered = read_reading(slot, marked["cell"] if marked else word)
    reading = entered.reading
    if marked:
        reading = msgspec.structs.replace(reading, **{marked["mark"]: True})
    return _told(slot, reading, question=entered.question)


def _told(slot: Slot, reading: Reading, **more: Any) -> Told:
    return Told(reading, key=key_of(reading), **more)


def key_of(reading: Reading) -> str:
    """Return what a reading says, however it was typed; a part by its name.

    >>> key_of(Reading(state="set", value=66.0, text="66T")) == key_of(
    ...     Reading(state="set", value=66.0, text="66"))
    True
    """
    mark = _mark(reading)
    if reading.state in ("unknown", "not fitted"):
        return reading.state
    if reading.value is None or reading.part:
        name = " ".join((reading.text or reading.part).split()).casefold()
        return (name.removesuffix("t") if _TEETH.match(name) else name) + mark
    return f"{reading.bound}{reading.value + 0.0!r} {reading.state}{mark}"


def _mark(reading: Reading) -> str:
    return " (stale)" if reading.stale else " (copied)" if reading.copied else ""


def _part(slot: Slot, word: str) -> Told:
    state = _PARTLESS.get(word.casefold())
    if state == "unknown":
        return _told(slot, Reading(state="unknown", text="?"))
    if state == "not fitted":
        return _told(slot, Reading(state="not fitted", text="-"))
    name = " ".join(word.split())
    if len(name) > 80:
        raise InputError(f"the name of a part in {slot.label} is longer than 80 letters")
    return _told(slot, Reading(state="fitted", text=name), part=name, teeth=_teeth(slot, name))


def _teeth(slot: Slot, name: str) -> Told | None:
    counted = counted_teeth(slot.id, name)
    try:
        return read_cell(f"{slot.id}_teeth", counted) if counted else None
    except InputError:  # a name in figures that cannot be teeth
        return None


def counted_teeth(slot_id: str, name: str) -> str:
    """Return how many teeth the name of a sprocket tells; empty for any other part or name.

    >>> counted_teeth("final_sprocket", "66T"), counted_teeth("clutch", "66T")
    ('66', '')
    """
    teeth = _TEETH.match(name) if f"{slot_id}_teeth" in SLOTS else None
    return teeth[1] if teeth else ""


def cell_of(slot_id: str, reading: Reading | None) -> str:
    """Return the cell that reads back as this reading: as it was typed, if that still says it.

    Args:
        slot_id: id of the slot.
        reading: None: never recorded, a blank cell.
    """
    if reading is None:
        return ""
    slot = slot_of(slot_id)
    if reading.state in ("unknown", "not fitted"):
        return "?" if reading.state == "unknown" else "not fitted"
    if slot.kind == "part" or reading.part:
        return reading.text or reading.part
    plain = Reading(
        state=reading.state, value=reading.value, text=reading.text, bound=reading.bound
    )
    return _typed(slot_id, plain) + _mark(reading)


@lru_cache(maxsize=4096)
def _typed(slot_id: str, reading: Reading) -> str:
    slot = slot_of(slot_id)
    if reading.value is None:
        return reading.text.strip()
    text = _POINTED.sub(r"\1.\2", reading.text.strip())
    if _reads_back(slot, text, reading):
        return text
    number = _digits(reading.value)
    marked = reading.bound + number if reading.bound else number
    if reading.state in ("bounded", slot.usual_state):
        return marked
    return f"~{marked}" if reading.state == "estimated" else f"{marked} {reading.state}"


def _digits(value: float) -> str:
    short = format_number(value)
    return short if float(short) == value else repr(value)


def _reads_back(slot: Slot, text: str, reading: Reading) -> bool:
    try:
        again = read_reading(slot, text).reading
    except InputError:
        return False
    return (again.state, again.value, again.bound) == (reading.state, reading.value, reading.bound)
