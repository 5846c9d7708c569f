"""The numerical part of the day spread: posterior of a variance between unequal sessions."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log, sqrt
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np

__all__ = ["SessionMean", "day_posterior"]

_POINTS = 1200  # grid points over the logarithm of the day variance
_REACH = 12.0  # the grid ends this far (natural logarithm) beyond the smallest and largest scale


class SessionMean(NamedTuple):
    """One session of a build: its mean and how many observations that mean rests on."""

    mean: float
    """Mean of the session's observations, in their unit."""
    n: int
    """How many observations, 1 or more."""


def day_posterior(
    groups: Sequence[Sequence[SessionMean]], noise: float, guess: float, weight: float
) -> tuple[float, float]:
    """Return standard deviation and degrees of freedom of the day-to-day scatter.

    Args:
        groups: the sessions of each build, two or more in each, at least one group.
        noise: variance within a session, taken as known.
        guess, weight: standard deviation and degrees of freedom of the prior, both above zero.

    Means of one build scatter with variance ``day^2 + noise / n``. The build's own mean is
    integrated out with a flat prior; the day variance, with its scaled inverse chi-square prior,
    gets a posterior on a grid of its logarithm, narrowed until the grid is fine enough. Returned
    is the scaled inverse chi-square law with the same mean and variance of that logarithm.
    """
    low, high = _reach(groups, guess)
    while True:
        mean, variance = _moments(groups, noise, guess, weight, low, high)
        step, width = (high - low) / _POINTS, sqrt(variance)
        if width > 5.0 * step:
            return _matched(mean, variance)
        low, high = mean - 10.0 * width - 5.0 * step, mean + 10.0 * width + 5.0 * step


def _moments(
    groups: Sequence[Sequence[SessionMean]],
    noise: float,
    guess: float,
    weight: float,
    low: float,
    high: float,
) -> tuple[float, float]:
    """Mean and variance of the logarithm of the day variance, from a grid between two ends."""
    import numpy as np  # lazy: 0.1 s

    log_variance = np.linspace(low, high, _POINTS)
    log_density = -0.5 * weight * (log_variance + guess * guess * np.exp(-log_variance))
    for group in groups:
        log_density = log_density + _log_likelihood(group, noise, np.exp(log_variance))
    density = np.exp(log_density - log_density.max())
    density /= density.sum()
    mean = float(density @ log_variance)
    return mean, float(density @ (log_variance - mean) ** 2)


def _reach(groups: Sequence[Sequence[SessionMean]], guess: float) -> tuple[float, float]:
    """Logarithms of day variances well past the guess and the widest group of means."""
    widest = max(max(s.mean for s in group) - min(s.mean for s in group) for group in groups)
    return 2.0 * log(guess) - _REACH, 2.0 * log(max(guess, widest)) + _REACH


def _log_likelihood(
    group: Sequence[SessionMean], noise: float, day_variance: np.ndarray
) -> np.ndarray:
    """Restricted log likelihood of one build's session means, over the grid of day variances."""
    import numpy as np  # lazy: 0.1 s

    sizes: dict[int, list[float]] = {}
    for session in group:
        sizes.setdefault(session.n, []).append(session.mean)
    counts = np.array([float(n) for n in sizes])
    days = np.array([float(len(means)) for means in sizes.values()])
    overall = sum(session.mean for session in group) / len(group)
    centres = np.array([sum(m - overall for m in means) / len(means) for means in sizes.values()])
    inner = np.array(
        [
            sum((m - overall - c) ** 2 for m in means)
            for means, c in zip(sizes.values(), centres, strict=True)
        ]
    )
    weights = 1.0 / (day_variance[:, None] + noise / counts)
    total = weights @ days
    middle = (weights @ (days * centres)) / total
    squares = (weights * (inner + days * (centres - middle[:, None]) ** 2)).sum(axis=1)
    answer: np.ndarray = 0.5 * (np.log(weights) @ days - np.log(total) - squares)
    return answer


def _matched(mean_log: float, variance_log: float) -> tuple[float, float]:
    """Scaled inverse chi-square law (sd, dof) with this mean and variance of the log variance.

    ``Var = trigamma(nu/2)`` and ``E = log(nu s^2 / 2) - digamma(nu/2)``.
    """
    from scipy.special import digamma, polygamma  # lazy: 0.2 s

    half = 0.5 + 1.0 / variance_log
    for _ in range(20):
        value = float(polygamma(1, half))
        half += value * (1.0 - value / variance_log) / float(polygamma(2, half))
    variance = exp(mean_log + float(digamma(half))) / half
    return sqrt(variance), 2.0 * half
