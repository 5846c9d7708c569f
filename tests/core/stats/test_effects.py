"""Differences: one attempt a side, one day or two, drift taken out, and what is refused."""

from __future__ import annotations

from math import inf, isinf, nan, sqrt

import numpy as np
import pytest
import scipy.stats
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.stats import (
    Spread,
    SumOfSquares,
    critical_difference,
    critical_difference_t,
    difference,
    posterior_shift,
    posterior_spread,
    welch,
    welch_from_summary,
    within,
)

property_test = settings(max_examples=60, derandomize=True, deadline=None)
sides = st.lists(st.floats(5.0, 9.0), min_size=1, max_size=6)
SPREAD = Spread(sd=0.1, dof=14, own_dof=10)
DAY = Spread(sd=0.144, dof=3, own_dof=0)


def test_one_attempt_a_side_by_hand() -> None:
    found = difference([8.4], [8.2], SPREAD)
    half = float(scipy.stats.t.ppf(0.975, 14)) * 0.1 * sqrt(2.0)
    assert found.value == pytest.approx(-0.2)
    assert (found.low, found.high) == pytest.approx((-0.2 - half, -0.2 + half))
    assert (found.n_a, found.n_b, found.dof) == (1, 1, 14)
    assert found.se == pytest.approx(0.1 * sqrt(2.0))


def test_no_prior_and_no_log_is_student_s_test() -> None:
    # Oracle: scipy's equal-variance interval.
    a, b = [8.41, 8.46, 8.39], [8.29, 8.33, 8.30, 8.36]
    pooled = within([a, b])
    assert pooled.sd is not None
    found = difference(a, b, Spread(pooled.sd, pooled.dof, pooled.dof))
    want = scipy.stats.ttest_ind(b, a).confidence_interval(0.95)
    assert (found.low, found.high) == pytest.approx((float(want.low), float(want.high)), rel=1e-9)


def test_different_days_are_wider_by_the_day_spread() -> None:
    same, apart = (difference([8.4] * 4, [8.2] * 4, SPREAD, day) for day in (None, DAY))
    assert apart.value == same.value
    assert apart.se == pytest.approx(sqrt(0.1**2 / 2 + 2 * 0.144**2))
    assert apart.high - apart.low > 2 * 2 * 0.144 * sqrt(2.0)
    # The degrees of freedom handed on are those of the t with this se and these ends.
    half = float(scipy.stats.t.ppf(0.975, apart.dof)) * apart.se
    assert apart.high - apart.value == pytest.approx(half, rel=1e-9)
    assert 2.0 < apart.dof < 14.0


def test_a_day_spread_of_zero_is_one_day() -> None:
    same = difference([8.4, 8.5], [8.2], SPREAD)
    assert difference([8.4, 8.5], [8.2], SPREAD, Spread(0.0, 3, 0)) == same


def test_many_attempts_do_not_shrink_the_day() -> None:
    many = difference([8.4] * 4000, [8.2] * 4000, SPREAD, DAY)
    least = float(scipy.stats.t.ppf(0.975, 3)) * 0.144 * sqrt(2.0)
    assert many.high - many.value == pytest.approx(least, rel=1e-3)
    assert many.high - many.value > least


@property_test
@given(sides, sides, st.floats(0.1, 50.0), st.floats(-100.0, 100.0), st.booleans())
def test_unit_origin_and_order_of_sides(
    a: list[float], b: list[float], scale: float, shift: float, days: bool
) -> None:
    day = DAY if days else None
    plain = difference(a, b, SPREAD, day)
    wide = Spread(0.1 * scale, 14, 10)
    wide_day = Spread(0.144 * scale, 3, 0) if days else None
    a_moved, b_moved = ([scale * x + shift for x in side] for side in (a, b))
    moved = difference(a_moved, b_moved, wide, wide_day)
    for name in ("value", "low", "high", "se"):
        want = scale * getattr(plain, name)
        assert getattr(moved, name) == pytest.approx(want, rel=1e-7, abs=1e-7 * scale)
    turned = difference(b, a, SPREAD, day)
    assert (turned.low, turned.high) == pytest.approx((-plain.high, -plain.low), abs=1e-9)


@property_test
@given(sides, sides, st.floats(1.01, 4.0), st.booleans())
def test_wider_spread_fewer_dof_and_higher_level_widen(
    a: list[float], b: list[float], more: float, days: bool
) -> None:
    day = DAY if days else None

    def width(spread: Spread, level: float = 0.95) -> float:
        found = difference(a, b, spread, day, level)
        return found.high - found.low

    plain = width(SPREAD)
    assert width(Spread(0.1 * more, 14, 10)) > plain
    assert width(Spread(0.1, 14 / more, 10)) > plain
    assert width(SPREAD, 0.99) > plain > width(SPREAD, 0.8)
    assert width(Spread(0.1, inf, 10)) < plain


def test_an_empty_side_is_refused() -> None:
    with pytest.raises(UnknownInputError) as refusal:
        difference([8.4], [], SPREAD)
    assert refusal.value.missing == ("attempts of B",)
    with pytest.raises(InputError, match="finite"):
        difference([8.4], [nan], SPREAD)
    with pytest.raises(OutOfRangeError, match="Level"):
        difference([8.4], [8.2], SPREAD, level=95)


def test_no_scatter_is_a_point_not_a_crash() -> None:
    found = difference([8.4], [8.2], Spread(0.0, 4, 0))
    assert found.low == found.value == found.high


@property_test
@given(st.lists(st.floats(5, 9), min_size=2, max_size=6), st.lists(st.floats(5, 9), min_size=2))
def test_welch_as_scipy_has_it(a: list[float], b: list[float]) -> None:
    assume(min(np.std(a), np.std(b)) > 1e-4)
    found = welch(a, b)
    want = scipy.stats.ttest_ind(b, a, equal_var=False).confidence_interval(0.95)
    assert (found.low, found.high) == pytest.approx(
        (float(want.low), float(want.high)), rel=1e-6, abs=1e-7
    )


def test_welch_refuses_what_it_cannot_know() -> None:
    with pytest.raises(UnknownInputError, match="A holds fewer than two"):
        welch([8.4], [8.2, 8.3])
    with pytest.raises(UnknownInputError, match="scatter is unknown"):
        welch([8.4, 8.4], [8.2, 8.2])
    with pytest.raises(OutOfRangeError):
        welch_from_summary(8.4, 0.1, 1, 8.2, 0.1, 4)


def test_welch_with_one_side_of_equal_times() -> None:
    assert welch([8.4, 8.4, 8.4], [8.2, 8.3]).dof == pytest.approx(1.0)


def test_posterior_without_prior_is_the_interval() -> None:
    found = posterior_shift(-0.2, SPREAD, 3, 4)
    want = difference([8.4] * 3, [8.2] * 4, SPREAD)
    assert (found.low, found.high) == pytest.approx((want.low, want.high))
    assert found.sd == pytest.approx(want.se * sqrt(14 / 12))
    assert isinf(posterior_shift(-0.2, Spread(0.1, 2, 2), 3, 4).sd)


@property_test
@given(st.floats(-1, 1), st.floats(0.05, 2.0), st.floats(0.0, 0.3))
def test_a_prior_pulls_towards_zero(value: float, prior: float, day: float) -> None:
    free = posterior_shift(value, SPREAD, 3, 4, day_sd=day)
    held = posterior_shift(value, SPREAD, 3, 4, day_sd=day, prior_sd=prior)
    assert abs(held.mean) <= abs(free.mean)
    assert held.sd < free.sd
    assert held.below_zero + posterior_shift(
        -value, SPREAD, 3, 4, day_sd=day, prior_sd=prior
    ).below_zero == pytest.approx(1.0)


def test_critical_difference_is_the_half_width() -> None:
    found = difference([8.4] * 3, [8.2] * 5, SPREAD)
    assert critical_difference_t(SPREAD, 3, 5) == pytest.approx(found.high - found.value)
    # ISO 5725-6:1994, 4.2: 2.8 stands for 1.96 sqrt(2), one percent more.
    known = critical_difference_t(Spread(0.1, inf, inf), 3, 5)
    assert critical_difference(0.1, 3, 5) == pytest.approx(known, rel=0.011)
    with pytest.raises(OutOfRangeError):
        critical_difference(0.1, 0, 5)


def test_own_scatter_counts_once_through_the_pool() -> None:
    a, b = [7.2, 7.4], [7.1, 7.1]
    log = SumOfSquares(0.14, 10)
    known = posterior_spread(0.11, 4, log + within([a, b]))
    assert known.dof == difference(a, b, known).dof == 16
