"""Two estimated spreads and one known error: against simulation, and where it must be simpler."""

from __future__ import annotations

import numpy as np
import pytest

from core.stats import Spread, half_width
from core.stats.blurred import blurred_below, blurred_quantile
from core.stats.student import t_quantile, two_spread_quantile


@pytest.mark.parametrize("scales", [(1.0, 4, 1.0, 3), (1.0, 34, 2.0, 5), (0.2, 4, 1.0, 30)])
def test_without_a_known_error_it_is_the_law_of_two_spreads(
    scales: tuple[float, float, float, float],
) -> None:
    """To eight digits, also on the way there."""
    plain = two_spread_quantile(0.975, *scales)
    assert blurred_quantile(0.975, *scales, 0.0) == plain
    assert blurred_quantile(0.975, *scales, 1e-6) == pytest.approx(plain, rel=1e-8)


@pytest.mark.parametrize(
    ("scales", "known"),
    [((1.0, 8, 0.5, 3), 0.7), ((1.0, 4, 0.0, 3), 1.0), ((0.3, 20, 1.0, 5), 0.5)],
)
def test_against_simulation(scales: tuple[float, float, float, float], known: float) -> None:
    """400,000 draws: as many lie below as it says, within four standard errors."""
    rng = np.random.default_rng(11)
    first, dof_1, second, dof_2 = scales
    n = 400_000
    drawn = first * rng.standard_t(dof_1, n) + second * rng.standard_t(dof_2, n)
    drawn += known * rng.standard_normal(n)
    at = blurred_quantile(0.975, *scales, known)
    assert float((drawn < at).mean()) == pytest.approx(0.975, abs=4 * (0.975 * 0.025 / n) ** 0.5)
    assert blurred_below(at, *scales, known) == pytest.approx(0.975, abs=1e-7)


def test_a_range_is_widened_by_what_is_known_to_be_off() -> None:
    """On one day and on two; and it is the normal law where nothing else is in it."""
    spread, day = Spread(0.1, 10, 6), Spread(0.15, 3, 0)
    for between in (None, day):
        plain = half_width(0.5, spread, between)
        assert half_width(0.5, spread, between, known=0.2) > plain
    assert half_width(0.0, spread, None, known=0.2) == pytest.approx(0.2 * 1.959964, rel=1e-5)
    assert half_width(0.5, spread) == pytest.approx(t_quantile(0.975, 10) * 0.1 * 0.5**0.5)
