"""Recordings and a session: what to look for, keeping the file, and making attempts of runs."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Literal

import msgspec

from core.attempts import Attempt, AttemptKind, Test, find_test, write_value
from core.clock import to_utc
from core.errors import InputError, LogReadOnlyError, OutOfRangeError
from core.session.attempting import attempt_numbered, enter
from core.session.book import Book
from core.session.documents import Session
from core.session.trail import recorded
from core.trace import Columns, FoundRun, JudgedRun, StartRule, TraceDocument, TraceHead, Wanted
from core.trace.keeping import keep_file, kept_path
from core.trace.reading import read_trace
from core.trace.traces import Trace

__all__ = [
    "accept_run",
    "adjusted_run",
    "judged",
    "keep_trace",
    "put_beside",
    "read_kept",
    "remembered_columns",
    "run_moment",
    "wanted_of",
    "with_shift",
]

_KMH = 3.6
_FINE = 3  # decimals of a value from a recording


def wanted_of(test: Test, start: StartRule | None = None) -> Wanted:
    """Return what to look for in a recording for a test.

    Args:
        test: the test.
        start: when the clock of a standing start runs; None: from first motion.

    Raises:
        InputError: the test cannot be found by speed alone: a marked hill, a plug reading run.
    """
    if test.shape == "hill" or test.shape == "plug":
        raise InputError(
            f"A {test.title} cannot be found in a recording: it has no speeds to go by."
        )
    return Wanted(
        test.name,
        test.shape,
        from_speed=(test.from_speed or 0.0) / _KMH,
        to_speed=(test.to_speed or 0.0) / _KMH,
        distance=test.distance or 0.0,
        start=start or StartRule(),
        longest=test.hard[1],
    )


# -- keeping -------------------------------------------------------------------------------------


def keep_trace(
    book: Book, path: Path, trace: Trace, session: Session | None = None
) -> TraceDocument:
    """Keep a recording beside the log and save its document; the same file is kept once.

    Args:
        book: an open log.
        path: the file that was read.
        trace: what was read from it.
        session: that it belongs to, if any.

    Returns:
        The document; the one that is there already, when this session has this recording.

    Raises:
        InputError: the file has changed since it was read.
        LogError: the log takes nothing.
    """
    if book.log.read_only:
        raise LogReadOnlyError(f"{path.name} was not kept. {book.log.read_only_reason}")
    belongs = session.id if session is not None else ""
    keep_file(book.log.folder, path, trace)
    for head in book.traces():
        if head.sha256 == trace.sha256 and head.session == belongs:
            return book.log.get(TraceDocument, head.id)
    document = TraceDocument(
        id=book.fresh_id(),
        name=path.name,
        sha256=trace.sha256,
        form=trace.kind,
        size=trace.size,
        read=book.clock(),
        session=belongs,
        began=trace.moment(0.0),
        seconds=round(trace.duration, 3),
        rows=trace.rows,
        rate=round(trace.rate, 6),
        noise=round(trace.noise, 6),
        header=trace.header,
        columns=trace.columns,
        rejected=trace.rejected_total,
        findings=tuple(finding.sentence for finding in trace.findings),
    )
    book.save(document)
    return document


def read_kept(book: Book, document: TraceDocument) -> Trace:
    """Read the file of a recording again, by the columns it was read with.

    Raises:
        InputError: the file is missing, or is not what it was.
    """
    trace = read_trace(
        kept_path(book.log.folder, document), columns=document.columns, now=document.read
    )
    if trace.sha256 != document.sha256:
        raise InputError(f"The file of {document.name} is not what it was when it was read in.")
    return trace


def remembered_columns(book: Book, header: str) -> Columns | None:
    """Return the columns that were confirmed last for a CSV of this header; None: never.

    Args:
        book: an open log.
        header: ``key`` of the layout.
    """
    known: list[TraceHead] = [
        head
        for head in book.traces()
        if head.header == header and head.columns is not None and head.columns.confirmed
    ]
    return max(known, key=lambda head: (head.read, head.id)).columns if known else None


def with_shift(document: TraceDocument, seconds: float, reason: str) -> TraceDocument:
    """Return the document with its clock put right; the file is left as it is.

    Args:
        document: of the recording.
        seconds: to add to its clock.
        reason: why, in the user's words or as proposed.

    Raises:
        InputError: a shift without a reason.
    """
    if seconds and not reason.strip():
        raise InputError("A shift of the clock needs its reason.")
    return msgspec.structs.replace(document, shift=seconds, shift_reason=reason.strip())


# -- runs ----------------------------------------------------------------------------------------


def run_moment(
    trace: Trace, run: FoundRun, session: Session, shift: float = 0.0
) -> datetime | None:
    """Return when a run ended, with the session's offset; None when the recording cannot tell.

    Where the file does not tell its zone or its day, the session's are taken.

    Args:
        trace: the recording.
        run: found in it.
        session: whose day it was.
        shift: s to add to the clock of the recording.
    """
    zone = session.started.tzinfo
    assert zone is not None  # noqa: S101  times in the log are aware
    moment = trace.moment(run.end, zone, session.started.date(), shift)
    return moment.astimezone(zone) if moment is not None else None


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
        note += f" (found {run.value:.{_FINE}f} {run.unit})"
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
) -> Session:
    """Enter a run as an attempt, timed by the recording; one line of the trail, so one undo.

    It goes on the sheet that was on when it ran. How the clock started, the error and what was
    odd are kept in its note.

    Args:
        session: an open session without open stop checks.
        run: as found or adjusted.
        now: the time now.
        when: when it ran; None: not known, the time now is taken.
        direction: None takes the run's, or else the coming one.
        kind: None takes what is set for the next one.
        tags: codes of machine behaviour.

    Raises:
        BlockedError: a stop check is open, or the session is not open.
        OutOfRangeError: the value is outside the hard range of its test.
    """
    test = find_test(run.test)
    value = round(run.value, _FINE)
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
        timing="" if session.timing == "trace" else "trace",
        note=_note(run),
    )
    after = msgspec.structs.replace(
        entered, attempts=(*entered.attempts[:-1], attempt), trail=session.trail
    )
    return recorded(session, after, "enter", _words(attempt, test, "from a recording"), now)


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


def put_beside(session: Session, n: int, run: FoundRun, now: datetime) -> Session:
    """Put a run beside an attempt that was typed, as what a second timer said.

    Args:
        session: the session.
        n: number of the attempt.
        run: of the same test.
        now: the time now.

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
    value = round(run.value, _FINE)
    note = "; ".join(filter(None, (attempt.note, _note(run))))
    new = msgspec.structs.replace(attempt, second=value, second_timing="trace", note=note)
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
