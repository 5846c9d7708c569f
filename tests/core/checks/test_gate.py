"""No attempt while a stop check is open, and what is said about it; two days told through."""

from __future__ import annotations

from datetime import UTC, datetime

import msgspec
import pytest

from core.checks import (
    CAUTION,
    RULES,
    CheckRecord,
    answer,
    due_for_changes,
    is_settled,
    level_words,
    may_attempt,
    open_before_start,
    open_stops,
    progress,
    reason_lines,
    result_words,
    run_out_needed,
    standing_checks,
    state_words,
    stop_reason,
    stopping_distance,
)
from core.errors import BlockedError, InputError
from core.setup.changes import changes
from core.setup.readings import Reading, fitted
from core.setup.sheets import Sheet

AT = datetime(2026, 7, 12, 9, 0, tzinfo=UTC)
ANSWERS = {"done": "done", "text": "as it is", "clay": "3.1 2.6"}
NUMBERS = {"run_out": "200"}


def answered(records: tuple[CheckRecord, ...]) -> tuple[CheckRecord, ...]:
    """Answer every check with a result that clears it."""
    done = []
    for record in records:
        rule = RULES[record.rule]
        text = NUMBERS.get(rule.id) or ANSWERS.get(rule.answer, "")
        done.append(answer(record, text, AT).record)
    return tuple(done)


def put(records: tuple[CheckRecord, ...], rule: str, text: str) -> tuple[CheckRecord, ...]:
    return tuple(answer(r, text, AT).record if r.rule == rule else r for r in records)


def test_one_open_stop_blocks_and_is_named() -> None:
    records = put(answered(standing_checks(0)), "brake_holds", "not done")
    with pytest.raises(BlockedError) as blocked:
        may_attempt(records, 0)
    assert blocked.value.message == "1 stop check is open, first: brake holds against a push."
    assert "stopped by check" in blocked.value.hint


def test_several_open_stops_are_counted() -> None:
    records = (
        CheckRecord(rule="brake_lever", slots=("brake",)),
        CheckRecord(rule="brake_holds", slots=("brake",)),
    )
    with pytest.raises(BlockedError) as blocked:
        may_attempt(records, 0)
    assert blocked.value.message == (
        "2 stop checks are open, first: brake lever clear of bar and stop."
    )


def test_everything_cleared_lets_attempts_in() -> None:
    records = answered(standing_checks(0))
    assert all(is_settled(record) for record in records)
    assert open_stops(records, 0) == ()
    assert may_attempt(records, 0) is None  # type: ignore[func-returns-value]


def test_advice_never_blocks() -> None:
    stops = answered(tuple(r for r in standing_checks(0) if RULES[r.rule].is_stop))
    advice = tuple(r for r in standing_checks(0) if not RULES[r.rule].is_stop)
    said = put(advice, "cones", "not done")
    assert advice
    may_attempt((*stops, *said), 0)
    assert open_stops((*stops, *said), 0) == ()


@pytest.mark.parametrize("rule", sorted(r.rule for r in standing_checks(0)))
def test_each_stop_by_itself_blocks(rule: str) -> None:
    records = tuple(
        record if record.rule == rule else cleared
        for record, cleared in zip(standing_checks(0), answered(standing_checks(0)), strict=True)
    )
    assert bool(open_stops(records, 0)) is RULES[rule].is_stop


def test_a_check_of_a_change_blocks_beside_cleared_standing_ones() -> None:
    a = Sheet(readings={"plug": fitted("p1", "p1")})
    b = Sheet(readings={"plug": fitted("p2", "p2")})
    records = (*answered(standing_checks(0)), *due_for_changes(changes(a, b), 0, b))
    with pytest.raises(BlockedError, match="first: plug reach"):
        may_attempt(records, 0)


def test_checks_before_the_first_start_come_first() -> None:
    records = (CheckRecord(rule="brake_holds"), CheckRecord(rule="oil_level"))
    assert [r.rule for r in open_stops(records, 0)] == ["oil_level", "brake_holds"]
    assert [r.rule for r in open_before_start(records, 0)] == ["oil_level"]
    assert level_words(records[1]) == "stop before the first start"


def test_checks_that_wait_block_when_their_time_comes() -> None:
    bolts = CheckRecord(rule="mount_retorque", slots=("engine_mount",), due_after=3)
    may_attempt((bolts,), 0, attempts=2)
    with pytest.raises(BlockedError, match="mount bolts after 3 attempts"):
        may_attempt((bolts,), 0, attempts=3)
    assert level_words(bolts) == "asked after attempt 3"
    waiting = progress((bolts,), 0, 1)[0]
    assert (waiting.total, waiting.waiting, waiting.open_stops) == (0, 1, 0)


def test_progress_by_group() -> None:
    records = put(put(standing_checks(0), "shop_air", "done"), "shop_eyes", "not done")
    groups = {p.group: p for p in progress(records, 0)}
    assert (groups["Workshop"].settled, groups["Workshop"].total) == (1, 8)
    assert groups["Workshop"].open_stops == 2
    assert sum(p.total for p in groups.values()) == len(records)
    assert list(groups)[:4] == ["Workshop", "Machine", "Rider", "People"]


def test_a_stop_at_its_checks_has_a_reason_to_save_under() -> None:
    records = answered(standing_checks(0))
    assert stop_reason(records, 0) == ""
    records = put(records, "rider_fit", "not done")
    assert stop_reason(records, 0) == "Stopped by check: rider feels fit."
    assert stop_reason(standing_checks(0), 0).endswith(" more.")


def test_the_caution_defers_and_promises_nothing() -> None:
    for words in ("Local law", "land owner", "part makers", "does not make a run safe", "governor"):
        assert words in CAUTION


# stopping distance: v·1 s + v²/(2·3 m/s²); figures rounded to the metre, common practice, no source
@pytest.mark.parametrize(("km_h", "metres"), [(20, 11), (40, 32), (60, 63), (75, 93)])
def test_stopping_distance(km_h: float, metres: int) -> None:
    assert round(stopping_distance(km_h / 3.6)) == metres
    assert run_out_needed(km_h / 3.6) == pytest.approx(2 * stopping_distance(km_h / 3.6))


def test_stopping_distance_by_small_steps() -> None:
    """The closed form against the motion itself, a millisecond at a time."""
    v, s, dt = 60 / 3.6, 60 / 3.6, 0.001  # the first second at full speed
    while v > 0:
        s += v * dt
        v -= 3.0 * dt
    assert stopping_distance(60 / 3.6) == pytest.approx(s, abs=0.02)


@pytest.mark.parametrize("speed", [-1.0, float("nan"), float("inf")])
def test_stopping_distance_refuses_what_is_no_speed(speed: float) -> None:
    with pytest.raises(InputError):
        stopping_distance(speed)


def test_a_day_that_ends_at_its_checks() -> None:
    """A pedal that reaches its stop and a missing throttle spring: no attempts, a full record."""
    a = Sheet(readings={"brake": fitted("b1", "band"), "throttle_springs": springs(2)})
    b = Sheet(readings={"brake": fitted("b2", "caliper"), "throttle_springs": springs(1)})
    records = (*answered(standing_checks(0)), *due_for_changes(changes(a, b), 0, b))
    records = tuple({record.rule: record for record in records}.values())
    records = put(put(records, "brake_lever", "not done"), "throttle_springs", "not done")
    for rule in ("brake_anchor", "throttle_snap", "throttle_full", "brake_half", "kill_running",
                 "brake_holds", "brake_walk"):  # fmt: skip
        records = put(records, rule, "done")
    assert [r.rule for r in open_stops(records, 0)] == ["brake_lever", "throttle_springs"]
    with pytest.raises(BlockedError) as blocked:
        may_attempt(records, 0)
    assert blocked.value.message == (
        "2 stop checks are open, first: brake lever clear of bar and stop."
    )
    reason = stop_reason(records, 0)
    assert reason == (
        "Stopped by check: brake lever clear of bar and stop, two throttle return springs."
    )
    assert state_words(next(r for r in records if r.rule == "brake_lever")) == "not done"
    records = put(put(records, "brake_lever", "done"), "throttle_springs", "done")
    may_attempt(records, 0)


def springs(count: int) -> Reading:
    return Reading(state="set", value=float(count))


def test_a_bench_evening_with_new_rockers() -> None:
    """Rockers of 1.25 for 1.0, the gasket kept: clay not touched, then proved, margin measured."""
    before = Sheet(readings={"rockers": fitted("r0", "Plain 1.0"), "rocker_ratio": ratio(1.0)})
    after = Sheet(readings={"rockers": fitted("r1", "Thistle 1.25"), "rocker_ratio": ratio(1.25)})
    records = due_for_changes(changes(before, after), 0, after)
    asked = {r.rule for r in records if RULES[r.rule].level == "start"}
    assert asked == {"valve_to_piston", "spring_margin", "retainer_margin", "pushrod_rub",
                     "cover_clearance", "lash", "lash_lock_nuts"}  # fmt: skip
    assert "piston_to_head" not in {r.rule for r in records}

    records = put(records, "valve_to_piston", "not touched 2.0")
    gap = next(r for r in records if r.rule == "valve_to_piston")
    assert (gap.answer, result_words(gap)) == ("open", "> 2 / > 2 mm")
    assert gap in open_before_start(records, 0)

    records = put(records, "valve_to_piston", "in 3.1 ex 2.6 of 4 own 1.5")
    gap = next(r for r in records if r.rule == "valve_to_piston")
    assert state_words(gap) == "cleared: 3.1 / 2.6 mm (own requirement 1.5)"

    margin = answer(next(r for r in records if r.rule == "spring_margin"), "1.5", AT)
    assert (margin.record.answer, margin.record.value, margin.warning) == ("cleared", 1.5, "")
    records = put(records, "spring_margin", "1.5")
    records = put(records, "retainer_margin", "1.2")
    records = put(records, "lash", "0.10 0.15")
    for rule in ("pushrod_rub", "cover_clearance", "lash_lock_nuts"):
        records = put(records, rule, "done")
    assert open_before_start(records, 0) == ()
    assert [r.rule for r in open_stops(records, 0)] == ["lash_recheck"]
    with pytest.raises(BlockedError, match="lash again after the first heat cycle"):
        may_attempt(records, 0)
    measured = [r for r in records if r.answer == "cleared" and r.value is not None]
    assert {r.rule for r in measured} == {"valve_to_piston", "spring_margin", "retainer_margin",
                                          "lash"}  # fmt: skip
    lines = " ".join(reason_lines(gap))
    assert "rocker ratio" in lines
    assert "bent valve" in lines


def ratio(value: float) -> Reading:
    return Reading(state="stated", value=value)


def test_undoing_an_answer_blocks_again() -> None:
    records = answered(standing_checks(0))
    opened = tuple(
        msgspec.structs.replace(r, answer="open", result="") if r.rule == "lawful" else r
        for r in records
    )
    with pytest.raises(BlockedError, match="may lawfully be run here"):
        may_attempt(opened, 0)
