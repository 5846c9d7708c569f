"""The setup sheet: what was bolted on and how it was set, at one time."""

from __future__ import annotations

from datetime import datetime

import msgspec

from core.clock import AwareTime
from core.setup.readings import Reading

__all__ = ["Sheet", "carry_over", "with_reading"]


class Sheet(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A snapshot of the slots; a slot that is absent was never recorded (not zero, not default)."""

    readings: dict[str, Reading] = {}  # by slot id
    started: AwareTime | None = None  # when the machine first ran on it
    label: str = ""  # the user's own name for this build; the letter is worked out, never stored
    note: str = ""


def carry_over(sheet: Sheet, session: str, at: datetime) -> Sheet:
    """Return the sheet a new session starts from: the same values, each said to be carried over.

    Args:
        sheet: the last sheet of the earlier session.
        session: id of that earlier session.
        at: when the new sheet starts.
    """
    readings = {
        slot: reading if reading.carried else msgspec.structs.replace(reading, carried=session)
        for slot, reading in sheet.readings.items()
    }
    return Sheet(readings=readings, started=at)


def with_reading(sheet: Sheet, slot: str, reading: Reading | None) -> Sheet:
    """Return the sheet with this slot set, or with the slot no longer recorded when None."""
    readings = dict(sheet.readings)
    if reading is None:
        readings.pop(slot, None)
    else:
        readings[slot] = reading
    return msgspec.structs.replace(sheet, readings=readings)
