"""Values that no longer hold: stale once something changed under them, copied until confirmed."""

from __future__ import annotations

from datetime import datetime

import msgspec

from core.setup.changes import Change, changes
from core.setup.limits import LIMITS
from core.setup.readings import Reading, known_value
from core.setup.sheets import Sheet
from core.setup.slots import Slot, slot_of

__all__ = ["confirm", "copy_from_machine", "mark_stale"]

_CUTS = {"head_milled": "milling", "block_decked": "decking"}
"""Metal taken off, and what that is called behind 'before'; another change is named by its slot."""


def mark_stale(before: Sheet, after: Sheet) -> Sheet:
    """Return the later sheet with the values marked that a change took away the ground from.

    A measured value or a setting is stale when a slot it follows has changed and it was not
    entered again; a property of a part when that part has changed. A part is never stale. Writing
    down what was never recorded is no change here, except metal taken off, and except for rpm
    limits, which count only for the part they were stated for. A value that is the same number
    again counts as entered again if its time differs.

    Args:
        before: the sheet as it was.
        after: the same sheet with the changes made.
    """
    made = {change.slot: change for change in changes(before, after)}
    readings = dict(after.readings)
    for name, reading in after.readings.items():
        slot = slot_of(name)
        if before.readings.get(name) != reading or not _can_go_stale(slot, reading):
            continue
        causes = [
            made[cause] for cause in _ground(slot) if cause in made and _counts(slot, made[cause])
        ]
        if causes:
            readings[name] = _gone(slot, reading, causes)
    return msgspec.structs.replace(after, readings=readings)


def _can_go_stale(slot: Slot, reading: Reading) -> bool:
    return slot.kind != "part" and reading.state not in ("unknown", "not fitted")


def _ground(slot: Slot) -> tuple[str, ...]:
    """Slots whose change takes this one's value away."""
    return (slot.of,) if slot.of and slot.role != "measured" else slot.follows


def _counts(slot: Slot, change: Change) -> bool:
    if change.slot in _CUTS:
        return change.after is not None and change.after.value != 0
    recorded = change.before is not None and change.before.state != "unknown"
    return recorded or (slot.id in LIMITS and change.slot == slot.of)


def _gone(slot: Slot, reading: Reading, causes: list[Change]) -> Reading:
    first = causes[0].slot
    because = _CUTS.get(first, f"the change of {slot_of(first).label}")
    return msgspec.structs.replace(
        reading,
        stale=True,
        stale_because=reading.stale_because or because,
        stale_since=reading.stale_since or _since(causes),
        stale_by=_taken_off(reading, causes),
    )


def _since(causes: list[Change]) -> datetime | None:
    times = [c.after.at for c in causes if c.after is not None and c.after.at is not None]
    return min(times) if times else None


def _taken_off(reading: Reading, causes: list[Change]) -> float | None:
    """Return how much was milled off the head at most since the value was taken, mm.

    None when something else changed as well, or when it was not told how much.
    """
    if [c.slot for c in causes] != ["head_milled"] or (reading.stale and reading.stale_by is None):
        return None
    new = known_value(causes[0].after)
    if new is None:
        return None
    more = new - (known_value(causes[0].before) or 0.0) + (reading.stale_by or 0.0)
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
