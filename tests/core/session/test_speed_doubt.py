"""A speed typed without its unit, held against gearing and against the others of the build."""

from __future__ import annotations

import pytest

from core.attempts import find_test, read_attempt, retyped
from core.errors import AmbiguousInputError
from core.session.speed_doubt import need_speed_unit
from core.setup import Reading, Sheet

TOP = find_test("top")
GEARED = {
    "engine_sprocket_teeth": 12.0,
    "final_sprocket_teeth": 66.0,
    "circumference": 1.06,
    "planned_rpm": 6500.0,
}


def sheet(**readings: float) -> Sheet:
    """A sheet with these values."""
    return Sheet(readings={k: Reading(state="set", value=v) for k, v in readings.items()})


def asked(line: str, on: Sheet, usual: tuple[float, float] | None = None, test: str = "top") -> str:
    """Return the question that a line raises, or nothing."""
    what = find_test(test)
    try:
        need_speed_unit(read_attempt(line, what, usual), what, on, usual)
    except AmbiguousInputError as error:
        return error.message
    return ""


def test_miles_an_hour_typed_for_km_h_are_seen_by_the_gearing() -> None:
    """12/66 teeth and 1.06 m: 47 km/h = 47 / 3.6 / 1.06 x 60 x 5.5 = 4,064 rpm."""
    assert asked("47 b", sheet(**GEARED)) == "47.0 km/h is only 4,064 rpm here: mph?"
    with pytest.raises(AmbiguousInputError) as caught:
        need_speed_unit(read_attempt("47 b", TOP), TOP, sheet(**GEARED))
    mph, km_h = (read_attempt(retyped("47 b", choice), TOP) for choice in caught.value.choices)
    assert mph.value == pytest.approx(75.64, abs=0.01)
    assert (mph.text, mph.tags) == ("47.0 mph b", ("BOG",))
    assert (km_h.value, km_h.text) == (47.0, "47.0 km/h b")
    for answered in (mph, km_h):
        need_speed_unit(answered, TOP, sheet(**GEARED))


@pytest.mark.parametrize("line", ["47 mph", "47 km/h", "13 m/s", "75", "abort"])
def test_what_is_likely_or_has_its_unit_is_not_asked_about(line: str) -> None:
    assert asked(line, sheet(**GEARED)) == ""


def test_without_the_gearing_the_others_of_the_build_tell() -> None:
    assert asked("47", Sheet()) == ""
    assert asked("47", Sheet(), (74.0, 77.0)) == "47.0 km/h is far below the others: mph?"
    assert asked("47", sheet(**GEARED), (46.0, 49.0)) == ""
    assert asked("60", Sheet(), (74.0, 77.0)) == ""


def test_without_a_planned_rpm_the_lowest_stated_limit_counts() -> None:
    bare = {slot: value for slot, value in GEARED.items() if slot != "planned_rpm"}
    assert asked("47", sheet(**bare)) == ""
    assert "mph?" in asked("47", sheet(**bare, rod_rpm_limit=6500.0))


def test_a_time_is_no_speed() -> None:
    assert asked("726", sheet(**GEARED), test="0-50") == ""
