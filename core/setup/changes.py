"""What differs between two setup sheets, which of it is a cause, and builds known by a letter."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from core.setup.readings import Reading, same_reading, sameness
from core.setup.sheets import Sheet, with_reading
from core.setup.slots import Slot, slot_of, slot_order
from core.setup.words import reading_words

__all__ = [
    "Change",
    "apply",
    "build_key",
    "build_letters",
    "build_readings",
    "changes",
    "main_changes",
    "says_same",
]


@dataclass(frozen=True)
class Change:
    """One slot that differs between two sheets."""

    slot: str  # id
    before: Reading | None  # None: not recorded
    after: Reading | None
    noted: bool = False  # only written down or put right: the part it belongs to is the same

    @property
    def words(self) -> str:
        """One line for a person, such as ``final sprocket: 60T -> 66T``."""
        slot = slot_of(self.slot)
        before, after = reading_words(slot, self.before), reading_words(slot, self.after)
        return f"{slot.label}: {before} -> {after}"


def changes(a: Sheet, b: Sheet) -> tuple[Change, ...]:
    """Return every slot on which the sheets do not say the same, in the order of the sheet.

    Args:
        a: before.
        b: after.
    """
    slots = sorted(a.readings.keys() | b.readings.keys(), key=slot_order)
    found = []
    for slot in slots:
        before, after = a.readings.get(slot), b.readings.get(slot)
        if not same_reading(before, after):
            found.append(Change(slot, before, after, _only_noted(slot_of(slot), a, b)))
    return tuple(found)


def apply(changes: Iterable[Change], a: Sheet) -> Sheet:
    """Return the sheet with these changes made; ``says_same(apply(changes(a, b), a), b)``."""
    sheet = a
    for change in changes:
        sheet = with_reading(sheet, change.slot, change.after)
    return sheet


def says_same(a: Sheet, b: Sheet) -> bool:
    """Tell whether two sheets say the same of the machine, however and whenever it was entered."""
    return not changes(a, b)


def main_changes(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return those that can be causes of a difference, each cause once.

    Left out: what was measured, what varies from day to day, what was only written down about
    a part that stayed, what turned from not recorded to unknown, and what follows from another
    change (a sprocket's teeth, the chain cut to its length, the lash set for other rockers).
    """
    causes = [change for change in changes if _can_cause(change)]
    slots = {change.slot for change in causes}
    return tuple(c for c in causes if slots.isdisjoint(slot_of(c.slot).follows))


def _can_cause(change: Change) -> bool:
    if change.noted or not _makes_build(slot_of(change.slot)):
        return False
    return _known(change.before) or _known(change.after)


def _makes_build(slot: Slot) -> bool:
    return slot.role != "measured" and not slot.condition


def _known(reading: Reading | None) -> bool:
    return reading is not None and reading.state != "unknown"


def _holds_part(sheet: Sheet, slot: str) -> bool:
    reading = sheet.readings.get(slot)
    return reading is not None and reading.state == "fitted"


def _only_noted(slot: Slot, a: Sheet, b: Sheet) -> bool:
    """Tell whether this is a property of a part that is on both sheets."""
    if not slot.of or not (_holds_part(a, slot.of) and _holds_part(b, slot.of)):
        return False
    return same_reading(a.readings[slot.of], b.readings[slot.of])


def build_key(sheet: Sheet) -> str:
    """Return a short text that is the same exactly for sheets of the same build.

    Two sheets have the same key exactly if nothing between them is a main change. It stands for
    everything that makes the build; what is measured, varies from day to day or is a fixed
    property of a part that is named does not count. The key stays the same over versions as long
    as the slots do. It is empty where the sheet records nothing of the build: such sheets cannot
    be told apart, so two days of them are not days of one build.
    """
    said = [(name, *sameness(reading)) for name, reading in build_readings(sheet).items()]
    return hashlib.sha256(repr(said).encode()).hexdigest()[:16] if said else ""


def build_readings(sheet: Sheet) -> dict[str, Reading]:
    """Return the readings that make the build, by slot id in alphabetical order.

    Left out is what :func:`build_key` leaves out: what is not known, was measured, varies from
    day to day, or is a fixed property of a part that is named.
    """
    found = {}
    for name in sorted(sheet.readings):
        slot, reading = slot_of(name), sheet.readings[name]
        settled = bool(slot.of) and _holds_part(sheet, slot.of)
        if _makes_build(slot) and _known(reading) and not settled:
            found[name] = reading
    return found


def build_letters(sheets: Sequence[Sheet]) -> tuple[str, ...]:
    """Return a letter per sheet: A for the first; a build that returns gets its letter again.

    After Z follow AA, AB and so on.

    >>> from core.setup.readings import fitted
    >>> a, b = (Sheet(readings={"final_sprocket": fitted(p, p)}) for p in ("60t", "66t"))
    >>> build_letters([a, b, a])
    ('A', 'B', 'A')
    """
    letters: dict[str, str] = {}
    found = []
    for sheet in sheets:
        key = build_key(sheet)
        if key not in letters:
            letters[key] = _letter(len(letters))
        found.append(letters[key])
    return tuple(found)


def _letter(index: int) -> str:
    text = ""
    number = index + 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text
