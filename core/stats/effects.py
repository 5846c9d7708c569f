"""How far B differs from A, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isinf, sqrt

from core.errors import UnknownInputError
from core.stats.guard import above_zero, at_least, finite, finite_values, fraction, not_negative
from core.stats.intervals import Difference, interval
from core.stats.repeatability import ISO_FACTOR, Spread
from core.stats.student import t_below, t_quantile
from core.stats.summary import centre, squares_about_mean
from core.stats.swaps import DriftRemoved, aba, drift_removed

__all__ = [
    "Difference",
    "DriftRemoved",
    "Shift",
    "aba",
    "critical_difference",
    "critical_difference_t",
    "difference",
    "drift_removed",
    "posterior_shift",
    "welch",
    "welch_from_summary",
]


@dataclass(frozen=True, slots=True)
class Shift:
    """What is believed of a true difference after seeing the data."""

    mean: float
    """Middle of the belief, in the observations' unit."""
    sd: float
    """Its standard deviation; infinite with 2 degrees of freedom or fewer."""
    low: float
    """Lower end of the interval that holds the true difference with the asked chance."""
    high: float
    """Upper end of it."""
    below_zero: float
    """Chance that the true difference is below zero, 0 to 1."""


def difference(
    a: Sequence[float],
    b: Sequence[float],
    spread: Spread,
    day_spread: Spread | None = None,
    level: float = 0.95,
) -> Difference:
    """Return mean(B) - mean(A) with its interval, from the spread of the whole log.

    Args:
        a, b: observations of each build, one or more on each side, in one unit.
        spread: spread of one observation, its degrees of freedom from prior and log.
        day_spread: spread between sessions, where A and B ran on different days; None on one day.
        level: chance that the interval covers the true difference, between 0 and 1.

    ``Var = spread^2 (1/nA + 1/nB) [+ 2 day_spread^2]``; the ends as :func:`half_width` has them.

    Raises:
        UnknownInputError: a side holds no observation.
        InputError: an observation is not a finite number.

    **Source:** normal observations with scaled inverse chi-square spreads and a flat prior on the
    means; Gelman et al., Bayesian Data Analysis, ch. 3 (from memory).

    >>> answer = difference([8.4], [8.2], Spread(sd=0.1, dof=14, own_dof=10))
    >>> round(answer.value, 3), round(answer.low, 3), round(answer.high, 3)
    (-0.2, -0.503, 0.103)
    """
    left, right = finite_values(a), finite_values(b)
    for side, numbers in (("A", left), ("B", right)):
        if not numbers:
            raise UnknownInputError(
                f"{side} holds no attempt: there is nothing to compare.", (f"attempts of {side}",)
            )
    sizes = (len(left), len(right))
    factor = 1.0 / len(left) + 1.0 / len(right)
    return interval(centre(right) - centre(left), factor, sizes, spread, day_spread, level)


def welch(a: Sequence[float], b: Sequence[float], level: float = 0.95) -> Difference:
    """Return mean(B) - mean(A) from these values alone, each side with its own scatter.

    Args:
        a, b: two or more observations on each side, in one unit.
        level: chance that the interval covers the true difference.

    Raises:
        UnknownInputError: fewer than two values on a side, or no scatter at all.

    **Source:** Welch, Biometrika 34 (1947) 28; as :func:`welch_from_summary`.
    """
    sides = []
    for name, values in (("A", a), ("B", b)):
        numbers = finite_values(values)
        if len(numbers) < 2:
            raise UnknownInputError(
                f"{name} holds fewer than two attempts: its own scatter is unknown.",
                missing=(f"attempts of {name}",),
            )
        sd = sqrt(squares_about_mean(numbers) / (len(numbers) - 1))
        sides.append((centre(numbers), sd, len(numbers)))
    return welch_from_summary(*sides[0], *sides[1], level=level)


def welch_from_summary(
    mean_a: float,
    sd_a: float,
    n_a: int,
    mean_b: float,
    sd_b: float,
    n_b: int,
    level: float = 0.95,
) -> Difference:
    """Return mean_b - mean_a with Welch's interval, from means, standard deviations and counts.

    ``v = sd^2/n``; ``dof = (vA + vB)^2 / (vA^2/(nA-1) + vB^2/(nB-1))``.

    Raises:
        OutOfRangeError: a count below 2 or a standard deviation below zero.
        UnknownInputError: both standard deviations are zero.

    **Source:** Welch 1947; NIST/SEMATECH e-Handbook 1.3.5.3.
    """
    for count in (n_a, n_b):
        at_least(2, count, "The number of attempts")
    v_a = not_negative(sd_a, "Standard deviation") ** 2 / n_a
    v_b = not_negative(sd_b, "Standard deviation") ** 2 / n_b
    total = v_a + v_b
    if not total:
        raise UnknownInputError("All values are equal: the scatter is unknown.", ("scatter",))
    share = v_a / total
    dof = 1.0 / (share**2 / (n_a - 1) + (1.0 - share) ** 2 / (n_b - 1))
    known = Spread(sd=sqrt(total), dof=dof, own_dof=dof)
    value = finite(mean_b, "Mean of B") - finite(mean_a, "Mean of A")
    return interval(value, 1.0, (n_a, n_b), known, level=level)


def posterior_shift(
    value: float,
    spread: Spread,
    n_a: int,
    n_b: int,
    *,
    day_sd: float = 0.0,
    prior_sd: float = inf,
    level: float = 0.95,
) -> Shift:
    """Return the belief about a true difference of means after seeing ``value``.

    Args:
        value: mean(B) - mean(A), in the observations' unit.
        spread: spread of one observation. With a prior or a day spread it is taken as known.
        n_a, n_b: observations on each side, one or more.
        day_sd: standard deviation between days, one day each; 0 on one day.
        prior_sd: standard deviation of a normal prior about zero; infinite: no prior (flat).
        level: chance that the interval holds the true difference.

    Known: ``V = s^2 (1/nA + 1/nB) + 2 day^2``, mean ``d s0^2/(s0^2 + V)``, variance
    ``1/(1/s0^2 + 1/V)``. Flat prior on one day: ``d + s sqrt(1/nA + 1/nB) t_dof``.

    **Source:** Gelman et al., Bayesian Data Analysis, ch. 2 and 3 (from memory).
    """
    upper = (1.0 + fraction(level, "Level")) / 2.0
    factor = sum(1.0 / at_least(1, count, "The number of attempts") for count in (n_a, n_b))
    variance = above_zero(spread.sd, "Spread") ** 2 * factor
    variance += 2.0 * not_negative(day_sd, "Day spread") ** 2
    middle, scale, dof = finite(value, "Difference"), sqrt(variance), inf
    if isinf(prior_sd) and not day_sd:
        dof = spread.dof
    elif not isinf(prior_sd):
        weight = above_zero(prior_sd, "Prior") ** 2 / (prior_sd**2 + variance)
        middle, scale = middle * weight, scale * sqrt(weight)
    half = t_quantile(upper, dof) * scale
    widening = 1.0 if isinf(dof) else dof / (dof - 2.0) if dof > 2.0 else inf
    return Shift(
        mean=middle,
        sd=scale * sqrt(widening),
        low=middle - half,
        high=middle + half,
        below_zero=t_below(-middle / scale, dof),
    )


def critical_difference(s_r: float, n_1: int, n_2: int) -> float:
    """Return the difference of two means that 95 % stay under when s_r is known well.

    ``2.8 s_r sqrt(1/(2 n1) + 1/(2 n2))``, in the unit of ``s_r``.

    **Source:** ISO 5725-6:1994, 4.2.
    """
    for count in (n_1, n_2):
        at_least(1, count, "The number of attempts")
    return ISO_FACTOR * not_negative(s_r, "Repeatability") * sqrt(0.5 / n_1 + 0.5 / n_2)


def critical_difference_t(spread: Spread, n_1: int, n_2: int, level: float = 0.95) -> float:
    """Return the same with the spread only as well known as it is.

    ``t_{(1+level)/2, dof} s sqrt(1/n1 + 1/n2)``: half the width of the interval on one day.

    **Source:** Student; the honest form where the degrees of freedom are few.
    """
    for count in (n_1, n_2):
        at_least(1, count, "The number of attempts")
    upper = (1.0 + fraction(level, "Level")) / 2.0
    sd = not_negative(spread.sd, "Repeatability")
    return t_quantile(upper, spread.dof) * sd * sqrt(1.0 / n_1 + 1.0 / n_2)
