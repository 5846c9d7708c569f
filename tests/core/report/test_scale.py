"""The axis: cells, and round ticks."""

from __future__ import annotations

import doctest
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

import core.report.scale
from core.report.scale import Scale, round_ticks, widened

LOWS = st.floats(-500.0, 500.0)
WIDTHS = st.floats(0.01, 500.0)


def test_the_examples_are_true() -> None:
    """In the docstrings."""
    assert doctest.testmod(core.report.scale).failed == 0


@given(low=LOWS, width=WIDTHS, cells=st.integers(2, 200), share=st.floats(0.0, 1.0))
def test_a_value_falls_within_half_a_cell(
    low: float, width: float, cells: int, share: float
) -> None:
    """The middle of its cell is no further away than that."""
    scale = Scale(low, low + width, cells)
    value = low + share * width
    column = scale.column(value)
    assert 0 <= column < cells
    assert scale.holds(value)
    assert abs(low + column * scale.step - value) <= scale.step * 0.5 * (1 + 1e-6)


@given(
    low=LOWS,
    width=WIDTHS,
    cells=st.integers(2, 200),
    values=st.lists(st.floats(-2000, 2000), min_size=2, max_size=8),
)
def test_cells_never_go_backwards(
    low: float, width: float, cells: int, values: list[float]
) -> None:
    """A higher value is never further to the left, on the scale or clipped to it."""
    scale = Scale(low, low + width, cells)
    columns = [scale.column(value) for value in sorted(values)]
    clipped = [scale.clipped(value) for value in sorted(values)]
    assert columns == sorted(columns)
    assert clipped == sorted(clipped)
    assert all(0 <= column < cells for column in clipped)


@given(low=LOWS, width=WIDTHS, most=st.integers(1, 40))
def test_ticks_are_round_few_and_evenly_apart(low: float, width: float, most: int) -> None:
    """Within the ends, labelled as they are, 1, 2 or 5 times a power of ten apart."""
    high = low + width
    ticks = round_ticks(low, high, most)
    assert len(ticks) <= most
    for tick in ticks:
        assert low - width * 1e-6 <= tick.value <= high + width * 1e-6
        assert float(tick.label) == pytest.approx(tick.value, abs=width * 1e-6)
        assert not tick.label.startswith("-0") or float(tick.label) != 0
    steps = [b.value - a.value for a, b in pairwise(ticks)]
    for step in steps:
        assert step == pytest.approx(steps[0])
        first = f"{step:.3e}"
        assert first.partition("e")[0] in ("1.000", "2.000", "5.000")


@given(low=LOWS, width=WIDTHS, most=st.integers(4, 40))
def test_there_are_always_some_ticks(low: float, width: float, most: int) -> None:
    """Two at least, where four or more are let."""
    assert len(round_ticks(low, low + width, most)) >= 2


@given(values=st.lists(st.floats(-500, 500), min_size=1, max_size=6), least=st.floats(0.01, 10))
def test_widened_holds_all_values_and_is_wide_enough(values: list[float], least: float) -> None:
    """And no wider than it must be."""
    low, high = widened(values, least)
    assert low <= min(values)
    assert high >= max(values)
    assert high - low >= least * (1 - 1e-9)
    assert high - low <= max(least, max(values) - min(values)) + 1e-9
