"""Everything that is on file about a machine's bench work, put together once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from core.bench.clay import ClayOnFile, latest_clay
from core.bench.documents import BenchReading
from core.bench.gauges import USUAL_GAUGES, halves_on
from core.bench.history import Entry, slot_history
from core.bench.tables import LiftTables, tables_for
from core.checks import Cleared
from core.engine import Instrument
from core.setup import Sheet

__all__ = ["Past"]


@dataclass(frozen=True)
class Past:
    """What is known of a machine besides the sheet in front."""

    taken: tuple[BenchReading, ...] = ()  # oldest first
    answers: tuple[Cleared, ...] = ()  # to its checks, oldest first
    gauges: Mapping[str, Instrument] = field(default_factory=lambda: USUAL_GAUGES)
    sheets: tuple[tuple[str, Sheet], ...] = ()  # session label and sheet, oldest first

    def clay(self, sheet: Sheet) -> ClayOnFile | None:
        """Return the newest clay reading that a gap can be carried from."""
        return latest_clay(sheet, self.taken, self.answers, self.gauges)

    def tables(self, sheet: Sheet) -> LiftTables:
        """Return the lift tables of the cam on this sheet."""
        return tables_for(sheet, self.taken)

    def halves(self, sheet: Sheet) -> dict[str, float]:
        """Return how far out each value of this sheet may be, by slot, in the slot's unit."""
        return halves_on(sheet, self.taken, self.gauges)

    def history(self, slot: str) -> tuple[Entry, ...]:
        """Return what was read at a slot, oldest first."""
        return slot_history(slot, self.taken, self.answers, self.sheets)
