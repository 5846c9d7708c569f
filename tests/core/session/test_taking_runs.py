"""A run taken into its session: its time, its shift, what is refused; shifts as they are typed."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from core.attempts import observations
from core.clock import ManualClock
from core.errors import BlockedError, InputError
from core.session import Book, Session, undo
from core.session.clock_shift import read_shift
from core.session.looking import look_for, start_said
from core.session.run_judging import adjusted_run
from core.session.taking_runs import As, moment_in_session, refuse_run, take_run
from core.session.tracing import keep_trace
from core.trace import read_start
from tests.core.session.rides import TEST, TRACE_START, recording, runs_of, typed_after
from tests.making import START, new_book, ready_session


@pytest.fixture
def book(tmp_path: Path) -> tuple[Book, ManualClock]:
    return new_book(tmp_path)


def test_a_run_is_taken_once_and_beside_where_it_was_typed(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    session = typed_after(session, trace, runs_of(trace)[:2])
    document = keep_trace(log, path, trace, session)
    clock.advance(minutes=60)
    looked = look_for(trace, TEST, session, document=document)
    taken = take_run(session, document, trace, looked, 0, clock(), As(looked.attempt_of(0)))
    assert (taken.attempt, taken.beside) == (1, True)
    assert taken.session.attempts[0].second_timing == "logger-10hz"
    taken = take_run(taken.session, taken.document, trace, looked, 2, clock(), As(None))
    assert (taken.attempt, taken.beside) == (3, False)
    assert taken.session.attempts[-1].at == trace.moment(looked.found.runs[2].end)
    again = look_for(trace, TEST, taken.session, document=taken.document)
    with pytest.raises(BlockedError, match="Run 3 is attempt 3 already"):
        take_run(taken.session, taken.document, trace, again, 2, clock(), As(None))
    with pytest.raises(BlockedError, match="Run 1 is attempt 1 already"):
        refuse_run(taken.document, again, 0, clock(), "slid")
    assert refuse_run(taken.document, again, 3, clock(), "slid").runs[-1].reason == "slid"


def test_a_run_that_nobody_typed_goes_where_it_ran(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    """The third of six was forgotten: with it there are three pairs again, in their order."""
    log, clock = book
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    runs = runs_of(trace)
    session = typed_after(session, trace, (*runs[:2], *runs[3:]))
    ways = tuple(
        msgspec.structs.replace(attempt, direction=run.direction)
        for attempt, run in zip(session.attempts, (*runs[:2], *runs[3:]), strict=True)
    )
    session = msgspec.structs.replace(session, attempts=ways)
    document = keep_trace(log, path, trace, session)
    clock.advance(minutes=60)
    looked = look_for(trace, TEST, session, document=document)
    assert looked.attempt_of(2) is None
    taken = take_run(session, document, trace, looked, 2, clock(), As(None))
    assert [a.n for a in taken.session.attempts] == [1, 2, 6, 3, 4, 5]
    found = observations(taken.session.attempts, two_way=True)
    assert found.attempts == ((1, 2), (6, 3), (4, 5))
    assert undo(taken.session, clock()).attempts == session.attempts


def test_starts_by_two_rules_are_not_mixed(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    log, clock = book
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    document = keep_trace(log, path, trace, session)
    clock.advance(minutes=60)
    motion, rollout = (look_for(trace, TEST, session, start=read_start(r)) for r in ("", "1ft"))
    taken = take_run(session, document, trace, motion, 0, clock(), As(None))
    with pytest.raises(BlockedError, match=r"after a rollout of 0.3048 m: such times are never"):
        take_run(taken.session, taken.document, trace, rollout, 1, clock(), As(None))
    undone = undo(taken.session, clock())
    assert start_said(taken.document) == read_start("motion")
    assert take_run(undone, taken.document, trace, rollout, 1, clock(), As(None)).attempt == 1
    again = take_run(undone, document, trace, rollout, 1, clock(), As(None))
    assert start_said(again.document) == read_start("1ft")
    looked = look_for(
        trace, TEST, again.session, start=start_said(again.document), document=again.document
    )
    assert [one.state for one in looked.standings].count("accepted") == 1


def test_an_adjusted_run_is_a_warm_up_where_it_is_said(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    document = keep_trace(log, path, trace, session)
    clock.advance(minutes=60)
    looked = look_for(trace, TEST, session)
    new = adjusted_run(looked.found.runs[0], "cold", value=7.5)
    how = As(None, new, "warm-up", "cold")
    taken = take_run(session, document, trace, looked, 0, clock(), how)
    (attempt,) = taken.session.attempts
    assert (attempt.value, attempt.kind) == (7.5, "warm-up")
    assert (taken.document.runs[0].verdict, taken.document.runs[0].reason) == ("adjusted", "cold")


def test_the_shift_it_was_taken_under_is_kept(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(*book)
    _, right = recording(tmp_path)
    session = typed_after(session, right, runs_of(right)[:4])
    path, trace = recording(tmp_path, TRACE_START - timedelta(hours=2))
    document = keep_trace(log, path, trace, session)
    clock.advance(minutes=60)
    looked = look_for(trace, TEST, session, document=document)
    taken = take_run(session, document, trace, looked, 5, clock(), As(None))
    assert taken.document.shift == 7200.0
    assert "another time zone" in taken.document.shift_reason
    assert taken.session.attempts[-1].at == right.moment(looked.found.runs[5].end)


@pytest.mark.parametrize(
    ("off", "words"),
    [(timedelta(days=-20_000), "1971"), (timedelta(days=3), "2026-04-15"),
     (timedelta(hours=2), "2026-04-12")],
)  # fmt: skip
def test_a_clock_that_cannot_be_right_is_put_right_first(
    tmp_path: Path, book: tuple[Book, ManualClock], off: timedelta, words: str
) -> None:
    """Long before, days later, or ahead of now."""
    session: Session = ready_session(*book)
    _, trace = recording(tmp_path, START + off)
    run = look_for(trace, TEST, session).found.runs[0]
    with pytest.raises(BlockedError, match=words) as refused:
        moment_in_session(trace, run, session, 0.0, book[1]() + timedelta(hours=1))
    assert "s puts the clock" in refused.value.hint


# -- shifts as they are typed --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("+7200", 7200), ("-90 s", -90), ("+1:30", 90), ("-0:01:30", -90), ("+2:00:00", 7200),
     ("−3", -3), ("+0,5", 0.5), ("09:00:00", 1800), ("09:01", 1860), ("08:00", -1800)],
)  # fmt: skip
def test_a_shift_is_read(text: str, seconds: float) -> None:
    """A time of day is when the run ended: by the recording at half past eight."""
    ended = START + timedelta(minutes=30)
    assert read_shift(text, ended, START) == pytest.approx(seconds)


def test_a_time_after_midnight_is_of_the_next_day() -> None:
    evening = START.replace(hour=23)
    ended = evening + timedelta(hours=1, minutes=10)
    assert read_shift("00:20", ended, evening) == pytest.approx(600)


@pytest.mark.parametrize(
    ("text", "words"),
    [("", "is no shift"), ("7200", "is no shift"), ("soon", "is no shift"),
     ("25:00", "is no time of day"), ("12:61", "is no time of day")],
)  # fmt: skip
def test_what_is_no_shift(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_shift(text, START, START)


def test_a_recording_without_a_clock_has_no_time_of_day() -> None:
    with pytest.raises(InputError, match="tells no time of day"):
        read_shift("09:00", None, START)
