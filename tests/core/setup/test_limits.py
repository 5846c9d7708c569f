"""Rpm limits with unknown ones counted as the factory speed, and speed against rpm."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import UnknownInputError
from core.setup import (
    Reading,
    Sheet,
    derived_value,
    lowest_limit,
    mark_stale,
    over_speed_words,
    rpm_at_speed,
    speed_at_rpm,
    with_reading,
)
from tests.core.setup.making import MOTH, changed, sheet_of

STAGE_66 = changed(MOTH, final_sprocket="66t", final_sprocket_teeth="66")


def test_all_entered_the_lowest_counts() -> None:
    limit = lowest_limit(MOTH)
    assert (limit.rpm, limit.entered, limit.entered_for, limit.not_entered) == (
        6500,
        6500,
        "rod",
        (),
    )


@pytest.mark.parametrize(
    "unknown",
    [
        None,
        Reading(state="unknown"),
        Reading(state="bounded", value=7000, bound=">"),
        Reading(state="stated", value=7000, stale=True),
    ],
)
def test_an_unknown_limit_counts_as_the_factory_speed(unknown: Reading | None) -> None:
    sheet = with_reading(MOTH, "flywheel_rpm_limit", unknown)
    limit = lowest_limit(sheet)
    assert (limit.rpm, limit.entered, limit.not_entered) == (3600, 6500, ("flywheel_rpm_limit",))
    assert lowest_limit(sheet, rpm_factory=3850).rpm == 3850
    shown = derived_value(sheet, "lowest_rpm_limit")
    assert shown.value == 3600
    assert shown.words == "3,600 rpm (not known: flywheel rpm limit)"


def test_what_is_not_fitted_has_no_limit() -> None:
    limit = lowest_limit(changed(MOTH, clutch_rpm_limit="-"))
    assert "clutch_rpm_limit" not in limit.slots
    assert limit.rpm == 6500
    none = sheet_of(
        rod_rpm_limit="-",
        flywheel_rpm_limit="-",
        valve_train_rpm_limit="-",
        clutch_rpm_limit="-",
    )
    assert lowest_limit(none).rpm == 3600


def test_a_limit_does_not_outlive_its_part() -> None:
    cast = mark_stale(MOTH, changed(MOTH, rod="cast"))
    assert lowest_limit(cast).rpm == 3600
    assert lowest_limit(cast).not_entered == ("rod_rpm_limit",)


def test_over_speed_words() -> None:
    assert over_speed_words(MOTH) == (
        "Lowest limit you entered: 6,500 (rod). Rod load at 6,500 is 3.3 times that at 3,600."
    )
    assert over_speed_words(with_reading(MOTH, "valve_train_rpm_limit", None)) == (
        "Lowest limit you entered: 6,500 (rod). Rod load at 6,500 is 3.3 times that at 3,600. "
        "Limits not entered: valve train - counted as 3,600. "
        "Planned 6,500 is above the lowest of these, 3,600."
    )
    assert over_speed_words(Sheet()) == (
        "No rpm limit is entered. "
        "Limits not entered: rod, flywheel, valve train, clutch - counted as 3,600."
    )


@given(st.sampled_from([MOTH, Sheet(), STAGE_66]), st.floats(2000, 5000))
def test_no_speed_is_ever_called_safe(sheet: Sheet, factory: float) -> None:
    assert "safe" not in over_speed_words(sheet, factory).casefold()


def test_where_the_test_ends() -> None:
    # 12/66, 1.06 m, 50 km/h: 50/3.6/1.06 x 5.5 x 60 = 4,324 by hand
    assert round(rpm_at_speed(STAGE_66, 50)) == 4324
    assert round(speed_at_rpm(STAGE_66, 6670)) == 77
    assert round(rpm_at_speed(MOTH, 79.7, slip=0.03)) == 6460


@given(st.floats(0, 150), st.floats(-0.05, 0.2))
def test_speed_and_rpm_are_inverses(km_h: float, slip: float) -> None:
    rpm = rpm_at_speed(MOTH, km_h, slip)
    assert speed_at_rpm(MOTH, rpm, slip) == pytest.approx(km_h)


def test_speed_per_thousand_agrees() -> None:
    assert derived_value(MOTH, "speed_per_1000").value == pytest.approx(speed_at_rpm(MOTH, 1000))


@pytest.mark.parametrize("slot", ["engine_sprocket_teeth", "final_sprocket_teeth", "circumference"])
def test_what_is_missing_is_named(slot: str) -> None:
    with pytest.raises(UnknownInputError, match="not known") as unknown:
        rpm_at_speed(with_reading(MOTH, slot, None), 50)
    assert unknown.value.missing == (slot,)


def test_no_rpm_of_a_belt_variator() -> None:
    with pytest.raises(UnknownInputError, match="no fixed ratio"):
        rpm_at_speed(changed(MOTH, clutch_kind="belt"), 50)
