"""Simulates comparisons with known truth and counts how often the judgement is right.

The tables in Markdown: ``python tests/core/stats/calibration_table.py``.

Truth is drawn from the priors: the variance of one observation from a scaled inverse chi-square
law with 4 degrees of freedom at the usual sd, the day variance from one with 3 at 2 % of the
typical value. Thousands of comparisons are judged at once: the half width comes from the public
``half_width`` at 80 spreads and is interpolated between them. ``disagreement`` judges a sample
through ``posterior_spread``, ``difference``, ``judge`` and ``welch`` one by one and returns how far
the two ways are apart; the tests hold it near zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
import numpy.typing as npt
from scipy import special

from core.stats import (
    Spread,
    SumOfSquares,
    Verdict,
    day_spread,
    difference,
    half_width,
    judge,
    posterior_spread,
    welch,
    within,
)

Array = npt.NDArray[np.float64]

USUAL_SD = 0.11  # s, one observation of a standing start with a 10 Hz logger: common practice
TYPICAL = 7.2  # s, a standing start of the same kind: common practice
PRIOR_DOF, DAY_DOF = 4, 3
DAY_SD = 0.02 * TYPICAL
POOLED = (0, 10, 30)
SIZES = tuple(range(1, 9))
MANY = 20_000


@dataclass(frozen=True, slots=True)
class Draws:
    """Simulated comparisons of one kind, one row each."""

    a: Array
    """Observations of A, one comparison a row."""
    b: Array
    """Observations of B."""
    pooled_ss: Array
    """Sum of squares that other sessions brought."""
    pooled_dof: int
    """Its degrees of freedom."""
    truth: Array
    """True difference B - A."""
    sigma: Array
    """True standard deviation of one observation."""
    day: Spread | None
    """What is believed of the day spread; None on one day."""


def draw(
    n: int,
    pooled_dof: int,
    *,
    days: bool = False,
    shift: float | None = None,
    sd_factor: float | None = None,
    day_sd: float = DAY_SD,
    count: int = MANY,
    seed: int = 20_260_412,
) -> Draws:
    """Draw ``count`` comparisons of ``n`` against ``n`` observations.

    ``shift`` is the true difference in true sds (None: a normal one of a few tenths of a second);
    ``sd_factor`` fixes the true sd at so many usual sds (None: drawn from the prior).
    """
    rng = np.random.default_rng([seed, n, pooled_dof, int(days)])
    sigma = np.sqrt(PRIOR_DOF * USUAL_SD**2 / rng.chisquare(PRIOR_DOF, count))
    if sd_factor is not None:
        sigma = np.full(count, sd_factor * USUAL_SD)
    true_day = np.sqrt(DAY_DOF * day_sd**2 / rng.chisquare(DAY_DOF, count)) * days
    truth = rng.normal(0.0, 0.3, count) if shift is None else shift * sigma
    offsets = rng.normal(size=(2, count)) * true_day
    scatter = rng.normal(size=(2, count, n)) * sigma[:, None]
    pooled = rng.chisquare(pooled_dof, count) * sigma**2 if pooled_dof else np.zeros(count)
    return Draws(
        a=TYPICAL + offsets[0][:, None] + scatter[0],
        b=TYPICAL + (offsets[1] + truth)[:, None] + scatter[1],
        pooled_ss=pooled,
        pooled_dof=pooled_dof,
        truth=truth,
        sigma=sigma,
        day=Spread(day_sd, DAY_DOF, 0) if days else None,
    )


def own_ss(draws: Draws) -> Array:
    """Sum of squares of each comparison's own observations about the mean of their side."""
    sides = [((x - x.mean(1, keepdims=True)) ** 2).sum(1) for x in (draws.a, draws.b)]
    return np.asarray(sides[0] + sides[1])


def judged(draws: Draws) -> tuple[Array, Array]:
    """Difference and half width of every comparison."""
    n = draws.a.shape[1]
    dof = PRIOR_DOF + draws.pooled_dof + 2 * (n - 1)
    sd = np.sqrt((PRIOR_DOF * USUAL_SD**2 + draws.pooled_ss + own_ss(draws)) / dof)
    grid = np.geomspace(sd.min(), sd.max() * (1.0 + 1e-12), 80)
    halves = [half_width(2.0 / n, Spread(at, dof, 0), draws.day) for at in grid]
    half = np.exp(np.interp(np.log(sd), np.log(grid), np.log(halves)))
    return draws.b.mean(1) - draws.a.mean(1), half


def coverage(draws: Draws) -> float:
    """Share of comparisons whose interval holds the true difference."""
    value, half = judged(draws)
    return float(np.mean(np.abs(value - draws.truth) <= half))


def called(draws: Draws) -> float:
    """Share of comparisons called quicker or slower."""
    value, half = judged(draws)
    return float(np.mean(np.abs(value) > half))


def called_by_welch(draws: Draws) -> float | None:
    """Share that Welch's test on the same observations calls, two-sided 5 %; None for n = 1."""
    if draws.a.shape[1] < 2:
        return None
    return float(np.mean(_welch_excess(draws) > 0.0))


def _welch_excess(draws: Draws) -> Array:
    n = draws.a.shape[1]
    v_a, v_b = (x.var(1, ddof=1) / n for x in (draws.a, draws.b))
    dof = (v_a + v_b) ** 2 / (v_a**2 + v_b**2) * (n - 1)
    half = special.stdtrit(dof, 0.975) * np.sqrt(v_a + v_b)
    return np.asarray(np.abs(draws.b.mean(1) - draws.a.mean(1)) - half)


def called_by_student(draws: Draws) -> float | None:
    """Share that Student's test calls (both sides of one scatter, no log); None for n = 1."""
    n = draws.a.shape[1]
    if n < 2:
        return None
    half = special.stdtrit(2 * (n - 1), 0.975) * np.sqrt(own_ss(draws) / (n - 1) / n)
    return float(np.mean(np.abs(draws.b.mean(1) - draws.a.mean(1)) > half))


def coverage_by_short_cut(draws: Draws) -> float:
    """Coverage if one t with Welch-Satterthwaite degrees of freedom stood for both spreads."""
    assert draws.day is not None
    n = draws.a.shape[1]
    dof = PRIOR_DOF + draws.pooled_dof + 2 * (n - 1)
    v_own = (PRIOR_DOF * USUAL_SD**2 + draws.pooled_ss + own_ss(draws)) / dof * 2.0 / n
    v_day = 2.0 * draws.day.sd**2
    joint = (v_own + v_day) ** 2 / (v_own**2 / dof + v_day**2 / draws.day.dof)
    half = special.stdtrit(joint, 0.975) * np.sqrt(v_own + v_day)
    return float(np.mean(np.abs(draws.b.mean(1) - draws.a.mean(1) - draws.truth) <= half))


def disagreement(draws: Draws, count: int = 100) -> float:
    """Largest relative difference of the quick way and the public functions on a sample.

    Infinite if one verdict differs although its interval's end is not within a ten-thousandth of
    zero.
    """
    value, half = judged(draws)
    excess = _welch_excess(draws) if draws.a.shape[1] > 1 else None
    worst = 0.0
    for i in range(count):
        pooled = within([draws.a[i], draws.b[i]])
        pooled += SumOfSquares(float(draws.pooled_ss[i]), draws.pooled_dof)
        known = posterior_spread(USUAL_SD, PRIOR_DOF, pooled)
        found = difference(draws.a[i].tolist(), draws.b[i].tolist(), known, draws.day)
        worst = max(worst, abs((found.high - found.low) / 2.0 / float(half[i]) - 1.0))
        worst = max(worst, abs(found.value - float(value[i])))
        near = abs(abs(found.value) - (found.high - found.low) / 2.0) < 1e-4 * float(half[i])
        call = judge(found, None, lower_is_better=True).word is not Verdict.CANT_TELL
        if not near and call != bool(abs(value[i]) > half[i]):
            return float("inf")
        if excess is not None:
            other = welch(draws.a[i].tolist(), draws.b[i].tolist())
            gap = abs(other.value) - (other.high - other.low) / 2.0
            worst = max(worst, abs(gap - float(excess[i])))
    return worst


def coverage_with_repeats(
    builds: int, sessions: int, count: int = 2_000, n: int = 4, pooled_dof: int = 10
) -> float:
    """Coverage on different days when the day spread has seen repeats of other builds.

    Each of ``builds`` was run in ``sessions`` sessions of 2 to 5 observations; every comparison
    goes through ``day_spread``, ``posterior_spread`` and ``difference`` themselves.
    """
    draws = draw(n, pooled_dof, days=False, count=count)
    rng = np.random.default_rng([7, builds, sessions])
    hits = 0
    for i in range(count):
        sigma = float(draws.sigma[i])
        day = sqrt(DAY_DOF * DAY_SD**2 / float(rng.chisquare(DAY_DOF)))
        sizes = rng.integers(2, 6, size=(builds, sessions))
        means = TYPICAL + rng.normal(size=sizes.shape) * np.sqrt(day**2 + sigma**2 / sizes)
        groups = [
            list(zip(row.tolist(), counts.tolist(), strict=True))
            for row, counts in zip(means, sizes, strict=True)
        ]
        pooled = within([draws.a[i], draws.b[i]])
        pooled += SumOfSquares(float(draws.pooled_ss[i]), pooled_dof)
        known = posterior_spread(USUAL_SD, PRIOR_DOF, pooled)
        days = day_spread(groups, known.sd**2, DAY_SD, DAY_DOF)
        a, b = (x[i] + float(rng.normal()) * day for x in (draws.a, draws.b))
        found = difference(a.tolist(), b.tolist(), known, days)
        hits += found.low <= float(draws.truth[i]) <= found.high
    return hits / count
