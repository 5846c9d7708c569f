"""Plans on paper: the worked examples of the bench, what is assumed, what falls due, warnings."""

from __future__ import annotations

import msgspec
import pytest

from core.bench import LiftTables, halves_on
from core.checks import CheckRecord, Cleared
from core.errors import BackToBackError, InputError
from core.reckon import WhatIf, what_if
from core.setup import Reading, Sheet, changes
from tests.core.reckon.moth import CLAY, SHEET, TABLES, clay
from tests.core.setup.making import NOON, changed, sheet_of


def words(plan: WhatIf, row: str) -> tuple[str, str]:
    """Return one row as it reads before and after."""
    found = next(one for one in plan.rows if one.id == row)
    return found.before, found.after


def number(plan: WhatIf, name: str) -> tuple[float | None, float | None]:
    return plan.before.value(name).value, plan.after.value(name).value


def due(plan: WhatIf) -> set[str]:
    return {record.rule for record in plan.after.due}


def test_rockers_and_a_thinner_gasket_without_a_table() -> None:
    """3.5 - 0.3 - 1.6 x 0.25 = 2.8 mm: common practice, no source."""
    plan = what_if(SHEET, {"rocker_ratio": "1.25", "gasket_thickness": "0.8"}, clay=clay(tight=1.6))
    before, after = words(plan, "gap_intake")
    assert before == "3.50 mm (3.30 to 3.70), as read"
    assert "optimistic estimate 2.80 mm" in after
    assert "guaranteed lower bound 1.75 mm" in after
    assert next(one for one in plan.rows if one.id == "gap_intake").own == "1.5 mm"
    assert {
        "valve_to_piston", "spring_margin", "retainer_margin", "pushrod_rub", "cover_clearance",
        "lash", "piston_to_head", "ratio_fuel", "head_torque",
    } <= due(plan)  # fmt: skip
    assert plan.before.due == ()


def test_rockers_with_a_table_are_exact() -> None:
    plan = what_if(SHEET, {"rocker_ratio": "1.25"}, clay=CLAY, lift_tables=TABLES)
    gap = plan.after.gaps[0]
    assert gap.exact is not None
    assert gap.how == "from the lift table"
    assert gap.exact.low < gap.exact.value < gap.exact.high
    assert gap.exact.value < 3.5


def test_spring_margin_at_new_lift() -> None:
    """21.0 - 12.4 - (5.8 x 1.25 - 0.15) = 1.5 mm, by hand."""
    plan = what_if(SHEET, {"rocker_ratio": "1.25"})
    assert number(plan, "spring_margin_exhaust") == pytest.approx((2.95, 1.5))
    assert plan.assumed == ("Counted as set again: intake lash 0.15 mm, exhaust lash 0.15 mm.",)


def test_a_thinner_gasket() -> None:
    """1.1 -> 0.8 mm: 8.47 -> 8.80, head gap 1.35 -> 1.05; 0.2 cm³ is about 0.06, by hand."""
    plan = what_if(SHEET, {"gasket_thickness": "0.8"})
    ratios = number(plan, "compression_ratio")
    assert [round(r, 2) for r in ratios if r is not None] == [8.47, 8.80]
    assert number(plan, "head_gap") == pytest.approx((1.35, 1.05))
    side = plan.after.value("compression_ratio")
    assert side.low is not None
    assert side.high is not None
    assert (side.high - side.low) / 2 == pytest.approx(0.09, abs=0.02)
    assert plan.alternatives == ()
    assert {"valve_to_piston", "piston_to_head", "ratio_fuel", "head_torque"} <= due(plan)


def test_a_longer_stroke_with_nothing_done_about_the_deck() -> None:
    """57 mm: 219.4 cm³, the piston 1.5 mm higher, deck -1.25: will hit; by hand."""
    typed = {"stroke": "57", "gasket_thickness": "0.8"}
    plan = what_if(SHEET, typed, clay=CLAY, lift_tables=TABLES)
    assert number(plan, "swept_volume")[1] == pytest.approx(219.4, abs=0.05)
    deck = plan.after.sheet.readings["deck"]
    assert (deck.state, deck.value) == ("estimated", -1.25)
    assert number(plan, "head_gap")[1] == pytest.approx(-0.45)
    assert "Piston-to-head gap -0.45 mm: piston and head will hit." in plan.warnings
    assert "Nothing is done about the deck: -1.25 mm." in plan.assumed
    assert plan.after.value("head_gap").words.endswith("estimate)")
    assert {"deck_height", "skirt_to_crank", "rod_clearance", "valve_to_piston"} <= due(plan)


def test_a_longer_stroke_with_the_deck_kept() -> None:
    """9.24 if the deck is kept, by hand."""
    typed = {"stroke": "57", "gasket_thickness": "0.8"}
    (other,) = what_if(SHEET, typed, clay=CLAY, lift_tables=TABLES).alternatives
    assert other.label == "after, with the deck kept at 0.25 mm"
    assert round(other.value("compression_ratio").value or 0, 2) == 9.24
    assert other.value("head_gap").value == pytest.approx(1.05)
    assert other.gaps[0].exact is not None
    assert other.sheet.readings["deck"].state == "measured"


def test_a_deck_that_is_typed_is_taken() -> None:
    plan = what_if(SHEET, {"stroke": "57", "deck": "0.1"})
    assert plan.alternatives == ()
    assert number(plan, "head_gap")[1] == pytest.approx(1.2)


def test_the_deck_after_rod_pin_height_and_decking() -> None:
    """0.25 - 3/2 - 1 - 0.5 - 0.2, by hand."""
    typed = {"stroke": "57", "rod_length": "85", "piston_pin_height": "30.5", "block_decked": "0.2"}
    sheet = Sheet(readings=SHEET.readings | sheet_of(rod="forged").readings)
    plan = what_if(sheet, typed)
    assert plan.after.sheet.readings["deck"].value == pytest.approx(-2.95)


@pytest.mark.parametrize(
    "typed", [{"piston": "dome"}, {"engine_block": "other"}, {"crank": "long", "stroke": "?"}]
)
def test_a_deck_that_no_sum_can_follow_is_unknown(typed: dict[str, str]) -> None:
    plan = what_if(SHEET, typed)
    assert plan.alternatives == ()
    assert number(plan, "head_gap")[1] is None
    assert "unknown" in words(plan, "head_gap")[1]


def test_another_number_of_a_part_is_another_part() -> None:
    plan = what_if(SHEET, {"rocker_ratio": "1.25"})
    assert [change.slot for change in plan.changes] == ["rockers", "rocker_ratio"]
    same = what_if(SHEET, {"rocker_ratio": "1.0"})
    assert same.changes == ()
    assert same.after.due == ()
    assert all(not row.changed for row in same.rows)


def test_sprockets_by_name_and_rpm_at_the_expected_top_speed() -> None:
    """60 km/h on 12/66 and 1.06 m: 1000 / 3.6 x 5.5 / 1.06 x 60 x 60 / 1000 = 5189 rpm, by hand."""
    plan = what_if(SHEET, {"final_sprocket": "66T"}, top_speed=60.0)
    assert number(plan, "overall_ratio") == (5.0, 5.5)
    assert words(plan, "rpm_at_top")[1] == "5,189 rpm, 5,349 with 3 % slip"
    assert {"teeth_final", "chain_slack", "rpm_at_top"} <= due(plan)
    assert plan.warnings == ()
    fast = what_if(SHEET, {"final_sprocket": "66T"}, top_speed=77.0)
    assert fast.warnings == (
        "The expected top speed needs 6,659 rpm, above the lowest limit, 6,500.",
    )


def test_limits_and_over_speed_before_and_after() -> None:
    sheet = Sheet(readings=SHEET.readings | sheet_of(rod="forged", rod_rpm_limit="6500").readings)
    plan = what_if(sheet, {"rod": "stock rod"})
    before, after = words(plan, "over_speed")
    assert before.startswith("Lowest limit you entered: 6,500 (rod).")
    assert "Limits not entered: rod - counted as 3,600." in after
    assert plan.after.limit.rpm == 3600
    assert "safe" not in after


def test_the_margin_at_the_guide_loses_what_lift_gains() -> None:
    """2.0 - (7.10 - 5.65) = 0.55 mm, by hand."""
    plan = what_if(SHEET, {"rocker_ratio": "1.25"})
    before, after = words(plan, "retainer_margin")
    assert before == "2.00 mm (1.90 to 2.10), as read"
    assert after == "at least 0.55 mm (0.45 to 0.65), reckoned from the reading"
    other = what_if(SHEET, {"rocker_ratio": "1.25", "springs": "stiff"})
    assert "what stands on the valve changed" in words(other, "retainer_margin")[1]
    longer = what_if(SHEET, {"lobe_lift_intake": "9.0", "lobe_lift_exhaust": "9.0"})
    assert any("may land on the guide" in said for said in longer.warnings)


def test_own_minimums_stand_beside_and_are_held_against_the_low_end() -> None:
    told = CheckRecord(rule="spring_margin", own=1.6, answer="cleared", result="3.0")
    history = [Cleared(session="s", sheet=SHEET, record=told)]
    plan = what_if(SHEET, {"rocker_ratio": "1.25"}, history=history)
    row = next(one for one in plan.rows if one.id == "spring_margin_intake")
    assert row.own == "1.6 mm"
    assert any(
        said.startswith("Intake spring margin may be 1.35 mm, below your own 1.6 mm.")
        for said in plan.warnings
    )


def test_nothing_is_saved_or_changed_by_a_plan() -> None:
    held = msgspec.json.encode(SHEET)
    what_if(SHEET, {"stroke": "57", "rockers": "Thistle 1.25"}, clay=CLAY, lift_tables=TABLES)
    assert msgspec.json.encode(SHEET) == held


def test_what_follows_is_what_the_sheet_would_say() -> None:
    """The after side agrees with a sheet on which the same was really changed."""
    from core.setup import derived

    plan = what_if(SHEET, {"gasket_thickness": "0.9", "planned_rpm": "6000"})
    really = changed(SHEET, gasket_thickness="0.9", planned_rpm="6000")
    assert [d.value for d in plan.after.derived] == [d.value for d in derived(really)]
    assert {c.slot for c in plan.changes} == {c.slot for c in changes(SHEET, really)}


def test_ranges_come_from_the_instruments_that_were_used() -> None:
    wide = {**halves_on(SHEET), "chamber_volume": 1.0}
    plan = what_if(SHEET, {"gasket_thickness": "0.8"}, halves=wide)
    usual = what_if(SHEET, {"gasket_thickness": "0.8"})
    for side, other in ((plan.after, usual.after), (plan.before, usual.before)):
        assert (side.value("compression_ratio").high or 0) > (
            other.value("compression_ratio").high or 0
        )


def test_readings_may_be_given_as_they_are_and_unusual_ones_are_asked_about() -> None:
    reading = Reading(state="measured", value=0.8, text="0.8", at=NOON)
    assert number(what_if(SHEET, {"gasket_thickness": reading}), "head_gap")[1] == 1.05
    assert "sure?" in what_if(SHEET, {"gasket_thickness": "2.5"}).questions[0]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"gasket_thickness": "11"}, "out of range"),
        ({"lash_intake": "-0.1"}, "cannot be below zero"),
        ({"stroke": ""}, "a blank is not a value"),
        ({"final_sprocket": "..."}, ""),
        ({"governor": "gone"}, "is one of"),
    ],
)
def test_a_plan_that_is_refused(typed: dict[str, str], sentence: str) -> None:
    if not sentence:
        assert what_if(SHEET, typed).after.value("overall_ratio").value is None
        return
    with pytest.raises(InputError, match=sentence):
        what_if(SHEET, typed)


def test_unknown_in_unknown_out_and_an_empty_sheet() -> None:
    plan = what_if(Sheet(), {"gasket_thickness": "0.8"})
    assert all(one.value is None or one.id == "lowest_rpm_limit" for one in plan.after.derived)
    assert plan.after.gaps[0].unknown
    unknown = what_if(SHEET, {"gasket_thickness": "?"}, clay=CLAY, lift_tables=TABLES)
    assert "unknown" in words(unknown, "compression_ratio")[1]
    assert words(unknown, "gap_intake")[1].startswith("cannot say")


def test_a_slot_that_is_none_is_the_users_own() -> None:
    plan = what_if(SHEET, {"own:seat_foam": "soft"})
    assert [change.slot for change in plan.changes] == ["own:seat_foam"]
    with pytest.raises(BackToBackError):
        what_if(SHEET, {"bore": "wide"}, lift_tables=LiftTables())
