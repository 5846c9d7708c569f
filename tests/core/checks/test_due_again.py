"""Checks that hold again, fall due again, or settle when a change is taken back."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import msgspec
import pytest

from core.checks import (
    RULES,
    STANDING,
    CheckRecord,
    Cleared,
    answer,
    break_too_long,
    current_checks,
    due_for_changes,
    find_rule,
    group_of,
    merge_due,
    open_stops,
    reason_lines,
    reopen_after,
    reopen_after_strike,
    reopen_after_swap,
    rule_for,
    settled_by_return,
    standing_checks,
    state_words,
    stood_too_long,
)
from core.errors import NotFoundError
from core.setup.changes import changes
from core.setup.readings import Reading, fitted
from core.setup.sheets import Sheet, with_reading

AT = datetime(2026, 8, 2, 9, 0, tzinfo=UTC)


def build(rockers: str = "1.0", **more: Reading) -> Sheet:
    readings = {"rockers": fitted(rockers, rockers), "cam": fitted("c1", "Lark")}
    return Sheet(readings=readings | more)


def due(a: Sheet, b: Sheet, index: int = 0, **options: Any) -> dict[str, CheckRecord]:
    return {r.rule: r for r in due_for_changes(changes(a, b), index, b, **options)}


def cleared(sheet: Sheet, before: Sheet, rule: str, text: str, session: str = "s1") -> Cleared:
    record = due(before, sheet)[rule]
    return Cleared(session=session, sheet=sheet, record=answer(record, text, AT).record)


class TestReuse:
    def test_going_back_to_a_cleared_combination_keeps_geometry(self) -> None:
        history = [
            cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6 own 1.5"),
            cleared(build("1.25"), build(), "spring_margin", "1.5"),
        ]
        again = due(build(), build("1.25"), 3, history=history)
        gap = again["valve_to_piston"]
        assert (gap.answer, gap.by_reference, gap.sheet) == ("cleared", "s1", 3)
        assert (gap.value, gap.second, gap.own) == (3.1, 2.6, 1.5)
        assert state_words(gap).startswith("cleared before on the same parts: 3.1 / 2.6 mm")
        assert again["spring_margin"].by_reference == "s1"

    def test_what_comes_loose_is_always_asked_afresh(self) -> None:
        sheet, before = build("1.25"), build()
        history = [
            cleared(sheet, before, rule, text)
            for rule, text in (
                ("lash", "0.1 0.15"),
                ("lash_lock_nuts", "done"),
                ("lash_recheck", "0.1 0.15"),
                ("pushrod_rub", "done"),
            )
        ]
        again = due(before, sheet, history=history)
        for rule in ("lash", "lash_lock_nuts", "lash_recheck", "pushrod_rub"):
            assert again[rule].answer == "open", rule

    def test_a_throttle_is_asked_afresh_though_nothing_else_changed(self) -> None:
        a = Sheet(readings={"throttle": fitted("t1", "t1")})
        b = Sheet(readings={"throttle": fitted("t2", "t2")})
        history = [cleared(b, a, rule, "done") for rule in ("throttle_snap", "throttle_springs")]
        again = due(a, b, history=history)
        assert {again[r].answer for r in ("throttle_snap", "throttle_springs")} == {"open"}

    def test_a_value_that_no_longer_holds_ends_the_reuse(self) -> None:
        thick = Reading(state="measured", value=1.1)
        history = [cleared(build("1.25", gasket_thickness=thick), build(), "valve_to_piston",
                           "3.1 2.6")]  # fmt: skip
        for is_stale in (False, True):
            now = Reading(state="measured", value=1.1, stale=is_stale)
            base = build(gasket_thickness=now)
            again = due(base, build("1.25", gasket_thickness=now), history=history)
            assert (again["valve_to_piston"].answer == "open") is is_stale

    @pytest.mark.parametrize(
        ("slot", "reading"),
        [
            ("cam", fitted("c2", "Wren")),
            ("gasket_thickness", Reading(state="measured", value=0.8)),
            ("head_milled", Reading(state="set", value=0.3)),
            ("piston", fitted("p2", "Dome")),
        ],
    )
    def test_another_combination_is_asked_afresh(self, slot: str, reading: Reading) -> None:
        history = [cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6")]
        other = with_reading(build("1.25"), slot, reading)
        base = with_reading(build(), slot, reading)
        assert due(base, other, history=history)["valve_to_piston"].answer == "open"

    def test_a_slot_outside_the_combination_does_not_matter(self) -> None:
        history = [cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6")]
        jet = Reading(state="set", text="88 x100mm")
        again = due(build(main_jet=jet), build("1.25", main_jet=jet), history=history)
        assert again["valve_to_piston"].by_reference == "s1"

    def test_the_first_session_stays_the_source(self) -> None:
        first = cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6")
        taken = due(build(), build("1.25"), history=[first])["valve_to_piston"]
        second = Cleared(session="s2", sheet=build("1.25"), record=taken)
        again = due(build(), build("1.25"), history=[first, second])["valve_to_piston"]
        assert again.by_reference == "s1"

    def test_a_newer_answer_that_did_not_clear_stands_against_it(self) -> None:
        first = cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6")
        torn = cleared(build("1.25"), build(), "valve_to_piston", "torn", "s2")
        assert due(build(), build("1.25"), history=[first, torn])["valve_to_piston"].answer == (
            "open"
        )

    def test_a_newer_own_requirement_stands_against_an_older_result(self) -> None:
        first = cleared(build("1.25"), build(), "valve_to_piston", "3.1 2.6")
        other = cleared(build("1.3"), build(), "valve_to_piston", "3.4 3.2 own 3.0", "s2")
        again = due(build(), build("1.25"), history=[first, other])["valve_to_piston"]
        assert (again.answer, again.own) == ("open", 3.0)

    def test_unknown_parts_are_never_the_same_combination(self) -> None:
        unknown = Sheet(readings={"rockers": Reading(state="unknown")})
        history = [cleared(unknown, build(), "valve_to_piston", "3.1 2.6")]
        assert due(build(), unknown, history=history)["valve_to_piston"].answer == "open"

    def test_a_volume_that_was_unknown_is_asked_again(self) -> None:
        a, b = (
            Sheet(readings={"head": fitted("h1", "h1")}),
            Sheet(readings={"head": fitted("h2", "h2")}),
        )
        history = [cleared(b, a, "chamber_volume", "unknown")]
        assert due(a, b, history=history)["chamber_volume"].answer == "open"
        history = [cleared(b, a, "chamber_volume", "22.5 cc")]
        assert due(a, b, history=history)["chamber_volume"].value == 22.5

    def test_a_valve_cut_since_ends_the_reuse(self) -> None:
        old = build("1.25", valves_intake=fitted("v1", "v1"),
                    valve_angles_intake=Reading(state="set", text="45"))  # fmt: skip
        history = [cleared(old, build(), "valve_to_piston", "3.1 2.6")]
        cut = with_reading(old, "valve_angles_intake", Reading(state="set", text="45 and 30"))
        before = with_reading(cut, "rockers", fitted("1.0", "1.0"))
        assert due(before, cut, history=history)["valve_to_piston"].answer == "open"


class TestDueAgain:
    def test_a_touched_slot_opens_its_checks_again(self) -> None:
        base, first, second = build(), build("1.25"), build("1.3")
        records = tuple(
            answer(r, "1.5", AT).record if r.rule == "spring_margin" else r
            for r in due_for_changes(changes(base, first), 0, first)
        )
        now = merge_due(records, due_for_changes(changes(base, second), 0, second), 0, ("rockers",))
        margin = next(r for r in now if r.rule == "spring_margin")
        assert (margin.answer, margin.value) == ("open", None)
        assert len(now) == len(records)

    def test_a_result_stays_while_other_slots_are_touched(self) -> None:
        base, first = build(), build("1.25")
        records = tuple(
            answer(r, "1.5", AT).record if r.rule == "spring_margin" else r
            for r in due_for_changes(changes(base, first), 0, first)
        )
        both = with_reading(first, "plug", fitted("p7", "p7"))
        now = merge_due(records, due_for_changes(changes(base, both), 0, both), 0, ("plug",))
        assert next(r for r in now if r.rule == "spring_margin").value == 1.5
        assert any(r.rule == "plug_reach" for r in now)

    def test_a_change_taken_back_takes_its_checks_along(self) -> None:
        base, first = build(), build("1.25")
        records = list(due_for_changes(changes(base, first), 0, first))
        kept = answer(records[0], "torn", AT).record
        assert kept.rule == "valve_to_piston"
        now = merge_due((kept, *records[1:]), (), 0, ("rockers",))
        assert [(r.rule, r.answer) for r in now] == [("valve_to_piston", "does not apply")]
        assert "taken back" in now[0].note

    def test_a_standing_check_is_asked_once_and_survives_a_change_taken_back(self) -> None:
        standing = standing_checks(0)
        base = Sheet(readings={"throttle": fitted("t1", "t1")})
        other = Sheet(readings={"throttle": fitted("t2", "t2")})
        now = merge_due(standing, due_for_changes(changes(base, other), 0, other), 0, ("throttle",))
        asked = [r for r in now if r.rule == "throttle_snap"]
        assert [r.slots for r in asked] == [("throttle",)]
        assert group_of(asked[0]) == "Throttle and kill"
        back = merge_due(now, (), 0, ("throttle",))
        assert sorted(r.rule for r in back) == sorted(r.rule for r in standing)
        snap = next(r for r in back if r.rule == "throttle_snap")
        assert (snap.slots, group_of(snap)) == ((), "Machine")

    def test_a_standing_answer_does_not_answer_for_a_change_made_since(self) -> None:
        snap = next(r for r in standing_checks(0) if r.rule == "throttle_snap")
        a = Sheet(readings={"throttle": fitted("t1", "t1")})
        b = Sheet(readings={"throttle": fitted("t2", "t2")})
        due_now = due_for_changes(changes(a, b), 0, b)
        now = merge_due((answer(snap, "done", AT).record,), due_now, 0)
        assert [r.answer for r in now if r.rule == "throttle_snap"] == ["open"]

    def test_records_of_other_sheets_are_left_alone(self) -> None:
        old = answer(CheckRecord(rule="spring_margin", sheet=0, slots=("cam",)), "1.5", AT).record
        new = due_for_changes(changes(build(), build("1.25")), 1, build("1.25"))
        now = merge_due((old,), new, 1, ("rockers",))
        assert now[0] == old
        assert {r.sheet for r in now[1:]} == {1}

    def test_the_newest_sheet_counts(self) -> None:
        old = answer(CheckRecord(rule="spring_margin", sheet=0, slots=("cam",)), "1.5", AT).record
        new = CheckRecord(rule="spring_margin", sheet=1, slots=("rockers",))
        assert current_checks((old, new), 0) == (old,)
        assert current_checks((old, new), 1) == (new,)
        assert current_checks((new, old), 1) == (new,)
        later = answer(new, "1.4", AT).record
        assert current_checks((new, later), 1) == (later,)


class TestSwap:
    def test_standing_checks_that_a_swap_touches_are_asked_again(self) -> None:
        records = standing_checks(0)
        a = Sheet(readings={"tyre_rear": fitted("t1", "t1"), "tank": fitted("k1", "k1")})
        b = Sheet(readings={"tyre_rear": fitted("t2", "t2"), "tank": fitted("k2", "k2")})
        again = reopen_after_swap(records, 1, changes(a, b))
        assert {r.rule for r in again} == {"fasteners", "fuel_no_leak"}
        assert all((r.sheet, r.event, r.answer) == (1, "swap", "open") for r in again)

    def test_what_the_swap_asks_for_itself_is_not_asked_twice(self) -> None:
        a = Sheet(readings={"final_sprocket": fitted("60T", "60T")})
        b = Sheet(readings={"final_sprocket": fitted("66T", "66T")})
        made = changes(a, b)
        both = (*due_for_changes(made, 1, b), *reopen_after_swap(standing_checks(0), 1, made))
        rules = [r.rule for r in both]
        assert rules.count("drive_guard") == 1
        assert len(rules) == len(set(rules))

    def test_nothing_is_asked_again_that_was_never_asked(self) -> None:
        a = Sheet(readings={"tank": fitted("k1", "k1")})
        b = Sheet(readings={"tank": fitted("k2", "k2")})
        assert reopen_after_swap((), 1, changes(a, b)) == ()

    def test_checks_that_wait_count_from_the_swap(self) -> None:
        a = Sheet(readings={"chain": fitted("q1", "q1")})
        b = Sheet(readings={"chain": fitted("q2", "q2")})
        reslack = due(a, b, 1, attempts=8)["chain_reslack"]
        assert reslack.due_after == 10
        assert not open_stops((reslack,), 1, 9)
        assert open_stops((reslack,), 1, 10) == (reslack,)

    def test_a_limiter_set_back_leaves_nothing_to_check(self) -> None:
        low = Sheet(readings={"planned_rpm": Reading(state="set", value=6000.0)})
        high = Sheet(readings={"planned_rpm": Reading(state="set", value=6500.0)})
        records = due_for_changes(changes(low, high), 1, high)
        assert {r.rule for r in open_stops(records, 2)} >= {"planned_rpm", "sprocket_speed"}
        settled = settled_by_return(records, (low, high, low))
        assert not open_stops((*records, *settled), 2)
        cut = {"limiter_rpm": Reading(state="set", value=6500.0)}
        uncut = {"limiter_rpm": Reading(state="set", value=7000.0)}
        both = (
            Sheet(readings=low.readings | cut),
            Sheet(readings=high.readings | uncut),
            Sheet(readings=low.readings | uncut),
        )
        raised = due_for_changes(changes(both[0], both[1]), 1, both[1])
        assert settled_by_return(raised, both) == ()  # the limiter is still the higher one
        between = Sheet(readings={"planned_rpm": Reading(state="set", value=6200.0)})
        assert settled_by_return(records, (low, high, between)) == ()


class TestEvents:
    def test_a_chain_strike_opens_the_chain_checks_again(self) -> None:
        base = Sheet(readings={"chain": fitted("q1", "q1")})
        other = Sheet(readings={"chain": fitted("q2", "q2")})
        answers = {"chain_slack": "10", "chain_reslack": "11"}
        records = tuple(
            answer(r, answers.get(r.rule, "done"), AT).record
            for r in due_for_changes(changes(base, other), 0, other)
        )
        assert not open_stops(records, 0, 6)
        now = reopen_after_strike(records, 0, "CHAIN", attempts=6)
        asked = {r.rule for r in open_stops(now, 0, 6)}
        assert {"chain_pitch", "chain_clip", "chain_slack", "chain_line"} <= asked
        assert "chain_reslack" not in asked
        assert "chain_reslack" in {r.rule for r in open_stops(now, 0, 8)}
        assert len({(r.rule, r.sheet) for r in now}) == len(now)
        slack = next(r for r in now if r.rule == "chain_slack")
        assert slack.slots == ("chain",)
        assert reason_lines(slack)[0].startswith("The chain came off: ")

    @pytest.mark.parametrize("code", ["LATE", "GUST", "FALSE", "WRONGBUILD"])
    def test_other_strikes_open_nothing(self, code: str) -> None:
        records = standing_checks(0)
        assert reopen_after_strike(records, 0, code) == records

    def test_an_unknown_strike_is_refused(self) -> None:
        with pytest.raises(NotFoundError):
            reopen_after_strike((), 0, "BORED")

    def test_a_fall_asks_for_brake_throttle_kill_steering_and_rider(self) -> None:
        records = tuple(msgspec.structs.replace(r, answer="cleared") for r in standing_checks(0))
        asked = {r.rule for r in open_stops(reopen_after("fall", records, 0), 0)}
        assert {"brake_holds", "throttle_snap", "kill_running", "lock_to_lock",
                "fuel_no_leak", "rider_fit", "rider_helmet"} <= asked  # fmt: skip
        assert "shop_air" not in asked

    def test_a_long_break_asks_for_what_may_have_changed_meanwhile(self) -> None:
        records = tuple(msgspec.structs.replace(r, answer="cleared") for r in standing_checks(0))
        asked = {r.rule for r in open_stops(reopen_after("break", records, 0), 0)}
        assert {"strip_walked", "no_crossing", "second_adult", "no_lightning", "rider_fit"} <= asked
        assert "permission" not in asked

    def test_half_an_hour_and_sixty_days_are_not_yet_too_long(self) -> None:
        assert not break_too_long(AT, AT + timedelta(minutes=30))
        assert break_too_long(AT, AT + timedelta(minutes=30, seconds=1))
        assert not stood_too_long(date(2026, 5, 1), date(2026, 6, 30))
        assert stood_too_long(date(2026, 5, 1), date(2026, 7, 1))


def test_records_of_another_version_stop_rather_than_pass() -> None:
    strange = CheckRecord(rule="boost_leak")
    assert rule_for(strange).is_stop
    assert open_stops((strange,), 0) == (strange,)
    with pytest.raises(NotFoundError):
        find_rule("boost_leak")


def test_records_survive_json() -> None:
    for record in (*standing_checks(1), answer(
        CheckRecord(rule="valve_to_piston", slots=("rockers",)), "3.1 >4 own 1.5", AT
    ).record):  # fmt: skip
        raw = msgspec.json.encode(record)
        assert msgspec.json.decode(raw, type=CheckRecord) == record


def test_every_standing_rule_is_known() -> None:
    assert all(find_rule(rule) is RULES[rule] for rules in STANDING.values() for rule in rules)
