"""Many looks and many tries: corrected chances, and records that only took more attempts."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError
from core.stats import benjamini_hochberg, best_of, familywise_risk, holm, record_bias

property_test = settings(max_examples=60, derandomize=True, deadline=None)
chances = st.lists(st.floats(0.0, 1.0), min_size=1, max_size=12)

# Source: Harter, Biometrika 48 (1961) 151 (five digits, from memory): best of n in sds.
HARTER = {
    1: 0.0,
    2: 0.56419,
    3: 0.84628,
    4: 1.02938,
    5: 1.16296,
    6: 1.26721,
    10: 1.53875,
    20: 1.86748,
}
# Own integration: sd of the best of n in sds.
SD_OF_BEST = {1: 1.0, 2: 0.8256, 3: 0.7480, 4: 0.7012, 5: 0.6690, 10: 0.5868, 20: 0.5251}


@pytest.mark.parametrize("n", HARTER)
def test_best_of_n(n: int) -> None:
    assert best_of(n).expected == pytest.approx(HARTER[n], abs=1.1e-5)


@pytest.mark.parametrize("n", SD_OF_BEST)
def test_sd_of_the_best(n: int) -> None:
    assert best_of(n).sd == pytest.approx(SD_OF_BEST[n], abs=6e-5)


def test_best_of_two_in_closed_form() -> None:
    assert best_of(2).expected == pytest.approx(1 / sqrt(pi), abs=1e-12)
    assert best_of(2).sd == pytest.approx(sqrt(1 - 1 / pi), abs=1e-12)


def test_best_of_many_by_simulation() -> None:
    tries = np.random.default_rng(2).normal(size=(40_000, 50)).max(1)
    assert best_of(50).expected == pytest.approx(float(tries.mean()), abs=0.01)
    assert best_of(50).sd == pytest.approx(float(tries.std()), abs=0.01)


def test_ten_tries_beat_three_with_nothing_changed() -> None:
    found = record_bias(8.5, 0.1, 3, 10)
    assert found.spurious_gain == pytest.approx(0.1 * (HARTER[10] - HARTER[3]), abs=2e-6)
    assert record_bias(8.5, 0.1, 5, 5).spurious_gain == 0.0
    with pytest.raises(OutOfRangeError, match="at least 1"):
        record_bias(8.5, 0.1, 0, 5)


@pytest.mark.parametrize(("k", "percent"), [(3, 14), (5, 23), (10, 40), (20, 64)])
def test_looking_often_finds_by_luck(k: int, percent: int) -> None:
    assert 100 * familywise_risk(k) == pytest.approx(percent, abs=0.5)  # closed form


@property_test
@given(chances)
def test_benjamini_hochberg_as_scipy_has_it(p_values: list[float]) -> None:
    want = scipy.stats.false_discovery_control(p_values)
    assert benjamini_hochberg(p_values).adjusted == pytest.approx(want.tolist(), rel=1e-12)


@property_test
@given(chances)
def test_holm_stands_between_plain_and_bonferroni(p_values: list[float]) -> None:
    found = holm(p_values)
    for plain, raised in zip(p_values, found.adjusted, strict=True):
        assert plain <= raised <= min(1.0, plain * len(p_values)) + 1e-12
    by_p = [raised for _, raised in sorted(zip(p_values, found.adjusted, strict=True))]
    assert by_p == sorted(by_p)
    assert min(found.adjusted) == pytest.approx(min(1.0, min(p_values) * len(p_values)))
    softer = benjamini_hochberg(p_values).adjusted
    assert all(a >= b - 1e-12 for a, b in zip(found.adjusted, softer, strict=True))


def test_no_comparison_at_all() -> None:
    assert holm([]).adjusted == benjamini_hochberg([]).found == ()
    assert familywise_risk(0) == 0.0


def test_chances_outside_are_refused() -> None:
    for bad in ([1.2], [-0.1], [float("nan")]):
        with pytest.raises(InputError):
            holm(bad)
