"""Sums of squares that add, spreads that start from a guess, and the spread from day to day."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
import scipy.integrate
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.stats import (
    SessionMean,
    Spread,
    SumOfSquares,
    between_sessions,
    day_spread,
    pooled_repeatability,
    posterior_spread,
    resolution_floor,
    two_way_within,
    within,
)

property_test = settings(max_examples=60, derandomize=True, deadline=None)
sessions = st.lists(st.lists(st.floats(5.0, 9.0), min_size=1, max_size=6), min_size=1, max_size=6)

# Source: chi-square and t quantiles; ISO 5725-6:1994 4.1 has 2.8 for endless degrees of freedom.
# degrees of freedom: the factor that 2.8 should be.
T_FACTORS = {1: 17.97, 2: 6.08, 3: 4.50, 4: 3.93, 6: 3.46, 8: 3.26, 10: 3.15, 15: 3.01, 30: 2.89}


@pytest.mark.parametrize("dof", T_FACTORS)
def test_repeatability_limit_with_few_degrees_of_freedom(dof: int) -> None:
    values = [7.0 + 0.01 * (-1) ** i for i in range(dof + 1)]
    found = pooled_repeatability([values])
    assert found.limit_t / found.s_r == pytest.approx(T_FACTORS[dof], abs=0.006)
    assert found.limit / found.s_r == pytest.approx(2.8)


@property_test
@given(sessions, sessions)
def test_sums_of_squares_add(first: list[list[float]], second: list[list[float]]) -> None:
    both, apart = within(first + second), within(first) + within(second)
    assert both.dof == apart.dof == sum(len(group) - 1 for group in first + second)
    assert both.ss == pytest.approx(apart.ss, rel=1e-12, abs=1e-15)
    assert sum([within(first), within(second)], SumOfSquares()).ss == pytest.approx(both.ss)


@property_test
@given(sessions)
def test_what_differs_between_sessions_is_no_scatter(groups: list[list[float]]) -> None:
    moved = [[value + 3.0 * i for value in group] for i, group in enumerate(groups)]
    assert within(moved).ss == pytest.approx(within(groups).ss, rel=1e-7, abs=1e-9)


@property_test
@given(st.lists(st.tuples(st.floats(5.0, 9.0), st.sampled_from("WE")), min_size=1, max_size=10))
def test_the_direction_is_no_scatter(attempts: list[tuple[float, str]]) -> None:
    values, ways = [value for value, _ in attempts], [way for _, way in attempts]
    found = two_way_within(values, ways)
    moved = [value + (1.5 if way == "W" else 0.0) for value, way in attempts]
    assert found.dof == len(values) - len(set(ways))
    assert two_way_within(moved, ways).ss == pytest.approx(found.ss, rel=1e-7, abs=1e-9)
    by_hand = [[v for v, w in attempts if w == way] for way in "WE"]
    assert found.ss == pytest.approx(within(by_hand).ss, rel=1e-12, abs=1e-15)


def test_scaled_to_pairs() -> None:
    single = within([[7.2, 7.4, 7.3]])
    pair = single.scaled(1.0 / sqrt(2.0))
    assert single.sd is not None
    assert pair.sd == pytest.approx(single.sd / sqrt(2.0))
    assert pair.dof == single.dof == 2
    assert SumOfSquares().sd is None


def test_unequal_lists_are_refused() -> None:
    with pytest.raises(InputError, match="one for each"):
        two_way_within([7.2, 7.3], ["W"])


def test_without_attempts_the_spread_is_the_usual_one() -> None:
    assert posterior_spread(0.11, 4, SumOfSquares()) == Spread(0.11, 4, 0)


def test_posterior_by_hand() -> None:
    # (4 * 0.1^2 + 0.12) / (4 + 6) = 0.016
    found = posterior_spread(0.1, 4, SumOfSquares(0.12, 6))
    assert found.sd == pytest.approx(sqrt(0.016))
    assert (found.dof, found.own_dof) == (10, 6)


def test_posterior_by_integration() -> None:
    # The posterior mean of 1/variance of a scaled inverse chi-square law is 1/sd^2; the prior and
    # the likelihood of the sum of squares, integrated numerically, must give the same.
    nu, s0, ss, dof = 4, 0.1, 0.12, 6

    def density(precision: float) -> float:
        prior = precision ** (nu / 2 - 1) * np.exp(-nu * s0**2 * precision / 2)
        return float(prior * precision ** (dof / 2) * np.exp(-ss * precision / 2))

    whole = scipy.integrate.quad(density, 0, 2000)[0]
    mean = scipy.integrate.quad(lambda p: p * density(p), 0, 2000)[0] / whole
    assert posterior_spread(s0, nu, SumOfSquares(ss, dof)).sd == pytest.approx(1 / sqrt(mean))


def test_equal_times_leave_the_resolution() -> None:
    floor = resolution_floor(0.1)
    assert floor == pytest.approx(0.1 / sqrt(12))
    found = posterior_spread(0.05, 4, within([[7.2] * 400]), floor=floor)
    assert found.sd == floor > 0.0


@property_test
@given(st.floats(0.01, 1.0), st.floats(0.5, 20.0), st.floats(0.0, 5.0), st.integers(0, 50))
def test_spread_lies_between_guess_and_data(guess: float, nu: float, ss: float, dof: int) -> None:
    found = posterior_spread(guess, nu, SumOfSquares(ss if dof else 0.0, dof))
    seen = sqrt(ss / dof) if dof else guess
    assert min(guess, seen) * (1 - 1e-9) <= found.sd <= max(guess, seen) * (1 + 1e-9)
    assert found.dof == nu + dof


def test_nothing_known_is_refused() -> None:
    with pytest.raises(UnknownInputError) as refusal:
        posterior_spread(0.1, 0, SumOfSquares())
    assert refusal.value.missing == ("spread",)
    with pytest.raises(OutOfRangeError, match="above zero"):
        posterior_spread(0.0, 4, SumOfSquares())
    with pytest.raises(OutOfRangeError, match="below zero"):
        posterior_spread(0.1, 4, SumOfSquares(), floor=-0.1)


def test_between_sessions_by_a_library() -> None:
    # Oracle: mean squares of a one-way analysis from scipy's F ratio.
    groups = [[8.41, 8.46, 8.39], [8.62, 8.55, 8.60], [8.30, 8.36, 8.33], [8.52, 8.47, 8.50]]
    found = between_sessions(groups)
    f_ratio = float(scipy.stats.f_oneway(*groups).statistic)
    assert found.between_sd == pytest.approx(found.s_r * sqrt((f_ratio - 1.0) / 3.0), rel=1e-9)
    assert not found.negative


def test_sessions_closer_than_chance_give_none() -> None:
    found = between_sessions([[7.0, 7.4], [7.1, 7.3]])
    assert found.between_sd == 0.0
    assert found.negative


def test_between_sessions_refuses() -> None:
    with pytest.raises(InputError, match="2, 3 attempts"):
        between_sessions([[7.0, 7.1], [7.0, 7.1, 7.2]])
    with pytest.raises(OutOfRangeError, match="at least 2"):
        between_sessions([[7.0, 7.1]])
    with pytest.raises(OutOfRangeError, match="at least 2"):
        between_sessions([[7.0], [7.1]])


def test_day_spread_without_repeats_is_the_guess() -> None:
    assert day_spread([], 0.01, 0.144) == Spread(0.144, 3, 0)
    assert day_spread([[(7.2, 4)], [(7.9, 3)]], 0.01, 0.144) == Spread(0.144, 3, 0)


@pytest.mark.parametrize("means", [[7.2, 7.4, 7.1], [7.2, 7.2], [7.0, 8.0, 7.0, 8.0]])
@pytest.mark.parametrize("weight", [1, 3, 12, 5_000])
def test_day_spread_is_conjugate_where_the_means_are_exact(
    means: list[float], weight: float
) -> None:
    # Without noise in the means the posterior is known: own sum of squares added to the prior's.
    found = day_spread([[SessionMean(mean, 3) for mean in means]], 0.0, 0.144, weight)
    want = posterior_spread(0.144, weight, within([means]))
    assert found.sd == pytest.approx(want.sd, rel=1e-4)
    assert found.dof == pytest.approx(want.dof, rel=1e-3)
    assert found.own_dof == len(means) - 1


def test_noisy_means_teach_nothing() -> None:
    found = day_spread([[(7.2, 1), (9.9, 1), (5.0, 1)]], 1e12, 0.144, 3)
    assert found.sd == pytest.approx(0.144, rel=1e-3)
    assert found.dof == pytest.approx(3.0, rel=1e-3)


def test_many_repeats_find_the_truth() -> None:
    rng = np.random.default_rng(3)
    sizes = rng.integers(1, 7, size=(60, 5))
    means = 7.2 + rng.normal(size=(60, 1)) + rng.normal(size=(60, 5)) * np.sqrt(0.04 + 0.01 / sizes)
    groups = [
        list(zip(m.tolist(), n.tolist(), strict=True)) for m, n in zip(means, sizes, strict=True)
    ]
    found = day_spread(groups, 0.01, 0.05)
    assert found.sd == pytest.approx(0.2, rel=0.12)
    assert 150 < found.dof < 260
    assert found.own_dof == 240


@property_test
@given(st.floats(0.1, 10.0), st.floats(-50.0, 50.0))
def test_day_spread_follows_unit_and_origin(scale: float, shift: float) -> None:
    means, sizes = (7.2, 7.5, 7.1), (4, 2, 3)
    plain = day_spread([list(zip(means, sizes, strict=True))], 0.01, 0.144)
    moved = [(scale * mean + shift, n) for mean, n in zip(means, sizes, strict=True)]
    found = day_spread([moved], 0.01 * scale**2, 0.144 * scale)
    assert found.sd == pytest.approx(scale * plain.sd, rel=1e-6)
    assert found.dof == pytest.approx(plain.dof, rel=1e-6)


def test_day_spread_refuses() -> None:
    with pytest.raises(OutOfRangeError, match="at least 1"):
        day_spread([[(7.2, 0), (7.3, 2)]], 0.01, 0.144)
    with pytest.raises(OutOfRangeError, match="above zero"):
        day_spread([], 0.01, 0.0)
    with pytest.raises(OutOfRangeError, match="below zero"):
        day_spread([], -0.01, 0.1)
