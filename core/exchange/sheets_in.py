"""Setup sheets from what the rows of a file say of the slots: a new one wherever that changes."""

from __future__ import annotations

from datetime import datetime

import msgspec

from core.exchange.drafts import Entry
from core.exchange.naming import Names
from core.exchange.slot_cells import Told, key_of
from core.setup import Reading, Sheet

__all__ = ["SheetStack", "keys_of_sheet"]


def keys_of_sheet(sheet: Sheet) -> dict[str, str]:
    """Return what a sheet says by slot, to be compared with what a file does."""
    return {slot: key_of(reading) for slot, reading in sheet.readings.items()}


class SheetStack:
    """The sheets of one session while its rows are gone through.

    Args:
        names: finds and makes parts.
        sheets: those that the session has already.
    """

    def __init__(self, names: Names, sheets: tuple[Sheet, ...] = ()) -> None:
        self._names = names
        self.sheets = list(sheets)
        self._keys = [keys_of_sheet(sheet) for sheet in sheets]
        self._current = 0

    def stand_on(self, index: int) -> None:
        """Go on from this sheet."""
        self._current = index

    def index_for(self, entry: Entry, at: datetime | None) -> int:
        """Return the index of the sheet that an attempt ran on; a new sheet if it says otherwise.

        Args:
            entry: the attempt; slots that its file does not tell are as on the sheet before.
            at: when the sheet starts, if a new one does.
        """
        if self.sheets and self._holds(entry):
            return self._current
        readings = dict(self.sheets[self._current].readings) if self.sheets else {}
        for slot, told in entry.told.items():
            reading = self._reading(slot, told)
            if reading is None:
                readings.pop(slot, None)
            else:
                readings[slot] = reading
        self.sheets.append(Sheet(readings=readings, started=at))
        self._keys.append(keys_of_sheet(self.sheets[-1]))
        self._current = len(self.sheets) - 1
        return self._current

    def _holds(self, entry: Entry) -> bool:
        now = self._keys[self._current]
        return all(now.get(slot, "") == told.key for slot, told in entry.told.items())

    def _reading(self, slot: str, told: Told) -> Reading | None:
        if told.reading is None or not told.part:
            return told.reading
        teeth = told.teeth.reading.value if told.teeth and told.teeth.reading else None
        id_ = self._names.part(slot, told.part, None if teeth is None else int(teeth))
        return msgspec.structs.replace(told.reading, part=id_)
