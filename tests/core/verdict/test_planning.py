"""Before the day: order, pairs, minutes, what the test cannot see; and looks that are counted."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.attempts import find_test
from core.session import SessionHead
from core.session.documents import SESSION_KIND
from core.stats import Spread, half_width
from core.verdict import Pool, compare_sessions, pool_of
from core.verdict.acting import ACTING, cannot_see, rpm_span
from core.verdict.looked import LATELY, count_look
from core.verdict.planning import plan_day
from tests.core.verdict.comparing import TIGHT, WIDE, ran
from tests.making import START, new_book

TEST = find_test("0-50")


def _pool(times: str) -> Pool:
    assert SESSION_KIND.make_head is not None
    heads = [SESSION_KIND.make_head(ran(f"S{i}", times, day=7 * i)) for i in range(4)]
    own = [head for head in heads if isinstance(head, SessionHead)]
    return pool_of(own, "m1", "0-50", "logger-10hz")


def test_the_plan_is_the_shortest_that_would_do() -> None:
    """One pair fewer in each block would not reach the gain; what it takes adds up."""
    plan = plan_day(TEST, _pool(WIDE), 0.05)
    spread = _pool(WIDE).spread("pair")
    fewer = plan.per_block - 1
    assert fewer >= 2
    known = Spread(spread.sd, spread.dof + 3 * (fewer - 1), spread.own_dof)
    assert plan.half < 0.05 <= half_width(1.5 / fewer, known)
    assert plan.attempts == 3 * 2 * plan.per_block
    assert plan.minutes == 15 + 4 * (plan.attempts + 2) + 2 * 20
    assert "Run A-B-A on one day" in plan.sentences[0]
    assert plan.two_days is None
    assert "however many" in plan.sentences[-1]


def test_a_finer_question_takes_more_and_is_said_to_be_too_long() -> None:
    """Half the gain: more pairs; beyond a half-day it says so."""
    coarse, fine = (plan_day(TEST, _pool(WIDE), gain) for gain in (0.2, 0.05))
    assert fine.per_block > coarse.per_block
    assert not coarse.too_long
    assert fine.too_long
    assert "half-day" in " ".join(fine.sentences)


def test_one_way_places_count_attempts() -> None:
    """A block of attempts, not of pairs."""
    plan = plan_day(TEST, _pool(WIDE), 0.2, two_way=False)
    assert plan.kind == "attempt"
    assert plan.attempts == 3 * plan.per_block


@pytest.mark.parametrize(
    ("test", "slots", "seen"),
    [
        ("0-50", ["rockers"], False),
        ("40-65", ["rockers"], True),
        ("0-50", ["engagement_rpm"], True),
        ("40-65", ["engagement_rpm"], False),
        ("0-50", ["rockers", "final_sprocket_teeth"], True),
        ("80m", ["rockers"], True),
        ("0-50", [], True),
    ],
)
def test_a_test_that_misses_where_the_change_acts(test: str, slots: list[str], seen: bool) -> None:
    """0-50 on this sprocket ends at 4,324 rpm; rolling starts with the clutch locked."""
    sheet = ran("S01").sheets[0]
    said = cannot_see(find_test(test), sheet, slots)
    assert (said is None) is seen
    plan = plan_day(find_test(test), _pool(TIGHT), 0.2, sheet=sheet, changed=slots)
    assert (plan.blind == "") is seen
    if not seen:
        assert plan.sentences[0] == said


def test_engine_speeds_of_a_test() -> None:
    """66:12, 1.06 m: 50 km/h is 60 x 5.5/1.06 x 13.889 = 4,324 rpm, by hand."""
    span = rpm_span(TEST, ran("S01").sheets[0])
    assert span is not None
    assert span.high == pytest.approx(60 * 5.5 / 1.06 * 50 / 3.6)
    assert span.low == 2900.0
    assert len({slot for row in ACTING for slot in row.slots}) == sum(len(r.slots) for r in ACTING)


def test_looks_are_counted_by_pair_and_for_an_evening(tmp_path: Path) -> None:
    """The same pair once, in any order; forgotten the next day; a broken file is no matter."""
    file = tmp_path / "cache" / "looks.json"
    assert count_look(file, ("a", "b"), START) == 1
    assert count_look(file, ("b", "a"), START + timedelta(hours=1)) == 1
    assert count_look(file, ("a", "c"), START + timedelta(hours=2)) == 2
    assert count_look(file, ("a", "d"), START + LATELY + timedelta(hours=2, minutes=1)) == 1
    file.write_text("nothing like it")
    assert count_look(file, ("a", "b"), START) == 1
    assert count_look(None, ("a", "b"), START) == 0
    assert count_look(tmp_path, ("a", "b"), START) == 1  # a folder where the file should be


def test_only_a_person_looking_is_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The fifth pair is told; what the tool compares by itself is not counted."""
    monkeypatch.setenv("BACKTOBACK_CACHE", str(tmp_path / "cache"))
    book, _ = new_book(tmp_path)
    book.save(*(ran(f"S{i:02d}", day=7 * i) for i in range(6)))
    for i in range(5):
        compare_sessions(book, "S05", f"S{i:02d}")
    made = [compare_sessions(book, "S05", f"S{i:02d}", count=True) for i in range(5)]
    told = [[s.sentence for s in one.situations if s.id == "many looks"] for one in made]
    assert told[:4] == [[], [], [], []]
    assert told[4][0].startswith("This is the 5th pair of sessions")
