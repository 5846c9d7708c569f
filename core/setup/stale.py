"""Values that no longer hold: stale once something changed under them, copied until confirmed."""

from __future__ import annotations

from datetime import datetime

import msgspec

from core.setup.changes import Change, changes
from core.setup.readings import Reading, known_value
from core.setup.sheets import Sheet
from core.setup.slots import Slot, slot_of

__all__ = ["confirm", "copy_from_machine", "mark_stale"]

_BECAUSE = {"head_milled": "milling", "block_decked": "decking"}
"""What a change is called behind 'before'; any other is named by its slot."""


def mark_stale(before: Sheet, after: Sheet) -> Sheet:
    """Return the later sheet with the values marked that a change took away the ground from.

    A measured value or a setting is stale when a slot it follows has changed and it was not
    entered again; a property of a part when that part has changed. A part is never stale. A value
    that is only the same number again counts as entered again: its time differs.

    Args:
        before: the sheet as it was.
        after: the same sheet with the changes made.
    """
    made = {change.slot: change for change in changes(before, after)}
    readings = dict(after.readings)
    for name, reading in after.readings.items():
        slot = slot_of(name)
        if _entered_again(before.readings.get(name), reading) or not _can_go_stale(slot, reading):
            continue
        causes = [made[cause] for cause in _ground(slot) if cause in made]
        if causes:
            readings[name] = _gone(slot, reading, causes)
    return msgspec.structs.replace(after, readings=readings)


def _entered_again(before: Reading | None, after: Reading) -> bool:
    return before != after


def _can_go_stale(slot: Slot, reading: Reading) -> bool:
    return slot.kind != "part" and reading.state not in ("unknown", "not fitted")


def _ground(slot: Slot) -> tuple[str, ...]:
    """Slots whose change takes this one's value away."""
    return (slot.of,) if slot.of and slot.role != "measured" else slot.follows


def _gone(slot: Slot, reading: Reading, causes: list[Change]) -> Reading:
    because = _BECAUSE.get(causes[0].slot, f"the {slot_of(causes[0].slot).label} was changed")
    if reading.stale:  # its first reason stays; what was taken off adds up
        because = reading.stale_because or because
    return msgspec.structs.replace(
        reading,
        stale=True,
        stale_because=because,
        stale_since=reading.stale_since or _since(causes),
        stale_by=_taken_off(reading, causes),
    )


def _since(causes: list[Change]) -> datetime | None:
    times = [c.after.at for c in causes if c.after is not None and c.after.at is not None]
    return min(times) if times else None


def _taken_off(reading: Reading, causes: list[Change]) -> float | None:
    """Return how much was milled off the head in all since the value was taken, mm.

    None when something else changed as well, or when it was not told how much.
    """
    if [c.slot for c in causes] != ["head_milled"] or (reading.stale and reading.stale_by is None):
        return None
    old, new = (known_value(r) for r in (causes[0].before, causes[0].after))
    if old is None or new is None:
        return None
    more = new - old + (reading.stale_by or 0.0)
    return round(more, 6) if more > 0 else None


def copy_from_machine(sheet: Sheet, at: datetime | None = None) -> Sheet:
    """Return a sheet to start another machine from: every value said to be copied, not measured.

    Parts stay behind, since a part is on one machine only; so does what varies from day to day.

    Args:
        sheet: of the other machine.
        at: when the new sheet starts.
    """
    readings = {
        name: msgspec.structs.replace(reading, copied=True, carried="")
        for name, reading in sheet.readings.items()
        if slot_of(name).kind != "part" and not slot_of(name).condition
    }
    return Sheet(readings=readings, started=at)


def confirm(reading: Reading, at: datetime) -> Reading:
    """Return a carried, copied or stale value as taken again and found the same.

    Args:
        reading: as it stands.
        at: when it was looked at.
    """
    return msgspec.structs.replace(
        reading,
        at=at,
        carried="",
        copied=False,
        stale=False,
        stale_because="",
        stale_since=None,
        stale_by=None,
    )
