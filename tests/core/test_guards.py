"""Refusals of numbers: one plain sentence each, in the unit a person typed."""

from __future__ import annotations

import math

import pytest

from core import guards
from core.errors import InputError, OutOfRangeError, UnknownInputError


def test_zero_bore_in_millimetres() -> None:
    with pytest.raises(InputError) as caught:
        guards.above_zero("bore", 0.0, "mm")
    assert str(caught.value) == "Bore is 0 mm: a bore must be above zero."


def test_article_before_a_vowel() -> None:
    with pytest.raises(InputError, match=r"^Air density is -1 kg/m³: an air density must"):
        guards.above_zero("air density", -1.0, "kg/m³")


def test_outside_a_range_shows_both_ends() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        guards.between("relative humidity", 1.3, 0.0, 1.0, "%")
    assert str(caught.value) == "Relative humidity is 130 %: it must lie between 0 and 100 %."


def test_unknown_value_is_named() -> None:
    with pytest.raises(UnknownInputError) as caught:
        guards.not_negative("gasket thickness", None, "mm")
    assert caught.value.missing == ("gasket thickness",)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_number_is_refused(value: float) -> None:
    with pytest.raises(InputError, match="not a number"):
        guards.finite("deck", value)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.0011, "mm", "1.1 mm"),
        (22.5e-6, "cm³", "22.5 cm³"),
        (303.15, "°C", "30 °C"),
        (101_325.0, "hPa", "1013.25 hPa"),
        (12.5, "km/h", "45 km/h"),
        (4.0, "", "4"),
    ],
)
def test_shown_in_the_unit_of_a_person(value: float, unit: str, text: str) -> None:
    assert guards.shown(value, unit) == text
