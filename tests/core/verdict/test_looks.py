"""Looking at a comparison without what stands apart, and with what was struck."""

from __future__ import annotations

import msgspec
import pytest

from core.attempts import Strike
from core.session import Session
from core.session.documents import SESSION_KIND, SessionHead
from core.stats import Verdict
from core.verdict import Comparison, Sides, compare, looks
from tests.making import bare_session

BEFORE = "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04 W7.50 E7.12"
AFTER = "W7.50 E7.20 W7.59 E7.17 W8.60 E7.14 W7.47 E7.06"
S60, S66 = {"final_sprocket_teeth": 60.0}, {"final_sprocket_teeth": 66.0}


def compared(a: Session, b: Session, gain: float | None = None) -> Comparison:
    """Compare two sessions in a log that holds a third one of the same machine."""
    quiet = bare_session("S09", [BEFORE.replace("7.5", "7.4")], day=40, sheets=(S60,))
    heads = []
    for session in (a, b, quiet):
        head = SESSION_KIND.make_head(session) if SESSION_KIND.make_head else None
        assert isinstance(head, SessionHead)
        heads.append(head)
    return compare(Sides(a, "A", b, "A", a.test), heads, gain=gain)


def struck(session: Session, n: int) -> Session:
    """The session with one attempt struck."""
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE", late=True)) if a.n == n else a
        for a in session.attempts
    )
    return msgspec.structs.replace(session, attempts=tries)


def test_there_is_one_look_when_nothing_is_odd_or_struck() -> None:
    """As it counts, with the comparison's own sentence."""
    a, b = bare_session("S01", [BEFORE]), bare_session("S02", [BEFORE], day=3)
    made = compared(a, b)
    (only,) = looks(made, a, b)
    assert (only.id, only.sentence, only.difference) == (
        "as it counts",
        made.sentence,
        made.difference,
    )


def test_only_the_side_that_stands_apart_loses_the_attempt() -> None:
    """Attempt 5 of one session is odd; attempt 5 of the other one stays."""
    a, b = bare_session("S01", [BEFORE], sheets=(S60,)), bare_session("S02", [AFTER], sheets=(S66,))
    made = compared(a, b)
    assert [(odd.session, odd.n) for odd in made.odd] == [(b.id, 5)]
    first, without = looks(made, a, b)
    assert first.b.n == 4
    assert without.id == "without odd"
    assert without.words == "without attempt 5 of S02"
    assert without.a.values == made.a.values
    assert 5 not in {n for group in without.b.attempts for n in group}
    assert without.difference is not None
    assert without.b.mean is not None
    assert made.a.mean is not None
    assert without.difference.value == pytest.approx(without.b.mean - made.a.mean)
    assert any(line.startswith("S02: attempt 5 W 8.60 s stands apart") for line in made.more)


def test_a_look_says_when_the_answer_hangs_on_it() -> None:
    """With the odd attempt it is open, without it the answer is one of the other words."""
    a = bare_session("S01", [BEFORE], sheets=(S60,))
    b = bare_session("S02", [AFTER], sheets=(S66,))
    made = compared(a, b, gain=0.29)
    _, without = looks(made, a, b)
    assert made.verdict is not without.verdict
    assert f"would be “{without.verdict}”, so it hangs on that." in without.sentence
    same = looks(compared(a, b, gain=0.01), a, b)[1]
    assert "the answer stays" in same.sentence


def test_struck_attempts_come_back_in_their_own_look() -> None:
    """It is named, and the first look stays as it counts."""
    a, b = bare_session("S01", [BEFORE]), bare_session("S02", [BEFORE], day=0)
    b = struck(b, 4)
    made = compared(a, b)
    first, with_struck = looks(made, a, b)
    assert first.b.n == 3
    assert with_struck.words == "with attempt 4 of S02 counted"
    assert with_struck.b.n == 4


def test_a_struck_attempt_without_a_partner_says_so() -> None:
    """It comes back, and nothing changes."""
    a = bare_session("S01", [BEFORE])
    b = struck(bare_session("S02", [f"{BEFORE} W9.90"], day=0), 9)
    with_struck = looks(compared(a, b), a, b)[1]
    assert with_struck.words == "with attempt 9 of S02 counted, which finds no partner"
    assert with_struck.b.values == looks(compared(a, b), a, b)[0].b.values


def test_a_cap_that_holds_back_holds_every_look_back() -> None:
    """One way against two ways stays open however it is looked at."""
    east = bare_session("S02", ["E7.10 E7.15 E7.05 E7.12 E9.00"], sheets=(S66,))
    a = bare_session("S01", [BEFORE], sheets=(S60,))
    made = compared(a, struck(east, 5))
    assert made.verdict is Verdict.CANT_TELL
    found = looks(made, a, struck(east, 5))
    assert {look.verdict for look in found} == {Verdict.CANT_TELL}
    assert found[1].b.n == 5
    assert found[1].a.one_direction == "E"
