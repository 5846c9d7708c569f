"""Every row of the table of changes and of the standing lists, against a list written by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from core.checks import (
    EVENTS,
    NO_CHECK,
    RULES,
    STANDING,
    TRIGGERS,
    CheckRecord,
    due_for_changes,
    reason_lines,
    reopen_after,
    standing_checks,
)
from core.setup.changes import changes
from core.setup.readings import Reading
from core.setup.sheets import Sheet
from core.setup.slots import SLOTS
from core.units import find_unit

TABLE = json.loads(
    (Path(__file__).parents[2] / "data" / "check_rules.json").read_text(encoding="utf-8")
)
LETTERS = {"start": "S", "run": "R", "advice": "a"}


def reading(told: dict[str, Any] | None) -> Reading | None:
    if told is None:
        return None
    if "part" in told:
        return Reading(state="fitted", part=told["part"], text=told["part"])
    if "state" in told:
        return Reading(state=told["state"])
    return Reading(state="set", value=told.get("value"), text=told.get("text", ""))


def sheet_of(slots: dict[str, dict[str, Any] | None]) -> Sheet:
    read = {slot: reading(told) for slot, told in slots.items()}
    return Sheet(readings={slot: r for slot, r in read.items() if r is not None})


def by_letter(records: tuple[CheckRecord, ...]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {"S": [], "R": [], "a": []}
    for record in records:
        found[LETTERS[RULES[record.rule].level]].append(record.rule)
    return {letter: sorted(rules) for letter, rules in found.items()}


@pytest.mark.parametrize("row", TABLE["rows"], ids=lambda row: str(row["row"]))
def test_a_change_makes_exactly_its_checks_due(row: dict[str, Any]) -> None:
    same = row.get("sheet", {})
    before = sheet_of(same | {slot: pair[0] for slot, pair in row["changes"].items()})
    after = sheet_of(same | {slot: pair[1] for slot, pair in row["changes"].items()})
    due = due_for_changes(changes(before, after), 0, after)
    also = row.get("also", {})
    assert by_letter(due) == {
        letter: sorted([*row.get(letter, []), *also.get(letter, [])]) for letter in "SRa"
    }
    assert all(record.answer == "open" for record in due)


@pytest.mark.parametrize(("event", "row"), TABLE["events"].items())
def test_an_event_makes_exactly_its_checks_due(event: Any, row: dict[str, list[str]]) -> None:
    due = reopen_after(event, (), 0)
    assert by_letter(due) == {letter: sorted(row.get(letter, [])) for letter in "SRa"}
    assert all(record.event == event for record in due)


def test_the_standing_lists_hold_what_they_should() -> None:
    listed = {
        name: {
            "stop": sorted(rule for rule in rules if RULES[rule].is_stop),
            "advice": sorted(rule for rule in rules if not RULES[rule].is_stop),
        }
        for name, rules in STANDING.items()
    }
    assert listed == {
        name: {kind: sorted(rules) for kind, rules in kinds.items()}
        for name, kinds in TABLE["standing"].items()
    }
    assert [r.rule for r in standing_checks(2)] == [r for rules in STANDING.values() for r in rules]
    assert {record.sheet for record in standing_checks(2)} == {2}


def test_no_trigger_is_dead() -> None:
    for trigger in TRIGGERS:
        assert set(trigger.slots) <= set(SLOTS), trigger.row
        assert set(trigger.rules) <= set(RULES), trigger.row
        assert len(set(trigger.rules)) == len(trigger.rules), trigger.row
    assert {rule for rules in EVENTS.values() for rule in rules} <= set(RULES)


def test_every_rule_can_fall_due() -> None:
    asked = {rule for trigger in TRIGGERS for rule in trigger.rules}
    asked |= {rule for rules in EVENTS.values() for rule in rules}
    asked |= {rule for rules in STANDING.values() for rule in rules}
    assert set(RULES) == asked


def test_every_slot_that_is_fitted_or_set_asks_for_a_check_or_says_why_not() -> None:
    triggering = {slot for trigger in TRIGGERS for slot in trigger.slots}
    silent = {s.id for s in SLOTS.values() if s.role != "measured"} - triggering
    assert silent == set(NO_CHECK)
    assert not any(SLOTS[slot].kind == "part" for slot in NO_CHECK)
    assert all(len(reason.split()) >= 3 for reason in NO_CHECK.values())


def test_every_rule_says_why_and_what_happens_otherwise() -> None:
    for rule in RULES.values():
        for words in (rule.question, rule.because, rule.otherwise):
            assert words[:1].isupper(), rule.id
            assert words.endswith("."), rule.id
            assert "!" not in words, rule.id
        assert 0 < len(rule.short) <= 45, rule.id
    for trigger in TRIGGERS:
        assert trigger.because.endswith("."), trigger.row
        assert trigger.otherwise.endswith("."), trigger.row


def test_no_rule_promises_anything() -> None:
    words = " ".join(
        f"{rule.short} {rule.question} {rule.because} {rule.otherwise} {rule.unknown}"
        + " ".join(alert.words for alert in rule.alerts)
        for rule in RULES.values()
    ).casefold()
    assert "safe" not in words
    assert "harmless" not in words


def test_habits_of_the_trade_are_marked_as_such() -> None:
    for rule in RULES.values():
        if rule.alerts or rule.clears_above is not None:
            assert rule.source == "common practice, no source", rule.id


def test_numbers_have_a_range_and_a_unit_that_reads() -> None:
    for rule in RULES.values():
        if rule.answer in ("value", "two values", "clay"):
            assert rule.hard is not None, rule.id
            assert rule.hard.low < rule.hard.high, rule.id
            assert find_unit(rule.unit).symbol == rule.unit, rule.id
        else:
            assert rule.hard is None, rule.id
            assert not rule.unit, rule.id


def test_a_number_fills_a_slot_of_its_own_unit() -> None:
    filling = [rule for rule in RULES.values() if rule.fills]
    assert len(filling) > 20
    for rule in filling:
        assert len(rule.fills) == (1 if rule.answer == "value" else 2), rule.id
        assert {SLOTS[slot].unit for slot in rule.fills} == {rule.unit}, rule.id


def test_geometry_is_bound_to_every_slot_that_asks_for_it() -> None:
    """A result can only be taken over if all that asks for it is part of the combination."""
    for rule in RULES.values():
        assert set(rule.slots) <= set(SLOTS), rule.id
        if rule.geometry:
            asking = {s for t in TRIGGERS if rule.id in t.rules for s in t.slots}
            assert asking <= set(rule.slots), rule.id


@pytest.mark.parametrize("word", ["lash", "torque", "chain", "throttle", "brake", "kill", "bolts"])
def test_what_comes_loose_is_never_taken_over(word: str) -> None:
    meant = [rule for rule in RULES.values() if word in rule.id]
    assert meant
    assert not any(rule.geometry for rule in meant)


def test_checks_that_wait_are_the_ones_that_need_attempts() -> None:
    waiting = {rule.id: rule.prompt_after for rule in RULES.values() if rule.prompt_after}
    assert waiting == {
        "mount_retorque": 3,
        "chain_reslack": 2,
        "fuel_relook": 2,
        "drum_temp_1": 1,
        "drum_temp_2": 2,
        "drum_temp_3": 3,
    }


def test_not_applying_is_open_only_where_it_can_be_true() -> None:
    """The list is short on purpose; a stop that always applies must never be on it."""
    assert {rule.id for rule in RULES.values() if rule.may_not_apply} == {
        "release_works",
        "dipper",
        "limiter_tested",
        "governor_out",
        "noise_limit",
        "chain_clip",
        "ballast_bolted",
        "rider_minor",
        "alcohol_plan",
    }


def test_one_record_per_rule_names_all_slots_that_ask() -> None:
    before = sheet_of({"rockers": {"part": "r1"}, "springs": {"part": "s1"}})
    after = sheet_of({"rockers": {"part": "r2"}, "springs": {"part": "s2"}})
    due = due_for_changes(changes(before, after), 0, after)
    rules = [record.rule for record in due]
    assert len(rules) == len(set(rules))
    margin = next(record for record in due if record.rule == "spring_margin")
    assert set(margin.slots) == {"rockers", "springs"}
    lines = reason_lines(margin)
    assert any(line.startswith("rockers: ") for line in lines)
    assert any(line.startswith("springs: ") for line in lines)


def test_a_property_put_right_for_a_part_that_stayed_asks_nothing() -> None:
    before = sheet_of({"rockers": {"part": "r1"}, "rocker_ratio": {"value": 1.2}})
    after = sheet_of({"rockers": {"part": "r1"}, "rocker_ratio": {"value": 1.25}})
    assert due_for_changes(changes(before, after), 0, after) == ()


def test_a_flywheel_that_lost_mass_was_machined() -> None:
    before = sheet_of({"flywheel": {"part": "w1"}, "flywheel_mass": {"value": 2.4}})
    after = sheet_of({"flywheel": {"part": "w1"}, "flywheel_mass": {"value": 2.1}})
    due = {record.rule for record in due_for_changes(changes(before, after), 0, after)}
    assert {"flywheel_rpm_limit", "flywheel_nut", "timing_measured"} <= due


def test_a_thickness_carried_over_belongs_to_the_gasket_that_came_off() -> None:
    def with_gasket(part: str, thickness: Reading) -> Sheet:
        gasket = Reading(state="fitted", part=part, text=part)
        return Sheet(readings={"head_gasket": gasket, "gasket_thickness": thickness})

    carried = Reading(state="measured", value=1.1, carried="s1")
    entered = Reading(state="measured", value=1.1)
    before = with_gasket("g1", carried)
    for thickness, is_due in ((carried, True), (entered, False)):
        after = with_gasket("g2", thickness)
        due = {record.rule for record in due_for_changes(changes(before, after), 0, after)}
        assert ("valve_to_piston" in due) is is_due
