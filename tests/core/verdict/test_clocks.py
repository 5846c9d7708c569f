"""Two kinds of timing gear: an offset only from attempts that both timed, else held back."""

from __future__ import annotations

import msgspec
import pytest

from core.session import Session, SessionHead
from core.session.documents import SESSION_KIND
from core.stats import Verdict
from core.verdict.clocks import ENOUGH_TOGETHER, offset_between
from tests.core.verdict.comparing import TIGHT, faster, held, ran

APART = (-0.25, -0.20, -0.30, -0.22, -0.28, -0.25, -0.21, -0.29)
"""Hand watch less logger, s, on the same attempts; mean -0.25."""


def _by_both(label: str, day: int, apart: tuple[float, ...] = APART) -> Session:
    """A session by logger with a hand watch beside the first attempts."""
    session = ran(label, day=day)
    tries = tuple(
        msgspec.structs.replace(a, second=round((a.value or 0.0) + off, 2), second_timing="hand")
        for a, off in zip(session.attempts, apart, strict=False)
    )
    return msgspec.structs.replace(session, attempts=(*tries, *session.attempts[len(tries) :]))


def _heads(*sessions: Session) -> list[SessionHead]:
    assert SESSION_KIND.make_head is not None
    return [h for h in map(SESSION_KIND.make_head, sessions) if isinstance(h, SessionHead)]


def test_the_offset_is_that_of_attempts_timed_by_both() -> None:
    """After less before, in either order; its range holds what was put in."""
    heads = _heads(_by_both("R1", 40))
    found = offset_between(heads, "0-50", "hand", "logger-10hz")
    assert found is not None
    assert found.n == 8
    assert found.value == pytest.approx(0.25)
    assert found.low < 0.25 < found.high
    back = offset_between(heads, "0-50", "logger-10hz", "hand")
    assert back is not None
    assert back.value == pytest.approx(-0.25)
    assert back.low == pytest.approx(-found.high)


@pytest.mark.parametrize(("before", "after"), [("hand", "hand"), ("mixed", "hand"), ("", "hand")])
def test_without_two_named_kinds_there_is_none(before: str, after: str) -> None:
    """The same gear, several on one side, or not told."""
    assert offset_between(_heads(_by_both("R1", 40)), "0-50", before, after) is None


def test_too_few_together_are_none_and_another_test_is_another_offset() -> None:
    """Two attempts are not enough; those of a 40-65 say nothing of a 0-50."""
    few = _by_both("R1", 40, APART[: ENOUGH_TOGETHER - 1])
    assert offset_between(_heads(few), "0-50", "hand", "logger-10hz") is None
    other = msgspec.structs.replace(_by_both("R1", 40), test="40-65")
    assert offset_between(_heads(other), "0-50", "hand", "logger-10hz") is None


def test_a_learnt_offset_is_taken_out_and_said_else_the_verdict_is_held_back() -> None:
    """Before by hand, after by logger, nothing else differs: the 0.25 s are the clock."""
    before = ran("S01", faster(TIGHT, 0.25), timing="hand")
    after = ran("S02", day=7)
    blind = held(before, after)
    assert blind.verdict is Verdict.CANT_TELL
    assert any(cap.id == "mixed timing" and cap.holds_back for cap in blind.caps)
    assert blind.clock is None

    known = held(before, after, _by_both("R1", 40), _by_both("R2", 47))
    assert known.clock is not None
    assert known.clock.n == 16
    assert "mixed timing" not in {cap.id for cap in known.caps}
    assert known.difference is not None
    assert known.net is not None
    assert known.difference.value == pytest.approx(0.25)
    assert known.net.value == pytest.approx(0.0, abs=0.03)
    said = next(s.sentence for s in known.situations if s.id == "clock offset")
    assert "16 attempts timed by both say 0.25 s more by the second" in said
    assert "the clocks" in known.sentence


def test_the_wider_spread_of_the_two_counts() -> None:
    """A hand watch scatters more than a logger, so the range is at least that of the watch."""
    others = (_by_both("R1", 40), _by_both("R2", 47))
    by_hand = held(ran("S01", timing="hand"), ran("S02", day=7), *others)
    by_logger = held(ran("S01"), ran("S02", day=7), *others)
    assert by_hand.spread is not None
    assert by_logger.spread is not None
    assert by_hand.spread > by_logger.spread
