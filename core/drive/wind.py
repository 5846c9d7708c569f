"""What a wind along the strip leaves in the mean of two directions."""

from __future__ import annotations

import msgspec

from core.guards import above_zero, not_negative

__all__ = ["TwoWayTopSpeed", "top_speed_in_wind", "two_way_top_speed"]


class TwoWayTopSpeed(msgspec.Struct, frozen=True):
    """Top speeds up and down wind, and the two ways to average them; all m/s."""

    upwind: float
    downwind: float
    mean_of_speeds: float
    bias_of_mean: float  # mean of the speeds less still air
    from_mean_of_times: float  # speed from the mean time over a distance
    bias_from_times: float  # that less still air


def top_speed_in_wind(still: float, headwind: float) -> float:
    """Return the top speed in a wind where air drag takes nearly all of a constant power.

    Args:
        still: top speed in still air, m/s, above zero.
        headwind: m/s; a tailwind is below zero.

    Returns:
        m/s; root of ``v (v + w)|v + w| = v0³`` (bisection).

    Raises:
        InputError: the still-air speed is not above zero.

    Source: constant power against drag; closed form, root found numerically.

    >>> round(top_speed_in_wind(20, 3), 2)
    18.05
    """
    cube = above_zero("top speed", still, "km/h") ** 3
    low, high = max(0.0, -headwind), still + abs(headwind)
    for _ in range(80):
        middle = (low + high) / 2
        if middle * (middle + headwind) * abs(middle + headwind) < cube:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def two_way_top_speed(still: float, wind: float) -> TwoWayTopSpeed:
    """Return what two-way averages of a top speed make of a wind.

    With a real, falling power curve the sign of the first bias can turn round.

    Args:
        still: top speed in still air, m/s, above zero.
        wind: along the strip, m/s, zero or more.

    Returns:
        Both speeds, both means and their biases; near ``+w²/(9 v0)`` for the mean of the speeds
        and ``-w²/(3 v0)`` for the speed from the mean of the times.

    Raises:
        InputError: an input is refused.

    Source: series of the root of ``v (v + w)² = v0³``; closed form.

    >>> round(two_way_top_speed(20, 3).bias_of_mean, 3)
    0.05
    """
    against = top_speed_in_wind(still, not_negative("wind", wind, "m/s"))
    along = top_speed_in_wind(still, -wind)
    mean = (against + along) / 2
    harmonic = 2 / (1 / against + 1 / along)
    return TwoWayTopSpeed(against, along, mean, mean - still, harmonic, harmonic - still)
