"""What would settle a "can't tell yet": more observations, or another way of going about it."""

from __future__ import annotations

from core.attempts import Test
from core.stats import pairs_to_settle
from core.verdict.measuring import Measure
from core.verdict.results import BuildSide, Settle
from core.verdict.wording import amount

__all__ = ["settle"]


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
    words = "your days differ too much for more runs to settle it: swap A-B-A on one day."
    return Settle(more=None, kind=b.kind, another_day=True, sentence=words)
