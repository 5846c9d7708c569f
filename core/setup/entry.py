"""Reading a typed value into a slot: usual ones silently, unusual ones with a question."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from core.errors import AmbiguousInputError, InputError, OutOfRangeError
from core.setup.jets import read_jet
from core.setup.offers import offers
from core.setup.readings import Bound, Reading, State
from core.setup.slots import Slot
from core.setup.typed import (
    COUNT_WORDS,
    NOT_FITTED_WORDS,
    UNKNOWN_WORDS,
    Typed,
    count_word,
    cut_short,
    take_apart,
)
from core.setup.words import plain_words, span_words
from core.units import format_number, read_quantity

__all__ = ["Band", "Entered", "read_reading"]

Band = Literal["typical", "unusual"]
_STEP_SLACK = 0.01  # a pitch typed this near to one of the list is that one, in the slot's unit
_KEPT_DIGITS = 10  # of a converted number; beyond them it is noise of the arithmetic
_GROUPED = re.compile(r"^[1-9]\d{0,2}(,\d{3})+$")


@dataclass(frozen=True)
class Entered:
    """A typed value that was taken, perhaps with a question that one key answers."""

    reading: Reading
    band: Band = "typical"
    question: str = ""  # one sentence; empty when there is nothing to ask


def read_reading(slot: Slot, text: str, at: datetime | None = None) -> Entered:
    """Read what was typed into a slot.

    Args:
        slot: any but a part slot's part itself, which is picked and not typed.
        text: a number in the slot's unit or with its own (``48 thou``), ``>3.0`` or ``<0.1`` for a
            bound, ``~1.1`` or a trailing ``est`` for an estimate, a trailing ``stated`` or
            ``measured``, ``?`` for unknown, ``-`` for not fitted, words or a choice.
        at: when it was taken.

    Returns:
        The reading, and a question if the value is unusual.

    Raises:
        InputError: blank, no number where one is needed, no such choice, a unit of another kind.
        AmbiguousInputError: a thousands separator that may be a decimal comma.
        OutOfRangeError: outside the slot's hard range or not on its list; offers what helps.
    """
    word = text.strip()
    if not word:
        raise InputError(
            f"{_start(slot.label)}: nothing was typed, and a blank is not a value.",
            "Leave it as it is, or type ? for unknown, - for none.",
        )
    if word.casefold() in UNKNOWN_WORDS:
        return Entered(Reading(state="unknown", text=word, at=at))
    if word.casefold() in NOT_FITTED_WORDS:
        return Entered(Reading(state="not fitted", text=word, at=at))
    return _READERS[slot.kind](slot, word, at)


def _read_part(slot: Slot, word: str, at: datetime | None) -> Entered:
    raise InputError(
        f"{_start(slot.label)} holds a part: “{cut_short(word)}” is picked, not typed.",
        "Pick it by a few letters, or make a new part of that name.",
    )


def _read_text(slot: Slot, word: str, at: datetime | None) -> Entered:
    if not slot.systems:
        return Entered(Reading(state=slot.usual_state, text=word, at=at))
    jet = read_jet(slot, word)
    if jet is None:
        names = ", ".join(system.name for system in slot.systems)
        return Entered(
            Reading(state="set", text=word, at=at),
            "unusual",
            f"“{cut_short(word)}” has no number system ({names}), so it is kept as words and never "
            f"compared: sure?",
        )
    low, high = jet.system.hard
    if not low <= jet.number <= high:
        raise OutOfRangeError(
            f"{_start(slot.label)} {jet.text} is out of range: "
            f"{format_number(low)} to {format_number(high)} {jet.system.name}."
        )
    low, high = jet.system.typical
    usual = f"{format_number(low)} to {format_number(high)} {jet.system.name}"
    question = "" if low <= jet.number <= high else _outside(slot, jet.text, usual)
    return _entered(Reading(state="set", text=jet.text, at=at), question)


def _read_choice(slot: Slot, word: str, at: datetime | None) -> Entered:
    folded = word.casefold()
    found = [c for c in slot.choices if c.casefold() == folded] or [
        c for c in slot.choices if c.casefold().startswith(folded)
    ]
    if len(found) == 1:
        return Entered(Reading(state="set", text=found[0], at=at))
    if found:
        raise AmbiguousInputError(
            f"“{cut_short(word)}” can be {' or '.join(found)}: which?", tuple(found)
        )
    raise InputError(
        f"{_start(slot.label)} is one of {', '.join(slot.choices)}; not “{cut_short(word)}”."
    )


def _read_number(slot: Slot, word: str, at: datetime | None) -> Entered:
    typed = take_apart(word)
    _refuse_thousands(slot, typed)
    value = _in_slot_unit(slot, typed)
    value = _on_list(slot, value) if slot.steps else value
    own_unit = not typed.unit or bool(count_word(typed.unit))
    _refuse_out_of_range(slot, value, own_unit)
    bound: Bound = ">" if typed.mark == ">" else "<" if typed.mark == "<" else ""
    reading = Reading(state=_state(slot, typed), value=value, text=word, bound=bound, at=at)
    return _entered(reading, _question(slot, value, own_unit))


def _state(slot: Slot, typed: Typed) -> State:
    if typed.mark in (">", "<"):
        return "bounded"
    return "estimated" if typed.mark == "~" else typed.state or slot.usual_state


def _refuse_thousands(slot: Slot, typed: Typed) -> None:
    """Ask about ``6,500``: a comma is a decimal comma, but that may not have been meant."""
    if not _GROUPED.match(typed.number):
        return
    grouped = typed.number.replace(",", "")
    decimal = [typed.number.replace(",", ".")] if typed.number.count(",") == 1 else []
    likely = [n for n in (grouped, *decimal) if _in_range(slot, n, typed.unit)]
    if grouped in likely:
        also = f" or {likely[1]}" if len(likely) > 1 else ""
        raise AmbiguousInputError(
            f"“{typed.number}” has a comma: is it {grouped}{also}?",
            tuple(f"{choice} {typed.unit}".strip() for choice in likely),
            "Type it without a thousands separator.",
        )


def _in_range(slot: Slot, number: str, unit: str) -> bool:
    low, high = slot.hard or (-math.inf, math.inf)
    try:
        return low <= _in_slot_unit(slot, Typed("", number, unit, None)) <= high
    except InputError:  # a count that is not whole
        return False


def _in_slot_unit(slot: Slot, typed: Typed) -> float:
    counted = count_word(typed.unit)
    if slot.unit in COUNT_WORDS:
        if typed.unit and counted != slot.unit:
            raise InputError(f"{_start(slot.label)} is counted in {slot.unit}, not “{typed.unit}”.")
        value = read_quantity(typed.number, "").value
    else:
        value = read_quantity(f"{typed.number} {typed.unit}".strip(), slot.unit).value
        value = float(f"{value:.{_KEPT_DIGITS}g}")
    if slot.whole and value != int(value):
        raise InputError(f"{_start(slot.label)} is {typed.number}: only whole numbers count here.")
    return value


def _on_list(slot: Slot, value: float) -> float:
    near = min(slot.steps, key=lambda step: abs(step - value))
    if abs(near - value) > _STEP_SLACK:
        listed = ", ".join(f"{step:g}" for step in slot.steps)
        raise OutOfRangeError(
            f"{_start(slot.label)} {plain_words(slot, value)} is not one of {listed}."
        )
    return near


def _refuse_out_of_range(slot: Slot, value: float, own_unit: bool) -> None:
    if slot.hard is None or slot.hard[0] <= value <= slot.hard[1]:
        return
    low, high = slot.hard
    said = plain_words(slot, value)
    if low == 0 and value < 0:
        raise OutOfRangeError(f"{_start(slot.label)} is {said}: it cannot be below zero.")
    offered = "; ".join(offers(slot, value)) if own_unit else ""
    told = f"{_start(slot.label)} {said} is out of range ({span_words(slot, low, high)})"
    raise OutOfRangeError(
        f"{told}; {offered}." if offered else f"{told}.", "Type it again, or with its unit."
    )


def _question(slot: Slot, value: float, own_unit: bool) -> str:
    if slot.at_zero and value == 0:
        return slot.at_zero
    if slot.at_odd and value % 2:
        return slot.at_odd
    if slot.typical is None or slot.typical[0] <= value <= slot.typical[1]:
        return ""
    low, high = slot.typical
    said = plain_words(slot, value)
    if low == high:
        return f"{said} is not the usual {format_number(low)} for {slot.label}: sure?"
    question = _outside(slot, said, span_words(slot, low, high))
    offered = offers(slot, value) if own_unit else ()
    return f"{question} ({'; '.join(offered)})" if offered else question


def _outside(slot: Slot, said: str, usual: str) -> str:
    return f"{said} is outside the usual {usual} for {slot.label}: sure?"


def _entered(reading: Reading, question: str) -> Entered:
    return Entered(reading, "unusual" if question else "typical", question)


def _start(label: str) -> str:
    return label[0].upper() + label[1:]


_READERS: dict[str, Callable[[Slot, str, datetime | None], Entered]] = {
    "part": _read_part,
    "text": _read_text,
    "choice": _read_choice,
    "number": _read_number,
}
"""How each kind of slot is read."""
