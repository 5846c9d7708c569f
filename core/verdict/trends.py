"""How a side moved over its own day: warm-up, heat fade, first third against last third."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from core.attempts import Attempt, Test, direction_centred, find_test, trend_of
from core.session import Session
from core.stats import Spread, t_quantile
from core.verdict.results import BuildSide

__all__ = ["Moved", "MovedKind", "moved"]

MovedKind = Literal["warm-up", "fade", "steady"]


@dataclass(frozen=True)
class Moved:
    """First third against last third of a side, each direction by itself."""

    kind: MovedKind
    change: float  # last third less first third, in the test's unit
    low: float  # 99 %: it is looked for in every side of every comparison
    high: float
    per_attempt: float  # slope over all of them
    hot: int  # attempts tagged as hot or fading

    @property
    def is_sure(self) -> bool:
        """Whether its range leaves zero out."""
        return self.low > 0.0 or self.high < 0.0


def moved(session: Session, side: BuildSide, spread: Spread) -> Moved | None:
    """Return how one side moved from its first attempts to its last; None below six.

    Args:
        session: the one of the side.
        side: its attempts, of one block or several.
        spread: of a single attempt once its direction is taken out.

    Thirds have ``k = n/3`` attempts each with their direction's mean taken off. These means cancel
    where both thirds hold as many of each direction, so the difference has the variance
    ``2 spread^2/k``; judged by t at 99 %. Getting better is warm-up, getting worse is fade.

    Source: as :func:`core.attempts.trend_of`; the variance by algebra.
    """
    numbers = {n for group in side.attempts for n in group} | set(side.left_over)
    mine = [a for a in session.attempts if a.n in numbers]
    found = trend_of(mine)
    if found is None:
        return None
    test = find_test(side.test)
    third = len(direction_centred(mine).centred) // 3
    half = t_quantile(0.995, spread.dof) * spread.sd * sqrt(2.0 / third)
    low, high = found.change - half, found.change + half
    kind = _kind(found.change, low, high, test)
    return Moved(kind, found.change, low, high, found.per_attempt, _hot(mine))


def _kind(change: float, low: float, high: float, test: Test) -> MovedKind:
    if low <= 0.0 <= high:
        return "steady"
    return "warm-up" if (change < 0.0) == test.lower_is_better else "fade"


def _hot(attempts: list[Attempt]) -> int:
    return sum(bool({"HOT", "FADE"} & set(a.tags)) for a in attempts)
