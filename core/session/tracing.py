"""Recordings and a session: what to look for, keeping the file, and making attempts of runs."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Final

import msgspec

from core.attempts import Test
from core.errors import InputError, LogReadOnlyError
from core.session.book import Book
from core.session.documents import Session
from core.trace import Columns, FoundRun, StartRule, TraceDocument, TraceHead, Wanted
from core.trace.keeping import keep_file, kept_path
from core.trace.reading import read_trace
from core.trace.traces import Trace

__all__ = [
    "keep_trace",
    "read_kept",
    "remembered_columns",
    "run_moment",
    "wanted_of",
    "with_shift",
]

_KMH: Final = 3.6


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
