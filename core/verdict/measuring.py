"""The difference of two sides: as clocked, and net of what the conditions explain."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from core.stats import Difference, Spread, difference, drift_removed, interval
from core.verdict.allowing import Explained
from core.verdict.results import BuildSide

__all__ = ["Measure", "is_same_day", "is_swapped_back", "measure"]

_NORMAL = 1.96  # standard deviations either side for 95 %


@dataclass(frozen=True)
class Measure:
    """The difference of two sides and what it was worked out with."""

    raw: Difference | None  # as clocked; None: nothing to compare
    net: Difference | None  # with the allowances taken out; None: there are none
    drift: float | None
    spread: Spread
    day: Spread | None
    known: float = 0.0  # standard deviation of what was allowed for

    @property
    def deciding(self) -> Difference | None:
        """The one the verdict is taken from."""
        return self.net or self.raw


def is_same_day(a: BuildSide, b: BuildSide) -> bool:
    """Tell whether both sides ran on one day at one place on one machine."""
    return a.machine == b.machine and a.place == b.place and a.day == b.day


def is_swapped_back(a: BuildSide, b: BuildSide) -> bool:
    """Tell whether a build ran again after the other one, so that drift can be taken out."""
    if a.session != b.session or not a.blocks or not b.blocks:
        return False
    return len(set(a.blocks)) + len(set(b.blocks)) > 2


def _block_times(side: BuildSide) -> list[float]:
    """For each observation the mean time of its block."""
    mean = {
        block: sum(m for m, k in zip(side.moments, side.blocks, strict=True) if k == block)
        / side.blocks.count(block)
        for block in set(side.blocks)
    }
    return [mean[block] for block in side.blocks]


def measure(
    a: BuildSide,
    b: BuildSide,
    spread: Spread,
    day: Spread | None,
    explained: Explained | None,
    clock: tuple[float, float] = (0.0, 0.0),
) -> Measure:
    """Return the difference B less A, raw and net.

    Args:
        a, b: observations of both sides.
        spread: of one observation.
        day: between days; None on one day.
        explained: what the conditions explain; None: nothing is allowed for.
        clock: what the timing gear explains and its standard deviation, where two were used.

    Where a build ran again after the other, drift is taken out and the air of the day with it; only
    the rider's mass is left to allow for. Else net is raw less all that is explained, and the doubt
    of that is added to the range.
    """
    if not a.values or not b.values:
        return Measure(None, None, None, spread, day)
    if is_swapped_back(a, b):
        removed = drift_removed(
            [*a.values, *b.values],
            [0] * a.n + [1] * b.n,
            [*_block_times(a), *_block_times(b)],
            spread,
        )
        raw, factor, drift = removed.difference, removed.variance_factor, removed.drift
        day, allowed = None, _of_mass(explained)
    else:
        raw, drift = difference(a.values, b.values, spread, day), None
        factor = 1.0 / a.n + 1.0 / b.n
        allowed = (explained.value, explained.sd) if explained else (0.0, 0.0)
    value, sd = allowed[0] + clock[0], hypot(allowed[1], clock[1])
    net = None
    if value or sd:
        net = interval(raw.value - value, factor, (a.n, b.n), spread, day, known=sd)
    return Measure(raw, net, drift, spread, day, sd)


def _of_mass(explained: Explained | None) -> tuple[float, float]:
    if explained is None:
        return 0.0, 0.0
    part = explained.part("mass")
    return part.value, (part.high - part.low) / 2.0 / _NORMAL
