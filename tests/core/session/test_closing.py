"""The end of a session, and opening it again."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import BlockedError, InputError
from core.session import (
    CloseOut,
    close,
    enter,
    mark_accident,
    note,
    open_again,
    say,
    stop,
)
from tests.making import new_book, ready_session


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
