"""A-B-A and longer orders: a steady drift leaves no trace in the difference."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BackToBackError, InputError, UnknownInputError
from core.stats import Spread, aba, difference, drift_removed, least_squares

property_test = settings(max_examples=60, derandomize=True, deadline=None)
block = st.lists(st.floats(5.0, 9.0), min_size=1, max_size=5)
SPREAD = Spread(sd=0.1, dof=14, own_dof=10)


@property_test
@given(block, block, block, st.floats(0.1, 5.0), st.floats(0.1, 5.0))
def test_three_blocks_equal_least_squares(
    a1: list[float], b: list[float], a2: list[float], first: float, second: float
) -> None:
    times = [1.0, 1.0 + first, 1.0 + first + second]
    found = aba(a1, b, a2, times, SPREAD)
    builds = [0] * len(a1) + [1] * len(b) + [0] * len(a2)
    moments = [t for t, side in zip(times, (a1, b, a2), strict=True) for _ in side]
    other = drift_removed(a1 + b + a2, builds, moments, SPREAD)
    assert other.difference.value == pytest.approx(found.difference.value, rel=1e-8, abs=1e-10)
    assert other.variance_factor == pytest.approx(found.variance_factor, rel=1e-8)
    assert other.drift == pytest.approx(found.drift, rel=1e-8, abs=1e-9)
    assert other.drift_se == pytest.approx(found.drift_se, rel=1e-8)
    assert (other.difference.n_a, other.difference.n_b) == (len(a1) + len(a2), len(b))


@property_test
@given(st.floats(-0.5, 0.5), st.floats(-2.0, 2.0))
def test_a_steady_drift_leaves_no_trace(per_minute: float, gain: float) -> None:
    builds = [0, 0, 1, 1, 0, 0, 1, 1]
    times = [0.0, 4.0, 11.0, 15.0, 31.0, 35.0, 42.0, 46.0]
    values = [7.2 + gain * b + per_minute * t for b, t in zip(builds, times, strict=True)]
    found = drift_removed(values, builds, times, SPREAD)
    assert found.difference.value == pytest.approx(gain, abs=1e-10)
    assert found.drift == pytest.approx(46.0 * per_minute, abs=1e-10)


def test_standard_error_of_longer_orders_as_the_full_model_has_it() -> None:
    # Second route: the same model with every column by the general least squares.
    rng = np.random.default_rng(4)
    builds, times = [0, 1, 0, 1, 0], [0.0, 9.0, 21.0, 30.0, 44.0]
    values = rng.normal(7.2, 0.1, 5).tolist()
    fit = least_squares([[1, b, t] for b, t in zip(builds, times, strict=True)], values)
    assert fit.residual_sd is not None
    own = Spread(fit.residual_sd, fit.dof, fit.dof)
    found = drift_removed(values, builds, times, own)
    assert found.difference.value == pytest.approx(fit.coefficients[1], rel=1e-9)
    assert found.difference.se == pytest.approx(fit.standard_errors[1], rel=1e-9)
    assert fit.coefficients[2] is not None
    assert found.drift == pytest.approx(44.0 * fit.coefficients[2], rel=1e-9)


def test_a_return_costs_less_than_drift_would() -> None:
    # 3+3+3 with the middle at half time: 0.5 spread^2, against 0.667 for A-B 3+3. Closed form.
    found = aba([7.0] * 3, [7.0] * 3, [7.0] * 3, [0, 1, 2], SPREAD)
    assert found.variance_factor == pytest.approx(0.5)
    plain = difference([7.0] * 3, [7.0] * 3, SPREAD)
    assert found.difference.se < plain.se
    assert found.drift_se == pytest.approx(0.1 * sqrt(2 / 3))


@pytest.mark.parametrize(
    ("builds", "times"),
    [
        ([0, 0, 1, 1], [0.0, 0.0, 5.0, 5.0]),
        ([0, 0, 0], [0.0, 1.0, 2.0]),
        ([1, 1, 1], [0.0, 1.0, 2.0]),
        ([0, 1, 0], [3.0, 3.0, 3.0]),
        ([0, 1], [0.0, 1.0]),
        ([], []),
    ],
)
def test_without_a_return_drift_and_change_are_one(builds: list[int], times: list[float]) -> None:
    with pytest.raises(UnknownInputError, match="cannot be told apart"):
        drift_removed([7.0] * len(builds), builds, times, SPREAD)


def test_what_makes_no_sense_is_refused() -> None:
    for times in ([0.0, 2.0, 1.0], [0.0, 0.0, 1.0], [0.0, 1.0]):
        with pytest.raises(InputError, match="later than the last"):
            aba([7.0], [7.1], [7.0], times, SPREAD)
    with pytest.raises(BackToBackError, match="at least 1"):
        aba([7.0], [], [7.0], [0.0, 1.0, 2.0], SPREAD)
    with pytest.raises(InputError, match="equally many"):
        drift_removed([7.0], [0, 1], [0.0, 1.0], SPREAD)
    with pytest.raises(InputError, match="must be 0"):
        drift_removed([7.0, 7.1, 7.2], [0, 1, 2], [0.0, 1.0, 2.0], SPREAD)
