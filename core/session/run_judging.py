"""What a person makes of the runs of a recording: attempts, second timers, or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Final, Literal

import msgspec

from core.attempts import Attempt, AttemptKind, Test, find_test, write_value
from core.clock import to_utc
from core.errors import InputError, OutOfRangeError
from core.session.attempting import attempt_numbered, enter
from core.session.documents import Session
from core.session.trail import recorded
from core.trace import FoundRun, JudgedRun, TraceDocument
from core.trace.traces import Trace

__all__ = ["accept_run", "adjusted_run", "judged", "put_beside", "taken_value", "timing_of"]

_LOGGERS: Final = ((1.0, "logger-1hz"), (10.0, "logger-10hz"))  # rows a second, timing gear
_ABOUT: Final = 1.25  # times a rate that still counts as that rate


def timing_of(trace: Trace, session: Session) -> str:
    """Return the name of the timing gear that a recording is, as far as it can be told.

    A satellite receiver's recording at about 1 or 10 rows a second is that logger; so is any
    recording of that rate in a session that is timed by it. Everything else is a recording.

    Args:
        trace: the recording.
        session: that its runs go into.
    """
    by_satellite = trace.kind != "csv" or bool(trace.columns and trace.columns.lat)
    for rate, name in _LOGGERS:
        fits = rate / _ABOUT <= trace.rate <= rate * _ABOUT
        if fits and (by_satellite or session.timing == name):
            return name
    return "trace"


def taken_value(run: FoundRun) -> float:
    """Return the value of a run as it is taken down: with the decimals of its test.

    The rest of the digits says nothing: a run's own error is several times as large.
    """
    return round(run.value, find_test(run.test).decimals)


def adjusted_run(
    run: FoundRun,
    reason: str,
    *,
    value: float | None = None,
    direction: str | None = None,
) -> FoundRun:
    """Return a run with what a person puts right about it.

    Args:
        run: as found.
        reason: why, in words.
        value: in the unit of the run.
        direction: one of the place's names.

    Raises:
        InputError: no reason, or a value that is not above zero.
    """
    if not reason.strip():
        raise InputError("An adjusted run needs a reason.")
    if value is not None and not value > 0:
        raise OutOfRangeError(f"{value:g} {run.unit}: a run must be above zero.")
    note = f"Adjusted by hand: {reason.strip()}"
    if value is not None and value != run.value:
        note += f" (found {write_value(taken_value(run), find_test(run.test))} {run.unit})"
    return msgspec.structs.replace(
        run,
        value=run.value if value is None else value,
        direction=run.direction if direction is None else direction,
        notes=(*run.notes, f"{note}."),
    )


def accept_run(
    session: Session,
    run: FoundRun,
    now: datetime,
    *,
    when: datetime | None = None,
    direction: str | None = None,
    kind: AttemptKind | None = None,
    tags: tuple[str, ...] = (),
    timing: str = "trace",
) -> Session:
    """Enter a run as an attempt, timed by the recording; one line of the trail, so one undo.

    It goes on the sheet that was on when it ran, among the attempts of that time, because pairs are
    formed in their order. How the clock started, the error and what was
    odd are kept in its note.

    Args:
        session: an open session without open stop checks.
        run: as found or adjusted.
        now: the time now.
        when: when it ran; None: not known, the time now is taken.
        direction: None takes the run's, or else the coming one.
        kind: None takes what is set for the next one.
        tags: codes of machine behaviour.
        timing: name of the timing gear that the recording is, see `timing_of`.

    Raises:
        BlockedError: a stop check is open, or the session is not open.
        OutOfRangeError: the value is outside the hard range of its test.
    """
    test = find_test(run.test)
    value = taken_value(run)
    if not test.hard[0] <= value <= test.hard[1]:
        low, high = test.hard
        raise OutOfRangeError(
            f"{write_value(value, test)} {test.unit} is out of range for {test.name}:"
            f" {low:g} to {high:g} {test.unit}."
        )
    entered = enter(
        session,
        now,
        value=value,
        kind=kind,
        direction=run.direction or None if direction is None else direction,
        tags=tags,
        entered="trace",
    )
    attempt = msgspec.structs.replace(
        entered.attempts[-1],
        at=when or now,
        sheet=_sheet_at(session, when or now),
        test="" if test.name == find_test(session.test).name else test.name,
        timing="" if session.timing == timing else timing,
        note=_note(run),
    )
    after = msgspec.structs.replace(
        entered, attempts=_in_time(session.attempts, attempt, when), trail=session.trail
    )
    return recorded(session, after, "enter", _words(attempt, test, "from a recording"), now)


def _in_time(
    attempts: Sequence[Attempt], new: Attempt, when: datetime | None
) -> tuple[Attempt, ...]:
    """The attempts with a new one before the first that is later; last where no time is told."""
    place = len(attempts)
    if when is not None:
        later = (i for i, a in enumerate(attempts) if a.at and to_utc(a.at) > to_utc(when))
        place = next(later, place)
    return (*attempts[:place], new, *attempts[place:])


def _sheet_at(session: Session, when: datetime) -> int:
    """Index of the sheet that was on at a time; the first, when it was before all of them."""
    on = [
        index
        for index, sheet in enumerate(session.sheets)
        if sheet.started is None or to_utc(sheet.started) <= to_utc(when) + timedelta(seconds=1)
    ]
    return max(on, default=0)


def _note(run: FoundRun) -> str:
    error = f"give or take {run.give_or_take:.2g} {run.unit}"
    return "; ".join((f"{run.start_rule}, {error}".lstrip(", "), *run.notes)).strip()


def _words(attempt: Attempt, test: Test, how: str) -> str:
    shown = f"{write_value(attempt.value or 0.0, test)} {test.unit}"
    return " ".join(filter(None, (f"attempt {attempt.n}", attempt.direction, shown, how)))


def put_beside(
    session: Session, n: int, run: FoundRun, now: datetime, *, timing: str = "trace"
) -> Session:
    """Put a run beside an attempt that was typed, as what a second timer said.

    Args:
        session: the session.
        n: number of the attempt.
        run: of the same test.
        now: the time now.
        timing: name of the timing gear that the recording is, see `timing_of`.

    Raises:
        NotFoundError: no such attempt.
        InputError: the run is of another test, or the attempt has a second timer already.
    """
    attempt = attempt_numbered(session, n)
    test = find_test(attempt.test or session.test)
    if find_test(run.test).name != test.name:
        raise InputError(f"Attempt {n} is a {test.name}, and the run is a {run.test}.")
    if attempt.second is not None:
        raise InputError(f"Attempt {n} has a second timer already.")
    value = taken_value(run)
    note = "; ".join(filter(None, (attempt.note, _note(run))))
    new = msgspec.structs.replace(attempt, second=value, second_timing=timing, note=note)
    attempts = tuple(new if a.n == n else a for a in session.attempts)
    after = msgspec.structs.replace(session, attempts=attempts)
    words = f"attempt {n}: a recording says {write_value(value, test)} {test.unit}"
    return recorded(session, after, "second", words, now)


def judged(
    document: TraceDocument,
    run: FoundRun,
    verdict: Literal["accepted", "adjusted", "refused"],
    now: datetime,
    *,
    attempt: int | None = None,
    reason: str = "",
) -> TraceDocument:
    """Return the document with what a person made of a run; a later word replaces an earlier.

    Args:
        document: of the recording.
        run: as found or adjusted.
        verdict: what was said.
        now: the time now.
        attempt: number of the attempt it became or was put beside.
        reason: in words.
    """
    line = JudgedRun(run=run, verdict=verdict, at=now, attempt=attempt, reason=reason.strip())
    others = tuple(
        known
        for known in document.runs
        if (known.run.test, known.run.from_index) != (run.test, run.from_index)
    )
    return msgspec.structs.replace(document, runs=(*others, line))
