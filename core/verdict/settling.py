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
    for more in range(1, _MOST_DAYS + 1):
        days = more + 1
        day = Spread(made.day.sd / sqrt(days), made.day.dof + 2 * more, made.day.own_dof)
        added = more * (a.n + b.n - 2)
        spread = Spread(made.spread.sd, made.spread.dof + added, made.spread.own_dof)
        factor = (1.0 / a.n + 1.0 / b.n) / days
        if half_width(factor, spread, day, known=made.known / sqrt(days)) < gain:
            return more
    return None
