"""Student's t, and the law of a difference that carries two estimated spreads at once."""

from __future__ import annotations

from functools import lru_cache
from math import hypot, isinf, log, pi, sqrt
from typing import TYPE_CHECKING

from core.errors import OutOfRangeError
from core.stats.guard import fraction, not_negative

if TYPE_CHECKING:
    import numpy as np

__all__ = [
    "equivalent_dof",
    "shifted_t_beyond",
    "t_below",
    "t_quantile",
    "two_spread_below",
    "two_spread_quantile",
]

_NODES = 160  # trapezoid nodes: error below 1e-9 from 0.5 to ten million degrees of freedom
_ENDLESS = 1e7  # degrees of freedom that stand for a spread known exactly (error below 1e-6)
_FARTHEST = 600.0  # log odds beyond which the share could no longer be told from 0 or 1
_STEPS = 60  # Newton steps before giving up; 4 to 8 are usual


def _checked_dof(dof: float) -> float:
    if not dof > 0.0:
        raise OutOfRangeError(f"Degrees of freedom are {dof:g}: they must be above zero.")
    return float(dof)


def t_quantile(probability: float, dof: float) -> float:
    """Return the value that Student's t stays below with this probability.

    Args:
        probability: strictly between 0 and 1.
        dof: degrees of freedom, above zero; infinite means the normal distribution.

    >>> round(t_quantile(0.975, 10), 4)
    2.2281
    """
    from scipy.special import ndtri, stdtrit  # lazy: 0.2 s

    level = fraction(probability, "Probability")
    nu = _checked_dof(dof)
    return float(ndtri(level) if isinf(nu) else stdtrit(nu, level))


def t_below(value: float, dof: float) -> float:
    """Return the probability that Student's t with ``dof`` degrees of freedom is below a value."""
    from scipy.special import ndtr, stdtr  # lazy: 0.2 s

    nu = _checked_dof(dof)
    return float(ndtr(value) if isinf(nu) else stdtr(nu, value))


def equivalent_dof(quantile: float, probability: float) -> float:
    """Return the degrees of freedom whose t quantile at ``probability`` is ``quantile``.

    Infinite when the quantile is that of the normal distribution or less.
    """
    from scipy.special import ndtri, stdtridf  # lazy: 0.2 s

    if quantile <= float(ndtri(probability)) * (1.0 + 1e-9):
        return float("inf")
    return float(stdtridf(probability, quantile))


def shifted_t_beyond(limit: float, shift: float, dof: float) -> float:
    """Return the chance that a noncentral t lies beyond plus or minus ``limit``.

    Args:
        limit: zero or more.
        shift: the noncentrality, true difference over its true standard error.
        dof: degrees of freedom, above zero; infinite means the normal distribution.

    ``E[Phi(shift - limit s) + Phi(-shift - limit s)]`` over ``s^2 = chi2_dof / dof``, a trapezoid
    in the logarithm of chi2. (The library's ``nctdtr`` loses its way at large shifts.)

    **Source:** definition of the noncentral t; Johnson and Kotz (1970), ch. 31 (from memory).
    """
    import numpy as np  # lazy: 0.1 s
    from scipy.special import digamma, ndtr, polygamma  # lazy: 0.2 s

    half = min(_checked_dof(dof), _ENDLESS) / 2.0
    middle, width = float(digamma(half)), sqrt(float(polygamma(1, half)))
    log_gamma = np.linspace(middle - 8.0 * width - 18.0 / half, middle + 8.0 * width, 8 * _NODES)
    log_density = half * log_gamma - np.exp(log_gamma)
    weight = np.exp(log_density - log_density.max())
    root = limit * np.exp(0.5 * (log_gamma - log(half)))
    chance = weight @ (ndtr(shift - root) + ndtr(-shift - root)) / weight.sum()
    return min(1.0, float(chance))


@lru_cache(maxsize=64)
def _shares(dof_1: float, dof_2: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Nodes u, 1 - u and weights over the share u = chi2_1 / (chi2_1 + chi2_2), which is Beta.

    Trapezoid in the log odds of u, where the density is smooth and dies off exponentially at both
    ends, so that few nodes give many digits for small and large degrees of freedom alike.
    """
    import numpy as np  # lazy: 0.1 s
    from scipy.special import digamma, expit, log_expit, polygamma  # lazy: 0.2 s

    half_1, half_2 = dof_1 / 2.0, dof_2 / 2.0
    middle = float(digamma(half_1) - digamma(half_2))
    width = sqrt(float(polygamma(1, half_1) + polygamma(1, half_2)))
    left, right = middle - 8.0 * width - 18.0 / half_1, middle + 8.0 * width + 18.0 / half_2
    log_odds = np.linspace(max(left, -_FARTHEST), min(right, _FARTHEST), _NODES)
    log_density = half_1 * log_expit(log_odds) + half_2 * log_expit(-log_odds)
    weight = np.exp(log_density - log_density.max())
    return expit(log_odds), expit(-log_odds), weight / weight.sum()


def _scales(
    scale_1: float, dof_1: float, scale_2: float, dof_2: float
) -> tuple[np.ndarray, np.ndarray, float]:
    """Scale of the t for each share, the weight of each, and the common degrees of freedom."""
    import numpy as np  # lazy: 0.1 s

    nu_1, nu_2 = min(_checked_dof(dof_1), _ENDLESS), min(_checked_dof(dof_2), _ENDLESS)
    share, rest, weight = _shares(nu_1, nu_2)
    squares = scale_1**2 * nu_1 / share + scale_2**2 * nu_2 / rest
    return np.sqrt(squares / (nu_1 + nu_2)), weight, nu_1 + nu_2


def two_spread_below(
    value: float, scale_1: float, dof_1: float, scale_2: float, dof_2: float
) -> float:
    """Return the probability that ``scale_1 T1 + scale_2 T2`` is below ``value``.

    Args:
        value: in the unit of the scales.
        scale_1, scale_2: standard errors from the two sources, zero or more, not both zero.
        dof_1, dof_2: degrees of freedom of the two independent t variables, above zero.

    Given the share u of the first chi-square in the sum of both, the total is one t variable with
    dof_1 + dof_2 degrees of freedom and variance
    ``(scale_1^2 dof_1 / u + scale_2^2 dof_2 / (1 - u)) / (dof_1 + dof_2)``, so that one integral
    over u, a Beta variable, is the whole sum.

    **Source:** the Behrens-Fisher distribution; Box and Tiao, Bayesian Inference in Statistical
    Analysis (1973), section 2.5 (from memory); derivation as above.
    """
    from scipy.special import stdtr  # lazy: 0.2 s

    if not hypot(not_negative(scale_1, "Scale"), not_negative(scale_2, "Scale")):
        raise OutOfRangeError("Both spreads are zero: there is no scatter to judge against.")
    scale, weight, dof = _scales(scale_1, dof_1, scale_2, dof_2)
    return float(weight @ stdtr(dof, value / scale))


def two_spread_quantile(
    probability: float, scale_1: float, dof_1: float, scale_2: float, dof_2: float
) -> float:
    """Return the value that ``scale_1 T1 + scale_2 T2`` stays below with this probability.

    Arguments as for :func:`two_spread_below`; ``probability`` strictly between 0 and 1. With one
    scale zero this is the plain t quantile times the other scale.

    >>> round(two_spread_quantile(0.975, 1.0, 10, 0.0, 3), 4)
    2.2281
    """
    fraction(probability, "Probability")
    first, second = not_negative(scale_1, "Scale"), not_negative(scale_2, "Scale")
    if not second:
        return first * t_quantile(probability, dof_1)
    if not first:
        return second * t_quantile(probability, dof_2)
    size = hypot(first, second)
    if probability < 0.5:
        return -two_spread_quantile(1.0 - probability, first, dof_1, second, dof_2)
    return size * _solve(probability, first / size, dof_1, second / size, dof_2)


def _solve(probability: float, scale_1: float, dof_1: float, scale_2: float, dof_2: float) -> float:
    """Newton's method on the distribution function, kept inside a shrinking bracket."""
    from scipy.special import stdtr  # lazy: 0.2 s

    scale, weight, dof = _scales(scale_1, dof_1, scale_2, dof_2)
    dof_1, dof_2 = min(dof_1, _ENDLESS), min(dof_2, _ENDLESS)
    common = 1.0 / (scale_1**4 / dof_1 + scale_2**4 / dof_2)  # Welch-Satterthwaite: a good start
    at, low, high = t_quantile(probability, common), 0.0, float("inf")
    for _ in range(_STEPS):
        ratio = at / scale
        miss = float(weight @ stdtr(dof, ratio)) - probability
        low, high = (low, at) if miss > 0.0 else (at, high)
        slope = float(weight @ ((1.0 + ratio * ratio / dof) ** (-(dof + 1.0) / 2.0) / scale))
        step = at - miss / (slope * _density_at_zero(dof))
        step = step if low < step < high else min((low + high) / 2.0, 2.0 * at)
        if abs(step - at) <= 1e-11 * at:
            return step
        at = step
    return at


def _density_at_zero(dof: float) -> float:
    """Density of Student's t at zero: Gamma((dof+1)/2) / (sqrt(dof pi) Gamma(dof/2))."""
    from scipy.special import poch  # lazy: 0.2 s

    return float(poch(dof / 2.0, 0.5)) / sqrt(dof * pi)
