"""What is typed for a check, and what it comes to."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.checks import (
    RULES,
    Around,
    CheckRecord,
    answer,
    is_settled,
    result_words,
    state_words,
    undo_answer,
)
from core.errors import AmbiguousInputError, BackToBackError, InputError, OutOfRangeError
from core.setup.readings import Reading
from core.setup.sheets import Sheet

AT = datetime(2026, 7, 26, 19, 30, tzinfo=timezone(timedelta(hours=2)))


def record(rule: str, **fields: Any) -> CheckRecord:
    return msgspec.structs.replace(CheckRecord(rule=rule, sheet=1, slots=("cam",)), **fields)


def sheet(**values: float) -> Sheet:
    return Sheet(readings={s: Reading(state="stated", value=v) for s, v in values.items()})


@pytest.mark.parametrize("text", ["done", "Done", "d", "y", "yes", "ok", " done "])
def test_done_clears(text: str) -> None:
    given_ = answer(record("cam_timing"), text, AT)
    assert (given_.record.answer, given_.record.at, given_.warning) == ("cleared", AT, "")


def test_words_behind_done_are_kept() -> None:
    cleared = answer(record("pin_clips"), "done, new clips, R1", AT).record
    assert (cleared.answer, cleared.note) == ("cleared", "new clips, R1")


@pytest.mark.parametrize("text", ["not done", "n", "no", "Not Done"])
def test_not_done_is_an_answer_that_does_not_clear(text: str) -> None:
    for rule in ("cam_timing", "spring_margin", "valve_to_piston", "lash"):
        said = answer(record(rule), text, AT).record
        assert said.answer == "not done"
        assert not is_settled(said)
        assert said.value is None


@pytest.mark.parametrize("text", ["", "   ", "\n"])
def test_a_blank_is_no_answer(text: str) -> None:
    for rule in RULES:
        with pytest.raises(InputError, match="blank is not an answer"):
            answer(record(rule), text, AT)


@pytest.mark.parametrize("text", ["maybe", "donee", "all done", "0", "ja", "done/yes"])
def test_other_words_do_not_clear_a_done_check(text: str) -> None:
    with pytest.raises(InputError, match="is not an answer to this check"):
        answer(record("cam_timing"), text, AT)


def test_no_rule_is_cleared_by_the_word_yes_unless_it_asks_for_done() -> None:
    """There is no yes to all: what asks for a result takes a result."""
    for rule in RULES.values():
        if rule.answer == "done":
            assert answer(record(rule.id), "yes", AT).record.answer == "cleared", rule.id
        else:
            with pytest.raises(InputError):
                answer(record(rule.id), "yes", AT)


def test_does_not_apply_needs_a_rule_that_allows_it_and_a_reason() -> None:
    said = answer(record("dipper"), "n/a: pump-fed", AT).record
    assert (said.answer, said.note) == ("does not apply", "pump-fed")
    assert state_words(said) == "does not apply: pump-fed"
    with pytest.raises(InputError, match="Say why"):
        answer(record("dipper"), "n/a", AT)
    with pytest.raises(InputError, match="always applies"):
        answer(record("kill_running"), "does not apply: in a hurry", AT)


def test_only_the_answered_record_changes_and_undo_opens_it_again() -> None:
    before = record("spring_margin", own=0.8, due_after=2, event="swap")
    cleared = answer(before, "1.5", AT).record
    assert (cleared.rule, cleared.sheet, cleared.slots) == ("spring_margin", 1, ("cam",))
    assert undo_answer(cleared) == before
    assert before.answer == "open"


def test_a_second_answer_leaves_nothing_of_the_first() -> None:
    first = answer(record("valve_to_piston"), ">2.0", AT).record
    second = answer(first, "not done", AT).record
    assert (second.value, second.bound, second.note) == (None, "", "")
    taken_over = record("spring_margin", answer="cleared", value=1.5, by_reference="s1")
    assert answer(taken_over, "1.4", AT).record.by_reference == ""


@pytest.mark.parametrize(
    ("rule", "text", "value"),
    [
        ("spring_margin", "1.5", 1.5),
        ("spring_margin", "1,5 mm", 1.5),
        ("spring_margin", "60 thou", 1.524),
        ("spring_margin", ".06in", 1.524),
        ("head_torque", "24 N·m", 24.0),
        ("head_torque", "18 ft·lb", 24.4046),
        ("coil_gap", "0.3", 0.3),
        ("engagement", "2900", 2900.0),
        ("oil_volume", "0.5 l", 500.0),
        ("drum_temp_1", "118", 118.0),
        ("drum_temp_1", "244 °F", 117.7778),
    ],
)
def test_numbers_clear_in_any_unit(rule: str, text: str, value: float) -> None:
    said = answer(record(rule), text, AT).record
    assert said.answer == "cleared"
    assert said.value == pytest.approx(value, rel=1e-5)
    assert said.result == text


@pytest.mark.parametrize("text", ["done", "about two", "1.5 parsecs", "1.5 kg", "1.2.3"])
def test_a_number_check_takes_numbers_only(text: str) -> None:
    with pytest.raises(InputError):
        answer(record("spring_margin"), text, AT)


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        ("0.10 0.15", (0.10, 0.15)),
        ("0,10 0,15", (0.10, 0.15)),
        ("0.10, 0.15", (0.10, 0.15)),
        ("0.10/0.15", (0.10, 0.15)),
        ("0,10; 0,15", (0.10, 0.15)),
        ("4 6 thou", (0.1016, 0.1524)),
        ("4 thou 6 thou", (0.1016, 0.1524)),
        (".004in .006in", (0.1016, 0.1524)),
        (".004 in .006 in", (0.1016, 0.1524)),
        ("in 0.10 ex 0.15", (0.10, 0.15)),
        ("intake 0.10 mm, exhaust 0.15 mm", (0.10, 0.15)),
    ],
)
def test_two_numbers_in_the_ways_they_are_written(text: str, pair: tuple[float, float]) -> None:
    said = answer(record("lash"), text, AT).record
    assert said.answer == "cleared"
    assert (said.value, said.second) == pytest.approx(pair)


@pytest.mark.parametrize("text", ["0.10", "0,10", "0.1 0.2 0.3", "0.1 x", "0.10 mm", "done"])
def test_one_number_is_not_two(text: str) -> None:
    with pytest.raises(InputError, match="intake, then exhaust"):
        answer(record("lash"), text, AT)


def test_deck_takes_signs_and_is_asked_on_both_sides() -> None:
    said = answer(record("deck_height"), "-0.1 +0.25", AT).record
    assert (said.value, said.second) == (-0.1, 0.25)
    with pytest.raises(InputError, match="one side, then other side"):
        answer(record("deck_height"), "0.25", AT)


def test_lash_of_four_is_refused_with_what_was_meant() -> None:
    with pytest.raises(OutOfRangeError) as refused:
        answer(record("lash"), "4 4", AT)
    assert "4 mm is outside 0 to 0.6 mm" in refused.value.message
    assert "0.004 in is 0.10 mm" in refused.value.hint


def test_negative_lash_is_refused_and_zero_asked_about() -> None:
    with pytest.raises(OutOfRangeError):
        answer(record("lash"), "-0.1 0.1", AT)
    said = answer(record("lash"), "0 0.15", AT)
    assert said.warning == "0 means held open when hot: sure?"


def test_lash_soon_after_running_is_said_to_be_warm() -> None:
    ran = AT - timedelta(minutes=45)
    said = answer(record("lash"), "0.10 0.15", AT, None, Around(last_ran=ran))
    assert "ran 45 min ago" in said.warning
    cold = Around(last_ran=AT - timedelta(hours=2))
    assert answer(record("lash"), "0.10 0.15", AT, None, cold).warning == ""


@pytest.mark.parametrize(
    ("text", "cleared", "words"),
    [
        ("1.5", True, ""),
        ("0.5", True, ""),
        ("0.49", True, "Less than 0.5 mm left"),
        ("0.1", True, "Less than 0.5 mm left"),
        ("0", False, "is contact"),
        ("-0.2", False, "is contact"),
    ],
)
def test_spring_margin(text: str, cleared: bool, words: str) -> None:
    said = answer(record("spring_margin"), text, AT)
    assert (said.record.answer == "cleared") is cleared
    assert words in said.warning
    assert bool(said.warning) is bool(words)
    assert said.record.value == float(text)


def test_contact_is_kept_as_measured() -> None:
    said = answer(record("piston_to_head"), "-0.15", AT).record
    assert (said.answer, said.value) == ("open", -0.15)
    assert state_words(said) == "not cleared: -0.15 mm"


def test_the_users_own_requirement_counts_and_is_shown() -> None:
    below = answer(record("spring_margin"), "0.9 own 1.0", AT)
    assert below.record.answer == "open"
    assert "below your own requirement 1 mm" in below.warning
    again = answer(below.record, "1.2", AT).record  # remembered from the first try
    assert (again.answer, again.own) == ("cleared", 1.0)
    assert result_words(again) == "1.2 mm (own requirement 1)"
    assert answer(record("spring_margin"), "1.0 own 1.0", AT).record.answer == "cleared"
    with pytest.raises(InputError, match="above zero"):
        answer(record("spring_margin"), "0.9 own 0", AT)


def test_without_an_own_requirement_none_is_made_up() -> None:
    said = answer(record("valve_to_piston"), "0.3 0.2", AT)
    assert (said.record.answer, said.record.own, said.warning) == ("cleared", None, "")


def test_unknown_clears_only_where_the_tool_can_live_with_it() -> None:
    volume = answer(record("chamber_volume"), "unknown", AT)
    assert volume.record.answer == "cleared"
    assert volume.record.value is None
    assert "compression ratio is shown as unknown" in volume.warning
    limit = answer(record("flywheel_rpm_limit"), "?", AT)
    assert limit.record.answer == "cleared"
    assert "3,600" in limit.warning
    for rule in RULES.values():
        if not rule.unknown:
            with pytest.raises(InputError, match="Unknown does not clear"):
                answer(record(rule.id), "unknown", AT)


def test_words_are_asked_for_in_words() -> None:
    assert answer(record("plan_phone"), "from the gate on", AT).record.answer == "cleared"
    assert answer(record("plan_contact"), "none", AT).record.answer == "cleared"
    assert answer(record("plan_number"), "not done", AT).record.answer == "not done"
    with pytest.raises(AmbiguousInputError):
        answer(record("plan_phone"), "no", AT)
    for text in ("done", "y", ".", "-", "?"):
        with pytest.raises(InputError):
            answer(record("plan_gate"), text, AT)


def test_planned_rpm_above_the_lowest_limit_does_not_clear() -> None:
    limits = {"flywheel_rpm_limit": 8000, "valve_train_rpm_limit": 6800, "clutch_rpm_limit": 7000}
    over = sheet(planned_rpm=6500, rod_rpm_limit=6000, **limits)
    said = answer(record("planned_rpm"), "done", AT, over)
    assert said.record.answer == "open"
    assert "6,500 rpm is above the lowest limit, 6,000 (rod)" in said.warning
    within = sheet(planned_rpm=6500, rod_rpm_limit=6500, **limits)
    assert answer(record("planned_rpm"), "done", AT, within).record.answer == "cleared"


def test_a_limit_that_is_not_entered_counts_as_the_factory_speed() -> None:
    some = sheet(planned_rpm=5000, rod_rpm_limit=6500)
    said = answer(record("planned_rpm"), "done", AT, some)
    assert said.record.answer == "open"
    assert "3,600" in said.warning
    assert "flywheel" in said.warning
    other = answer(record("planned_rpm"), "done", AT, some, Around(rpm_factory=5000.0))
    assert other.record.answer == "cleared"


def test_no_planned_rpm_is_said() -> None:
    said = answer(record("planned_rpm"), "done", AT, Sheet())
    assert said.record.answer == "cleared"
    assert "not on the sheet" in said.warning


def test_limits_not_entered_are_said_aloud() -> None:
    said = answer(record("limits_entered"), "done", AT, sheet(rod_rpm_limit=6500))
    assert said.warning.startswith("Not entered: flywheel, valve train, clutch")
    assert "3,600 rpm" in said.warning


def test_rpm_at_top_speed_above_the_limit_does_not_clear() -> None:
    limits = sheet(rod_rpm_limit=6500, flywheel_rpm_limit=8000, valve_train_rpm_limit=6800,
                   clutch_rpm_limit=7000)  # fmt: skip
    said = answer(record("rpm_at_top"), "6670", AT, limits)
    assert (said.record.answer, said.record.value) == ("open", 6670)
    assert "6,670 rpm is above the lowest limit, 6,500 (rod)" in said.warning
    assert answer(record("rpm_at_top"), "6270", AT, limits).record.answer == "cleared"


def test_teeth_are_counted_against_the_sheet() -> None:
    counted = sheet(final_sprocket_teeth=66)
    wrong = answer(record("teeth_final"), "65", AT, counted)
    assert wrong.record.answer == "open"
    assert "65 teeth counted, 66 on the sheet" in wrong.warning
    assert answer(record("teeth_final"), "66", AT, counted).record.answer == "cleared"
    assert answer(record("teeth_final"), "66", AT, Sheet()).record.answer == "cleared"
    shaft = sheet(jackshaft_in_teeth=20, jackshaft_out_teeth=10)
    assert answer(record("teeth_jackshaft"), "20 11", AT, shaft).record.answer == "open"
    assert answer(record("teeth_jackshaft"), "20 10", AT, shaft).record.answer == "cleared"
    with pytest.raises(OutOfRangeError):
        answer(record("teeth_final"), "0", AT)


def test_engagement_near_idle_is_said() -> None:
    said = answer(record("engagement"), "2050", AT, sheet(idle_rpm=1750))
    assert said.record.answer == "cleared"
    assert "may drag" in said.warning
    assert answer(record("engagement"), "2060", AT, sheet(idle_rpm=1750)).warning == ""
    idle = answer(record("idle_engagement"), "1900", AT, sheet(engagement_rpm=2100))
    assert idle.warning == "Idle 1,900 and engagement 2,100 rpm are within 300: it may drag."


def test_run_out_is_held_against_the_expected_speed() -> None:
    # twice (v + v²/6) at 60 km/h: 2 x (16.67 + 46.30) = 125.9 m
    short = answer(record("run_out"), "120", AT, None, Around(top_speed=60.0))
    assert short.record.answer == "open"
    assert "126 m" in short.warning
    enough = answer(record("run_out"), "126", AT, None, Around(top_speed=60.0))
    assert (enough.record.answer, enough.warning) == ("cleared", "")
    assert "63 m from 40 km/h" in answer(record("run_out"), "90", AT).warning


NEARLY = st.text(alphabet="0123456789.,;/ >-intexowmhud?:", max_size=16)


@settings(max_examples=300, deadline=None)
@given(rule=st.sampled_from(sorted(RULES)), text=st.text(max_size=30) | NEARLY)
def test_whatever_is_typed_is_an_answer_or_a_sentence(rule: str, text: str) -> None:
    try:
        said = answer(record(rule), text, AT)
    except BackToBackError as error:
        refused, said = error.message, None
    else:
        refused = ""
    if said is None:
        assert refused
        assert all(c.isprintable() for c in refused)
    else:
        assert said.record.result == text.strip()
        assert said.record.answer != "open" or said.warning
