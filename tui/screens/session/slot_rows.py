"""The lines of the setup stage: what is on the sheet, where it is from, what was changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from core.errors import BackToBackError
from core.setup import (
    Change,
    Reading,
    Slot,
    changes,
    main_changes,
    own_slot,
    reading_words,
    slot_of,
    slot_order,
    state_words,
)
from core.setup.seeking import match_slots
from core.units import format_number
from tui.predictions import Prediction, prediction_words
from tui.screens.session.desk import Desk
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Cell, Line, Toned

__all__ = [
    "SAID",
    "SLOT_COLUMNS",
    "SlotChoice",
    "change_lines",
    "changed_slots",
    "slot_choices",
    "slot_lines",
]

SLOT_COLUMNS: Final = (
    Column("", 1, 1),
    Column("", 8, 9, rank=2),
    Column("Slot", 14, 30),
    Column("Value", 10, 24),
    Column("From", 8, 60),
)

SAID: Final = "said:"
"""Head of the ids of lines that are no slots: the question, the smallest gain and so on."""

_CHANGED, _DOUBT = "≠", "△"
_OWN: Final = "a line of your own"
_GROUPS: Final = {
    "carburettor and air": "carb",
    "flywheel and governor": "flywheel",
    "mass and rider": "mass",
    "oil and fuel": "oil, fuel",
    "timing gear": "timing",
    "tyres and wheels": "tyres",
    "valve train": "valves",
}
"""Headings that are too long to stand beside the lines, and what stands there."""


@dataclass(frozen=True)
class SlotChoice:
    """A slot that can be picked."""

    id: str
    words: str
    note: str


def _group(slot: Slot) -> str:
    return _GROUPS.get(slot.group, slot.group)


def changed_slots(desk: Desk) -> dict[str, Change]:
    """Return what differs from the sheet it is counted against, by slot."""
    base = desk.base_sheet
    return {c.slot: c for c in changes(base, desk.sheet)} if base is not None else {}


def change_lines(desk: Desk) -> tuple[str, ...]:
    """Return what was changed, one line each, after how many causes that is."""
    made = tuple(changed_slots(desk).values())
    if desk.base_sheet is None:
        return ("First sheet of this machine: nothing to count changes from.",)
    since = (
        f"since build {desk.letters[-2]}"
        if len(desk.session.sheets) > 1
        else (f"since {desk.label_of(desk.session.came_from)}")
    )
    if not made:
        return (f"Nothing changed {since}.",)
    causes = main_changes(made)
    count = f"{len(causes)} change{'' if len(causes) == 1 else 's'} {since}"
    package = ": the gain will belong to the package" if len(causes) > 1 else ""
    named = {change.slot for change in causes}
    follow = [c for c in made if c.slot not in named]
    return (
        f"{_CHANGED} {count}{package}.",
        *(f"{_CHANGED} {plain(change.words)}" for change in causes),
        *(f"  with it: {plain(change.words)}" for change in follow),
    )


def slot_choices(desk: Desk) -> tuple[SlotChoice, ...]:
    """Return every slot there is, those on the sheet first, each with what it says now."""
    on_sheet = desk.sheet.readings
    ids = sorted({*on_sheet, *(slot.id for slot in match_slots(""))}, key=slot_order)
    ids.sort(key=lambda slot: slot not in on_sheet)
    rows = []
    for slot_id in ids:
        slot = slot_of(slot_id)
        now = reading_words(slot, on_sheet[slot_id]) if slot_id in on_sheet else "not recorded"
        rows.append(SlotChoice(slot_id, slot.label, f"{_group(slot)}: {plain(now)}"))
    return tuple(rows)


def slot_lines(desk: Desk, sought: str = "") -> tuple[Line, ...]:
    """Return the lines of the sheet by group; with letters, every slot that they may mean.

    Args:
        desk: the session.
        sought: letters typed; empty: what is recorded, after what was said about the session.
    """
    made = changed_slots(desk)
    if sought.strip():
        slots = [slot.id for slot in match_slots(sought)]
        slots += [slot for slot in _by_name(desk, sought) if slot not in slots]
        return (*(_line(desk, slot, made, "") for slot in slots), *_own_line(sought, slots))
    lines = list(_said_lines(desk))
    last = ""
    for slot_id in sorted(desk.sheet.readings, key=slot_order):
        group = _group(slot_of(slot_id))
        lines.append(_line(desk, slot_id, made, group if group != last else ""))
        last = group
    return tuple(lines)


def _by_name(desk: Desk, sought: str) -> Iterator[str]:
    """Yield the user's own slots of this name, and those that a part or word of this name is on."""
    letters = " ".join(sought.casefold().split())
    names = {head.slot for head in desk.book.parts() if letters in head.name.casefold()}
    for slot, reading in desk.sheet.readings.items():
        own = slot.startswith("own:") and letters.replace(" ", "_") in slot
        if own or slot in names or letters in reading.text.casefold():
            yield slot
            names.discard(slot)
    yield from sorted(names - {""}, key=slot_order)


def _own_line(sought: str, found: list[str]) -> Iterator[Line]:
    """Offer a slot of the user's own, where nothing the tool knows fits better."""
    try:
        slot = own_slot(sought)
    except BackToBackError:
        return
    if slot.id not in found:
        yield Line(slot.id, ("+", Toned("new", "quiet"), plain(slot.label), _OWN, ""))


def _line(desk: Desk, slot_id: str, made: dict[str, Change], group: str) -> Line:
    slot, reading = slot_of(slot_id), desk.sheet.readings.get(slot_id)
    change = made.get(slot_id)
    doubtful = reading is not None and (reading.stale or reading.state == "unknown")
    sign = Toned(_CHANGED, "strong") if change else Toned(_DOUBT if doubtful else "", "warn")
    tone = "strong" if change else "quiet" if reading is None else "plain"
    value = Toned(plain(reading_words(slot, reading)), tone)
    return Line(
        slot_id,
        (
            sign,
            Toned(group, "quiet"),
            Toned(plain(slot.label), tone),
            value,
            _from(desk, reading, change),
        ),
    )


def _from(desk: Desk, reading: Reading | None, change: Change | None) -> Cell:
    """Return where a value is from, what it was, and how it is known."""
    if reading is None:
        return Toned("removed" if change else "", "warn")
    said = [desk.label_of(reading.carried) if reading.carried else "today"]
    if change is not None:
        said = [f"changed, was {reading_words(slot_of(change.slot), change.before)}"]
    said += state_words(reading)
    tone = "warn" if reading.stale or reading.copied else "strong" if change else "quiet"
    short = "changed" if change is not None else said[0]
    short = "△ stale" if reading.stale else "△ copied" if reading.copied else short
    return Toned(plain(", ".join(said)), tone, plain(short))


def _said_lines(desk: Desk) -> Iterator[Line]:
    """Yield what was said about the session itself."""
    session, unit = desk.session, desk.test.unit
    made = session.prediction
    expected = (
        prediction_words(Prediction(made.value, made.give_or_take), desk.test) if made else ""
    )
    rows = (
        ("question", "question", session.question),
        ("gain", "smallest gain worth having", _number(session.gain, unit)),
        ("prediction", "prediction", expected),
        ("rider", "rider", session.rider),
        ("helper", "helper", session.helper),
        ("elevation", "elevation of the place", _number(_elevation(desk), "m")),
        ("kind", "kind of machine", desk.machine.type if desk.machine else ""),
        ("timing", "timed with", session.timing or "not told"),
    )
    for index, (key, label, value) in enumerate(rows):
        shown = Toned(plain(value) or "-", "plain" if value else "quiet")
        yield Line(SAID + key, ("", Toned("" if index else "session", "quiet"), label, shown, ""))


def _elevation(desk: Desk) -> float | None:
    return desk.place.elevation if desk.place else None


def _number(value: float | None, unit: str) -> str:
    return "" if value is None else f"{format_number(value)} {unit}".strip()
