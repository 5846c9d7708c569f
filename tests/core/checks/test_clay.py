"""Clay between valve and piston: every state it can come out in."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from core.checks import Answered, CheckRecord, answer, state_words
from core.errors import InputError, OutOfRangeError

AT = datetime(2026, 7, 26, 17, 30, tzinfo=UTC)


def clay(text: str, before: CheckRecord | None = None) -> Answered:
    return answer(before or CheckRecord(rule="valve_to_piston", slots=("rockers",)), text, AT)


@pytest.mark.parametrize(
    "text",
    [
        "3.1 2.6",
        "3,1 2,6",
        "in 3.1 ex 2.6",
        "in 3.1, ex 2.6 mm",
        "intake 3.1 mm exhaust 2.6 mm",
        "3.1/2.6",
        "3.1 2.6 of 4",
        "0.31 cm 0.26 cm",
    ],
)
def test_touched_and_measured_clears(text: str) -> None:
    said = clay(text)
    assert said.record.answer == "cleared"
    assert (said.record.value, said.record.second) == pytest.approx((3.1, 2.6))
    assert (said.record.bound, said.record.second_bound) == ("", "")


@pytest.mark.parametrize(
    "text",
    [">2.0", "> 2.0", ">= 2", "no touch 2.0", "not touched 2.0", "Not touched: 2 mm", ">2 >2"],
)
def test_not_touched_is_a_bound_and_does_not_clear(text: str) -> None:
    said = clay(text)
    record = said.record
    assert record.answer == "open"
    assert (record.value, record.second) == (2.0, 2.0)
    assert (record.bound, record.second_bound) == (">", ">")
    assert state_words(record) == "not cleared: > 2 / > 2 mm"
    for word in ("oiled", "under the valves", "lash zero", "720°", "thicker clay", "light springs"):
        assert word in said.warning


def test_one_side_touched_the_other_not() -> None:
    record = clay("3.1 >4.0").record
    assert (record.answer, record.value, record.bound) == ("open", 3.1, "")
    assert (record.second, record.second_bound) == (4.0, ">")


def test_thicker_clay_that_touches_is_the_second_proof() -> None:
    first = clay(">2.0").record
    second = clay("in 3.1 ex 2.6 of 4", first)
    assert (second.record.answer, second.warning) == ("cleared", "")
    assert second.record.bound == ""


def test_light_springs_and_a_dial_gauge_are_the_other_second_proof() -> None:
    said = clay("dial 3.05 2.61", clay(">2.0").record).record
    assert said.answer == "cleared"
    assert said.note == "light springs and dial gauge"
    with pytest.raises(InputError, match="two numbers"):
        clay("dial >2.0")


def test_more_clay_that_does_not_touch_is_no_second_proof() -> None:
    assert clay(">3.0", clay(">2.0").record).record.answer == "open"


def test_a_gap_below_the_clay_that_was_not_touched_is_pointed_out() -> None:
    said = clay("3.1 1.4", clay(">2.0").record)
    assert said.record.answer == "cleared"
    assert "one of the two lay in the wrong place" in said.warning


@pytest.mark.parametrize("text", ["touched", "touched, unmeasured", "touched not measured"])
def test_touched_but_not_measured_does_not_clear(text: str) -> None:
    said = clay(text)
    assert said.record.answer == "open"
    assert (said.record.value, said.record.second) == (None, None)
    assert "thinnest place is not known" in said.warning


@pytest.mark.parametrize("text", ["torn", "torn torn", "3.1 torn", "in torn ex 2.6"])
def test_torn_is_contact(text: str) -> None:
    said = clay(text)
    assert said.record.answer == "open"
    assert "torn clay is contact" in said.warning


@pytest.mark.parametrize("text", ["0 0", "3.1 0", ">0"])
def test_zero_is_never_stored(text: str) -> None:
    with pytest.raises(InputError, match="is contact"):
        clay(text)


@pytest.mark.parametrize("text", ["3.1", "not touched", ">", "done", "2.6 or so", "own 1.5"])
def test_half_an_answer_is_asked_again(text: str) -> None:
    with pytest.raises(InputError):
        clay(text)


def test_clay_cannot_be_thicker_than_what_was_put_on() -> None:
    with pytest.raises(InputError, match="above the applied"):
        clay("3.1 2.6 of 3")


def test_a_slip_of_the_decimal_point_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        clay("31 26")
    with pytest.raises(OutOfRangeError):
        clay("-3.1 2.6")


def test_own_requirement_stands_beside_the_result() -> None:
    record = clay("3.1 2.6 own 1.5").record
    assert state_words(record) == "cleared: 3.1 / 2.6 mm (own requirement 1.5)"
    low = clay("3.1 1.4 own 1.5")
    assert low.record.answer == "open"
    assert "1.4 is below your own requirement 1.5 mm" in low.warning


def test_a_bound_above_the_own_requirement_still_proves_nothing() -> None:
    assert clay(">2.0 own 1.5").record.answer == "open"
