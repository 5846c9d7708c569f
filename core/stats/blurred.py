"""The law of a difference that carries two estimated spreads and one error of known size."""

from __future__ import annotations

from functools import lru_cache
from math import hypot, sqrt
from typing import TYPE_CHECKING

from core.stats.guard import fraction, not_negative
from core.stats.student import _ENDLESS, _checked_dof, _shares, two_spread_quantile

if TYPE_CHECKING:
    import numpy as np

__all__ = ["blurred_below", "blurred_quantile"]

_NODES = 40  # trapezoid nodes over the logarithm of the common chi-square
_STEPS = 60  # Newton steps before giving up; 4 to 8 are usual


@lru_cache(maxsize=64)
def _sizes(dof: float) -> tuple[np.ndarray, np.ndarray]:
    """Nodes of ``chi2_dof / dof`` and their weights; a trapezoid in its logarithm."""
    import numpy as np  # lazy: 0.1 s
    from scipy.special import digamma, polygamma  # lazy: 0.2 s

    half = dof / 2.0
    middle, width = float(digamma(half)), sqrt(float(polygamma(1, half)))
    log_gamma = np.linspace(middle - 8.0 * width - 9.0 / half, middle + 7.0 * width, _NODES)
    log_density = half * log_gamma - np.exp(log_gamma)
    weight = np.exp(log_density - log_density.max())
    return np.exp(log_gamma) / half, weight / weight.sum()


def _deviations(
    scale_1: float, dof_1: float, scale_2: float, dof_2: float, known: float
) -> tuple[np.ndarray, np.ndarray]:
    """Standard deviation of the sum for each pair of chi-squares, and the weight of each."""
    import numpy as np  # lazy: 0.1 s

    nu_1, nu_2 = min(_checked_dof(dof_1), _ENDLESS), min(_checked_dof(dof_2), _ENDLESS)
    if not scale_2:
        share, weight, squares = np.ones(1), np.ones(1), np.array([scale_1**2])
        size, of_size = _sizes(nu_1)
    else:
        share, rest, weight = (nodes[::2] for nodes in _shares(nu_1, nu_2))
        weight = weight / weight.sum()
        squares = (scale_1**2 * nu_1 / share + scale_2**2 * nu_2 / rest) / (nu_1 + nu_2)
        size, of_size = _sizes(nu_1 + nu_2)
    variance = squares[:, None] / size[None, :] + known**2
    return np.sqrt(variance).ravel(), (weight[:, None] * of_size[None, :]).ravel()


def blurred_below(
    value: float, scale_1: float, dof_1: float, scale_2: float, dof_2: float, known: float
) -> float:
    """Return the probability that ``scale_1 T1 + scale_2 T2 + known Z`` is below ``value``.

    Args:
        value: in the unit of the scales.
        scale_1, scale_2: standard errors from the two estimated spreads, zero or more.
        dof_1, dof_2: degrees of freedom of the two independent t variables, above zero.
        known: standard deviation of a normal error on top, zero or more.

    Given both chi-squares the sum is normal; it is averaged over their shares (a Beta variable)
    and their common size (a chi-square with dof_1 + dof_2 degrees of freedom).

    **Source:** as :func:`core.stats.student.two_spread_below`, one normal variable more.
    """
    from scipy.special import ndtr  # lazy: 0.2 s

    deviation, weight = _deviations(scale_1, dof_1, scale_2, dof_2, known)
    return float(weight @ ndtr(value / deviation))


def blurred_quantile(
    probability: float, scale_1: float, dof_1: float, scale_2: float, dof_2: float, known: float
) -> float:
    """Return the value that ``scale_1 T1 + scale_2 T2 + known Z`` stays below.

    Arguments as for :func:`blurred_below`; ``probability`` from 0.5 to below 1. Without the known
    error this is :func:`core.stats.student.two_spread_quantile`.

    >>> round(blurred_quantile(0.975, 1.0, 10, 0.0, 3, 0.0), 4)
    2.2281
    >>> round(blurred_quantile(0.975, 1.0, 1e7, 0.0, 3, 1.0), 3)
    2.772
    """
    first, second = not_negative(scale_1, "Scale"), not_negative(scale_2, "Scale")
    if not not_negative(known, "Known error"):
        return two_spread_quantile(probability, first, dof_1, second, dof_2)
    from scipy.special import ndtr, ndtri  # lazy: 0.2 s

    size = hypot(first, second, known)
    deviation, weight = _deviations(first / size, dof_1, second / size, dof_2, known / size)
    at = float(ndtri(fraction(probability, "Probability")))
    low, high = 0.0, float("inf")
    for _ in range(_STEPS):
        ratio = at / deviation
        miss = float(weight @ ndtr(ratio)) - probability
        low, high = (low, at) if miss > 0.0 else (at, high)
        slope = float(weight @ (_density(ratio) / deviation))
        step = at - miss / slope
        step = step if low < step < high else min((low + high) / 2.0, 2.0 * at)
        if abs(step - at) <= 1e-9 * at:
            break
        at = step
    return size * at


def _density(ratio: np.ndarray) -> np.ndarray:
    """Density of the normal law."""
    import numpy as np  # lazy: 0.1 s

    density: np.ndarray = np.exp(-0.5 * ratio * ratio) / sqrt(2.0 * np.pi)
    return density
