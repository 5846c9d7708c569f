"""The records of one try and of the air it ran in; they live inside a session."""

from __future__ import annotations

from typing import Literal

import msgspec

from core.clock import AwareTime

__all__ = ["AirReading", "Attempt", "AttemptKind", "EnteredHow", "Strike"]

AttemptKind = Literal["timed", "warm-up", "aborted"]
EnteredHow = Literal["live", "later", "imported", "trace"]


class Strike(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Why an attempt does not count: a fault of the test, never of the machine."""

    code: str  # a row of the strike table, such as ``LATE``
    note: str = ""
    at: AwareTime | None = None
    late: bool = False  # struck after its time was seen


class Attempt(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One timed try of one test in one direction."""

    n: int  # number within the session, from 1, never used twice
    sheet: int = 0  # index of the setup sheet it ran on
    kind: AttemptKind = "timed"
    value: float | None = None  # in the unit of its test; None when aborted
    text: str = ""  # as typed
    direction: str = ""  # one of the place's two names; empty: not known, or one way
    at: AwareTime | None = None  # when it was entered, or when it ran if told
    test: str = ""  # name of the test; empty: the session's main test
    timing: str = ""  # name of the timing gear; empty: the session's
    tags: tuple[str, ...] = ()  # machine behaviour: rows of the tag table, such as ``BOG``
    strike: Strike | None = None
    second: float | None = None  # what the other timer said
    second_timing: str = ""
    unsure: bool = False  # the timer was only suspected of an error: kept, marked "?"
    entered: EnteredHow = "live"
    note: str = ""


class AirReading(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Air and wind as observed; every part of it may be missing."""

    observed: AwareTime  # when it was read off
    entered: AwareTime | None = None  # when it was typed, if later
    temperature: float | None = None  # °C
    pressure: float | None = None  # hPa at the station, not reduced to sea level
    humidity: float | None = None  # % relative
    wind: float | None = None  # m/s mean at about 1.5 m height
    gust: float | None = None  # m/s
    wind_from: str = ""  # one of the place's direction names, a compass point, or ``cross``
    source: str = ""  # hand meter, own station, airfield report with its distance
    text: str = ""  # as typed
    note: str = ""
