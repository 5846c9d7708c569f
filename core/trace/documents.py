"""The document of a recording that belongs to the log; the file itself is kept beside it."""

from __future__ import annotations

from typing import Any, Literal

import msgspec

from core.clock import AwareTime
from core.log import Document, Kind
from core.ranged import Ranged
from core.trace.columns import Columns
from core.trace.wanted import FoundRun

__all__ = ["TRACE_KIND", "JudgedRun", "KeptDrag", "TraceDocument", "TraceHead", "TraceKind"]

TraceKind = Literal["nmea", "gpx", "csv"]
"""Formats of recordings: NMEA 0183 sentences, GPX track, CSV."""


class JudgedRun(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A run of a recording and what a person made of it."""

    run: FoundRun  # as found, or as adjusted
    verdict: Literal["accepted", "adjusted", "refused"]
    at: AwareTime  # when that was said
    attempt: int | None = None  # number of the attempt it became, or was put beside
    reason: str = ""


class KeptDrag(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What held a machine back in the coast-downs of a recording, with 95 % ranges."""

    at: AwareTime  # when it was worked out
    test: str  # short name of the coast-down
    mass: float  # kg of machine and rider, as it was told
    f0: Ranged  # N: rolling
    f2: Ranged  # N s²/m²: air
    rolling: Ranged  # coefficient of rolling resistance
    drag_area: Ranged | None = None  # m²; None: air density not known
    air_density: float | None = None  # kg/m³ of the day
    each_way: dict[str, int] = {}  # coast-downs by direction
    notes: tuple[str, ...] = ()


class TraceDocument(Document, frozen=True, kw_only=True):
    """A recording that was read; its bytes are in ``traces/<sha256>.<form>``, never altered."""

    name: str  # of the file, as given
    sha256: str  # of its bytes
    form: TraceKind
    size: int  # bytes
    read: AwareTime  # when it was read in
    session: str = ""  # id of the session it belongs to; empty: none yet
    began: AwareTime | None = None  # moment of its first row by its own clock, where told
    seconds: float = 0.0  # recorded time
    rows: int = 0
    rate: float = 0.0  # rows per second, measured
    noise: float = 0.0  # m/s, of one speed
    shift: float = 0.0  # s to add to its clock
    shift_reason: str = ""
    header: str = ""  # of a CSV: what its columns are remembered by
    columns: Columns | None = None  # of a CSV: what was read as what
    rejected: int = 0  # lines that were left out
    findings: tuple[str, ...] = ()
    runs: tuple[JudgedRun, ...] = ()
    drag: KeptDrag | None = None  # of its coast-downs, for the road load of the machine


class TraceHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of recordings needs, and what is looked up by header and content."""

    id: str
    name: str
    sha256: str
    form: TraceKind
    read: AwareTime
    session: str = ""
    seconds: float = 0.0
    header: str = ""
    columns: Columns | None = None
    drag: KeptDrag | None = None


def _as_it_was(fields: dict[str, Any]) -> dict[str, Any]:
    """Format 2 may hold ``drag``; what format 1 says is all still so."""
    return dict(fields)


TRACE_KIND = Kind(
    name="trace",
    folder="traces",
    type=TraceDocument,
    head=TraceHead,
    version=2,
    migrations=(_as_it_was,),
)
