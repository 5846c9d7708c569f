"""Linear models: certified sets, effects never apart, priors, and the best choice of runs."""

from __future__ import annotations

import json
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.stats import d_optimal, least_squares, never_apart, normal_prior, through_origin

property_test = settings(max_examples=40, derandomize=True, deadline=None)
REFERENCE = Path(__file__).parents[2] / "data" / "reference"

# Pipe and filter always together, cam alone.
LADDER = [[1, 0, 0, 0], [1, 0, 0, 0], [1, 1, 1, 0], [1, 1, 1, 0], [1, 1, 1, 1]]
TIMES = [8.60, 8.64, 8.40, 8.44, 8.30]


def test_longley_to_ten_digits() -> None:
    # Source: NIST StRD linear regression, certified values of data set Longley.
    data = json.loads((REFERENCE / "longley.json").read_text("utf-8"))
    cases = json.loads((REFERENCE / "topic_h.json").read_text("utf-8"))["cases"]
    (want,) = [case["expected"] for case in cases if "Longley" in case["quantity"]]
    found = least_squares([[1.0, *row] for row in data["x"]], data["y"])
    assert found.coefficients == pytest.approx(want["coefficients"]["value"], rel=1e-10)
    assert found.standard_errors == pytest.approx(want["standard_errors"]["value"], rel=1e-10)
    assert found.residual_sd == pytest.approx(want["residual_sd"]["value"], rel=1e-12)


def test_wampler1() -> None:
    # Source: NIST StRD linear regression, data set Wampler1 (from memory): y = sum of x^0 .. x^5
    # for x = 0 .. 20, all six coefficients 1, all standard errors 0.
    x = [[float(at**k) for k in range(6)] for at in range(21)]
    found = least_squares(x, [sum(row) for row in x])
    assert found.coefficients == pytest.approx([1.0] * 6, rel=1e-8)
    assert found.r_squared == pytest.approx(1.0, abs=1e-15)


def test_noint1_share_explained_is_about_zero_not_the_mean() -> None:
    # Source: NIST StRD linear regression, data set NoInt1 (from memory): R-squared 0.99936...
    found = through_origin(range(60, 71), range(130, 141))
    assert found.r_squared == pytest.approx(0.999365492298663, rel=1e-12)
    assert found.coefficients[0] == pytest.approx(2.07438016528926, rel=1e-13)


def test_effects_never_apart_have_no_number() -> None:
    found = least_squares(LADDER, TIMES)
    assert found.coefficients[1] is found.coefficients[2] is None
    assert found.standard_errors[1] is None
    assert found.coefficients[3] == pytest.approx(-0.12)
    assert found.contrast([0, 1, 1, 0]).value == pytest.approx(-0.20)
    with pytest.raises(UnknownInputError, match="never tested apart"):
        found.contrast([0, 1, 0, 0])


def test_which_effects_were_never_apart() -> None:
    assert never_apart(LADDER) == ((1, 2),)
    assert never_apart([[1, 0], [1, 1]]) == ()
    # Clutch with sprocket, and apart from these pipe with jet.
    rows = [[1, 0, 0, 0, 0], [1, 1, 0, 1, 0], [1, 0, 1, 0, 1], [1, 1, 1, 1, 1]]
    assert never_apart(rows) == ((1, 3), (2, 4))
    # A column that never varied from the constant, and one that was never used at all.
    assert never_apart([[1, 1, 0], [1, 1, 0]]) == ((0, 1), (2,))


@pytest.mark.parametrize("scale", [1e-6, 1.0, 1e6])
def test_what_can_be_told_does_not_depend_on_units(scale: float) -> None:
    rows = [[row[0], row[1] * scale, row[2], row[3] / scale] for row in LADDER]
    found = least_squares(rows, TIMES)
    assert found.rank == 3
    assert never_apart(rows) == ((1, 2),)
    assert found.is_estimable([0, scale, 1, 0])
    assert not found.is_estimable([0, 1, 0, 0])


def test_no_repeat_no_standard_error() -> None:
    found = least_squares([[1, 0], [1, 1]], [8.6, 8.4])
    assert found.coefficients == pytest.approx([8.6, -0.2])
    assert found.standard_errors == (None, None)
    assert found.residual_sd is None
    with pytest.raises(UnknownInputError, match="No repeat"):
        found.contrast([0, 1])


@property_test
@given(st.lists(st.floats(-2.0, 2.0), min_size=7, max_size=7), st.integers(0, 10_000))
def test_residuals_stand_upright_on_every_column(y: list[float], seed: int) -> None:
    x = np.random.default_rng(seed).normal(size=(7, 3))
    found = least_squares(x.tolist(), y)
    residual = np.array(y) - x @ np.array([b or 0.0 for b in found.coefficients])
    assert np.abs(x.T @ residual).max() < 1e-10
    # The inverse of the normal equations gives the same standard errors.
    assert found.residual_sd is not None
    want = found.residual_sd * np.sqrt(np.diag(np.linalg.inv(x.T @ x)))
    assert found.standard_errors == pytest.approx(want.tolist(), rel=1e-6)


def test_ragged_rows_are_refused() -> None:
    for x, y in (([[1, 0], [1]], [1, 2]), ([[1]], [1, 2]), ([[1, float("nan")]], [1])):
        with pytest.raises(InputError):
            least_squares(x, y)
    with pytest.raises(OutOfRangeError, match="columns"):
        least_squares([], [])
    with pytest.raises(InputError, match="weights"):
        least_squares([[1, 0], [1, 1]], [1, 2]).contrast([1])


def test_a_wide_prior_is_least_squares() -> None:
    rows = [[1, 0], [1, 0], [1, 1], [1, 1]]
    y = [8.60, 8.64, 8.40, 8.44]
    belief = normal_prior(rows, y, 0.05, [1e6, 1e6])
    assert belief.mean == pytest.approx([8.62, -0.20], rel=1e-6)
    assert belief.sd[1] == pytest.approx(0.05, rel=1e-6)


def test_prior_by_the_normal_equations() -> None:
    prior = np.array([1000.0, 0.3, 0.3, 0.2])
    each = [0.05, 0.05, 0.08, 0.05, 0.03]
    belief = normal_prior(LADDER, TIMES, each, prior.tolist())
    weighted = np.array(LADDER) / np.array(each)[:, None]
    precision = weighted.T @ weighted + np.diag(1 / prior**2)
    want = np.linalg.solve(precision, weighted.T @ (np.array(TIMES) / np.array(each)))
    assert belief.mean == pytest.approx(want.tolist(), rel=1e-7)
    assert np.array(belief.covariance) == pytest.approx(np.linalg.inv(precision), rel=1e-6)


def test_a_pair_never_apart_is_known_by_its_sum() -> None:
    belief = normal_prior(LADDER, TIMES, 0.05, [1000.0, 0.3, 0.3, 0.3])
    pair = belief.contrast([0, 1, 1, 0])
    assert belief.mean[1] == pytest.approx(belief.mean[2])
    assert pair.value == pytest.approx(2 * belief.mean[1])
    assert pair.se < 0.3 * belief.sd[1]


def test_prior_refuses() -> None:
    with pytest.raises(InputError, match="one prior"):
        normal_prior(LADDER, TIMES, 0.05, [1.0])
    with pytest.raises(OutOfRangeError, match="above zero"):
        normal_prior(LADDER, TIMES, 0.0, [1.0] * 4)


def test_full_factorial_is_the_best_of_four() -> None:
    # Source: Hadamard's bound: 4^3 for two factors in four runs, reached by the full factorial.
    found = d_optimal(list(product((-1, 1), repeat=2)), 4)
    assert found.determinant == pytest.approx(64.0)
    assert found.rows == (0, 1, 2, 3)


def test_largest_determinants_of_plus_and_minus_one() -> None:
    # Source: Hadamard's problem (from memory): 2, 4, 16, 48 for order 2 to 5, here squared.
    for order, largest in ((2, 2), (3, 4), (4, 16), (5, 48)):
        rows = list(product((-1, 1), repeat=order - 1))
        assert d_optimal(rows, order).determinant == pytest.approx(largest**2)


def test_too_few_or_too_many_choices() -> None:
    with pytest.raises(OutOfRangeError, match="at least 3"):
        d_optimal(list(product((-1, 1), repeat=2)), 2)
    with pytest.raises(OutOfRangeError, match="too many"):
        d_optimal(list(product((-1, 1), repeat=6)), 12)
    with pytest.raises(InputError, match="same columns"):
        d_optimal([[1], [1, 2]], 2)
