"""Entering attempts and what is done with them afterwards."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import BlockedError, InputError, NotFoundError
from core.session import (
    CloseOut,
    Plan,
    Session,
    change_attempt,
    close,
    coming_direction,
    enter,
    move_attempts,
    set_next_kind,
    strike,
    swap,
    tag,
    touch,
    turn_round,
    undo,
    unstrike,
)
from core.setup import Reading
from tests.making import answered, new_book, ready_session, typed


def test_direction_flips_and_number_counts(tmp_path: Path) -> None:
    """Nothing but the time is typed: number and direction come by themselves."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.81, 8.33, 8.59])
    assert [(a.n, a.direction, a.value) for a in session.attempts] == [
        (1, "W", 8.81),
        (2, "E", 8.33),
        (3, "W", 8.59),
    ]


def test_no_attempt_while_a_stop_check_is_open(tmp_path: Path) -> None:
    """One open stop check is enough; the sentence names it and how many there are."""
    book, clock = new_book(tmp_path)
    machine = book.add_machine("Moth")
    session = book.start(Plan(machine=machine.id, test="0-50"))
    with pytest.raises(BlockedError, match="stop checks are open, first:"):
        enter(session, clock(), value=8.0)
    assert enter(answered(session, clock()), clock(), value=8.0).attempts[0].value == 8.0


def test_a_swap_closes_the_entry_until_its_checks_are_cleared(tmp_path: Path) -> None:
    """A new sheet brings its own stop checks before the next attempt."""
    book, clock = new_book(tmp_path)
    soft, stiff = (Reading(state="set", value=n, text=f"{n:g}") for n in (2100.0, 2900.0))
    session = touch(ready_session(book, clock), {"engagement_rpm": soft}, clock())
    session = typed(session, clock, [8.8, 8.3])
    session = swap(session, {"engagement_rpm": stiff}, clock())
    assert len(session.sheets) == 2
    with pytest.raises(BlockedError):
        enter(session, clock(), value=8.0)
    done = enter(answered(session, clock()), clock(), value=8.0)
    assert done.attempts[-1].sheet == 1


def test_a_struck_attempt_keeps_its_time_and_can_count_again(tmp_path: Path) -> None:
    """A strike hides nothing, is labelled when late, and can be taken off."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.8, 8.3])
    struck = strike(session, 2, "l", clock(), note="helper looked away")
    attempt = struck.attempts[1]
    assert attempt.value == 8.3
    assert attempt.strike is not None
    assert (attempt.strike.code, attempt.strike.late) == ("LATE", True)
    with pytest.raises(InputError, match="struck already"):
        strike(struck, 2, "GUST", clock())
    assert unstrike(struck, 2, clock()).attempts[1].strike is None
    with pytest.raises(NotFoundError, match="no attempt 9"):
        strike(session, 9, "LATE", clock())


def test_a_lost_chain_opens_the_chain_checks_again(tmp_path: Path) -> None:
    """CHAIN is a fault of the test and a matter for the chain checks at once."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.8])
    struck = strike(session, 1, "CHAIN", clock(), late=False)
    with pytest.raises(BlockedError):
        enter(struck, clock(), value=8.0)


def test_a_tag_goes_on_and_off_and_the_attempt_stays(tmp_path: Path) -> None:
    """Behaviour of the machine is marked, never struck."""
    book, clock = new_book(tmp_path)
    session = tag(typed(ready_session(book, clock), clock, [8.8]), 1, "b", clock())
    assert session.attempts[0].tags == ("BOG",)
    assert session.attempts[0].strike is None
    assert tag(session, 1, "BOG", clock()).attempts[0].tags == ()


def test_turning_round_changes_only_the_next_one(tmp_path: Path) -> None:
    """The flip goes on from where the turn left it."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.8])
    assert coming_direction(session) == "E"
    session = turn_round(session, clock())
    assert coming_direction(session) == "W"
    session = typed(session, clock, [8.7])
    assert session.attempts[-1].direction == "W"
    assert coming_direction(session) == "E"


def test_warm_up_runs_are_their_own_kind(tmp_path: Path) -> None:
    """What is set for the coming attempts holds until it is set back."""
    book, clock = new_book(tmp_path)
    session = set_next_kind(ready_session(book, clock), "warm-up", clock())
    session = typed(session, clock, [9.5])
    session = typed(set_next_kind(session, "timed", clock()), clock, [8.8])
    assert [a.kind for a in session.attempts] == ["warm-up", "timed"]


def test_an_aborted_attempt_has_no_time_and_never_gets_one(tmp_path: Path) -> None:
    """It counts for reliability, not for the mean."""
    book, clock = new_book(tmp_path)
    session = enter(ready_session(book, clock), clock(), value=None, kind="aborted")
    assert session.attempts[0].value is None
    with pytest.raises(InputError, match="stays aborted"):
        change_attempt(session, 1, clock(), kind="timed")
    with pytest.raises(InputError, match="needs a time"):
        enter(session, clock(), value=None)


def test_a_direction_that_the_place_does_not_have_is_refused(tmp_path: Path) -> None:
    """A correction stays within the place's two names."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.8])
    assert change_attempt(session, 1, clock(), direction="E").attempts[0].direction == "E"
    with pytest.raises(InputError, match="not one of W and E"):
        change_attempt(session, 1, clock(), direction="N")


def test_attempts_move_to_the_build_they_really_ran_on(tmp_path: Path) -> None:
    """The swap was forgotten: attempts from a number on go to the new sheet, and back by undo."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.8, 8.3, 7.4, 7.1])
    session = swap(session, {"idle_rpm": Reading(state="set", value=1500.0, text="1500")}, clock())
    moved = move_attempts(session, 3, 1, clock())
    assert [a.sheet for a in moved.attempts] == [0, 0, 1, 1]
    assert undo(moved, clock()).attempts == session.attempts
    with pytest.raises(NotFoundError, match="no setup sheet number 5"):
        move_attempts(session, 1, 4, clock())


def _closed(session: Session) -> Session:
    return close(session, CloseOut(learnt="x"), session.started)


def test_nothing_is_entered_in_a_closed_session(tmp_path: Path) -> None:
    """It has to be opened again first, with a note."""
    book, clock = new_book(tmp_path)
    with pytest.raises(BlockedError, match="is closed"):
        enter(_closed(ready_session(book, clock)), clock(), value=8.0)
