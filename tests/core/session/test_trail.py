"""The trail: everything can be taken back, and nothing is erased by doing so."""

from __future__ import annotations

import tempfile
from pathlib import Path

import msgspec
import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from core.errors import BackToBackError, BlockedError
from core.session import (
    CloseOut,
    Session,
    answer_check,
    close,
    enter,
    last_undoable,
    mark_accident,
    note,
    open_again,
    say,
    set_next_kind,
    stop,
    strike,
    swap,
    tag,
    touch,
    turn_round,
    undo,
)
from core.setup import Reading
from tests.making import new_book, ready_session, typed


def _without_trail(session: Session) -> Session:
    return msgspec.structs.replace(session, trail=())


def test_undo_is_a_line_of_its_own(tmp_path: Path) -> None:
    """What was taken back can still be read."""
    book, clock = new_book(tmp_path)
    before = ready_session(book, clock)
    after = undo(typed(before, clock, [8.81]), clock())
    assert _without_trail(after) == _without_trail(before)
    assert [line.words for line in after.trail[-2:]] == [
        "attempt 1 W 8.81 s",
        "took back: attempt 1 W 8.81 s",
    ]


def test_undo_has_an_end(tmp_path: Path) -> None:
    """The start of the session cannot be taken back."""
    book, clock = new_book(tmp_path)
    session = ready_session(book, clock)
    while last_undoable(session) is not None:
        session = undo(session, clock())
    with pytest.raises(BlockedError, match="nothing to take back"):
        undo(session, clock())
    assert all(check.answer == "open" for check in session.checks)


class WholeSession(RuleBasedStateMachine):
    """Any order of actions: each can be taken back, and every state survives the file."""

    @initialize()
    def start(self) -> None:
        """Begin with a session that may be run."""
        self.folder = tempfile.TemporaryDirectory()
        self.book, self.clock = new_book(Path(self.folder.name))
        self.session = ready_session(self.book, self.clock)
        self.states = [self.session]

    def _do(self, after: Session) -> None:
        self.session = after
        self.states.append(after)
        self.clock.advance(minutes=1)

    def _try(self, action: str, *words: object, **more: object) -> None:
        actions = {
            "strike": strike,
            "tag": tag,
            "touch": touch,
            "swap": swap,
            "enter": enter,
            "close": close,
            "stop": stop,
            "open": open_again,
            "answer": answer_check,
            "accident": mark_accident,
        }
        try:
            done = actions[action](self.session, *words, **more)  # type: ignore[operator]
        except BackToBackError:
            return  # refused: nothing may have changed, which the invariant looks at
        self._do(done if isinstance(done, Session) else done.session)

    @rule(value=st.floats(1.0, 60.0).map(lambda v: round(v, 2)))
    def enters(self, value: float) -> None:
        """One more attempt."""
        self._try("enter", self.clock(), value=value, text=f"{value}")

    @rule(n=st.integers(1, 6), code=st.sampled_from(["LATE", "CHAIN", "GUST"]))
    def strikes(self, n: int, code: str) -> None:
        """A strike, perhaps of an attempt that is not there."""
        self._try("strike", n, code, self.clock())

    @rule(n=st.integers(1, 6), code=st.sampled_from(["BOG", "SPIN"]))
    def tags(self, n: int, code: str) -> None:
        """A tag, on or off."""
        self._try("tag", n, code, self.clock())

    @rule(rpm=st.integers(2000, 4000))
    def touches(self, rpm: int) -> None:
        """A setting before the first attempt."""
        reading = Reading(state="set", value=float(rpm), text=str(rpm))
        self._try("touch", {"engagement_rpm": reading}, self.clock())

    @rule(teeth=st.integers(50, 70))
    def swaps(self, teeth: int) -> None:
        """The next sheet."""
        reading = Reading(state="set", value=float(teeth), text=str(teeth))
        self._try("swap", {"final_sprocket_teeth": reading}, self.clock())

    @rule(words=st.text(min_size=1, max_size=40).filter(lambda w: w.strip()))
    def notes(self, words: str) -> None:
        """A note with any characters in it."""
        self._do(note(self.session, words, self.clock()))

    @rule()
    def turns(self) -> None:
        """The other way next."""
        self._do(turn_round(self.session, self.clock()))

    @rule(kind=st.sampled_from(["warm-up", "timed"]))
    def kinds(self, kind: str) -> None:
        """Warm-up runs from here, or timed ones."""
        self._do(set_next_kind(self.session, kind, self.clock()))  # type: ignore[arg-type]

    @rule(gain=st.floats(0.01, 1.0))
    def says(self, gain: float) -> None:
        """The smallest gain worth having."""
        self._do(say(self.session, self.clock(), gain=gain))

    @rule(how=st.sampled_from(["close", "stop", "open", "accident"]))
    def ends(self, how: str) -> None:
        """Closed, stopped, opened again, an accident marked."""
        more = {"close": (CloseOut(learnt="x"),), "stop": ("rain",), "open": ("more",)}
        self._try(how, *more.get(how, ()), self.clock())

    @precondition(lambda self: len(self.states) > 1)
    @rule()
    def takes_back(self) -> None:
        """Undo leads to the state before, exactly."""
        self.session = undo(self.session, self.clock())
        self.states.pop()

    @invariant()
    def same_as_remembered(self) -> None:
        """What undo restored is what was there, and the file reads back the same."""
        if not hasattr(self, "states"):
            return
        assert _without_trail(self.session) == _without_trail(self.states[-1])
        self.book.save(self.session)
        assert self.book.log.get(Session, self.session.id) == self.session

    def teardown(self) -> None:
        """Give the folder back."""
        if hasattr(self, "folder"):
            self.book.close()
            self.folder.cleanup()


WholeSession.TestCase.settings = settings(max_examples=15, stateful_step_count=15, deadline=None)
TestWholeSession = WholeSession.TestCase
