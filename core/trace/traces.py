"""What a recording holds once it is read: rows as arrays, and everything that was found odd."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING

import msgspec

from core.trace.documents import TraceKind
from core.trace.formats.findings import Finding
from core.trace.formats.rejects import NO_FIX, Rejected

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from core.trace.columns import Columns

    Floats = NDArray[np.float64]
    Whole = NDArray[np.int32]

__all__ = ["ClockJump", "FileClock", "Gap", "Trace"]


class FileClock(msgspec.Struct, frozen=True):
    """What the file's own clock showed at the first row, as far as the file tells."""

    day: date | None = None  # None: only a time of day, or nothing
    second: float | None = None  # s since midnight; None: the file counts seconds from its start
    utc: bool = False  # whether day and second are UTC; False: the zone is not told

    def moment(
        self, t: float, zone: tzinfo = UTC, day: date | None = None, shift: float = 0.0
    ) -> datetime | None:
        """Return the moment of a row, in UTC.

        Args:
            t: time of the row, s from the first row.
            zone: taken for the file's zone where the file does not tell it.
            day: taken for the day of the first row where the file does not tell it.
            shift: s that the file's clock is slow; added.

        Returns:
            None when the file tells no time of day, or no day is known.
        """
        first = self.day or day
        if self.second is None or first is None:
            return None
        midnight = datetime(first.year, first.month, first.day, tzinfo=UTC if self.utc else zone)
        try:
            return midnight.astimezone(UTC) + timedelta(seconds=self.second + t + shift)
        except OverflowError:
            return None


class Gap(msgspec.Struct, frozen=True):
    """Rows that are missing."""

    t: float  # s of the row before
    seconds: float  # to the next row


class ClockJump(msgspec.Struct, frozen=True):
    """The clock of the recording was set, or another recording was appended."""

    line: int  # of the first row after it
    seconds: float  # by how much; below zero: back


@dataclass(frozen=True, eq=False)
class Trace:
    """A recording that was read; all arrays are equally long and shall not be written to.

    Within one part (see ``parts``) the times increase; from one part to the next they may do
    anything.
    """

    kind: TraceKind
    name: str  # of the file, as given
    sha256: str  # of its bytes
    size: int  # bytes
    t: Floats  # s from the first row
    speed: Floats  # m/s
    heading: Floats  # degrees from north, clockwise; NaN where not known
    lat: Floats  # degrees; NaN where not known
    lon: Floats  # degrees; NaN where not known
    line: Whole  # number of the line in the file, or of the point
    parts: tuple[tuple[int, int], ...]  # from and to (not counted in): rows without a break
    clock: FileClock
    rate: float  # rows per second, measured; 0 where there is no telling
    noise: float  # m/s, standard deviation of one speed as estimated from the rows
    from_positions: bool  # speeds were worked out from positions, so neighbours share errors
    extra: Mapping[str, Floats] = field(default_factory=dict)  # other columns, by their names
    gaps: tuple[Gap, ...] = ()  # the first ones; all are counted in ``gap_count``
    gap_count: int = 0
    duplicates: int = 0  # rows that said the same again, left out
    jumps: tuple[ClockJump, ...] = ()
    rejected: tuple[Rejected, ...] = ()  # the first ones; all are counted in ``reject_counts``
    reject_counts: Mapping[str, int] = field(default_factory=dict)  # by kind
    findings: tuple[Finding, ...] = ()
    passed_over: int = 0  # sentences of kinds that are not needed
    columns: Columns | None = None  # of a CSV: what was read as what
    header: str = ""  # of a CSV: what its columns are remembered by

    @property
    def rows(self) -> int:
        """How many rows."""
        return len(self.t)

    @property
    def duration(self) -> float:
        """Recorded time, s; breaks between parts are not counted."""
        return float(sum(self.t[to - 1] - self.t[start] for start, to in self.parts))

    @property
    def rejected_total(self) -> int:
        """All lines that were left out."""
        return sum(self.reject_counts.values())

    @property
    def is_clean(self) -> bool:
        """Whether no line was left out but those before the receiver had a position."""
        return not set(self.reject_counts) - {NO_FIX}

    def moment(
        self, t: float, zone: tzinfo = UTC, day: date | None = None, shift: float = 0.0
    ) -> datetime | None:
        """Return the moment of a time of this recording; see `FileClock.moment`."""
        return self.clock.moment(t, zone, day, shift)
