"""Which values stand apart: a question to the person who was there, never a deletion."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.stats.guard import at_least, finite_values, fraction, not_negative
from core.stats.student import t_quantile
from core.stats.summary import centre, squares_about_mean

__all__ = [
    "Flag",
    "deviation_limit",
    "dixon_critical",
    "dixon_r10",
    "flags",
    "grubbs",
    "grubbs_critical",
    "grubbs_largest",
]

_TIE = 1e-9  # distances this near each other, relatively, are one distance
_DIXON_MOST = 30  # r10 looks at one neighbour only: beyond this it says little
_DIXON_NODES = 96  # Gauss-Legendre nodes a side: critical values good to 1e-6


@dataclass(frozen=True, slots=True)
class Flag:
    """One value that stands further from its group than chance would let it."""

    index: int
    """Position in the values handed in."""
    value: float
    """The value, in its unit."""
    expected: float
    """Mean of its group (its direction), itself included, those further off left out."""
    distance: float
    """Distance from that mean, in spreads."""
    limit: float
    """The distance that would still pass, in spreads."""


def grubbs(values: Sequence[float]) -> float | None:
    """Return Grubbs' statistic, the largest distance from the mean in standard deviations.

    ``G = max |x - mean| / s`` with s over n - 1. None when all values are equal.

    Raises:
        OutOfRangeError: fewer than 3 values.

    **Source:** Grubbs, Technometrics 11 (1969) 1; NIST/SEMATECH e-Handbook 1.3.5.17.1.

    >>> round(grubbs([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]), 4)
    2.4688
    """
    numbers = finite_values(values)
    at_least(3, numbers, "The number of values")
    mean = centre(numbers)
    sd = sqrt(squares_about_mean(numbers) / (len(numbers) - 1))
    if min(numbers) == max(numbers) or not sd:
        return None
    return max(abs(number - mean) for number in numbers) / sd


def grubbs_critical(n: int, alpha: float = 0.05, *, two_sided: bool = True) -> float:
    """Return the value that Grubbs' statistic of ``n`` clean values exceeds with chance ``alpha``.

    Args:
        n: how many values, 3 or more.
        alpha: strictly between 0 and 1.
        two_sided: False when only one end could be odd (as in the printed ASTM tables).

    ``(n-1)/sqrt(n) sqrt(t^2 / (n-2+t^2))`` with t at ``alpha/(2n)`` (two-sided) or ``alpha/n``
    and n - 2 degrees of freedom.

    **Source:** NIST/SEMATECH e-Handbook 1.3.5.17.1.
    """
    at_least(3, n, "The number of values")
    tail = fraction(alpha, "Chance of a false question") / (n * (2.0 if two_sided else 1.0))
    t = t_quantile(1.0 - tail, n - 2)
    return grubbs_largest(n) * sqrt(t * t / (n - 2 + t * t))


def grubbs_largest(n: int) -> float:
    """Return the largest value that Grubbs' statistic can take at all: ``(n-1)/sqrt(n)``."""
    return (at_least(2, n, "The number of values") - 1) / sqrt(n)


def dixon_r10(values: Sequence[float]) -> float | None:
    """Return Dixon's ratio r10 of the end that stands further off; None when all are equal.

    Gap to the nearest neighbour over the whole range.

    Raises:
        OutOfRangeError: fewer than 3 values.

    **Source:** Dixon, Biometrics 9 (1953) 74 (from memory); Rorabacher, Anal. Chem. 63 (1991) 139.
    """
    ordered = sorted(finite_values(values))
    at_least(3, ordered, "The number of values")
    whole = ordered[-1] - ordered[0]
    gap = max(ordered[1] - ordered[0], ordered[-1] - ordered[-2])
    return gap / whole if whole > 0.0 else None


def dixon_critical(n: int, alpha: float = 0.05) -> float:
    """Return the two-sided critical value of Dixon's r10 for ``n`` values, by quadrature.

    Args:
        n: how many values, 3 to 30.
        alpha: strictly between 0 and 1; each end gets half of it.

    ``P(r10 > q) = n (n-1) int int phi(a) phi(b) (Phi(b - q (b-a)) - Phi(a))^(n-2) db da`` for one
    end, solved for q.

    **Source:** own integration; the printed table of Rorabacher, Anal. Chem. 63 (1991) 139, is off
    by up to 0.005 (n = 4, 1 %).
    """
    from scipy.optimize import brentq  # lazy: 0.3 s

    at_least(3, n, "The number of values")
    if n > _DIXON_MOST:
        raise OutOfRangeError(f"The number of values is {n}: r10 is for {_DIXON_MOST} at most.")
    tail = fraction(alpha, "Chance of a false question") / 2.0
    return float(brentq(lambda q: _dixon_tail(q, n) - tail, 0.0, 1.0, xtol=1e-10))


@lru_cache(maxsize=4096)
def _dixon_tail(q: float, n: int) -> float:
    """Chance that the top one of ``n`` normal values has a ratio r10 above ``q``."""
    import numpy as np  # lazy: 0.1 s
    from scipy.special import ndtr  # lazy: 0.2 s

    nodes, weights = np.polynomial.legendre.leggauss(_DIXON_NODES)
    bottom = 8.0 * nodes[:, None]
    width = 8.0 * (nodes[None, :] + 1.0)
    top = bottom + width
    ends = np.exp(-0.5 * (bottom * bottom + top * top)) / (2.0 * np.pi)
    inside = np.clip(ndtr(top - q * width) - ndtr(bottom), 0.0, 1.0) ** (n - 2)
    return float(n * (n - 1) * 64.0 * (weights @ (ends * inside) @ weights))


def deviation_limit(n: int, dof: float, alpha: float = 0.05) -> float:
    """Return how many spreads one of ``n`` values may lie from their mean before it is odd.

    Args:
        n: how many values are looked at, 2 or more.
        dof: degrees of freedom of a spread that comes from *other* sessions.
        alpha: chance of any question at all about clean values (Bonferroni), between 0 and 1.

    ``t_{1 - alpha/(2n), dof} sqrt((n-1)/n)``.

    **Source:** Halperin, Greenhouse, Cornfield and Zalokar, J. Am. Stat. Assoc. 50 (1955) 185
    (studentized extreme deviate from an independent spread, from memory).
    """
    at_least(2, n, "The number of values")
    tail = fraction(alpha, "Chance of a false question") / (2.0 * n)
    return t_quantile(1.0 - tail, dof) * sqrt((n - 1) / n)


def flags(
    values: Sequence[float],
    spread: float,
    spread_dof: float,
    groups: Sequence[Hashable] | None = None,
    alpha: float = 0.05,
) -> tuple[Flag, ...]:
    """Return the values that stand further from their group's mean than chance would let them.

    Args:
        values: the attempts of one session, in one unit.
        spread: standard deviation of a single value, from the prior and the *other* sessions (one
            that holds these values would hide the odd one), in the values' unit.
        spread_dof: its degrees of freedom, above zero.
        groups: the direction of each value; each direction's mean is taken out first. None: one.
        alpha: chance of any question at all about a clean session, between 0 and 1.

    A value is flagged when ``|x - mean of its group| > spread t_{1 - alpha/(2n), dof}
    sqrt((m-1)/m)``, m the group's size and n the number of values that can be judged. The furthest
    is judged first; once flagged it leaves its group, so that one wild value does not drag the
    mean away from good ones. A value alone in its direction cannot be judged. Of two in one
    direction both are flagged or none: which of the two is odd cannot be told. A spread of zero
    is no yardstick: nothing is flagged.

    Raises:
        InputError: values and groups are not equally long, or a value is not finite.
        UnknownInputError: the spread carries no degree of freedom.

    **Source:** as :func:`deviation_limit`; taking the furthest first is our own choice.
    """
    numbers = finite_values(values)
    labels = list(groups) if groups is not None else [None] * len(numbers)
    if len(labels) != len(numbers):
        raise InputError(f"{len(numbers)} values but {len(labels)} directions: give one for each.")
    members: defaultdict[Hashable, list[int]] = defaultdict(list)
    for index, label in enumerate(labels):
        members[label].append(index)
    judged = sum(len(indexes) for indexes in members.values() if len(indexes) > 1)
    if not judged or not not_negative(spread, "Spread"):
        return ()
    if not spread_dof > 0:
        raise UnknownInputError("The spread is unknown: nothing can be called odd.", ("spread",))
    tail = fraction(alpha, "Chance of a false question") / (2.0 * judged)
    t = t_quantile(1.0 - tail, spread_dof)
    found = [f for indexes in members.values() for f in _peeled(numbers, indexes, spread, t)]
    return tuple(sorted(found, key=lambda flag: flag.index))


def _peeled(numbers: Sequence[float], indexes: list[int], spread: float, t: float) -> list[Flag]:
    """Flags of one group: the furthest value (with any as far) leaves it until all lie within."""
    found: list[Flag] = []
    while len(indexes) > 1:
        mean = centre([numbers[index] for index in indexes])
        far = {index: abs(numbers[index] - mean) for index in indexes}
        worst, limit = max(far.values()), t * sqrt((len(indexes) - 1) / len(indexes))
        if worst <= limit * spread:
            break
        odd = [index for index in indexes if far[index] >= worst * (1.0 - _TIE)]
        found += [Flag(index, numbers[index], mean, far[index] / spread, limit) for index in odd]
        indexes = [index for index in indexes if index not in odd]
    return found
