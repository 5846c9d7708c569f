"""Means and scatter keep their digits, and say nothing where there is nothing to say."""

from __future__ import annotations

import statistics
from math import inf, nan, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.stats import centre, mad, median, modified_z, squares_about_mean, summarize

property_test = settings(max_examples=80, derandomize=True, deadline=None)
times = st.floats(min_value=-1e4, max_value=1e4, allow_nan=False)
handfuls = st.lists(times, min_size=2, max_size=12)


def test_no_value_has_no_mean() -> None:
    found = summarize([])
    assert found.n == 0
    assert found.mean is found.sd is found.low is found.high is found.median is None
    assert median([]) is None
    assert mad([]) is None
    assert modified_z([]) is None


def test_one_value_has_no_scatter() -> None:
    found = summarize([7.26])
    assert (found.n, found.mean, found.low, found.high, found.median) == (1, 7.26, 7.26, 7.26, 7.26)
    assert found.sd is None


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_what_is_not_a_number_is_refused(bad: float) -> None:
    for function in (summarize, median, mad, modified_z):
        with pytest.raises(InputError, match="finite"):
            function([7.2, bad])


def test_numacc4_to_the_limit_of_the_data() -> None:
    # Source: NIST StRD univariate, data set NumAcc4 (from memory): mean 10000000.2, sd 0.1.
    values = [10000000.2, *[10000000.1, 10000000.3] * 500]
    found = summarize(values)
    assert found.mean == pytest.approx(10000000.2, rel=1e-15)
    assert found.sd == pytest.approx(0.1, rel=2e-8)


def test_numacc2() -> None:
    # Source: NIST StRD univariate, data set NumAcc2 (from memory): mean 1.2, sd 0.1.
    found = summarize([1.2, *[1.1, 1.3] * 500])
    assert found.mean == pytest.approx(1.2, rel=1e-15)
    assert found.sd == pytest.approx(0.1, rel=1e-14)


def test_equal_readings_have_no_modified_z() -> None:
    assert mad([8.4, 8.4, 8.4, 8.7]) == 0.0
    assert modified_z([8.4, 8.4, 8.4, 8.7]) is None
    assert modified_z([0.0, 5e-324, 1.0, -5e-324]) is None


@property_test
@given(handfuls)
def test_agrees_with_exact_fractions(values: list[float]) -> None:
    found = summarize(values)
    assert found.mean == pytest.approx(statistics.mean(values), rel=1e-15, abs=1e-12)
    assert found.sd == pytest.approx(statistics.stdev(values), rel=1e-12, abs=1e-11)
    assert found.median == statistics.median(values)


@property_test
@given(handfuls, st.floats(-1e3, 1e3), st.floats(0.1, 10.0))
def test_shift_and_scale(values: list[float], shift: float, scale: float) -> None:
    moved = [scale * value + shift for value in values]
    assert centre(moved) == pytest.approx(scale * centre(values) + shift, rel=1e-12, abs=1e-9)
    root = sqrt(squares_about_mean(values))
    assert sqrt(squares_about_mean(moved)) == pytest.approx(scale * root, rel=1e-9, abs=1e-9)


@property_test
@given(handfuls)
def test_order_does_not_matter(values: list[float]) -> None:
    assert summarize(values) == summarize(sorted(values))
