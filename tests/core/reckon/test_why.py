"""Why a derived value is what it is: none left out, inputs with state and range, source."""

from __future__ import annotations

from datetime import timedelta

import pytest

from core.bench import Gauge, Past, gauges_from
from core.reckon import FORMULAS, reckon, why
from core.reckon.prefill import prefilled
from core.reckon.why import FORMULA_OF
from core.setup import Sheet, derived
from tests.core.bench.readings import about, reading_of
from tests.core.reckon.moth import SHEET
from tests.core.setup.making import NOON, changed, sheet_of

EVERY = [one.id for one in derived(SHEET)]


def test_every_derived_value_has_its_why() -> None:
    assert set(FORMULA_OF) == set(EVERY)
    assert {name for name in FORMULA_OF.values() if name} <= set(FORMULAS)


@pytest.mark.parametrize("name", EVERY)
def test_a_why_is_whole(name: str) -> None:
    found = why(SHEET, name)
    known = {one.id: one for one in derived(SHEET)}[name]
    assert found.value == known.words
    assert (found.low, found.high) == (known.low, known.high)
    assert found.equation == known.formula
    assert found.source
    assert found.inputs
    assert tuple(one.slot for one in found.inputs) == known.inputs
    for one in found.inputs:
        assert one.label
        assert one.line.startswith(one.label)


def test_an_input_says_value_give_or_take_instrument_and_state() -> None:
    lines = {one.slot: one.line for one in why(SHEET, "compression_ratio").inputs}
    assert lines["chamber_volume"] == (
        "chamber volume 22.5 cm³ ±0.2 (burette and plate), measured, 26 Jul 2026"
    )
    assert lines["gasket_bore"].endswith("set, 26 Jul 2026")
    assert why(SHEET, "compression_ratio").steps == ("swept volume 207.8 cm³ (207.7 to 207.9)",)


def test_unknown_inputs_are_named() -> None:
    found = why(changed(SHEET, deck="?"), "head_gap")
    assert found.value.startswith("unknown")
    assert (found.low, found.high) == (None, None)
    assert "Not known: deck (piston below +)." in found.note
    assert not found.inputs[0].known
    empty = why(Sheet(), "total_mass")
    assert all(one.state == "not recorded" for one in empty.inputs)


def test_a_limit_that_is_not_entered_is_counted_and_said() -> None:
    found = why(changed(SHEET, rod_rpm_limit="?"), "lowest_rpm_limit")
    assert "counted as 3,600" in found.note
    assert "safe" not in found.note
    assert found.caution


def test_estimates_are_called_so() -> None:
    assert "estimate" in why(changed(SHEET, deck="~0.2"), "head_gap").note


def test_ranges_come_from_the_readings_instruments() -> None:
    """A mean of four pours is twice as sure as one; a burette put right counts from then on."""
    pours = reading_of("chamber_volume", "22.5", about(times=4, note="four pours"))
    sheet = Sheet(readings={**SHEET.readings, **pours.readings})
    plain, mean = (
        why(sheet, "compression_ratio"),
        why(sheet, "compression_ratio", past=Past(taken=(pours,))),
    )
    width = {one.slot: one.half for one in plain.inputs}["chamber_volume"]
    narrow = {one.slot: one for one in mean.inputs}["chamber_volume"]
    assert narrow.half == pytest.approx((0.1**2 + 0.1**2 / 12) ** 0.5)
    assert narrow.half < width
    assert "mean of 4" in narrow.state
    assert narrow.note == "four pours"
    assert (mean.high or 0) < (plain.high or 0)
    own = Gauge(id="burette", words="my burette", resolution=0.5, repeatability=1.0)
    rough = why(sheet, "compression_ratio", past=Past(gauges=gauges_from([own])))
    assert (rough.high or 0) > (plain.high or 0)
    assert {one.slot: one.instrument for one in rough.inputs}["chamber_volume"] == "my burette"


def test_another_instrument_than_the_usual() -> None:
    dial = reading_of("valve_gap_intake", "3.1", about(instrument="light_springs"))
    gasket = reading_of("gasket_thickness", "1.1", about(instrument="calliper"))
    assert dial.instrument == "light_springs"
    sheet = Sheet(readings={**SHEET.readings, **gasket.readings})
    found = why(sheet, "head_gap", past=Past(taken=(gasket,)))
    assert {one.slot: one.instrument for one in found.inputs}["gasket_thickness"] == "calliper"
    assert (found.high or 0) - (found.low or 0) > 0.2


def test_a_bench_reading_counts_only_for_the_value_that_it_gave() -> None:
    pours = reading_of("chamber_volume", "22.5", about(times=4))
    later = sheet_of(chamber_volume="22.5").readings["chamber_volume"]
    sheet = Sheet(readings={**SHEET.readings, "chamber_volume": later})
    old = reading_of("chamber_volume", "22.5", about(at=NOON - timedelta(days=30), times=4))
    halves = [Past(taken=(one,)).halves(sheet)["chamber_volume"] for one in (pours, old)]
    assert halves[0] < halves[1]


def test_the_same_numbers_give_the_same_ratio_in_the_register() -> None:
    answer = reckon("compression-ratio", prefilled("compression-ratio", SHEET))
    assert answer.results[0].value is not None
    found = why(SHEET, "compression_ratio")
    assert answer.results[0].value.low == pytest.approx(found.low)
    assert answer.results[0].value.high == pytest.approx(found.high)
    assert answer.formula.id == found.formula


def test_what_a_sheet_tells_of_a_formula() -> None:
    assert prefilled("overall-ratio", SHEET) == {"stages": "12/60"}
    jackshaft = changed(SHEET, jackshaft_in_teeth="20", jackshaft_out_teeth="15")
    assert prefilled("overall-ratio", jackshaft) == {"stages": "12/20,15/60"}
    assert prefilled("overall-ratio", Sheet()) == {}
    assert "deck" not in prefilled("head-gap", changed(SHEET, deck="?"))
    assert prefilled("lowest-limit", SHEET)["valve-train"] == "6800"
