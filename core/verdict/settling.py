"""What would settle a "can't tell yet": more observations, or another way of going about it."""

from __future__ import annotations

from math import sqrt

from core.attempts import Test
from core.stats import Spread, half_width, pairs_to_settle
from core.verdict.measuring import Measure
from core.verdict.results import BuildSide, Settle
from core.verdict.wording import amount

__all__ = ["settle"]

_MOST_DAYS = 12  # days more of each build; beyond that nobody would


def settle(
    made: Measure, gain: float | None, a: BuildSide, b: BuildSide, test: Test
) -> Settle | None:
    """Return what would settle an open verdict; None where no smallest gain was said.

    Args:
        made: the difference, its spreads and what was allowed for.
        gain: smallest gain worth having, in the test's unit.
        a, b: both sides.
        test: what they ran.

    The doubt of the allowances does not shrink with more runs, so it counts with the days.
    """
    if gain is None:
        return None
    wanted = f"{amount(gain, test)} {test.unit}"
    for both in (False, True):
        more = pairs_to_settle(
            gain, made.spread, a.n, b.n, day_spread=made.day, both_sides=both, known=made.known
        )
        if more == 0:
            words = f"the range is already under {wanted} either way, so a few more may tip it."
            return Settle(more=0, kind=b.kind, another_day=False, sentence=words)
        if more is not None:
            things = b.kind if more == 1 else f"{b.kind}s"
            where = "on each build" if both else f"on {b.label}"
            words = f"about {more} more {things} {where} would settle {wanted}."
            return Settle(more=more, kind=b.kind, another_day=False, sentence=words)
    words = "your days differ too much for more runs to settle it: swap A-B-A on one day"
    days = _more_days(made, gain, a, b)
    if days is not None:
        words += f", or run each build on {days} more day{'' if days == 1 else 's'}"
    return Settle(more=None, kind=b.kind, another_day=True, sentence=f"{words}.", days=days)


def _more_days(made: Measure, gain: float, a: BuildSide, b: BuildSide) -> int | None:
    """Days more of each build, run as these were, whose means bring the range under the gain."""
    if made.day is None or not a.n or not b.n:
        return None
    if _half(made, made.day, _MOST_DAYS, a, b) >= gain:
        return None
    low, high = 0, _MOST_DAYS  # more days never make it wider
    while high - low > 1:
        middle = (low + high) // 2
        enough = _half(made, made.day, middle, a, b) < gain
        low, high = (low, middle) if enough else (middle, high)
    return high


def _half(made: Measure, day: Spread, more: int, a: BuildSide, b: BuildSide) -> float:
    """Half the range with so many days more of each build."""
    days = more + 1
    between = Spread(day.sd / sqrt(days), day.dof + 2 * more, day.own_dof)
    added = more * (a.n + b.n - 2)
    spread = Spread(made.spread.sd, made.spread.dof + added, made.spread.own_dof)
    factor = (1.0 / a.n + 1.0 / b.n) / days
    return half_width(factor, spread, between, known=made.known / sqrt(days))
