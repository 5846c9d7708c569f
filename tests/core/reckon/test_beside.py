"""The sentence beside a check that is due: what the sums say, and that it is due anyway."""

from __future__ import annotations

from datetime import timedelta

import pytest

from core.bench import BenchReading, Past, take_clay, take_lift_table
from core.checks import RULES, CheckRecord, Cleared
from core.reckon import beside_check, choices_for
from core.reckon.beside import _SENTENCES
from core.setup import Sheet, mark_stale
from tests.core.bench.readings import about
from tests.core.reckon.moth import SHEET, TABLES
from tests.core.setup.making import NOON, changed

CLEARED = Cleared(
    session="s",
    sheet=SHEET,
    record=CheckRecord(
        rule="valve_to_piston", result="3.5 3.0 of 4 own 1.5", at=NOON, answer="cleared", own=1.5
    ),
)
PAST = Past(answers=(CLEARED,))


def tables() -> tuple[BenchReading, ...]:
    """Return both lift tables as they are kept."""
    made = []
    for side, on_file in (("intake", TABLES.intake), ("exhaust", TABLES.exhaust)):
        assert on_file is not None
        rows = zip(on_file.table.angles, on_file.table.lifts, strict=True)
        text = "\n".join(f"{angle} {lift * 1000:.4f}" for angle, lift in rows)
        told = about(id=f"20260726-120000-{side}", sheet=SHEET)
        made.append(take_lift_table(text, side, told).reading)  # type: ignore[arg-type]
    return tuple(made)


def beside(rule: str, sheet: Sheet, past: Past = PAST, **more: float) -> str:
    return beside_check(CheckRecord(rule=rule, own=1.5), SHEET, sheet, past, **more)


def built(**typed: str) -> Sheet:
    """Return the sheet after a change, with the values that it takes the ground from marked."""
    return mark_stale(SHEET, changed(SHEET, **typed))


THISTLE = {"rockers": "thistle", "rocker_ratio": "1.25"}
ROCKERS = built(**THISTLE)


def test_every_sentence_belongs_to_a_check_there_is() -> None:
    assert set(_SENTENCES) <= set(RULES)


def test_clay_is_due_with_a_lower_bound_without_a_table() -> None:
    said = beside("valve_to_piston", ROCKERS)
    assert said.startswith(
        "Carried over from the clay of 26 Jul (intake 3.5 mm, exhaust 3.0 mm): "
        "intake guaranteed lower bound 2.05 mm"
    )
    assert "optimistic estimate" in said
    assert "Your own least is 1.5 mm." in said
    assert said.endswith("Clay is due anyway.")


def test_clay_is_due_with_the_gap_of_the_lift_table() -> None:
    said = beside("valve_to_piston", ROCKERS, Past(taken=tables(), answers=(CLEARED,)))
    assert "from the lift table" in said
    assert "guaranteed lower bound" not in said
    assert said.endswith("Clay is due anyway.")


def test_a_table_of_another_cam_is_not_used() -> None:
    sheet = built(**THISTLE, cam="wild cam")
    said = beside("valve_to_piston", sheet, Past(taken=tables(), answers=(CLEARED,)))
    assert "another cam is in" in said
    assert said.endswith("Clay is due anyway.")


def test_no_clay_on_file() -> None:
    said = beside("valve_to_piston", ROCKERS, Past())
    assert said == "No clay reading is on file to carry over: clay is due."


def test_clay_not_touched_is_said_to_be_a_bound() -> None:
    bound = take_clay(">2.0", about(at=NOON + timedelta(days=1), sheet=SHEET)).reading
    said = beside("valve_to_piston", ROCKERS, Past(taken=(bound,), answers=(CLEARED,)))
    assert "at least 2.0 mm (not touched)" in said
    assert "no upper value" in said


@pytest.mark.parametrize(
    ("rule", "typed", "words"),
    [
        ("spring_margin", {}, "intake spring margin 1.50 mm (1.35 to 1.65), was 2.95"),
        ("retainer_margin", {}, "Retainer-to-guide margin: at least 0.55 mm"),
        ("piston_to_head", {"gasket_thickness": "0.8"}, "gap 1.05 mm (1.02 to 1.08)"),
        ("ratio_fuel", {"gasket_thickness": "0.8"}, "8.80:1 (8.71 to 8.89), was 8.47"),
        ("pushrod_length", {"head_milled": "0.5"}, "by 0.50 mm: a pushrod so much shorter"),
        ("planned_rpm", {}, "Lowest limit you entered: 6,500 (rod)."),
        ("piston_to_head", {"deck": "?"}, "unknown"),
        ("pushrod_length", {"gasket_thickness": "?"}, "Unknown: gasket thickness"),
    ],
)  # fmt: skip
def test_other_checks(rule: str, typed: dict[str, str], words: str) -> None:
    assert words in beside(rule, built(**(THISTLE | typed)))


def test_a_sprocket_against_the_lowest_limit() -> None:
    sheet = changed(SHEET, final_sprocket="66t", final_sprocket_teeth="66")
    said = beside("rpm_at_top", sheet, top_speed=60.0)
    assert said == (
        "Overall ratio 5.50:1: 60 km/h is 5,189 rpm, 5,349 with 3 % slip; lowest limit 6,500 (rod)."
    )
    assert beside("rpm_at_top", sheet, top_speed=77.0).endswith("That is above it.")
    untold = beside("rpm_at_top", sheet)
    assert "is reached at 72.9 to 75.2 km/h" in untold
    missing = beside("rpm_at_top", changed(sheet, rod_rpm_limit="?"), top_speed=60.0)
    assert "lowest limit 3,600 (not entered: rod)" in missing
    assert "Unknown" in beside("rpm_at_top", changed(sheet, circumference="?"), top_speed=60.0)


def test_a_check_that_no_sum_knows_has_no_sentence() -> None:
    assert beside("fuel_leak", ROCKERS) == ""
    assert beside("head_torque", ROCKERS) == ""


def test_no_sheet_before() -> None:
    record = CheckRecord(rule="ratio_fuel")
    assert "8.47:1" in beside_check(record, None, SHEET, Past())


def test_sprockets_for_a_place_are_greyed_with_reasons() -> None:
    """77 km/h on 1.06 m: 12/60 6,053 rpm, 12/66 6,659; 97 m to stop, twice is 195; by hand."""
    rows = choices_for(
        [12], [60, 63, 66], circumference=1.06, trap_speed=77 / 3.6, limit=6500.0, run_out=200.0,
        limit_of="rod",
    )  # fmt: skip
    assert [row.greyed for row in rows] == [False, False, True]
    assert rows[-1].reasons == ("6,659 rpm is above the lowest limit, 6,500 (rod)",)
    assert rows[0].cells == ("12/60", "5.00", "6,053", "82.7 km/h", "")
    short = choices_for(
        [12], [60], circumference=1.06, trap_speed=77 / 3.6, limit=6500.0, run_out=150.0
    )
    assert short[0].reasons == ("150 m of run-out is less than twice the stopping distance, 195 m",)
    unwalked = choices_for(
        [12], [66], circumference=1.06, trap_speed=77 / 3.6, limit=6500.0, run_out=None
    )
    assert len(unwalked[0].reasons) == 2
    assert "run-out not known" in unwalked[0].reasons[1]
