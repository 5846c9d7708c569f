"""Short names of tests, the table's facts, and the usual scatter."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.attempts import TESTS, TIMINGS, find_test, usual_sd
from core.errors import InputError, NotFoundError


@pytest.mark.parametrize(
    ("typed", "name", "shape"),
    [
        ("0-50", "0-50", "standing"),
        ("0 - 50 km/h", "0-50", "standing"),
        ("0–50kmh", "0-50", "standing"),
        ("0-30mph", "0-30mph", "standing"),
        ("0-30 MPH", "0-30mph", "standing"),
        ("25-50", "25-50", "rolling"),
        (" 40-65 ", "40-65", "rolling"),
        ("10-30mph", "10-30mph", "rolling"),
        ("0-48,3", "0-48.3", "standing"),
        ("80m", "80m", "distance"),
        ("50 M", "50m", "distance"),
        ("100yd", "100yd", "distance"),
        ("60 ft", "60ft", "distance"),
        ("Top", "top", "top"),
        ("top speed", "top", "top"),
        ("coast-40-15", "coast-40-15", "coast"),
        ("Coast 40-15", "coast-40-15", "coast"),
        ("coast-30-10mph", "coast-30-10mph", "coast"),
        ("hill", "hill", "hill"),
        ("Hill Long Ramp", "hill-long-ramp", "hill"),
        ("plug", "plug", "plug"),
        ("plug run", "plug", "plug"),
    ],
)
def test_short_names_are_read_with_case_and_spaces_forgiven(
    typed: str, name: str, shape: str
) -> None:
    found = find_test(typed)
    assert (found.name, found.shape) == (name, shape)
    assert find_test(found.name) == found


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "0",
        "0-4",
        "50-0",
        "40-40",
        "0-400",
        "coast-15-40",
        "2m",
        "9000m",
        "0-50kg",
        "hill-",
        "x" * 500,
    ],
)
def test_any_other_name_is_not_found_and_examples_are_given(typed: str) -> None:
    with pytest.raises(NotFoundError) as caught:
        find_test(typed)
    assert "0-50" in caught.value.hint
    assert len(str(caught.value)) < 100


def test_control_codes_in_a_name_never_reach_the_message() -> None:
    with pytest.raises(NotFoundError) as caught:
        find_test("0-50\x1b[31m\n")
    assert str(caught.value).isprintable()


def test_speeds_and_distances_are_kept_in_kmh_and_metres() -> None:
    # exact: international mile 1609.344 m, yard 0.9144 m, foot 0.3048 m (1959 agreement)
    assert find_test("0-30mph").to_speed == pytest.approx(48.28032)
    assert find_test("100yd").distance == pytest.approx(91.44)
    assert find_test("60ft").distance == pytest.approx(18.288)
    assert (find_test("coast-40-15").from_speed, find_test("coast-40-15").to_speed) == (40, 15)


def test_better_is_lower_for_times_and_higher_for_top_speed_and_coasting() -> None:
    better = {t.shape: t.lower_is_better for t in TESTS}
    assert better["standing"]
    assert better["rolling"]
    assert better["distance"]
    assert better["hill"]
    assert not better["top"]
    assert not better["coast"]


def test_fewest_pairs_are_those_of_common_practice() -> None:
    # common practice, no source
    fewest = {t.name: t.minimum for t in TESTS}
    assert [fewest[n] for n in ("0-50", "40-65", "80m", "top", "coast-40-15", "hill", "plug")] == [
        4,
        4,
        5,
        3,
        3,
        5,
        1,
    ]


def test_every_test_is_whole() -> None:
    for test in TESTS:
        assert test.title
        assert test.procedure
        assert test.hold
        if test.shape == "plug":
            continue
        assert 0 < test.hard[0] < test.typical < test.hard[1]
        assert set(test.usual) == {timing.name for timing in TIMINGS}


@given(st.integers(0, 120), st.integers(5, 120), st.sampled_from(["", "mph"]))
def test_every_own_speed_test_has_a_typical_value_inside_its_hard_range(
    low: int, more: int, unit: str
) -> None:
    if (low + more) * (1.609344 if unit else 1.0) > 250:
        return
    test = find_test(f"{low}-{low + more}{unit}")
    assert test.hard[0] < test.typical
    assert test.from_speed is not None
    assert test.to_speed is not None
    assert test.from_speed < test.to_speed


@pytest.mark.parametrize(
    ("name", "timing", "low", "high"),
    [
        # ranges of a single attempt; common practice, no source
        ("0-50", "hand", 0.20, 0.30),
        ("0-50", "logger-1hz", 0.15, 0.25),
        ("0-50", "logger-10hz", 0.07, 0.15),
        ("40-65", "logger-10hz", 0.04, 0.10),
        ("80m", "gates", 0.03, 0.06),
        ("80m", "hand", 0.12, 0.20),
        # of the mean of two ways 0.3 to 0.8 km/h, so sqrt(2) times that for one way
        ("top", "logger-10hz", 0.3 * math.sqrt(2), 0.8 * math.sqrt(2)),
    ],
)
def test_usual_scatter_is_the_middle_of_what_practice_sees(
    name: str, timing: str, low: float, high: float
) -> None:
    assert usual_sd(find_test(name), timing) == pytest.approx((low + high) / 2, rel=0.02)


def test_relative_scatter_grows_with_the_typical_value() -> None:
    coast, hill = find_test("coast-40-15"), find_test("hill")
    # 3 to 6 % and 2 to 3 %; common practice, no source
    assert usual_sd(coast, "logger-10hz", 20.0) == pytest.approx(0.045 * 20)
    assert usual_sd(hill, "logger-10hz", 80.0) == pytest.approx(0.025 * 80)
    assert usual_sd(find_test("0-50"), "hand", 20.0) == usual_sd(find_test("0-50"), "hand", 5.0)


def test_timing_gear_not_told_counts_as_the_coarsest() -> None:
    test = find_test("80m")
    assert usual_sd(test, "") == max(usual_sd(test, t.name) for t in TIMINGS)


def test_a_plug_run_has_no_scatter_and_a_typical_value_must_be_above_zero() -> None:
    with pytest.raises(InputError, match="no number"):
        usual_sd(find_test("plug"), "hand")
    with pytest.raises(InputError, match="above zero"):
        usual_sd(find_test("hill"), "hand", 0.0)
