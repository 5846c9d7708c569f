"""A change made on paper: the sheet as it would be, with what can be reckoned of the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from types import MappingProxyType

import msgspec

from core.engine import deck_after_stroke
from core.errors import BackToBackError
from core.ranged import Ranged, carry
from core.setup import (
    Change,
    Reading,
    Sheet,
    changes,
    fitted,
    known_value,
    mark_stale,
    new_part,
    part_readings,
    read_reading,
    reading_words,
    same_reading,
    slot_of,
    with_reading,
)
from core.units import format_number

__all__ = ["OnPaper", "lash_set_again", "on_paper"]

_MM = 1e-3  # m in a mm
_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
_LASH = ("lash_intake", "lash_exhaust")
_ON_PAPER = "on-paper"  # id of a part that is only thought of
_MOVES_DECK = ("stroke", "rod_length", "piston_pin_height", "block_decked")
_SETTLES = MappingProxyType({"crank": "stroke", "rod": "rod_length", "piston": "piston_pin_height"})
"""Parts that move the deck only by the number beside them."""


@dataclass(frozen=True)
class OnPaper:
    """The sheet a plan would lead to."""

    sheet: Sheet
    changes: tuple[Change, ...]  # what was typed, against the sheet before
    halves: Mapping[str, float]  # give or take by slot, in the slot's unit
    kept: Sheet | None = None  # the same with the deck as it was, where it was reckoned anew
    questions: tuple[str, ...] = ()  # about unusual values
    assumed: tuple[str, ...] = ()  # what was taken for granted, a sentence each


def on_paper(
    sheet: Sheet,
    typed: Mapping[str, str | Reading],
    halves: Mapping[str, float],
    at: datetime | None = None,
) -> OnPaper:
    """Return the sheet with these slots changed on paper.

    Another number of a part's own property is another part. Where stroke, rod, pin height or block
    change and the deck is not typed, the deck is reckoned from the old one, as an estimate: half of
    a longer stroke goes up. The lash counts as set again to what it was.

    Args:
        sheet: as the machine stands.
        typed: text or reading by slot id; the name of a part for a part slot.
        halves: give or take of the sheet's values by slot, in the slot's unit.
        at: the time now; None: just after the newest entry of the sheet.

    Raises:
        InputError: a value is refused.
        OutOfRangeError: outside a slot's hard range.
    """
    now = at or _just_after(sheet)
    entered, questions = _entered(sheet, typed, now)
    new = sheet
    for slot, reading in entered.items():
        new = with_reading(new, slot, reading)
    new, assumed = lash_set_again(sheet, mark_stale(sheet, new))
    made = changes(sheet, new)
    widths = {slot: half for slot, half in halves.items() if slot not in entered}
    deck = None if "deck" in typed else _deck(sheet, new, made, halves)
    if deck is None:
        return OnPaper(new, made, widths, None, questions, assumed)
    reckoned = _reckoned(deck, now)
    return OnPaper(
        with_reading(new, "deck", reckoned),
        made,
        widths | {"deck": (deck.high - deck.value) / _MM},
        with_reading(new, "deck", msgspec.structs.replace(sheet.readings["deck"], at=now)),
        questions,
        (*assumed, f"Nothing is done about the deck: {reckoned.text} mm."),
    )


def _reckoned(deck: Ranged, at: datetime) -> Reading:
    value = round(deck.value / _MM, 6)
    return Reading(state="estimated", value=value, text=format_number(value), at=at)


def _just_after(sheet: Sheet) -> datetime:
    times = [reading.at for reading in sheet.readings.values() if reading.at is not None]
    return max(times, default=_LONG_AGO) + timedelta(seconds=1)


def _entered(
    sheet: Sheet, typed: Mapping[str, str | Reading], at: datetime
) -> tuple[dict[str, Reading], tuple[str, ...]]:
    """Return what the entries set, and what to ask about them."""
    entered: dict[str, Reading] = {}
    questions = []
    for slot, given in typed.items():
        readings, question = _readings(sheet, slot, given, at)
        entered |= {name: one for name, one in readings.items() if name not in entered}
        questions += [question] if question else []
    own = {slot: reading for slot, reading in entered.items() if slot in typed}
    others = {
        slot_of(slot).of: fitted(_ON_PAPER, f"another {slot_of(slot_of(slot).of).label}", at)
        for slot, reading in own.items()
        if _is_another_part(sheet, slot, reading)
    }
    return others | entered, tuple(questions)


def _is_another_part(sheet: Sheet, slot: str, reading: Reading) -> bool:
    """Tell whether a typed property cannot be one of the part that is in."""
    row, now = slot_of(slot), sheet.readings.get(slot)
    owner = sheet.readings.get(row.of) if row.of else None
    if owner is None or owner.state != "fitted" or row.role == "measured":
        return False
    return known_value(now) is not None and not same_reading(now, reading)


def lash_set_again(before: Sheet, after: Sheet) -> tuple[Sheet, tuple[str, ...]]:
    """Return the sheet with the lash set again to what it was, and the sentence that says so.

    Args:
        before: the sheet before a change that took the ground from the lash.
        after: the sheet of that change.
    """
    gone = {
        slot: after.readings[slot]
        for slot in _LASH
        if slot in after.readings and after.readings[slot].stale
        and known_value(before.readings.get(slot)) is not None
    }  # fmt: skip
    for slot in gone:
        after = with_reading(after, slot, before.readings[slot])
    said = ", ".join(
        f"{slot_of(slot).label} {reading_words(slot_of(slot), one)}" for slot, one in gone.items()
    )
    return after, (f"Counted as set again: {said}.",) if said else ()


def _readings(
    sheet: Sheet, slot: str, given: str | Reading, at: datetime
) -> tuple[dict[str, Reading], str]:
    """Return what one entry sets, and what to ask about it."""
    row = slot_of(slot)
    if isinstance(given, Reading):
        return {slot: given}, ""
    word = given.strip()
    if row.kind != "part" or word in ("", "?", "-"):
        entered = read_reading(row, given, at)
        return {slot: entered.reading}, entered.question
    now = sheet.readings.get(slot)
    if now is not None and now.part and now.text.casefold() == word.casefold():
        return {slot: now}, ""
    return part_readings(new_part(word, slot, _ON_PAPER, at), at), ""


def _deck(
    before: Sheet, after: Sheet, made: tuple[Change, ...], halves: Mapping[str, float]
) -> Ranged | None:
    """Return the deck after the changes, m; None when it stays or cannot be reckoned."""
    old = known_value(before.readings.get("deck"))
    now = after.readings.get("deck")
    if old is None or now is None or not now.stale or _unforeseen(after, made):
        return None
    given: dict[str, Ranged] = {"deck": _ranged("deck", old, halves)}
    for slot in _MOVES_DECK:
        one, two = before.readings.get(slot), after.readings.get(slot)
        if same_reading(one, two):
            continue
        numbers = known_value(one), known_value(two)
        if slot == "block_decked":
            numbers = numbers[0] or 0.0, numbers[1]
        if numbers[0] is None or numbers[1] is None:
            return None
        given |= {
            f"{slot}_old": _ranged(slot, numbers[0], halves),
            f"{slot}_new": _ranged(slot, numbers[1], halves),
        }
    try:
        return carry(_deck_after, **given)
    except BackToBackError:  # a stroke that is none is refused where it is reckoned with
        return None


def _unforeseen(after: Sheet, made: tuple[Change, ...]) -> bool:
    """Tell whether a part changed that moves the deck by more than the numbers beside it say."""
    changed = {change.slot for change in made}
    loose = (part for part in _SETTLES if part in changed)
    return "engine_block" in changed or any(
        _SETTLES[part] not in changed or known_value(after.readings.get(_SETTLES[part])) is None
        for part in loose
    )


def _ranged(slot: str, value: float, halves: Mapping[str, float]) -> Ranged:
    return Ranged.within(value * _MM, halves.get(slot, 0.0) * _MM)


def _deck_after(deck: float, **given: float) -> float:
    def moved(slot: str) -> float:
        return given.get(f"{slot}_new", 0.0) - given.get(f"{slot}_old", 0.0)

    old = given.get("stroke_old", 1.0)
    after = deck_after_stroke(
        deck,
        old,
        given.get("stroke_new", old),
        moved("rod_length"),
        moved("piston_pin_height"),
    )
    return after - moved("block_decked")
