"""A run of a recording taken into its session, or refused: session and recording say the same."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

import msgspec

from core.attempts import AttemptKind
from core.clock import to_utc
from core.errors import BlockedError
from core.session.documents import Session
from core.session.looking import Looked
from core.session.run_judging import accept_run, judged, put_beside, timing_of
from core.session.tracing import run_moment, with_shift
from core.trace import FoundRun, TraceDocument
from core.trace.traces import Trace

__all__ = ["As", "Taken", "moment_in_session", "need_untaken", "refuse_run", "take_run"]

_BEFORE: Final = timedelta(hours=12)  # a run may be before the session was started
_AFTER: Final = timedelta(hours=36)  # and after it
_AHEAD: Final = timedelta(minutes=10)  # a clock may be ahead of now


class As(msgspec.Struct, frozen=True):
    """As what a run is taken."""

    beside: int | None  # number of the typed attempt that it is; None: an attempt of its own
    run: FoundRun | None = None  # as adjusted; None: as found
    kind: AttemptKind | None = None  # of an attempt of its own; None: what is set for the next one
    reason: str = ""  # why it was adjusted


class Taken(msgspec.Struct, frozen=True):
    """What a run became."""

    session: Session
    document: TraceDocument
    attempt: int  # number of the attempt
    beside: bool  # it was put beside one that was typed


def moment_in_session(
    trace: Trace, run: FoundRun, session: Session, shift: float, now: datetime
) -> datetime | None:
    """Return when a run ended, with the session's offset; None where no clock is told.

    Raises:
        BlockedError: by the clock of the recording it was not in this session at all.
    """
    when = run_moment(trace, run, session, shift)
    if when is None:
        return None
    started, ended = to_utc(session.started), to_utc(when)
    if started - _BEFORE <= ended <= min(started + _AFTER, to_utc(now) + _AHEAD):
        return when
    raise BlockedError(
        f"By its clock the run was on {when:%Y-%m-%d at %H:%M}, and {session.label} began on"
        f" {session.started:%Y-%m-%d at %H:%M}.",
        "s puts the clock of the recording right.",
    )


def need_untaken(looked: Looked, place: int) -> None:
    """Refuse what cannot be done to a run that is an attempt, or stands beside one.

    Raises:
        BlockedError: it is one.
    """
    n = looked.standings[place].attempt
    if n is not None:
        raise BlockedError(
            f"Run {place + 1} is attempt {n} already.",
            "u takes the newest one back; an older one is struck at the attempts.",
        )


def _need_one_rule(session: Session, document: TraceDocument, run: FoundRun) -> None:
    """Refuse a standing start whose clock ran by another rule than those taken over before.

    Raises:
        BlockedError: the rules differ.
    """
    numbers = {attempt.n for attempt in session.attempts}
    before = [
        line.run.start_rule
        for line in document.runs
        if line.run.test == run.test and line.attempt in numbers and line.run.start_rule
    ]
    if run.start_rule and before and run.start_rule not in before:
        raise BlockedError(
            f"The runs before are timed {before[0]}, and this one {run.start_rule}:"
            " such times are never compared.",
            "o sets the rule for all of them.",
        )


def take_run(
    session: Session,
    document: TraceDocument,
    trace: Trace,
    looked: Looked,
    place: int,
    now: datetime,
    how: As,
) -> Taken:
    """Make an attempt of a run, or put it beside one that was typed.

    Args:
        session: an open session.
        document: of the recording.
        trace: the recording.
        looked: what was found in it.
        place: of the run among the runs.
        now: the time now.
        how: as what it is taken.

    Raises:
        BlockedError: it was taken already, others were timed by another rule, a stop check is
            open, the session is not open, or the clock of the recording cannot be right.
        InputError: the attempt has a second timer already, or is of another test.
        OutOfRangeError: the value is outside the hard range of its test.
    """
    need_untaken(looked, place)
    found = how.run or looked.found.runs[place]
    _need_one_rule(session, document, found)
    gear = timing_of(trace, session)
    when = moment_in_session(trace, found, session, looked.shift, now)
    if how.beside is not None:
        after, n = put_beside(session, how.beside, found, now, timing=gear), how.beside
    else:
        after = accept_run(session, found, now, when=when, kind=how.kind, timing=gear)
        n = max(attempt.n for attempt in after.attempts)
    kept = judged(
        _shifted(document, looked),
        found,
        "accepted" if how.run is None else "adjusted",
        now,
        attempt=n,
        reason=how.reason,
    )
    return Taken(after, kept, n, how.beside is not None)


def _shifted(document: TraceDocument, looked: Looked) -> TraceDocument:
    """The document with the shift that the run was taken under, so that it is told once."""
    matching = looked.matching
    if matching is None or document.shift_reason or not matching.reason or not matching.shift:
        return document
    return with_shift(document, matching.shift, matching.reason)


def refuse_run(
    document: TraceDocument, looked: Looked, place: int, now: datetime, reason: str
) -> TraceDocument:
    """Return the document with a run refused.

    Args:
        document: of the recording.
        looked: what was found in it.
        place: of the run among the runs.
        now: the time now.
        reason: in words; may be empty.

    Raises:
        BlockedError: it is an attempt already.
    """
    need_untaken(looked, place)
    return judged(document, looked.found.runs[place], "refused", now, reason=reason)
