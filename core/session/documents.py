"""The document of one visit and the document of the place it went to."""

from __future__ import annotations

from datetime import date
from typing import Any, Literal

import msgspec

from core.attempts.air import wind_beyond
from core.attempts.documents import AirReading, Attempt, AttemptKind
from core.checks.documents import CheckRecord
from core.clock import AwareTime
from core.log import Document, Kind
from core.session.soundness import impossible
from core.session.weather import Weather, load_of, weather_of
from core.setup import SLOTS, Sheet, build_key

__all__ = [
    "PLACE_KIND",
    "SESSION_KIND",
    "CloseOut",
    "Permission",
    "Place",
    "PlaceHead",
    "Prediction",
    "Session",
    "SessionHead",
    "SessionState",
    "TrailLine",
]

SessionState = Literal["open", "closed", "stopped"]


class Permission(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Who allows running here, and until when."""

    text: str = ""
    until: date | None = None


class Place(Document, frozen=True, kw_only=True):
    """A strip or lane."""

    name: str
    aliases: tuple[str, ...] = ()
    directions: tuple[str, ...] = ()  # two names such as ("W", "E"), or none: run one way
    length: float | None = None  # m
    elevation: float | None = None  # m above sea level
    slope: float | None = None  # % rise towards the first direction
    surface: str = ""
    permission: Permission | None = None
    note: str = ""
    created: AwareTime | None = None


class Prediction(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What the user expected before running; locked with its time."""

    value: float  # expected difference, in the test's unit, with sign
    give_or_take: float | None = None
    against: str = ""  # id of the session it is compared with
    at: AwareTime | None = None


class CloseOut(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The end of a session: what was learnt, what stays bolted on, what next."""

    learnt: str = ""
    decision: Literal["", "keep", "revert", "repeat"] = ""
    because: str = ""
    next: str = ""
    compared_with: str = ""  # the session the decision rests on
    at: AwareTime | None = None


class TrailLine(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One action that was taken on the session, and how to take it back."""

    at: AwareTime
    action: str  # "enter", "strike", "swap", "undo" ...
    words: str  # one line for a person
    back: list[dict[str, Any]] = []  # JSON Patch (RFC 6902) that restores what was before
    undoes: int | None = None  # index of the line this one takes back


class Session(Document, frozen=True, kw_only=True):
    """One visit with one purpose."""

    label: str  # the user's own name for it, such as S05
    machine: str  # id
    place: str = ""  # id; empty: not told
    started: AwareTime
    test: str  # name of the main test, fixed before the day
    timing: str = ""  # name of the timing gear
    question: str = ""
    gain: float | None = None  # smallest gain worth having, in the test's unit, above zero
    prediction: Prediction | None = None
    rider: str = ""
    helper: str = ""
    came_from: str = ""  # id of the session whose last sheet the first sheet was copied from
    sheets: tuple[Sheet, ...] = ()  # one per build in the order they ran; a swap appends
    checks: tuple[CheckRecord, ...] = ()
    air: tuple[AirReading, ...] = ()
    attempts: tuple[Attempt, ...] = ()
    notes: tuple[str, ...] = ()
    state: SessionState = "open"
    stopped_because: str = ""
    directions: tuple[str, ...] = ()  # the place's, on that day
    next_direction: str = ""  # what the next attempt will be, where the flip was overridden
    next_kind: AttemptKind = "timed"  # what the next attempt will be; warm-ups are set so
    close_out: CloseOut | None = None
    closed: AwareTime | None = None
    trail: tuple[TrailLine, ...] = ()


class SessionHead(msgspec.Struct, frozen=True, kw_only=True):
    """What lists and pooled sums need of a session, without its sheets, checks and trail."""

    id: str
    label: str
    machine: str
    started: AwareTime
    test: str
    place: str = ""
    timing: str = ""
    question: str = ""
    gain: float | None = None
    state: SessionState = "open"
    attempts: tuple[Attempt, ...] = ()
    directions: tuple[str, ...] = ()
    rider: str = ""
    closed: AwareTime | None = None
    stopped_because: str = ""
    builds: tuple[str, ...] = ()  # for each sheet a key that same builds share; empty: not told
    fitted: tuple[str, ...] = ()  # names of the parts that were on it
    windy: bool = False  # the wind was beyond what can be compared
    weather: Weather | None = None  # None: no temperature was read
    loads: tuple[float | None, ...] = ()  # for each sheet rider and ballast, kg; None: not weighed


class PlaceHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of places needs."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()
    directions: tuple[str, ...] = ()


def _head(session: Session) -> SessionHead:
    """Return what lists need of a session."""
    fields = {
        name: getattr(session, name)
        for name in SessionHead.__struct_fields__
        if name not in ("builds", "fitted", "windy", "weather", "loads")
    }
    names = (r.text for sheet in session.sheets for r in sheet.readings.values() if r.part)
    return SessionHead(
        **fields,
        builds=tuple(build_key(sheet) for sheet in session.sheets),
        fitted=tuple(sorted(set(names))),
        windy=any(map(wind_beyond, session.air)),
        weather=weather_of(session.air),
        loads=tuple(load_of(sheet) for sheet in session.sheets),
    )


PLACE_KIND = Kind(name="place", folder="places", type=Place, head=PlaceHead)
SESSION_KIND = Kind(
    name="session",
    folder="sessions",
    type=Session,
    head=SessionHead,
    make_head=_head,
    head_edition="5 " + " ".join(SLOTS),
    unsound=impossible,
)
