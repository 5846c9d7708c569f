"""How many observations a question takes, and what a plan can be expected to see."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, inf, sqrt

from core.errors import OutOfRangeError
from core.stats.guard import above_zero, at_least, finite, fraction
from core.stats.intervals import half_width
from core.stats.repeatability import Spread
from core.stats.student import shifted_t_beyond, t_quantile

__all__ = ["pairs_to_settle", "power", "sample_size", "sample_size_known"]

_MOST = 2**40  # observations that stand for no end of them


def power(
    delta: float, spread: float, dof: float, n_a: int, n_b: int, alpha: float = 0.05
) -> float:
    """Return the chance that the interval of a true difference ``delta`` leaves zero out.

    Args:
        delta: true difference, in the observations' unit.
        spread: true standard deviation of one observation, above zero, same unit.
        dof: degrees of freedom of the spread that the interval uses; infinite: known.
        n_a, n_b: observations on each side, one or more.
        alpha: one less the level of the interval, between 0 and 1.

    ``1 - F(t) + F(-t)`` with F the noncentral t of centre ``delta / (s sqrt(1/nA + 1/nB))``.

    **Source:** NIST/SEMATECH e-Handbook 7.2.2.2; noncentral t.

    >>> round(power(1.0, 1.0, 4, 3, 3), 2)
    0.16
    """
    sizes = [at_least(1, count, "The number of attempts") for count in (n_a, n_b)]
    error = above_zero(spread, "Spread") * sqrt(sum(1.0 / size for size in sizes))
    t = t_quantile(1.0 - fraction(alpha, "Chance of a false find") / 2.0, dof)
    return shifted_t_beyond(t, abs(finite(delta, "Difference")) / error, dof)


def sample_size_known(delta_over_sigma: float, wanted: float = 0.8, alpha: float = 0.05) -> int:
    """Return the observations a side that find a difference when the spread is known.

    Args:
        delta_over_sigma: true difference over the spread of one observation, not zero.
        wanted: chance of finding it, between 0 and 1.
        alpha: one less the level of the interval.

    ``n = 2 ((z_{1-alpha/2} + z_wanted) / d)^2``, rounded up.

    **Source:** NIST/SEMATECH e-Handbook 7.2.2.2.

    >>> sample_size_known(1.0)
    16
    """
    d = above_zero(abs(delta_over_sigma), "Difference over spread")
    z = t_quantile(1.0 - fraction(alpha, "Chance of a false find") / 2.0, inf)
    z += t_quantile(wanted, inf)
    return max(1, ceil(2.0 * (z / d) ** 2))


def sample_size(delta_over_sigma: float, wanted: float = 0.8, alpha: float = 0.05) -> int:
    """Return the observations a side when the spread comes from these observations alone.

    Arguments as for :func:`sample_size_known`. The smallest n of 2 or more whose :func:`power`
    with ``2 (n - 1)`` degrees of freedom reaches ``wanted``.

    **Source:** noncentral t; NIST/SEMATECH e-Handbook 7.2.2.2.

    >>> sample_size(1.0)
    17
    """
    d = above_zero(abs(delta_over_sigma), "Difference over spread")
    fraction(wanted, "Chance of finding it")
    return _smallest(lambda n: power(d, 1.0, 2 * (n - 1), n, n, alpha) >= wanted, 2)


def pairs_to_settle(
    gain: float,
    spread: Spread,
    n_a: int,
    n_b: int,
    *,
    day_spread: Spread | None = None,
    both_sides: bool = False,
    level: float = 0.95,
    known: float = 0.0,
) -> int | None:
    """Return how many more observations bring the half width of the interval below ``gain``.

    Args:
        gain: smallest gain worth having, above zero, in the observations' unit.
        spread: spread of one observation, as known now; each further observation adds a degree
            of freedom (the first of a side does not).
        n_a, n_b: observations there are, zero or more.
        day_spread: spread between sessions where A and B ran on different days, else None.
        both_sides: count on A and on B alike; else on B only.
        level: of the interval.
        known: standard deviation of a further error that more observations do not shrink.

    Returns:
        Observations more (on B, or on each side), 0 if it is settled now; None when no number
        will do: on both sides the day spread alone is too wide and another day is the answer; on
        B only it may also be that A was run too few times.

    **Source:** :func:`core.stats.intervals.half_width` with the spread held at its present value.
    """
    worth = above_zero(gain, "The smallest gain worth having")
    a, b = (at_least(0, count, "The number of attempts") for count in (n_a, n_b))

    def half(more: int) -> float:
        after_a, after_b = (a + more if both_sides else a), b + more
        if not after_a or not after_b:
            return inf
        added = sum(
            max(after - 1, 0) - max(now - 1, 0) for after, now in ((after_a, a), (after_b, b))
        )
        better = Spread(spread.sd, spread.dof + added, spread.own_dof + added)
        return half_width(1.0 / after_a + 1.0 / after_b, better, day_spread, level, known)

    if half(_MOST) >= worth:
        return None
    return _smallest(lambda more: half(more) < worth, 0)


def _smallest(enough: Callable[[int], bool], first: int) -> int:
    """Smallest whole number from ``first`` on that is enough, where more never is too much."""
    if enough(first):
        return first
    step = 1
    while not enough(first + step):
        step *= 2
        if step > _MOST:
            raise OutOfRangeError("No number of attempts that anyone could run would do.")
    low, high = first + step // 2, first + step
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
