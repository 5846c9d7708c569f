"""Odd values: printed tables of critical values, directions, and scatter that is no scatter."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf, nan, pi, sqrt, tan

import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.stats import (
    deviation_limit,
    dixon_critical,
    dixon_r10,
    flags,
    grubbs,
    grubbs_critical,
    grubbs_largest,
)

property_test = settings(max_examples=80, derandomize=True, deadline=None)

# Source: Grubbs and Beck, Technometrics 14 (1972) 847, and ASTM E178 (tables printed one-sided,
# from memory); n: two-sided 5 % and 1 %, one-sided 5 % and 1 %.
GRUBBS_TABLE = {
    3: (1.1543, 1.1547, 1.1531, 1.1546),
    4: (1.4813, 1.4963, 1.4625, 1.4925),
    5: (1.7150, 1.7637, 1.6714, 1.7489),
    6: (1.8871, 1.9728, 1.8221, 1.9442),
    7: (2.0200, 2.1391, 1.9381, 2.0973),
    8: (2.1266, 2.2744, 2.0317, 2.2208),
    10: (2.2900, 2.4821, 2.1761, 2.4097),
    12: (2.4116, 2.6357, 2.2850, 2.5494),
    15: (2.5483, 2.8061, 2.4090, 2.7049),
    20: (2.7082, 3.0008, 2.5566, 2.8838),
}

# Source: exact values by two-dimensional quadrature, beside the printed table of Rorabacher,
# Anal. Chem. 63 (1991) 139, which differs by up to 0.006; n: 10 %, 5 %, 1 % exact, then printed.
DIXON_TABLE = {
    3: ((0.9413, 0.9702, 0.9940), (0.941, 0.970, 0.994)),
    4: ((0.7655, 0.8298, 0.9207), (0.765, 0.829, 0.926)),
    5: ((0.6424, 0.7102, 0.8232), (0.642, 0.710, 0.821)),
    6: ((0.5624, 0.6275, 0.7427), (0.560, 0.625, 0.740)),
    7: ((0.5073, 0.5690, 0.6811), (0.507, 0.568, 0.680)),
    8: ((0.4671, 0.5256, 0.6336), (0.468, 0.526, 0.634)),
    9: ((0.4363, 0.4922, 0.5963), (0.437, 0.493, 0.598)),
    10: ((0.4118, 0.4656, 0.5661), (0.412, 0.466, 0.568)),
}


@pytest.mark.parametrize("n", GRUBBS_TABLE)
def test_grubbs_table(n: int) -> None:
    two_5, two_1, one_5, one_1 = GRUBBS_TABLE[n]
    assert grubbs_critical(n, 0.05) == pytest.approx(two_5, abs=6e-5)
    assert grubbs_critical(n, 0.01) == pytest.approx(two_1, abs=6e-5)
    assert grubbs_critical(n, 0.05, two_sided=False) == pytest.approx(one_5, abs=6e-5)
    assert grubbs_critical(n, 0.01, two_sided=False) == pytest.approx(one_1, abs=6e-5)
    assert two_1 < grubbs_largest(n) == pytest.approx((n - 1) / sqrt(n))


def test_grubbs_of_four_is_rational() -> None:
    assert grubbs_critical(4) == pytest.approx(1.48125, abs=1e-12)  # closed form


@pytest.mark.parametrize("n", [3, 5, 9, 30])
def test_grubbs_by_the_beta_distribution(n: int) -> None:
    # scipy as oracle: the squared statistic over its largest value is a Beta(1/2, (n-2)/2).
    beta = scipy.stats.beta(0.5, (n - 2) / 2).isf(0.05 / n)
    assert grubbs_critical(n) == pytest.approx(float(grubbs_largest(n) * sqrt(beta)), rel=1e-9)


@pytest.mark.parametrize("n", DIXON_TABLE)
def test_dixon_table(n: int) -> None:
    for alpha, exact, printed in zip((0.10, 0.05, 0.01), *DIXON_TABLE[n], strict=True):
        assert dixon_critical(n, alpha) == pytest.approx(exact, abs=6e-5)
        assert dixon_critical(n, alpha) == pytest.approx(printed, abs=0.006)


def test_dixon_of_three_in_closed_form() -> None:
    want = 0.5 * (1.0 + sqrt(3.0) * tan((1.0 - 0.05 / 2.0) * pi / 3.0 - pi / 6.0))
    assert dixon_critical(3, 0.05) == pytest.approx(want, abs=1e-9)


def test_dixon_looks_at_both_ends() -> None:
    assert dixon_r10([1.0, 5.0, 6.0]) == dixon_r10([1.0, 2.0, 6.0]) == 0.8


def test_equal_values_have_no_statistic() -> None:
    assert grubbs([7.2] * 5) is None
    assert dixon_r10([7.2] * 5) is None


@pytest.mark.parametrize("call", [grubbs, dixon_r10])
def test_two_values_are_too_few_for_a_table(
    call: Callable[[Sequence[float]], float | None],
) -> None:
    with pytest.raises(OutOfRangeError, match="at least 3"):
        call([7.2, 9.9])


def test_tables_refuse_what_they_do_not_hold() -> None:
    with pytest.raises(OutOfRangeError, match="at least 3"):
        grubbs_critical(2)
    for n in (2, 31):
        with pytest.raises(OutOfRangeError, match=f"is {n}"):
            dixon_critical(n)
    with pytest.raises(OutOfRangeError, match="between 0 and 1"):
        grubbs_critical(5, 1.0)


def test_deviation_limit_of_two_by_hand() -> None:
    # t at 1 - 0.05/4 with 10 degrees of freedom is 2.6338 (scipy as oracle), times sqrt(1/2).
    t = float(scipy.stats.t.ppf(0.9875, 10))
    assert deviation_limit(2, 10) == pytest.approx(t / sqrt(2.0), rel=1e-12)
    assert deviation_limit(2, inf) < deviation_limit(2, 10) < deviation_limit(8, 10)


def test_the_odd_one_is_named_with_its_distance() -> None:
    (flag,) = flags([7.50, 7.59, 7.98, 7.47], 0.10, 14)
    assert (flag.index, flag.value) == (2, 7.98)
    assert flag.expected == pytest.approx(7.635)
    assert flag.distance == pytest.approx(3.45)
    assert flag.limit == pytest.approx(deviation_limit(4, 14))


def test_directions_are_judged_apart() -> None:
    values, ways = [7.5, 7.1, 7.6, 7.2, 7.5, 7.9], ["W", "E"] * 3
    assert [flag.index for flag in flags(values, 0.1, 14, ways)] == [5]
    assert flags([8.0, 7.0, 8.0, 7.0], 0.1, 14, ["W", "E", "W", "E"]) == ()


def test_one_wild_value_does_not_drag_good_ones_along() -> None:
    # The wild one pulls the mean of three by a third of its error, far past the limit of the rest.
    assert [flag.index for flag in flags([7.2, 7.3, 13.1], 0.1, 14)] == [2]
    assert [flag.index for flag in flags([7.2, 13.1, 7.3, 9.0, 7.2], 0.1, 14)] == [1, 3]


def test_alone_in_its_direction_is_not_judged() -> None:
    assert flags([7.5, 7.5, 99.0], 0.1, 14, ["W", "W", "E"]) == ()
    assert flags([99.0], 0.1, 14) == flags([], 0.1, 14) == ()


def test_of_two_that_differ_both_are_asked_about() -> None:
    assert [flag.index for flag in flags([7.2, 9.2], 0.1, 14)] == [0, 1]


def test_no_spread_is_no_yardstick() -> None:
    assert flags([7.2, 7.2, 7.3], 0.0, 14) == ()
    assert flags([7.2, 7.2, 7.2], 0.1, 14) == ()


def test_flags_refuse_what_makes_no_sense() -> None:
    with pytest.raises(OutOfRangeError, match="below zero"):
        flags([7.2, 7.3], -0.1, 14)
    with pytest.raises(UnknownInputError, match="unknown"):
        flags([7.2, 7.3], 0.1, 0)
    with pytest.raises(InputError, match="one for each"):
        flags([7.2, 7.3], 0.1, 14, ["W"])
    with pytest.raises(InputError, match="finite"):
        flags([7.2, nan], 0.1, 14)


@property_test
@given(
    st.lists(st.floats(5.0, 9.0), min_size=2, max_size=9),
    st.floats(-1e3, 1e3),
    st.floats(0.01, 100.0),
)
def test_flags_do_not_depend_on_unit_or_origin(
    values: list[float], shift: float, scale: float
) -> None:
    spread = 0.31831
    moved = [scale * value + shift for value in values]
    found, again = flags(values, spread, 14), flags(moved, scale * spread, 14)
    near = [abs(abs(v - sum(values) / len(values)) / spread) for v in values]
    limit = deviation_limit(len(values), 14)
    if all(abs(distance - limit) > 1e-6 for distance in near):
        assert [flag.index for flag in found] == [flag.index for flag in again]


@property_test
@given(st.lists(st.floats(5.0, 9.0), min_size=3, max_size=9), st.floats(0.05, 1.0))
def test_a_wider_spread_flags_no_more(values: list[float], spread: float) -> None:
    narrow = {flag.index for flag in flags(values, spread, 14)}
    wide = {flag.index for flag in flags(values, 1.5 * spread, 14)}
    assert wide <= narrow
