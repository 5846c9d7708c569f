"""Gaps carried to another sheet: against the projection itself, bounds in order, unknown said."""

from __future__ import annotations

import random
import statistics

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.bench import ClayOnFile, LiftTables
from core.engine import ClayReading, ClayState, ValveAngles, ValveTrain, project_clay
from core.reckon import Gap, gap_curves, gaps_on
from core.setup import Reading, Sheet
from tests.core.reckon.moth import CLAY, MM, SHEET, TABLES, clay
from tests.core.setup.making import changed, sheet_of

FLAT = ValveAngles()


def intake(sheet: Sheet, on_file: ClayOnFile = CLAY, tables: LiftTables = TABLES) -> Gap:
    return gaps_on(sheet, on_file, tables)[0]


def test_nothing_moved_reads_as_it_was_read() -> None:
    gap = gaps_on(SHEET, CLAY)[1]
    assert gap.words == "3.00 mm (2.80 to 3.20), as read"
    assert gap.own == 1.5


def test_the_bench_rule_without_a_table() -> None:
    """3.5 - 0.3 - 1.6 x 0.25 = 2.8 and 3.5 - 0.3 - 5.8 x 0.25 = 1.75: common practice, by hand."""
    plan = changed(SHEET, rocker_ratio="1.25", gasket_thickness="0.8")
    gap = intake(plan, clay(tight=1.6), LiftTables())
    assert gap.exact is None
    assert gap.optimistic is not None
    assert gap.guaranteed is not None
    assert gap.optimistic.value == pytest.approx(2.8)
    assert gap.guaranteed.value == pytest.approx(1.75)
    assert gap.words == (
        "guaranteed lower bound 1.75 mm (1.52 to 1.98), "
        "optimistic estimate 2.80 mm (2.60 to 3.00), no lift table"
    )


@pytest.mark.parametrize("lash_zero", [True, False])
def test_with_a_table_as_the_projection_says(lash_zero: bool) -> None:
    typed = {
        "rocker_ratio": "1.25", "gasket_thickness": "0.8", "lash_intake": "0.10",
        "cam_centre": "101", "stroke": "55", "deck": "-0.10", "head_milled": "0.2",
    }  # fmt: skip
    gap = intake(changed(SHEET, **typed), clay(lash_zero=lash_zero))
    lash = (0.0, 0.0) if lash_zero else (0.15 * MM, 0.10 * MM)
    old = ValveTrain(1.0, lash[0], 1.1 * MM, 0.25 * MM, 0.054, 0.084)
    new = ValveTrain(1.25, lash[1], 0.8 * MM, (-0.10 - 0.2) * MM, 0.055, 0.084, advance=3.0)
    reading = ClayReading(ClayState.TOUCHED, 3.5 * MM)
    assert TABLES.intake is not None
    wanted = project_clay(reading, old, new, FLAT, TABLES.intake.table)
    assert gap.exact is not None
    assert wanted.exact is not None
    assert gap.exact.value == pytest.approx(wanted.exact / MM, abs=1e-9)
    assert gap.closest == pytest.approx(wanted.closest_new)
    assert gap.how == "from the lift table"


def planned(**numbers: float) -> Sheet:
    return changed(SHEET, **{slot: f"{value:.4f}" for slot, value in numbers.items()})


_RATIOS, _GASKETS, _DECKS = st.floats(0.9, 1.4), st.floats(0.3, 1.6), st.floats(-0.5, 0.5)


@settings(max_examples=40, deadline=None)
@given(ratio=_RATIOS, gasket=_GASKETS, deck=_DECKS)
def test_bounds_stand_on_their_sides_of_the_exact_gap(
    ratio: float, gasket: float, deck: float
) -> None:
    plan = planned(rocker_ratio=ratio, gasket_thickness=gasket, deck=deck)
    with_table, without = intake(plan), intake(plan, tables=LiftTables())
    assert with_table.exact is not None
    assert without.guaranteed is not None
    assert without.optimistic is not None
    assert without.guaranteed.value <= with_table.exact.value + 0.005
    assert without.optimistic.value >= with_table.exact.value - 0.005


@settings(max_examples=40, deadline=None)
@given(ratio=_RATIOS, stroke=st.floats(53, 58), deck=_DECKS)
def test_the_guaranteed_bound_holds_for_another_stroke(
    ratio: float, stroke: float, deck: float
) -> None:
    plan = planned(rocker_ratio=ratio, stroke=stroke, deck=deck)
    with_table, without = intake(plan), intake(plan, tables=LiftTables())
    assert with_table.exact is not None
    assert without.guaranteed is not None
    assert without.guaranteed.value <= with_table.exact.value + 0.005


def test_the_range_agrees_with_readings_thrown_at_random() -> None:
    """Monte Carlo: clay 0.2 mm, two gaskets 0.02 mm each, the wheel's zero 1.5 degrees."""
    rng = random.Random(5)
    plan = changed(SHEET, rocker_ratio="1.25", gasket_thickness="0.8")
    gap = intake(plan)
    assert gap.exact is not None
    assert TABLES.intake is not None
    found = []
    for _ in range(400):
        off = rng.gauss(0, 1.5)
        reading = ClayReading(ClayState.TOUCHED, (3.5 + rng.gauss(0, 0.202)) * MM)
        old = ValveTrain(1.0, 0, (1.1 + rng.gauss(0, 0.02)) * MM, advance=off)
        new = ValveTrain(1.25, 0, (0.8 + rng.gauss(0, 0.02)) * MM, advance=off)
        exact = project_clay(reading, old, new, FLAT, TABLES.intake.table).exact
        found.append((exact or 0.0) / MM)
    width = (gap.exact.high - gap.exact.low) / 2
    assert width == pytest.approx(statistics.stdev(found), rel=0.12)
    assert gap.exact.value == pytest.approx(statistics.fmean(found), abs=0.03)


def test_clay_not_touched_stays_a_bound_everywhere() -> None:
    bound = ClayReading(ClayState.NOT_TOUCHED, applied=2.0 * MM)
    as_read = intake(SHEET, clay(bound))
    assert as_read.words == (
        "guaranteed lower bound 2.00 mm (1.80 to 2.20), no upper value: the clay was not touched"
    )
    for tables in (TABLES, LiftTables()):
        moved = intake(changed(SHEET, rocker_ratio="1.25"), clay(bound), tables)
        assert moved.exact is None
        assert moved.optimistic is None
        assert moved.guaranteed is not None
        assert moved.guaranteed.value < 2.0
        assert "no upper value" in moved.words


UNKNOWN = [
    (clay(None), {}, "no clay reading of this side is on file"),
    (clay(ClayReading(ClayState.TORN)), {"rocker_ratio": "1.25"}, "the clay was torn"),
    (clay(ClayReading(ClayState.TOUCHED_UNMEASURED)), {"rocker_ratio": "1.25"}, "not measured"),
    (CLAY, {"cam": "wild cam"}, "another cam is in: no sum follows that"),
    (CLAY, {"piston": "dome"}, "another piston is in"),
    (CLAY, {"head": "head two"}, "another head is in"),
    (CLAY, {"gasket_thickness": "?"}, "head gasket thickness, crushed on this build is not known"),
    (CLAY, {"rocker_ratio": "?"}, "rocker ratio on this build is not known"),
    (CLAY, {"stroke": "?"}, "stroke on this build is not known"),
]


@pytest.mark.parametrize(("on_file", "typed", "words"), UNKNOWN)
def test_what_no_sum_can_follow_is_said_and_never_a_number(
    on_file: ClayOnFile, typed: dict[str, str], words: str
) -> None:
    gap = intake(changed(SHEET, **typed), on_file)
    assert (gap.exact, gap.guaranteed, gap.optimistic, gap.least) == (None,) * 4
    assert gap.words.startswith("cannot say: ")
    assert words in gap.words


def test_no_clay_at_all() -> None:
    assert gaps_on(SHEET, None)[0].words == "cannot say: no clay reading is on file."


def test_a_moved_cam_needs_the_table() -> None:
    gap = intake(changed(SHEET, cam_centre="100"), tables=LiftTables())
    assert "the cam was moved" in gap.unknown
    assert intake(changed(SHEET, cam_centre="100")).exact is not None


def test_a_stale_deck_is_no_deck() -> None:
    stale = Reading(state="measured", value=0.25, stale=True, stale_because="decking")
    plan = Sheet(readings=changed(SHEET, gasket_thickness="0.8").readings | {"deck": stale})
    assert "deck" in intake(plan).unknown


def test_a_table_without_stroke_or_rod_gives_bounds_only() -> None:
    """The lift near top is known, the way the piston falls is not."""
    bare = Sheet(readings={k: v for k, v in SHEET.readings.items() if k != "rod_length"})
    plan = changed(bare, rocker_ratio="1.25")
    known, blind = intake(plan, clay(sheet=bare)), intake(plan, clay(sheet=bare), LiftTables())
    assert known.exact is None
    assert known.guaranteed is not None
    assert blind.guaranteed is not None
    assert known.guaranteed.value > blind.guaranteed.value


def test_a_first_note_of_a_part_is_no_change() -> None:
    bare = Sheet(readings={k: v for k, v in SHEET.readings.items() if k != "piston"})
    named = Sheet(readings=bare.readings | sheet_of(piston="stock piston").readings)
    assert intake(named, clay(sheet=bare)).exact is not None


def test_curves_meet_the_projected_gap() -> None:
    plan = changed(SHEET, rocker_ratio="1.25", gasket_thickness="0.8", stroke="55", deck="0")
    curves = gap_curves("intake", plan, CLAY, TABLES)
    gap = intake(plan)
    assert gap.exact is not None
    angle, least = curves.closest
    assert least == pytest.approx(gap.exact.value, abs=0.003)
    assert angle == pytest.approx(gap.closest, abs=1.0)
    i = curves.angles.index(0.0)
    assert curves.piston[i] == pytest.approx(0.0, abs=1e-9)
    assert len(curves.lift) == len(curves.gap) == len(curves.angles) == 121


def test_a_leaning_valve_loses_less_to_more_lift() -> None:
    plan = changed(SHEET, rocker_ratio="1.25")
    upright, leaning = (
        gaps_on(plan, CLAY, TABLES, angles=a)[0].exact for a in (FLAT, ValveAngles(stem=12.0))
    )
    assert upright is not None
    assert leaning is not None
    assert leaning.value > upright.value
