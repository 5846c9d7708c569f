"""What the strip asks of a running session."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.clock import ManualClock
from core.errors import InputError, NotFoundError
from core.session import Book, Plan, Session, enter, something_happened, strike, swap, undo
from core.session.live import (
    LOOK_EVERY,
    attempts_of_build,
    is_explained,
    leave_as_it_is,
    left_off_words,
    long_break,
    look_prompt,
    range_of,
    read_observed,
    repeat_question,
    since_last,
)
from core.setup import Reading
from tests.making import answered, new_book, ready_session, typed

NOON = datetime(2026, 8, 2, 12, 0, tzinfo=UTC)


@pytest.fixture
def running(tmp_path: Path) -> tuple[Book, ManualClock, Session]:
    """Return a session with two attempts, W 7.65 and E 7.31."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, (7.65, 7.31))
    return book, clock, session


def test_the_same_value_is_asked_about_within_two_seconds(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """Not another value, and not later."""
    _, clock, session = running
    question = repeat_question(session, 7.31, clock() + timedelta(seconds=1.9))
    assert question is not None
    assert question.text == "7.31 s right after attempt 2: another one?"
    assert [choice.value for choice in question.choices] == [7.31, None]
    for value, after in ((7.30, 1.0), (7.31, 2.0), (None, 0.5), (7.31, -1.0)):
        assert repeat_question(session, value, clock() + timedelta(seconds=after)) is None
    assert repeat_question(msgspec.structs.replace(session, attempts=()), 7.31, clock()) is None


def test_an_odd_attempt_that_is_left_says_so_and_can_be_taken_back(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """It counts as before."""
    _, clock, session = running
    left = leave_as_it_is(session, 2, clock())
    assert left.attempts[1].note == "stands apart, no reason known"
    assert left.attempts[1].strike is None
    assert is_explained(left.attempts[1])
    assert not is_explained(left.attempts[0])
    assert undo(left, clock()).attempts == session.attempts
    with pytest.raises(NotFoundError):
        leave_as_it_is(session, 9, clock())


def test_attempts_of_the_build_that_is_on_now(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """Also those of its earlier sheet, when it is on again."""
    _, clock, session = running
    reading = Reading(state="set", value=6000.0, text="6000", at=clock())
    on_b = swap(session, {"planned_rpm": reading}, clock())
    assert attempts_of_build(on_b) == ()
    back = swap(on_b, {"planned_rpm": None}, clock())
    assert [a.n for a in attempts_of_build(back)] == [1, 2]


def test_the_range_leaves_struck_attempts_out(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """And there is none without attempts."""
    _, clock, session = running
    assert range_of(session.attempts, "0-50") == (7.31, 7.65)
    struck = strike(session, 1, "l", clock())
    assert range_of(struck.attempts, "0-50") == (7.31, 7.31)
    assert range_of((), "0-50") is None


def test_time_since_the_last_attempt(running: tuple[Book, ManualClock, Session]) -> None:
    """By the newest one; a clock that was set back gives nothing below zero."""
    _, clock, session = running
    assert since_last(session, clock() + timedelta(minutes=3, seconds=7)) == timedelta(seconds=187)
    assert since_last(session, clock() - timedelta(hours=1)) == timedelta(0)
    assert since_last(msgspec.structs.replace(session, attempts=()), clock()) is None


def test_a_look_is_due_after_every_third_attempt(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """Warm-up and broken off ones count for it."""
    _, clock, session = running
    assert look_prompt(session) == ""
    for number in range(3, 8):
        clock.advance(minutes=4)
        session = enter(answered(session, clock()), clock(), value=None, kind="aborted")
        assert bool(look_prompt(session)) == (number % LOOK_EVERY == 0)


def test_a_long_break_is_over_once_its_checks_were_opened(
    running: tuple[Book, ManualClock, Session],
) -> None:
    """Or something was swapped since."""
    _, clock, session = running
    assert not long_break(session, clock() + timedelta(minutes=30))
    later = clock() + timedelta(minutes=31)
    assert long_break(session, later)
    assert not long_break(something_happened(session, "break", later), later)
    assert not long_break(msgspec.structs.replace(session, attempts=()), later)


@pytest.mark.parametrize(
    ("minutes", "ago"),
    [(0, "just now"), (23, "23 min ago"), (119, "119 min ago"), (121, "2 h ago"), (4320, "3 days")],
)
def test_where_it_was_left(
    running: tuple[Book, ManualClock, Session], minutes: int, ago: str
) -> None:
    """After which attempt, how long ago."""
    _, clock, session = running
    words = left_off_words(session, clock() + timedelta(minutes=minutes))
    assert words.startswith("You left off after attempt 2 E, ")
    assert ago in words
    assert words.endswith("warm-up state unknown.")


def test_where_it_was_left_before_any_attempt(tmp_path: Path) -> None:
    """After what was done last; nothing for a session that was only started."""
    book, clock = new_book(tmp_path)
    session = ready_session(book, clock)
    assert left_off_words(session, clock()).startswith("You left off just now, after: ")
    fresh = msgspec.structs.replace(session, trail=session.trail[:1])
    assert left_off_words(fresh, clock()) == ""


@given(hour=st.integers(0, 12), minute=st.integers(0, 59), dot=st.sampled_from(":."))
def test_the_time_of_an_observation_is_read_back(hour: int, minute: int, dot: str) -> None:
    """Any time of today that has been, with a colon or a point."""
    if (hour, minute) > (12, 0):
        return
    text, observed = read_observed(f"18C 1012hPa at {hour}{dot}{minute:02d}", NOON)
    assert text == "18C 1012hPa"
    assert (observed.hour, observed.minute, observed.date()) == (hour, minute, NOON.date())


@pytest.mark.parametrize("text", ["18C", "18C at 1012", "at the strip 18C", ""])
def test_without_a_time_it_is_now(text: str) -> None:
    """And the line stays as it is."""
    assert read_observed(text, NOON) == (text, NOON)


def test_after_midnight_a_time_of_the_evening_is_of_the_day_before() -> None:
    """A session may run over midnight."""
    now = datetime(2026, 8, 3, 0, 20, tzinfo=UTC)
    assert read_observed("18C at 23:55", now)[1] == datetime(2026, 8, 2, 23, 55, tzinfo=UTC)
    with pytest.raises(InputError, match="still to come"):
        read_observed("18C at 12:00", now)


def test_the_hour_that_comes_twice_is_told_apart_by_its_offset(tmp_path: Path) -> None:
    """Clocks go back at 3:00 summer time, 25 Oct 2026: 2:10 in winter time is after 2:30 before."""
    summer, winter = (
        datetime.fromisoformat(f"2026-10-25T{hour}") for hour in ("02:30+02:00", "02:10+01:00")
    )
    book, clock = new_book(tmp_path, start=summer)
    session = enter(ready_session(book, clock), clock(), value=8.0)
    book.save(session)
    clock.set(winter)
    assert since_last(session, clock()) == timedelta(minutes=40)
    assert long_break(session, clock())
    later = book.start(Plan(machine=session.machine, test="0-50"))
    assert [head.id for head in book.sessions()] == [session.id, later.id]
    assert (session.started.isoformat(), later.started.isoformat()) == (
        "2026-10-25T02:30:00+02:00",
        "2026-10-25T02:10:00+01:00",
    )


def test_a_time_to_come_is_refused() -> None:
    """An observation has been made."""
    with pytest.raises(InputError, match=r"13:05 is still to come today\."):
        read_observed("18C at 13:05", NOON)
