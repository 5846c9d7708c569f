"""Quantiles against scipy's distributions, against quadrature, and against limits known exactly."""

from __future__ import annotations

from math import inf, sqrt

import numpy as np
import pytest
import scipy.integrate
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import OutOfRangeError
from core.stats.student import (
    equivalent_dof,
    shifted_t_beyond,
    t_below,
    t_quantile,
    two_spread_below,
    two_spread_quantile,
)

property_test = settings(max_examples=60, derandomize=True, deadline=None)
scales = st.floats(0.05, 20.0)
dofs = st.sampled_from([1, 2, 3, 4, 7.5, 14, 34, 200, 1e5])


@pytest.mark.parametrize("dof", [1, 2.5, 4, 30, 1e4])
@pytest.mark.parametrize("level", [0.6, 0.975, 0.9999])
def test_student_as_scipy_has_it(dof: float, level: float) -> None:
    want = float(scipy.stats.t.ppf(level, dof))
    assert t_quantile(level, dof) == pytest.approx(want, rel=1e-9)
    assert t_below(want, dof) == pytest.approx(level, rel=1e-9)
    assert equivalent_dof(want, level) == pytest.approx(dof, rel=1e-5)


def test_endless_degrees_of_freedom_are_the_normal() -> None:
    assert t_quantile(0.975, inf) == pytest.approx(1.959963984540054, rel=1e-12)
    assert t_below(1.959963984540054, inf) == pytest.approx(0.975, rel=1e-12)
    assert equivalent_dof(1.959, 0.975) == inf


@pytest.mark.parametrize("dof", [0.0, -1.0, float("nan")])
def test_no_degree_of_freedom_is_refused(dof: float) -> None:
    with pytest.raises(OutOfRangeError, match="above zero"):
        t_quantile(0.9, dof)
    with pytest.raises(OutOfRangeError, match="above zero"):
        two_spread_quantile(0.9, 1.0, dof, 1.0, 3)


@pytest.mark.parametrize(
    ("scale_1", "dof_1", "scale_2", "dof_2"),
    [(1.0, 3, 1.0, 20), (1.0, 4, 0.1, 3), (0.1, 4, 1.0, 3), (1.0, 1, 1.0, 1), (1.0, 34, 2.0, 3)],
)
def test_two_spreads_by_convolution(
    scale_1: float, dof_1: float, scale_2: float, dof_2: float
) -> None:
    # The same sum of two t variables as a convolution integral, by adaptive quadrature.
    at = two_spread_quantile(0.975, scale_1, dof_1, scale_2, dof_2)

    def slice_of(t: float) -> float:
        rest = scipy.stats.t.cdf((at - scale_1 * t) / scale_2, dof_2)
        return float(scipy.stats.t.pdf(t, dof_1) * rest)

    found = sum(
        scipy.integrate.quad(slice_of, *ends, limit=400, epsabs=1e-11)[0]
        for ends in ((-np.inf, 0.0), (0.0, np.inf))
    )
    assert found == pytest.approx(0.975, abs=1e-9)


def test_two_spreads_by_simulation() -> None:
    rng = np.random.default_rng(8)
    total = 1.0 * rng.standard_t(14, 400_000) + 0.7 * rng.standard_t(3, 400_000)
    found = two_spread_quantile(0.975, 1.0, 14, 0.7, 3)
    assert float(np.mean(total <= found)) == pytest.approx(0.975, abs=0.001)


def test_limits_known_exactly() -> None:
    # Two Cauchy variables add to one of the summed scale; two normals in the root of the squares.
    cauchy = float(scipy.stats.cauchy.ppf(0.975))
    assert two_spread_quantile(0.975, 1.0, 1, 2.0, 1) == pytest.approx(3.0 * cauchy, rel=1e-7)
    normal = sqrt(5.0) * 1.959963984540054
    assert two_spread_quantile(0.975, 1.0, inf, 2.0, inf) == pytest.approx(normal, rel=1e-6)
    assert two_spread_quantile(0.975, 2.0, 7, 0.0, 3) == pytest.approx(2.0 * t_quantile(0.975, 7))
    assert two_spread_quantile(0.975, 0.0, 7, 2.0, 3) == pytest.approx(2.0 * t_quantile(0.975, 3))
    assert two_spread_quantile(0.5, 1.0, 3, 1.0, 5) == 0.0


def test_no_scatter_at_all() -> None:
    assert two_spread_quantile(0.975, 0.0, 3, 0.0, 3) == 0.0
    with pytest.raises(OutOfRangeError, match="no scatter"):
        two_spread_below(1.0, 0.0, 3, 0.0, 3)


@property_test
@given(scales, dofs, scales, dofs, st.floats(0.01, 0.99))
def test_quantile_and_chance_are_inverse(
    scale_1: float, dof_1: float, scale_2: float, dof_2: float, level: float
) -> None:
    at = two_spread_quantile(level, scale_1, dof_1, scale_2, dof_2)
    assert two_spread_below(at, scale_1, dof_1, scale_2, dof_2) == pytest.approx(level, abs=1e-9)
    mirrored = two_spread_quantile(1.0 - level, scale_2, dof_2, scale_1, dof_1)
    assert mirrored == pytest.approx(-at, rel=1e-6, abs=1e-9)


@property_test
@given(scales, dofs, scales, dofs, st.floats(1.01, 5.0))
def test_more_scatter_or_less_knowledge_is_wider(
    scale_1: float, dof_1: float, scale_2: float, dof_2: float, more: float
) -> None:
    plain = two_spread_quantile(0.975, scale_1, dof_1, scale_2, dof_2)
    assert two_spread_quantile(0.975, scale_1 * more, dof_1, scale_2, dof_2) > plain
    assert two_spread_quantile(0.975, scale_1, dof_1 * more, scale_2, dof_2) < plain * (1 + 1e-9)
    assert plain > scale_2 * t_quantile(0.975, dof_2)


@pytest.mark.parametrize("dof", [1, 2, 4, 14, 100])
@pytest.mark.parametrize("shift", [0.5, 2.0, 6.0])
def test_noncentral_t_as_scipy_has_it(dof: int, shift: float) -> None:
    t = t_quantile(0.975, dof)
    law = scipy.stats.nct(dof, shift)
    want = float(law.sf(t) + law.cdf(-t))
    assert shifted_t_beyond(t, shift, dof) == pytest.approx(want, abs=1e-8)


def test_noncentral_t_far_out() -> None:
    assert shifted_t_beyond(t_quantile(0.975, 20), 40.0, 20) == pytest.approx(1.0, abs=1e-9)
    assert shifted_t_beyond(t_quantile(0.975, 20), 0.0, 20) == pytest.approx(0.05, abs=1e-9)
