"""What many looks and many tries do: false finds, and the best of n that only looks better."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

from core.errors import OutOfRangeError
from core.stats.guard import at_least, finite, finite_values, fraction, not_negative

__all__ = [
    "Adjusted",
    "Best",
    "RecordBias",
    "benjamini_hochberg",
    "best_of",
    "familywise_risk",
    "holm",
    "record_bias",
]


@dataclass(frozen=True, slots=True)
class Adjusted:
    """Several comparisons judged together."""

    adjusted: tuple[float, ...]
    """Chance of each after allowing for the others, 0 to 1, in the order handed in."""
    found: tuple[bool, ...]
    """Whether each still counts as found."""


@dataclass(frozen=True, slots=True)
class Best:
    """What the best of n equal tries is expected to be."""

    expected: float
    """How far the best lies on the good side of the mean, in standard deviations."""
    sd: float
    """Standard deviation of the best, in standard deviations of one try."""


@dataclass(frozen=True, slots=True)
class RecordBias:
    """Two records of the same machine from unlike numbers of tries."""

    best_1: float
    """Expected best time of the first, in the mean's unit."""
    best_2: float
    """Expected best time of the second."""
    spurious_gain: float
    """How much better the second looks with no change at all."""


def _chances(p_values: Sequence[float]) -> list[float]:
    numbers = finite_values(p_values, "A chance")
    if any(not 0.0 <= number <= 1.0 for number in numbers):
        raise OutOfRangeError("A chance lies outside 0 to 1.")
    return numbers


def _adjusted(
    numbers: Sequence[float], raised: Sequence[float], order: Sequence[int], alpha: float
) -> Adjusted:
    level = fraction(alpha, "Chance of a false find")
    answer = [0.0] * len(numbers)
    for rank, index in enumerate(order):
        answer[index] = min(1.0, raised[rank])
    return Adjusted(tuple(answer), tuple(value <= level for value in answer))


def holm(p_values: Sequence[float], alpha: float = 0.05) -> Adjusted:
    """Return several comparisons judged so that a false find among all has chance ``alpha``.

    Args:
        p_values: chance of each difference by luck alone, 0 to 1.
        alpha: between 0 and 1.

    The k-th smallest of m is raised by ``m - k + 1``; none may come below the one before.

    **Source:** Holm, Scand. J. Statist. 6 (1979) 65 (from memory).

    >>> holm([0.011, 0.02, 0.03, 0.3]).found
    (True, False, False, False)
    """
    numbers = _chances(p_values)
    order = sorted(range(len(numbers)), key=numbers.__getitem__)
    raised: list[float] = []
    for rank, index in enumerate(order):
        value = numbers[index] * (len(numbers) - rank)
        raised.append(max(value, raised[-1]) if raised else value)
    return _adjusted(numbers, raised, order, alpha)


def benjamini_hochberg(p_values: Sequence[float], alpha: float = 0.05) -> Adjusted:
    """Return several comparisons judged so that of those found a share ``alpha`` is false.

    Arguments as for :func:`holm`. The k-th smallest of m is raised by ``m / k``; none may come
    above the one after.

    **Source:** Benjamini and Hochberg, J. R. Statist. Soc. B 57 (1995) 289 (from memory).
    """
    numbers = _chances(p_values)
    order = sorted(range(len(numbers)), key=numbers.__getitem__)
    raised, least = [0.0] * len(order), 1.0
    for rank in reversed(range(len(order))):
        least = min(least, numbers[order[rank]] * len(numbers) / (rank + 1))
        raised[rank] = least
    return _adjusted(numbers, raised, order, alpha)


def familywise_risk(comparisons: int, alpha: float = 0.05) -> float:
    """Return the chance of at least one false find among independent comparisons.

    ``1 - (1 - alpha)^k``.

    >>> round(familywise_risk(10), 2)
    0.4
    """
    count = at_least(0, comparisons, "The number of comparisons")
    return float(1.0 - (1.0 - fraction(alpha, "Chance of a false find")) ** count)


@lru_cache(maxsize=512)
def best_of(n: int) -> Best:
    """Return how good the best of ``n`` tries is expected to be, with no change between them.

    ``E = integral n z phi(z) Phi(z)^(n-1) dz`` for normal scatter.

    **Source:** Harter, Biometrika 48 (1961) 151 (table, five digits, from memory); own integral.

    >>> round(best_of(10).expected, 4)
    1.5388
    """
    import numpy as np  # lazy: 0.1 s
    from scipy.special import log_ndtr  # lazy: 0.2 s

    at_least(1, n, "The number of tries")
    z = np.linspace(-12.0, 12.0, 4801)
    density = n * np.exp((n - 1) * log_ndtr(z) - 0.5 * z * z) / sqrt(2.0 * np.pi)
    step = float(z[1] - z[0])
    mean = float(density @ z) * step
    return Best(expected=mean, sd=sqrt(float(density @ (z - mean) ** 2) * step))


def record_bias(mean: float, sd: float, n_1: int, n_2: int) -> RecordBias:
    """Return how two records of one unchanged machine differ by the number of tries alone.

    Args:
        mean: true mean time, in any unit (lower is better).
        sd: standard deviation of one try, zero or more, same unit.
        n_1, n_2: tries behind each record, one or more.

    ``E[min] = mean - sd e_n``.

    **Source:** expected normal order statistics (:func:`best_of`).
    """
    middle, scatter = finite(mean, "Mean"), not_negative(sd, "Spread")
    first, second = (middle - scatter * best_of(n).expected for n in (n_1, n_2))
    return RecordBias(best_1=first, best_2=second, spurious_gain=first - second)
