"""The documents of the bench: a reading as it was taken, and an instrument put right."""

from __future__ import annotations

from typing import Literal

import msgspec

from core.clock import AwareTime
from core.log import Document, Kind
from core.setup import Reading

__all__ = [
    "BENCH_KIND",
    "GAUGE_KIND",
    "BenchHead",
    "BenchReading",
    "BenchWhat",
    "ClaySide",
    "ClayTaken",
    "Condition",
    "Gauge",
    "GaugeHead",
    "LiftTaken",
    "Side",
]

BenchWhat = Literal["slots", "clay", "check", "lift table"]
"""``slots`` of the setup sheet; ``clay`` between valves and piston; a ``check`` that no slot holds
the number of; a whole degree-wheel ``lift table``."""

Condition = Literal["", "cold", "hot"]
Side = Literal["intake", "exhaust"]


class ClaySide(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What the clay under one valve showed."""

    state: Literal["touched", "touched, unmeasured", "not touched", "torn"]
    thinnest: float | None = None  # mm, when touched and measured
    applied: float | None = None  # mm, thickness put on
    tight_lift: float | None = None  # mm of lobe lift where it was tightest, if that was seen


class ClayTaken(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The gaps between valves and piston as clay or a dial gauge showed them."""

    intake: ClaySide
    exhaust: ClaySide
    dial: bool = False  # with light springs and a dial gauge, not with clay
    lash_zero: bool = True  # taken with the lash taken up, as the check asks


class LiftTaken(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A lift table from degree wheel and dial gauge."""

    side: Side
    angles: tuple[float, ...]  # crank degrees after the top between exhaust and intake
    lifts: tuple[float, ...]  # mm
    measured_at: Literal["lobe", "valve"] = "lobe"
    rocker_ratio: float | None = None  # it was read with, when at the valve
    lash: float | None = None  # mm, the same


class BenchReading(Document, frozen=True, kw_only=True):
    """One reading taken at the bench, for a machine or for a loose engine."""

    what: BenchWhat
    at: AwareTime  # when it was taken
    machine: str = ""  # id; empty: a loose engine or part
    part: str = ""  # id of the loose engine or part; empty: on a machine
    text: str = ""  # as typed
    readings: dict[str, Reading] = msgspec.field(default_factory=dict)  # by slot, in its unit
    numbers: tuple[float, ...] = ()  # of a check that no slot holds, in its rule's unit
    clay: ClayTaken | None = None
    lift: LiftTaken | None = None
    rule: str = ""  # id of the check that it answers; empty: none
    own: float | None = None  # the user's own least value, in the rule's unit
    instrument: str = ""  # key; empty: the usual one
    times: int = 1  # how many readings the value is the mean of
    repeatability: float | None = None  # sd of this reading in its unit; None: the instrument's
    condition: Condition = ""
    head_temperature: float | None = None  # °C
    around: dict[str, Reading] = msgspec.field(default_factory=dict)  # what it hangs on, then
    session: str = ""  # id of the session whose sheet it went onto
    note: str = ""


class BenchHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of bench readings needs."""

    id: str
    what: BenchWhat
    at: AwareTime
    machine: str = ""
    part: str = ""
    text: str = ""
    rule: str = ""
    instrument: str = ""
    condition: Condition = ""
    session: str = ""
    note: str = ""


class Gauge(Document, frozen=True, kw_only=True):
    """An instrument with the user's own figures; its id is the key of the instrument."""

    words: str
    resolution: float  # smallest step, in `core.bench.gauges.GAUGE_UNITS`
    repeatability: float  # one sd of the same hand doing it again, the same unit
    at: AwareTime | None = None  # when it was put right
    note: str = ""


class GaugeHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of instruments needs: all of it."""

    id: str
    words: str
    resolution: float
    repeatability: float


BENCH_KIND = Kind(name="bench-reading", folder="bench", type=BenchReading, head=BenchHead)
GAUGE_KIND = Kind(name="gauge", folder="gauges", type=Gauge, head=GaugeHead)
