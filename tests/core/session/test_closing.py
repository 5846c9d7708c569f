"""The end of a session, and opening it again."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import BlockedError, InputError
from core.session import (
    CloseOut,
    Plan,
    close,
    enter,
    mark_accident,
    note,
    open_again,
    say,
    stop,
)
from core.session.closing import conclude, end_left_open
from tests.making import new_book, ready_session, typed


def test_close_and_open_again_with_a_note(tmp_path: Path) -> None:
    """A closed session opens only with words why, which stay in its notes."""
    book, clock = new_book(tmp_path)
    session = close(
        ready_session(book, clock), CloseOut(learnt="quicker", decision="keep"), clock()
    )
    assert (session.state, session.closed) == ("closed", clock())
    with pytest.raises(BlockedError, match="is not open"):
        close(session, CloseOut(), clock())
    with pytest.raises(InputError, match="why"):
        open_again(session, "  ", clock())
    again = open_again(session, "forgot the last pair", clock())
    assert again.state == "open"
    assert again.notes[-1] == "opened again: forgot the last pair"
    assert enter(again, clock(), value=8.0).attempts
    with pytest.raises(BlockedError, match="open already"):
        open_again(again, "x", clock())


def test_a_stop_keeps_its_reason(tmp_path: Path) -> None:
    """Stopped without attempts is a full record; without a reason it is not taken."""
    book, clock = new_book(tmp_path)
    with pytest.raises(InputError, match="why it was stopped"):
        stop(ready_session(book, clock), "", clock())
    session = stop(ready_session(book, clock), "brake pedal reaches its stop", clock())
    assert (session.state, session.stopped_because) == ("stopped", "brake pedal reaches its stop")
    assert session.attempts == ()


def test_an_accident_is_one_mark(tmp_path: Path) -> None:
    """One key: a time mark, no more running, notes later."""
    book, clock = new_book(tmp_path)
    session = mark_accident(ready_session(book, clock), clock())
    assert session.state == "stopped"
    assert session.notes[-1] == "accident at 08:00:00"
    assert note(session, "rider is fine", clock()).notes[-1] == "rider is fine"


@pytest.mark.parametrize("gain", [0.0, -0.1])
def test_a_gain_of_nothing_is_refused(tmp_path: Path, gain: float) -> None:
    """The smallest gain worth having is above zero."""
    book, clock = new_book(tmp_path)
    with pytest.raises(InputError, match="above zero"):
        say(ready_session(book, clock), clock(), gain=gain)


def test_an_empty_note_is_refused(tmp_path: Path) -> None:
    """Blank is not a note."""
    book, clock = new_book(tmp_path)
    with pytest.raises(InputError, match="says nothing"):
        note(ready_session(book, clock), " \n", clock())


def test_a_session_left_open_ends_as_of_its_last_entry(tmp_path: Path) -> None:
    """What the close-out said already stays; an empty session is put away, not deleted."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.0, 7.9])
    session, last = conclude(session, clock(), learnt="Cold."), clock()
    clock.advance(minutes=3 * 24 * 60)
    ended = book.act(session, end_left_open)
    assert (ended.state, ended.closed, ended.trail[-1].at) == ("closed", last, last)
    assert ended.close_out is not None
    assert ended.close_out.learnt == "Cold."
    empty = book.start(Plan(machine=session.machine, test="0-50"))
    started = clock()
    clock.advance(minutes=24 * 60)
    away = book.act(empty, end_left_open)
    assert (away.state, away.stopped_because) == ("stopped", "nothing was entered")
    assert (away.closed, away.attempts) == (started, ())
    assert open_again(away, "it rained, typed in later", clock()).state == "open"
    with pytest.raises(BlockedError, match="not open"):
        end_left_open(away)
