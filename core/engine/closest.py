"""Where valve and piston come closest, found over 60 degrees either side of overlap top."""

from __future__ import annotations

import math
from functools import lru_cache

from core.engine.crank import travel_from
from core.engine.lift import LiftTable
from core.engine.train import ValveTrain

__all__ = ["NEAR_TOP", "gap_curve", "gap_minimum", "lift_change", "travel_change"]

NEAR_TOP: tuple[float, ...] = tuple(float(angle) for angle in range(-60, 61))  # crank degrees

_GOLDEN = (math.sqrt(5) - 1) / 2
_REFINEMENTS = 24  # golden sections of 2 degrees: to 2e-5 degrees


@lru_cache(maxsize=256)
def _travels(stroke: float, rod: float, offset: float) -> tuple[float, ...]:
    return tuple(travel_from(angle, stroke, rod, offset) for angle in NEAR_TOP)


def _lift(train: ValveTrain, table: LiftTable, angle: float) -> float:
    return max(0.0, train.rocker_ratio * table.lift(angle + train.advance) - train.lash)


def lift_change(old: ValveTrain, new: ValveTrain, table: LiftTable, angle: float) -> float:
    """Return valve lift of the new build less that of the old at a crank angle, m."""
    return _lift(new, table, angle) - _lift(old, table, angle)


def travel_change(old: ValveTrain, new: ValveTrain, angle: float) -> float:
    """Return piston travel below top of the new build less that of the old at an angle, m."""
    return travel_from(angle, new.stroke, new.rod, new.offset) - travel_from(
        angle, old.stroke, old.rod, old.offset
    )


def gap_curve(
    train: ValveTrain, table: LiftTable, piston_share: float, valve_share: float
) -> tuple[float, ...]:
    """Return ``x cos(phi) - L cos(beta - phi)`` at every degree of :data:`NEAR_TOP`, m.

    Raises:
        OutOfRangeError: the table ends within 60 degrees with the valve still going up.

    Source: geometry of a valve along its stem and a piston along its axis; closed form.
    """
    travels = _travels(train.stroke, train.rod, train.offset)
    return tuple(
        travel * piston_share - _lift(train, table, angle) * valve_share
        for angle, travel in zip(NEAR_TOP, travels, strict=True)
    )


def gap_minimum(
    train: ValveTrain, table: LiftTable, piston_share: float, valve_share: float
) -> tuple[float, float]:
    """Return the smallest value of the gap curve (m) and its crank angle after overlap top.

    Args:
        train: the build.
        table: lift over crank angle.
        piston_share: ``cos(phi)``.
        valve_share: ``cos(beta - phi)``.

    Raises:
        OutOfRangeError: the table ends within 60 degrees with the valve still going up.

    Source: every degree, then golden sections about the lowest; numerical.
    """
    curve = gap_curve(train, table, piston_share, valve_share)
    lowest = NEAR_TOP[curve.index(min(curve))]

    def gap(angle: float) -> float:
        travel = travel_from(angle, train.stroke, train.rod, train.offset)
        return travel * piston_share - _lift(train, table, angle) * valve_share

    low, high = max(-60.0, lowest - 1), min(60.0, lowest + 1)
    for _ in range(_REFINEMENTS):
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if gap(left) < gap(right):
            high = right
        else:
            low = left
    best = (low + high) / 2
    return min((gap(best), best), (min(curve), lowest))
