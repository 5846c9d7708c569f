"""Ranges carried through formulas: against the closed form, Monte Carlo, and their own corners."""

from __future__ import annotations

import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.engine import clearance_volume, compression_ratio, swept_volume
from core.errors import InputError, UnknownInputError
from core.ranged import Ranged, carry, carry_worst


def ratio(bore: float, stroke: float, chamber: float, deck: float, gasket: float) -> float:
    clearance = clearance_volume(chamber, bore, deck, 0.0705, gasket)
    return compression_ratio(swept_volume(bore, stroke), clearance)


READINGS = {
    "bore": Ranged.within(0.070, 10e-6),
    "stroke": Ranged.exact(0.054),
    "chamber": Ranged.within(22.5e-6, 0.2e-6),
    "deck": Ranged.within(0.25e-3, 20e-6),
    "gasket": Ranged.within(1.1e-3, 20e-6),
}


def test_ratio_reads_with_its_range() -> None:
    """By hand: Vc 27.756 cm³, dCR/dVc -0.270 per cm³, parts 0.054, 0.021 and 0.021 in squares."""
    found = carry(ratio, **READINGS)
    assert found.text() == "8.49 (8.43 to 8.55)"


def test_carried_range_is_the_scatter_of_a_simulation() -> None:
    """One standard deviation in, one standard deviation out (Monte Carlo, 20,000 draws)."""
    draw = random.Random(7)
    results = [
        ratio(**{k: draw.gauss(r.value, r.high - r.value) for k, r in READINGS.items()})
        for _ in range(20_000)
    ]
    found = carry(ratio, **READINGS)
    assert (found.high - found.low) / 2 == pytest.approx(statistics.stdev(results), rel=0.03)
    assert found.value == pytest.approx(statistics.mean(results), abs=0.003)


def test_worst_case_holds_whatever_happens() -> None:
    draw = random.Random(3)
    worst = carry_worst(ratio, **READINGS)
    for _ in range(2_000):
        inside = {k: draw.uniform(r.low, r.high) for k, r in READINGS.items()}
        assert worst.low <= ratio(**inside) <= worst.high


def test_worst_case_is_wider_than_independent_doubts() -> None:
    worst, likely = carry_worst(ratio, **READINGS), carry(ratio, **READINGS)
    assert worst.low < likely.low < likely.value < likely.high < worst.high


@given(
    a=st.floats(-100, 100),
    b=st.floats(-100, 100),
    half_a=st.floats(0, 10),
    half_b=st.floats(0, 10),
)
def test_sum_of_two_adds_in_squares(a: float, b: float, half_a: float, half_b: float) -> None:
    found = carry(lambda x, y: x + y, x=Ranged.within(a, half_a), y=Ranged.within(b, half_b))
    assert found.high - found.value == pytest.approx((half_a**2 + half_b**2) ** 0.5, abs=1e-9)


def test_lopsided_range_stays_lopsided() -> None:
    found = carry(lambda x: -2 * x, x=Ranged(1.0, 0.9, 1.3))
    assert (found.low, found.value, found.high) == pytest.approx((-2.6, -2.0, -1.8))


def test_unknown_inputs_are_all_named() -> None:
    with pytest.raises(UnknownInputError) as caught:
        carry(ratio, bore=0.07, stroke=None, chamber=None, deck=0.0, gasket=0.001)
    assert caught.value.missing == ("stroke", "chamber")
    assert str(caught.value) == "Unknown: stroke, chamber not known."


def test_a_range_that_reaches_the_impossible_is_refused() -> None:
    with pytest.raises(InputError, match="gasket thickness cannot be below zero"):
        carry(ratio, **(READINGS | {"gasket": Ranged.within(1e-5, 2e-5)}))


def test_value_outside_its_range_is_refused() -> None:
    with pytest.raises(InputError, match="does not lie from"):
        Ranged(2.0, 0.0, 1.0)


def test_too_many_doubts_for_all_corners() -> None:
    many = {f"x{i}": Ranged.within(1.0, 0.1) for i in range(13)}
    with pytest.raises(InputError, match="at most 12"):
        carry_worst(lambda **x: sum(x.values()), **many)
