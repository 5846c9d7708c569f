"""Derived values: right for known inputs, unknown for unknown ones, with ranges and staleness."""

from __future__ import annotations

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.setup import Derived, Reading, Sheet, derived, derived_value, mark_stale, with_reading
from tests.core.setup.making import HOUR, MOTH, NOON, changed, sheet_of


def value(sheet: Sheet, name: str) -> float:
    found = derived_value(sheet, name).value
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("name", "expected", "decimals"),
    [
        # worked by hand from the definitions; 70 x 54 with 22.5 cm³, 1.1 x 71, 0.25 deck
        ("swept_volume", 207.8, 1),
        ("compression_ratio", 8.47, 2),
        ("head_gap", 1.35, 2),
        ("valve_lift_intake", 5.65, 2),
        ("spring_margin_intake", 2.95, 2),
        ("mean_piston_speed", 11.7, 1),
        ("relative_rod_load", 3.3, 1),
        ("overall_ratio", 5.0, 2),
        ("speed_per_1000", 12.72, 2),
        ("total_mass", 141.0, 1),
    ],
)
def test_the_moth(name: str, expected: float, decimals: int) -> None:
    assert round(value(MOTH, name), decimals) == expected


def test_other_builds_of_the_moth() -> None:
    # thinner gasket, longer stroke, rockers: worked by hand from the definitions
    assert round(value(changed(MOTH, gasket_thickness="0.8"), "compression_ratio"), 2) == 8.80
    longer = changed(MOTH, gasket_thickness="0.8", stroke="57")
    assert round(value(longer, "swept_volume"), 1) == 219.4
    assert round(value(longer, "compression_ratio"), 2) == 9.24
    lifted = changed(MOTH, rocker_ratio="1.25")
    assert round(value(lifted, "valve_lift_exhaust"), 2) == 7.10
    assert round(value(lifted, "spring_margin_exhaust"), 2) == 1.50


@given(
    st.floats(60, 80),
    st.floats(40, 75),
    st.floats(10, 45),
    st.floats(0.2, 3),
    st.floats(60, 90),
    st.floats(-0.2, 5),
    st.floats(-2, 15),
)
def test_ratio_against_volumes_added_up_apart(
    bore: float, stroke: float, cc: float, gasket: float, hole: float, deck: float, crown: float
) -> None:
    numbers = {
        "bore": bore,
        "stroke": stroke,
        "chamber_volume": cc,
        "gasket_thickness": gasket,
        "gasket_bore": hole,
        "deck": deck,
        "crown_volume": crown,
    }
    sheet = Sheet(readings={k: Reading(state="measured", value=v) for k, v in numbers.items()})
    area = math.pi * (bore / 20) ** 2  # cm²
    above = cc + math.pi * (hole / 20) ** 2 * gasket / 10 + area * deck / 10 + crown
    assert value(sheet, "compression_ratio") == pytest.approx(1 + area * stroke / 10 / above)


def test_the_range_is_that_of_inputs_that_scatter() -> None:
    # an independent route: draw the inputs from their instruments and look at the spread
    rng = random.Random(7)
    half = {
        "bore": math.hypot(0.01, 0.01 / math.sqrt(12)),
        "stroke": math.hypot(0.02, 0.01 / math.sqrt(12)),
        "chamber_volume": math.hypot(0.2, 0.1 / math.sqrt(12)),
        "gasket_thickness": math.hypot(0.02, 0.01 / math.sqrt(12)),
        "gasket_bore": math.hypot(0.1, 0.01 / math.sqrt(12)),
        "deck": math.hypot(0.02, 0.01 / math.sqrt(12)),
        "crown_volume": math.hypot(0.2, 0.1 / math.sqrt(12)),
    }
    drawn = []
    for _ in range(4000):
        readings = dict(MOTH.readings)
        for slot, sd in half.items():
            centre = readings[slot].value or 0.0
            readings[slot] = Reading(state="measured", value=rng.gauss(centre, sd))
        drawn.append(value(Sheet(readings=readings), "compression_ratio"))
    ratio = derived_value(MOTH, "compression_ratio")
    assert ratio.low is not None
    assert ratio.high is not None
    assert (ratio.high - ratio.low) / 2 == pytest.approx(statistics.stdev(drawn), rel=0.05)
    assert ratio.words == "8.47:1 (8.39 to 8.55)"


def test_an_estimate_makes_an_estimate_with_a_wider_range() -> None:
    measured = derived_value(MOTH, "head_gap")
    guessed = derived_value(changed(MOTH, deck="~0.25"), "head_gap")
    assert not measured.estimated
    assert guessed.estimated
    assert guessed.value == measured.value
    for one in (measured, guessed):
        assert one.low is not None
        assert one.high is not None
    assert _width(guessed) > 2 * _width(measured)
    assert guessed.words.endswith("; estimate)")


def _width(one: Derived) -> float:
    assert one.low is not None
    assert one.high is not None
    return one.high - one.low


@pytest.mark.parametrize(
    ("typed", "missing"),
    [({"deck": "?"}, "deck"), ({"deck": ">0.2"}, "deck"), ({"deck": "-"}, "deck")],
)
def test_an_unknown_input_makes_it_unknown(typed: dict[str, str], missing: str) -> None:
    ratio = derived_value(changed(MOTH, **typed), "compression_ratio")
    assert ratio.value is None
    assert ratio.missing == (missing,)
    assert ratio.words == "unknown (not known: deck (piston below +))"


def test_a_blank_is_no_zero() -> None:
    ratio = derived_value(with_reading(MOTH, "crown_volume", None), "compression_ratio")
    assert (ratio.value, ratio.missing) == (None, ("crown_volume",))
    assert all(d.value is None for d in derived(Sheet()) if d.id != "lowest_rpm_limit")


def test_every_input_is_needed() -> None:
    for one in derived(MOTH):
        if one.id == "lowest_rpm_limit":
            continue
        for slot in one.inputs:
            without = derived_value(with_reading(MOTH, slot, None), one.id)
            assert (without.value, without.missing) == (None, (slot,)), one.id


def test_chamber_unknown_after_milling() -> None:
    milled = mark_stale(MOTH, changed(MOTH, head_milled="0.3"))
    ratio = derived_value(milled, "compression_ratio")
    assert ratio.value is None
    assert ratio.was == "was 8.47 before milling"
    assert ratio.estimated
    # at most 0.3 mm times the gasket's hole of 71 mm comes off: 1.19 cm³ of 22.5
    assert ratio.words == "unknown (was 8.47 before milling; estimate 8.47 to 8.80)"
    poured = changed(milled, chamber_volume="21.9")
    assert round(value(poured, "compression_ratio"), 2) == 8.64


def test_what_it_was_is_not_claimed_once_something_else_changed() -> None:
    milled = mark_stale(MOTH, changed(MOTH, head_milled="0.3"))
    thinner = with_reading(
        milled, "gasket_thickness", Reading(state="measured", value=0.8, at=NOON + 2 * HOUR)
    )
    was = derived_value(thinner, "compression_ratio").was
    assert was == "8.80 with chamber volume from before milling"


def test_decking_makes_deck_and_ratio_unknown() -> None:
    decked = mark_stale(MOTH, changed(MOTH, block_decked="0.2"))
    assert derived_value(decked, "compression_ratio").words == "unknown (was 8.47 before decking)"
    assert derived_value(decked, "head_gap").words == "unknown (was 1.35 before decking)"
    assert value(decked, "swept_volume") == value(MOTH, "swept_volume")


def test_known_numbers_that_make_no_sense_say_so() -> None:
    domed = changed(MOTH, crown_volume="-15", chamber_volume="8", deck="-0.5")
    ratio = derived_value(domed, "compression_ratio")
    assert ratio.value is None
    assert "nothing is left above the piston" in ratio.words


def test_two_stages_go_through_the_jackshaft() -> None:
    shaft = sheet_of(
        engine_sprocket_teeth="10",
        jackshaft_in_teeth="20",
        jackshaft_out_teeth="15",
        final_sprocket_teeth="45",
    )
    assert value(shaft, "overall_ratio") == pytest.approx(20 / 10 * 45 / 15)
    half = with_reading(shaft, "jackshaft_out_teeth", None)
    assert derived_value(half, "overall_ratio").missing == ("jackshaft_out_teeth",)
    none = changed(shaft, jackshaft_in_teeth="-", jackshaft_out_teeth="-")
    assert value(none, "overall_ratio") == 4.5


def test_a_belt_variator_has_no_fixed_ratio() -> None:
    belt = changed(MOTH, clutch_kind="belt variator")
    ratio = derived_value(belt, "overall_ratio")
    assert ratio.value is None
    assert ratio.words == "unknown (A belt variator has no fixed ratio.)"


def test_ballast_counts_when_there_is_some() -> None:
    assert value(changed(MOTH, ballast="10"), "total_mass") == 151
    assert value(changed(MOTH, ballast="-"), "total_mass") == 141
    assert derived_value(changed(MOTH, ballast="?"), "total_mass").missing == ("ballast",)


def test_an_unknown_name_of_a_derived_value() -> None:
    with pytest.raises(KeyError):
        derived_value(MOTH, "horse_power")


@pytest.mark.parametrize("one", derived(MOTH), ids=lambda d: d.id)
def test_each_shows_its_formula_and_reads_as_one_line(one: Derived) -> None:
    assert one.formula
    assert one.label
    assert one.words.isprintable()
    if one.low is not None and one.high is not None and one.value is not None:
        assert one.low < one.value < one.high
