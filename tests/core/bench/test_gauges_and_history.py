"""Instruments with the user's own figures, and what was read at a place over time."""

from __future__ import annotations

from datetime import timedelta

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench import (
    GAUGE_UNITS,
    USUAL_GAUGES,
    BenchReading,
    gauge_figures,
    gauges_from,
    half_of,
    halves_on,
    last_before,
    put_right,
    slot_history,
    take_clay,
)
from core.checks import CheckRecord, Cleared
from core.errors import InputError
from core.setup import SLOTS, Sheet, derived
from tests.core.bench.readings import about, reading_of
from tests.core.reckon.moth import SHEET
from tests.core.setup.making import MOTH, NOON, changed

DAY = timedelta(days=1)


def test_figures_are_shown_in_the_unit_of_the_trade() -> None:
    assert gauge_figures(USUAL_GAUGES["clay"]) == (0.1, 0.2, "mm")
    assert gauge_figures(USUAL_GAUGES["pressure_gauge"]) == (2.0, 3.0, "kPa")
    assert gauge_figures(USUAL_GAUGES["hygrometer"]) == (1.0, 3.0, "%")
    assert set(GAUGE_UNITS) <= set(USUAL_GAUGES)


@given(st.sampled_from(sorted(USUAL_GAUGES)), st.floats(0.001, 50), st.floats(0.001, 50))
def test_an_instrument_put_right_reads_back(key: str, step: float, spread: float) -> None:
    unit = gauge_figures(USUAL_GAUGES[key])[2]
    made = put_right(
        USUAL_GAUGES[key], NOON, resolution=f"{step:.6f} {unit}", repeatability=f"{spread:.6f}"
    )
    back = gauges_from([msgspec.json.decode(msgspec.json.encode(made), type=type(made))])
    assert gauge_figures(back[key])[:2] == pytest.approx((step, spread), abs=1e-6)
    assert {k: v for k, v in back.items() if k != key} == {
        k: v for k, v in USUAL_GAUGES.items() if k != key
    }


def test_a_difference_of_temperature_is_one_in_any_unit() -> None:
    made = put_right(USUAL_GAUGES["thermometer"], NOON, repeatability="1.8 °F")
    assert made.repeatability == pytest.approx(1.0)
    assert made.resolution == 0.5


@pytest.mark.parametrize("text", ["-1", "abc", "1 kg"])
def test_figures_that_are_none(text: str) -> None:
    with pytest.raises(InputError):
        put_right(USUAL_GAUGES["burette"], NOON, repeatability=text)
    with pytest.raises(InputError, match="No instrument is without any doubt"):
        put_right(USUAL_GAUGES["burette"], NOON, resolution="0", repeatability="0")


def test_every_instrument_of_the_sheet_is_on_the_list() -> None:
    assert {slot.instrument for slot in SLOTS.values()} - {""} <= set(USUAL_GAUGES)


def test_the_usual_doubts_are_those_that_derived_values_carry() -> None:
    assert derived(MOTH) == derived(MOTH, halves=halves_on(MOTH))
    guess = changed(MOTH, deck="~0.25")
    assert derived(guess) == derived(guess, halves=halves_on(guess))


def test_a_mean_is_surer_and_a_rough_reading_less_sure() -> None:
    one, many = reading_of("deck", "0.25"), reading_of("deck", "0.25", about(times=9))
    rough = reading_of("deck", "0.25", about(repeatability=0.1))
    halves = [half_of("deck", taken=taken) for taken in (many, one, rough)]
    assert halves == sorted(halves)
    assert half_of("deck") == halves[1]
    assert half_of("rocker_ratio") == 0.0
    assert half_of("planned_rpm", taken=reading_of("planned_rpm", "6000")) == 0.0


# -- history -------------------------------------------------------------------------------------

MILLED = changed(SHEET, head_milled="0.5")


def clay(text: str, day: int, sheet: Sheet) -> BenchReading:
    told = about(at=NOON + day * DAY, id=f"20260726-12000{day}-aaaaaaaa", sheet=sheet)
    return take_clay(text, told).reading


def test_the_clay_reading_before_the_head_was_milled() -> None:
    taken = (clay("3.5 3.0", 0, SHEET), clay("3.4 2.9", 1, SHEET), clay("2.9 2.4", 5, MILLED))
    entries = slot_history("valve_gap_intake", taken)
    assert [entry.words for entry in entries] == ["3.5 mm", "3.4 mm", "2.9 mm"]
    assert [entry.instrument for entry in entries] == ["clay"] * 3
    found = last_before(entries, "head_milled", MILLED)
    assert found is not None
    assert (found.words, found.at) == ("3.4 mm", NOON + DAY)
    assert last_before(entries[2:], "head_milled", MILLED) is None


def test_history_over_bench_checks_and_sheets() -> None:
    record = CheckRecord(
        rule="valve_to_piston", result="3.1 2.6", value=3.1, second=2.6, at=NOON + 2 * DAY,
        answer="cleared", note="clay: intake touched",
    )  # fmt: skip
    typed = changed(SHEET, valve_gap_exhaust="2.2")
    entries = slot_history(
        "valve_gap_exhaust",
        (clay("3.5 3.0", 4, SHEET),),
        (Cleared(session="s1", sheet=SHEET, record=record),),
        (("S01", typed), ("S02", typed)),
    )
    assert [(e.source, e.words, e.session) for e in entries] == [
        ("sheet", "2.2 mm", "S01"),
        ("check", "2.6 mm", "s1"),
        ("bench", "3.0 mm", ""),
    ]


def test_one_reading_kept_in_two_places_is_one() -> None:
    taken = clay("3.5 3.0", 0, SHEET)
    sheet = Sheet(readings={**SHEET.readings, **taken.readings})
    assert len(slot_history("valve_gap_intake", (taken,), sheets=(("S01", sheet),))) == 1


def test_what_was_carried_over_or_unknown_is_no_reading() -> None:
    carried = msgspec.structs.replace(SHEET.readings["chamber_volume"], carried="s0")
    sheets = (
        ("S01", SHEET),
        ("S02", Sheet(readings={"chamber_volume": carried})),
        ("S03", changed(SHEET, chamber_volume="?")),
    )
    entries = slot_history("chamber_volume", (), sheets=sheets)
    assert [entry.session for entry in entries] == ["S01"]


def test_a_change_that_a_reading_does_not_hang_on_is_told_by_the_clock() -> None:
    taken = reading_of("chamber_volume", "22.5", about(sheet=SHEET))
    entries = slot_history("chamber_volume", (taken,))
    later = changed(SHEET, circumference="1.07")
    assert last_before(entries, "circumference", later) == entries[0]
    assert last_before(entries, "circumference", SHEET) is None
