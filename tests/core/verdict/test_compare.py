"""Comparisons on sessions with known numbers: size, range, verdict word, caps, sentences."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import pytest

from core.attempts import AirReading, Strike
from core.session import Session, SessionHead
from core.session.documents import SESSION_KIND
from core.stats import Verdict
from core.verdict import Comparison, Sides, compare, pool_of
from tests.making import START, bare_session

S01 = "W8.81 E8.33 W8.59 E8.00 W8.62 E7.96 W8.71 E8.13"
S03 = "W7.34 E6.88 W7.49 E7.10 W7.31 E6.83 W7.49 E7.19"
S05 = (
    "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04",
    "W8.34 E8.06 W8.54 E7.95 W8.53 E8.21",
    "W7.41 E7.15 W7.40 E7.31 W7.37 E7.23",
)
S66, S60 = {"final_sprocket_teeth": 66.0}, {"final_sprocket_teeth": 60.0}


def heads(*sessions: Session) -> list[SessionHead]:
    """What the log would hold of these sessions."""
    assert SESSION_KIND.make_head is not None
    made = [SESSION_KIND.make_head(s) for s in sessions]
    return [h for h in made if isinstance(h, SessionHead)]


def against(
    a: Session, b: Session, *others: Session, builds: tuple[str, str] = ("A", "A"), **more: float
) -> Comparison:
    """Compare two sessions in a log that holds them and others."""
    log = heads(*{s.id: s for s in (a, b, *others)}.values())
    return compare(Sides(a, builds[0], b, builds[1], a.test), log, gain=more.get("gain"))


def cap_ids(made: Comparison) -> list[str]:
    """The names of what limits a comparison."""
    return [cap.id for cap in made.caps]


def test_two_days_are_wider_than_one() -> None:
    """The same attempts on one day and on two: the same size, another range."""
    before = bare_session("S01", [S01], sheets=(S60,))
    one_day = against(before, bare_session("S02", [S03], sheets=(S66,)), gain=0.15)
    two_days = against(before, bare_session("S03", [S03], day=21, sheets=(S66,)), gain=0.15)
    for made in (one_day, two_days):
        assert made.difference is not None
        assert made.difference.value == pytest.approx(7.20375 - 8.39375)
        assert made.verdict is Verdict.QUICKER
        assert (made.a.n, made.b.n, made.b.kind) == (4, 4, "pair")
    assert one_day.same_day
    assert one_day.day_spread is None
    assert two_days.difference is not None
    assert one_day.difference is not None
    assert two_days.day_spread == pytest.approx(0.02 * 7.79875, rel=1e-6)
    widths = [m.difference.high - m.difference.low for m in (one_day, two_days) if m.difference]
    assert widths[1] > 2 * widths[0]


def test_turn_and_turn_about_takes_the_drift_out() -> None:
    """A-B-A on one day: no day spread, drift said, the known means of the invented season."""
    day = bare_session("S05", S05, sheets=(S66, S60, S66))
    made = against(day, day, builds=("A", "B"), gain=0.15)
    assert made.difference is not None
    assert made.verdict is Verdict.SLOWER
    assert made.difference.value == pytest.approx(0.96, abs=0.01)
    assert made.drift == pytest.approx(0.01, abs=0.005)
    assert (made.a.n, made.b.n) == (6, 3)
    assert "S05:B is 0.96 s slower than S05:A" in made.sentence
    assert made.day_spread is None


def test_a_steady_drift_is_no_difference() -> None:
    """The same build all day, getting slower all the time: nothing is left of it."""
    blocks = ["7.00 7.01 6.99", "7.20 7.21 7.19", "7.40 7.41 7.39"]
    day = bare_session("S05", blocks, directions=(), sheets=(S66, S60, S66))
    made = against(day, day, builds=("A", "B"), gain=0.15)
    assert made.difference is not None
    assert made.difference.value == pytest.approx(0.0, abs=1e-9)
    assert made.drift == pytest.approx(0.40, abs=1e-9)
    assert "drift" in cap_ids(made)
    assert made.verdict is Verdict.CANT_TELL


def test_no_difference_worth_having_needs_a_tight_range() -> None:
    """Inside what was said to matter on both ends, and only then."""
    tight = "7.30 7.31 7.29 7.30 7.31 7.30 7.29 7.30"
    one, other = (bare_session(n, [tight], directions=(), timing="gates") for n in ("S01", "S02"))
    more = [
        bare_session(f"R{i}", [tight], day=i + 1, directions=(), timing="gates") for i in range(4)
    ]
    made = against(one, other, *more, gain=0.15)
    assert made.verdict is Verdict.NO_DIFFERENCE
    assert made.sentence.startswith("No difference worth having:")
    assert against(one, other, *more).verdict is Verdict.CANT_TELL


def test_a_small_real_difference_says_that_it_is_small() -> None:
    """Wholly on one side of zero, and less than was said to matter."""
    one = bare_session("S01", ["7.30 7.31 7.29 7.30 7.31 7.30"], directions=(), timing="gates")
    other = bare_session("S02", ["7.20 7.21 7.19 7.20 7.21 7.20"], directions=(), timing="gates")
    more = bare_session(
        "S03", ["7.3 7.31 7.29 7.3 7.3 7.31 7.29 7.3"], day=3, directions=(), timing="gates"
    )
    made = against(one, other, more, gain=0.5)
    assert made.verdict is Verdict.QUICKER
    assert made.below_gain
    assert "less than the 0.5 s you said matters" in made.sentence


def test_several_changes_belong_to_the_package() -> None:
    """The verdict stands; the credit does not go to one part."""
    sheet = {"engagement_rpm": 2100.0, "final_sprocket_teeth": 60.0}
    after = {"engagement_rpm": 2900.0, "final_sprocket_teeth": 66.0}
    made = against(
        bare_session("S01", [S01], sheets=(sheet,)),
        bare_session("S03", [S03], day=21, sheets=(after,)),
    )
    assert made.verdict is Verdict.QUICKER
    assert cap_ids(made) == ["several changes"]
    assert "belongs to the pair" in made.more[0]
    assert {c.slot for c in made.causes} == set(sheet)


def test_unknown_directions_hold_the_verdict_back() -> None:
    """At a two-way place attempts without a direction form no pairs."""
    blind = bare_session("S03", [S03.replace("W", "").replace("E", "")], day=3)
    made = against(bare_session("S01", [S01]), blind)
    assert made.verdict is Verdict.CANT_TELL
    assert "direction unknown" in cap_ids(made)
    assert made.difference is not None
    assert "something holds it back" in made.sentence


def test_one_way_is_held_only_against_the_same_way() -> None:
    """All east against a two-way session: only its east runs are looked at, and no verdict."""
    east = bare_session("S03", ["E6.88 E7.10 E6.83 E7.19"], day=3)
    made = against(bare_session("S01", [S01]), east)
    assert made.verdict is Verdict.CANT_TELL
    assert cap_ids(made)[0] == "one way"
    assert made.a.values == (8.33, 8.00, 7.96, 8.13)
    assert "not against the two-way session" in made.more[0]


def test_two_clocks_are_not_compared() -> None:
    """Another timing gear could be the whole difference."""
    made = against(
        bare_session("S01", [S01], timing="hand"), bare_session("S03", [S03], timing="trace")
    )
    assert made.verdict is Verdict.CANT_TELL
    assert "mixed timing" in cap_ids(made)
    assert "could be the clock" in " ".join(made.more)


@pytest.mark.parametrize(
    ("wind", "gust", "held"), [(3.0, 5.0, False), (3.1, 3.1, True), (1, 5.5, True)]
)
def test_wind_beyond_the_limit_holds_it_back(wind: float, gust: float, held: bool) -> None:
    """Above 3 m/s mean or 5 m/s in gusts: recorded, not for comparison."""
    air = (AirReading(observed=START, wind=wind, gust=gust),)
    made = against(bare_session("S01", [S01]), bare_session("S03", [S03], air=air))
    assert ("wind" in cap_ids(made)) is held
    assert (made.verdict is Verdict.CANT_TELL) is held


def test_one_pair_is_a_story() -> None:
    """One observation on a side is allowed through the pooled spread, and said."""
    made = against(bare_session("S01", [S01]), bare_session("S03", ["W7.34 E6.88"]))
    assert made.difference is not None
    assert made.b.n == 1
    assert "is a story, not a result" in " ".join(made.more)


def _struck(session: Session, *numbers: int) -> Session:
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE")) if a.n in numbers else a
        for a in session.attempts
    )
    return msgspec.structs.replace(session, attempts=tries)


def test_everything_struck_is_a_sentence_and_no_number() -> None:
    """Nothing to compare is said, never NaN."""
    made = against(bare_session("S01", [S01]), _struck(bare_session("S03", [S03]), *range(1, 9)))
    assert made.difference is None
    assert made.verdict is Verdict.CANT_TELL
    assert made.sentence == "All attempts of S03 are struck: nothing to compare."


def test_the_result_with_the_struck_ones_is_kept_beside() -> None:
    """Both results are there, and the strike is not in the first."""
    made = against(bare_session("S01", [S01]), _struck(bare_session("S03", [S03]), 3, 4))
    assert made.b.n == 3
    assert made.with_struck is not None
    assert made.with_struck.n_b == 4


def test_an_empty_and_a_stopped_session_are_sentences() -> None:
    """A session without attempts is a full record, and nothing to compare."""
    empty = bare_session("S06", [""])
    stopped = msgspec.structs.replace(empty, state="stopped", stopped_because="no brake")
    before = bare_session("S01", [S01])
    assert against(before, empty).sentence == "S06 has no timed attempts: nothing to compare."
    assert "was stopped (no brake)" in against(before, stopped).sentence


def test_equal_times_are_not_without_spread() -> None:
    """A watch that shows tenths: the spread is never zero and nothing divides by it."""
    same = bare_session("S01", ["7.3 7.3 7.3 7.3"], directions=(), timing="hand")
    other = bare_session("S02", ["7.3 7.3 7.3 7.3"], directions=(), timing="hand")
    made = against(same, other, gain=0.15)
    assert made.difference is not None
    assert made.difference.value == 0
    assert made.difference.high > 0
    assert made.odd == ()


def test_what_would_settle_it_is_said() -> None:
    """Too few and too wide: how many more, or another way of going about it."""
    one = bare_session("S01", ["W7.50 E7.30 W7.52 E7.28"], timing="hand")
    other = bare_session("S02", ["W7.45 E7.25 W7.40 E7.31"], timing="hand")
    made = against(one, other, gain=0.15)
    assert made.verdict is Verdict.CANT_TELL
    assert made.settle is not None
    assert made.settle.more
    assert f"about {made.settle.more} more pairs" in made.sentence
    far = against(
        one, bare_session("S03", ["W7.45 E7.25 W7.40 E7.31"], day=5, timing="hand"), gain=0.15
    )
    assert far.settle is not None
    assert far.settle.another_day
    assert "swap A-B-A on one day" in far.sentence


def test_warm_up_and_aborted_attempts_never_count() -> None:
    """They are there to be read, and in no mean and no spread."""
    session = bare_session("S01", [S01])
    kinds = ("warm-up", "warm-up", "aborted")
    tries = tuple(
        msgspec.structs.replace(a, kind=kinds[i], value=None if kinds[i] == "aborted" else 99.0)
        if i < 3
        else a
        for i, a in enumerate(session.attempts)
    )
    changed = msgspec.structs.replace(session, attempts=tries)
    pool = pool_of(heads(changed), "m1", "0-50", "logger-10hz")
    assert pool.typical is not None
    assert pool.typical < 9
    assert against(bare_session("S03", [S03]), changed).b.n == 2


def test_faster_is_better_in_a_top_speed_test() -> None:
    """The word follows the test: more km/h is better."""
    options = {"test": "top", "timing": "logger-10hz"}
    one = bare_session("S01", ["W70.1 E72.3 W70.4 E72.0"], **options)  # type: ignore[arg-type]
    other = bare_session("S02", ["W75.1 E77.3 W75.4 E77.0"], **options)  # type: ignore[arg-type]
    made = against(one, other)
    assert made.verdict is Verdict.QUICKER
    assert "5.0 km/h faster" in made.sentence


def _numbers(made: Comparison) -> Sequence[float]:
    assert made.difference is not None
    return (made.difference.value, made.difference.low, made.difference.high)


def test_swapping_the_sides_turns_the_sign() -> None:
    """B against A is minus A against B, range and all."""
    one, other = bare_session("S01", [S01]), bare_session("S03", [S03], day=9)
    value, low, high = _numbers(against(one, other))
    assert _numbers(against(other, one)) == pytest.approx((-value, -high, -low))


def test_days_of_a_build_that_was_not_recorded_are_no_repeats() -> None:
    """Without a setup sheet nobody knows that two days ran the same build."""
    told, untold = (
        [
            bare_session(n, [t], day=d, sheets=sheet)
            for n, t, d in (("S01", S01, 0), ("S03", S03, 21))
        ]
        for sheet in ((S66,), ())
    )
    usual = 0.02 * 7.79875
    assert against(*untold).day_spread == pytest.approx(usual, rel=1e-6)
    repeated = against(*told).day_spread
    assert repeated is not None
    assert repeated > 2 * usual
