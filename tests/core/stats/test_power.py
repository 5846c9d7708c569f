"""Numbers of attempts: a printed table, simulation, and the day that no number beats."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import OutOfRangeError
from core.stats import Spread, half_width, pairs_to_settle, power, sample_size, sample_size_known

property_test = settings(max_examples=40, derandomize=True, deadline=None)
SPREAD = Spread(sd=0.11, dof=14, own_dof=10)
DAY = Spread(sd=0.144, dof=3, own_dof=0)

# Source: noncentral t (statsmodels' TTestIndPower agrees), two-sided 5 %.
# difference in sds: n a side, known sd, 80 % and 90 %; unknown sd; power of 3+3 and 5+5, %.
TABLE = {
    0.5: (63, 85, 64, 86, 8, 11),
    0.75: (28, 38, 29, 39, 11, 18),
    1.0: (16, 22, 17, 23, 16, 29),
    1.25: (11, 14, 12, 15, 22, 41),
    1.75: (6, 7, 7, 8, 38, 68),
    2.0: (4, 6, 6, 7, 46, 79),
    3.0: (2, 3, 4, 4, 78, 98),
    4.0: (1, 2, 3, 3, 95, 100),
}

# difference in sds: power of 3+3 with own spread (4 dof), pooled (14), known; A-B-A 3+3+3 pooled.
POOLING = {
    1.0: (16, 21, 23, 26),
    1.75: (38, 51, 57, 63),
    2.0: (46, 63, 69, 75),
    3.0: (78, 93, 96, 98),
}


@pytest.mark.parametrize("d", TABLE)
def test_table_of_sample_sizes(d: float) -> None:
    known_80, known_90, own_80, own_90, three, five = TABLE[d]
    assert (sample_size_known(d), sample_size_known(d, 0.9)) == (known_80, known_90)
    assert (sample_size(d), sample_size(d, 0.9)) == (own_80, own_90)
    assert 100 * power(d, 1.0, 4, 3, 3) == pytest.approx(three, abs=0.51)
    assert 100 * power(d, 1.0, 8, 5, 5) == pytest.approx(five, abs=0.51)


@pytest.mark.parametrize("d", POOLING)
def test_pooling_is_worth_attempts(d: float) -> None:
    own, pooled, known, swapped = POOLING[d]
    assert 100 * power(d, 1.0, 4, 3, 3) == pytest.approx(own, abs=0.51)
    assert 100 * power(d, 1.0, 14, 3, 3) == pytest.approx(pooled, abs=0.51)
    assert 100 * power(d, 1.0, inf, 3, 3) == pytest.approx(known, abs=0.51)
    # A-B-A has 0.5 of the variance of one attempt, as 4 against 4 would.
    assert 100 * power(d, 1.0, 14, 4, 4) == pytest.approx(swapped, abs=0.51)


def test_power_by_simulation() -> None:
    rng = np.random.default_rng(5)
    t = (rng.normal(size=200_000) + 2.0 / np.sqrt(1 / 3 + 1 / 5)) / np.sqrt(
        rng.chisquare(14, 200_000) / 14
    )
    share = float(np.mean(np.abs(t) > 2.144786688))  # t at 0.975 with 14 degrees of freedom
    assert power(2.0, 1.0, 14, 3, 5) == pytest.approx(share, abs=0.004)


@property_test
@given(st.floats(0.0, 8.0), st.floats(0.05, 5.0), st.sampled_from([1, 4, 14, 100]))
def test_power_rises_from_alpha_to_one(delta: float, spread: float, dof: int) -> None:
    found = power(delta * spread, spread, dof, 2, 3)
    assert 0.05 - 1e-9 <= found <= 1.0
    assert found == pytest.approx(power(-delta, 1.0, dof, 3, 2), abs=1e-9)
    assert power((delta + 0.5) * spread, spread, dof, 2, 3) >= found - 1e-12


def test_smallest_is_smallest() -> None:
    n = sample_size(0.31, 0.85)
    assert power(0.31, 1.0, 2 * (n - 1), n, n) >= 0.85
    assert power(0.31, 1.0, 2 * (n - 2), n - 1, n - 1) < 0.85


def test_sizes_refuse_what_makes_no_sense() -> None:
    for d in (0.0, float("nan"), 1e-9):
        with pytest.raises(Exception, match=r"above zero|finite|No number"):
            sample_size(d)
    with pytest.raises(OutOfRangeError, match="between 0 and 1"):
        sample_size_known(1.0, 80)
    with pytest.raises(OutOfRangeError, match="at least 1"):
        power(1.0, 1.0, 4, 0, 3)


@pytest.mark.parametrize("both", [False, True])
@pytest.mark.parametrize("n", [0, 1, 2, 4, 8])
def test_so_many_more_settle_it_and_one_fewer_does_not(n: int, both: bool) -> None:
    gain, a, b = 0.12, n if both else n + 3, n
    more = pairs_to_settle(gain, SPREAD, a, b, both_sides=both)
    if more is None:
        assert not both
        return

    def half(extra: int) -> float:
        n_a, n_b = a + extra * both, b + extra
        dof = 14 + max(n_b - 1, 0) - max(b - 1, 0) + max(n_a - 1, 0) - max(a - 1, 0)
        return half_width(1 / n_a + 1 / n_b, Spread(0.11, dof, 0)) if n_a and n_b else inf

    assert half(more) < gain
    assert more == 0 or half(more - 1) >= gain


def test_few_on_a_cannot_be_made_up_on_b() -> None:
    assert pairs_to_settle(0.15, SPREAD, 1, 8) is None
    # Two more: 2.101 x 0.11 sqrt(1/3 + 1/10) = 0.152; three more: 2.086 x 0.11 sqrt(1/4 + 1/11)
    # = 0.134, t with 18 and 20 degrees of freedom.
    assert pairs_to_settle(0.15, SPREAD, 1, 8, both_sides=True) == 3


def test_another_day_is_the_answer() -> None:
    # The day spread alone: t at 0.975 with 3 degrees of freedom, 3.182, x 0.144 sqrt(2) = 0.648.
    for gain in (0.15, 0.647):
        assert pairs_to_settle(gain, SPREAD, 4, 4, day_spread=DAY, both_sides=True) is None
    assert pairs_to_settle(0.67, SPREAD, 1, 1, day_spread=DAY, both_sides=True) is not None
    assert pairs_to_settle(0.15, SPREAD, 4, 4) is not None


def test_settled_already() -> None:
    assert pairs_to_settle(1.0, SPREAD, 4, 4) == 0


def test_nothing_on_a_side_needs_a_side() -> None:
    assert pairs_to_settle(0.5, SPREAD, 0, 3) is None
    assert pairs_to_settle(0.5, SPREAD, 0, 0, both_sides=True) == 1


def test_the_first_of_a_side_adds_no_knowledge_of_the_spread() -> None:
    # Two a side: t with 2 + 2 degrees of freedom, 2.776 x 0.1 = 0.278; three: with 2 + 4,
    # 2.447 x 0.1 sqrt(2/3) = 0.200.
    assert pairs_to_settle(0.26, Spread(0.1, 2, 0), 0, 0, both_sides=True) == 3


def test_gain_must_be_above_zero() -> None:
    with pytest.raises(OutOfRangeError, match="above zero"):
        pairs_to_settle(0.0, SPREAD, 4, 4)
