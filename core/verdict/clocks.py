"""Two kinds of timing gear: offset and spread, learnt only from attempts that both timed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean

from core.attempts import find_test, usual_sd
from core.session import SessionHead
from core.stats import SumOfSquares, posterior_spread, squares_about_mean, t_quantile

__all__ = ["ENOUGH_TOGETHER", "Offset", "offset_between"]

ENOUGH_TOGETHER = 3  # attempts timed by both, before an offset may be used; own rule
_PRIOR_DOF = 4.0  # what the usual sd of both kinds of gear counts for
_NORMAL = 1.96


@dataclass(frozen=True)
class Offset:
    """How one kind of timing gear differs from another on the same attempts."""

    before: str  # name of the timing gear of A
    after: str  # of B
    value: float  # after less before, in the test's unit
    low: float  # 95 %
    high: float
    sd: float  # of one attempt's difference, in the test's unit
    n: int  # attempts timed by both

    @property
    def known(self) -> float:
        """Standard deviation that makes the same range in a normal law."""
        return (self.high - self.low) / 2.0 / _NORMAL


def offset_between(
    heads: Iterable[SessionHead], test: str, before: str, after: str
) -> Offset | None:
    """Return what attempts timed by both kinds of gear say; None below three of them.

    Args:
        heads: every session of the log; the gear is the same on any machine.
        test: name of the test; an offset belongs to one test.
        before, after: names of the timing gear.

    Mean of the differences with a t range; their spread has the usual one of both kinds of gear as
    prior with 4 degrees of freedom.

    Source: paired differences; as :func:`core.stats.posterior_spread`.
    """
    if before == after or "mixed" in (before, after) or not before or not after:
        return None
    apart = list(_apart(heads, test, before, after))
    if len(apart) < ENOUGH_TOGETHER:
        return None
    usual = sqrt(sum(usual_sd(find_test(test), gear) ** 2 for gear in (before, after)))
    own = SumOfSquares(squares_about_mean(apart), len(apart) - 1)
    spread = posterior_spread(usual, _PRIOR_DOF, own, 0.0)
    half = t_quantile(0.975, spread.dof) * spread.sd / sqrt(len(apart))
    value = fmean(apart)
    return Offset(before, after, value, value - half, value + half, spread.sd, len(apart))


def _apart(heads: Iterable[SessionHead], test: str, before: str, after: str) -> Sequence[float]:
    found = []
    for head in heads:
        for a in head.attempts:
            if a.second is None or a.value is None or a.kind != "timed" or a.strike is not None:
                continue
            gear = (a.timing or head.timing, a.second_timing)
            if (a.test or head.test) != test:
                continue
            if gear == (before, after):
                found.append(a.second - a.value)
            elif gear == (after, before):
                found.append(a.value - a.second)
    return found
