"""What one handful of numbers looks like: count, mean, scatter, ends, middle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt
from statistics import median as _middle

from core.stats.guard import finite_values

__all__ = [
    "MODIFIED_Z_CUT",
    "Summary",
    "centre",
    "mad",
    "median",
    "modified_z",
    "squares_about_mean",
    "summarize",
]

MODIFIED_Z_CUT = 3.5
"""Modified z above which a value is called odd. Source: Iglewicz and Hoaglin 1993 (from memory)."""

_MAD_TO_SD = 0.6745  # median absolute deviation of a normal, in standard deviations


@dataclass(frozen=True, slots=True)
class Summary:
    """A handful of numbers in six figures; ``None`` where there is nothing to say."""

    n: int
    """How many values."""
    mean: float | None
    """Arithmetic mean, in the values' unit; None when n is 0."""
    sd: float | None
    """Standard deviation with n - 1, in the values' unit; None when n is below 2."""
    low: float | None
    """Smallest value; None when n is 0."""
    high: float | None
    """Largest value; None when n is 0."""
    median: float | None
    """Middle value; None when n is 0."""


def centre(values: Sequence[float]) -> float:
    """Return the mean of one or more finite values, correct to the last rounding.

    The first sum is exact (``fsum``); the second pass takes out what the division left over, so
    that 10,000,000.2 +- 0.1 keeps its digits.
    """
    count = len(values)
    mean = fsum(values) / count
    return mean + fsum([value - mean for value in values]) / count


def squares_about_mean(values: Sequence[float]) -> float:
    """Return the sum of squared deviations from the mean, in the values' unit squared.

    ``sum (x - mean)^2 - (sum (x - mean))^2 / n``: the corrected two-pass algorithm.

    **Source:** Chan, Golub and LeVeque, The American Statistician 37 (1983) 242 (from memory).
    """
    mean = centre(values)
    off = [value - mean for value in values]
    left_over = fsum(off)
    return max(0.0, fsum([d * d for d in off]) - left_over * left_over / len(values))


def summarize(values: Iterable[float]) -> Summary:
    """Return count, mean, standard deviation, ends and middle of finite ``values``.

    Args:
        values: any count, also none; all in one unit.

    Raises:
        InputError: a value is infinite or not a number.

    >>> summarize([8.41, 8.46, 8.39]).n
    3
    >>> summarize([8.4]).sd is None
    True
    """
    numbers = finite_values(values)
    count = len(numbers)
    if not count:
        return Summary(n=0, mean=None, sd=None, low=None, high=None, median=None)
    return Summary(
        n=count,
        mean=centre(numbers),
        sd=sqrt(squares_about_mean(numbers) / (count - 1)) if count > 1 else None,
        low=min(numbers),
        high=max(numbers),
        median=_middle(numbers),
    )


def median(values: Iterable[float]) -> float | None:
    """Return the middle value (the mean of the two middle ones), None for no values."""
    numbers = finite_values(values)
    return _middle(numbers) if numbers else None


def mad(values: Iterable[float]) -> float | None:
    """Return the median absolute deviation from the median, None for no values.

    >>> mad([8.4, 8.4, 8.4, 8.7])
    0.0
    """
    numbers = finite_values(values)
    if not numbers:
        return None
    middle = _middle(numbers)
    return _middle(abs(number - middle) for number in numbers)


def modified_z(values: Iterable[float]) -> tuple[float, ...] | None:
    """Return each value's modified z, or None where it is undefined.

    ``M = 0.6745 (x - median) / MAD``. With a MAD of zero (half the values or more are equal)
    the score does not exist: None, never infinite. None for no values too.

    **Source:** Iglewicz and Hoaglin 1993; NIST/SEMATECH e-Handbook 1.3.5.17 (from memory).
    """
    numbers = finite_values(values)
    scale = mad(numbers)
    if not scale:
        return None
    middle = _middle(numbers)
    scores = tuple(_MAD_TO_SD * (number - middle) / scale for number in numbers)
    return scores if all(map(isfinite, scores)) else None
