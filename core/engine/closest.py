"""Where valve and piston come closest, found over 60 degrees either side of overlap top."""

from __future__ import annotations

from functools import lru_cache

from core.engine.crank import travel_from
from core.engine.lift import LiftTable
from core.engine.train import ValveTrain

__all__ = [
    "NEAR_TOP",
    "gap_curve",
    "gap_minimum",
    "least_travel_change",
    "lift_change",
    "lift_curve",
    "most_lift_change",
    "same_crank",
    "travel_change",
]

NEAR_TOP: tuple[float, ...] = tuple(float(angle) for angle in range(-60, 61))  # crank degrees


@lru_cache(maxsize=256)
def _travels(stroke: float, rod: float, offset: float) -> tuple[float, ...]:
    return tuple(travel_from(angle, stroke, rod, offset) for angle in NEAR_TOP)


@lru_cache(maxsize=64)
def _lobe_lifts(table: LiftTable, advance: float) -> tuple[float, ...]:
    return tuple(table.lift(angle + advance) for angle in NEAR_TOP)


@lru_cache(maxsize=64)
def _turn_of_lifts(table: LiftTable, advance: float) -> tuple[float, ...]:
    return tuple(table.lift(angle + advance) for angle in range(-360, 360))


def most_lift_change(old: ValveTrain, new: ValveTrain, table: LiftTable) -> float:
    """Return the most that valve lift grows from one build to another at any whole degree, m.

    Raises:
        OutOfRangeError: the table ends with the valve still going up.

    Source: every degree of two turns.
    """
    one, two = ((train.rocker_ratio, train.lash, train.advance) for train in (old, new))
    return _most_change(table, one, two)


@lru_cache(maxsize=64)
def _most_change(
    table: LiftTable, old: tuple[float, float, float], new: tuple[float, float, float]
) -> float:
    (ratio, lash, advance), (new_ratio, new_lash, new_advance) = old, new
    before, after = _turn_of_lifts(table, advance), _turn_of_lifts(table, new_advance)
    return max(
        max(0.0, new_ratio * late - new_lash) - max(0.0, ratio * early - lash)
        for early, late in zip(before, after, strict=True)
    )


def _lift(train: ValveTrain, table: LiftTable, angle: float) -> float:
    return max(0.0, train.rocker_ratio * table.lift(angle + train.advance) - train.lash)


def lift_curve(train: ValveTrain, table: LiftTable) -> tuple[float, ...]:
    """Return the valve's lift at every degree of :data:`NEAR_TOP`, m.

    Raises:
        OutOfRangeError: the table ends within 60 degrees with the valve still going up.

    Source: ``max(0, r h - lash)``; closed form.
    """
    ratio, lash = train.rocker_ratio, train.lash
    lifts = _lobe_lifts(table, train.advance)
    return tuple([lift if (lift := ratio * h - lash) > 0 else 0.0 for h in lifts])


def lift_change(old: ValveTrain, new: ValveTrain, table: LiftTable, angle: float) -> float:
    """Return valve lift of the new build less that of the old at a crank angle, m."""
    return _lift(new, table, angle) - _lift(old, table, angle)


def same_crank(old: ValveTrain, new: ValveTrain) -> bool:
    """Tell whether the pistons of two builds move alike."""
    return (old.stroke, old.rod, old.offset) == (new.stroke, new.rod, new.offset)


def travel_change(old: ValveTrain, new: ValveTrain, angle: float) -> float:
    """Return piston travel below top of the new build less that of the old at an angle, m."""
    if same_crank(old, new):
        return 0.0
    return travel_from(angle, new.stroke, new.rod, new.offset) - travel_from(
        angle, old.stroke, old.rod, old.offset
    )


def least_travel_change(old: ValveTrain, new: ValveTrain) -> float:
    """Return the least of the travel changes within 60 degrees of top, m; above zero is a gain."""
    if same_crank(old, new):
        return 0.0
    before = _travels(old.stroke, old.rod, old.offset)
    after = _travels(new.stroke, new.rod, new.offset)
    return min(b - a for a, b in zip(before, after, strict=True))


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
        travel * piston_share - lift * valve_share
        for travel, lift in zip(travels, lift_curve(train, table), strict=True)
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

    Source: every degree, then the top of a parabola through the three lowest; numerical.
    """
    curve = gap_curve(train, table, piston_share, valve_share)
    i = curve.index(min(curve))
    best = (curve[i], NEAR_TOP[i])
    if 0 < i < len(curve) - 1:
        left, right = curve[i] - curve[i - 1], curve[i + 1] - curve[i]
        angle = NEAR_TOP[i] + (left + right) / (left - right) / 2 if left != right else best[1]
        travel = travel_from(angle, train.stroke, train.rod, train.offset)
        between = travel * piston_share - _lift(train, table, angle) * valve_share
        best = min(best, (between, angle))
    return best
