"""Road load: what holds a machine back, and the speed at which power and road load meet."""

from __future__ import annotations

import math

import msgspec

from core.errors import InputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = ["GRAVITY", "Road", "air_factor", "road_load", "rolling_force", "top_speed"]

GRAVITY = 9.80665  # m/s², standard

_FASTEST = 200.0  # m/s, end of the search for a top speed


class Road(msgspec.Struct, frozen=True):
    """Machine, rider, air and strip, as far as they hold back.

    Raises:
        InputError: mass, rolling coefficient, drag area or density is refused.
    """

    mass: float  # machine with rider, kg
    rolling: float  # coefficient of rolling resistance, Crr
    drag_area: float  # drag coefficient times area, CdA, m²
    air_density: float  # kg/m³
    headwind: float = 0.0  # m/s along the strip; a tailwind is below zero
    grade: float = 0.0  # rise over run; downhill is below zero

    def __post_init__(self) -> None:
        above_zero("mass", self.mass, "kg")
        not_negative("rolling resistance", self.rolling)
        not_negative("drag area", self.drag_area, "m²")
        above_zero("air density", self.air_density, "kg/m³")
        finite("headwind", self.headwind)
        if abs(finite("grade", self.grade)) > 1:
            raise InputError(f"Grade is {shown(self.grade, '%')}: it must lie within 100 %.")


def air_factor(road: Road) -> float:
    """Return ``rho CdA / 2``, N s²/m²: air drag over speed through the air squared.

    Source: definition of the drag coefficient.
    """
    return 0.5 * road.air_density * road.drag_area


def rolling_force(road: Road) -> float:
    """Return ``m g (Crr cos + sin)``, N: what holds back at any speed, the slope with it.

    Source: closed form; angle is ``atan(grade)``.
    """
    steep = math.atan(road.grade)
    return road.mass * GRAVITY * (road.rolling * math.cos(steep) + math.sin(steep))


def road_load(road: Road, speed: float) -> float:
    """Return the force that holds back at a speed.

    On runs one way a grade and a rolling coefficient are one number: half a per cent of grade is
    0.005 of coefficient.

    Args:
        road: machine, air and strip.
        speed: m/s, zero or more.

    Returns:
        N; ``Crr m g cos + m g sin + rho CdA/2 (v + w)|v + w|``; below zero drives the machine on.

    Raises:
        InputError: the speed is below zero.

    Source: closed form.

    >>> round(road_load(Road(150, 0.025, 0.7, 1.2), 12.0), 2)
    97.25
    """
    through_air = not_negative("speed", speed, "km/h") + road.headwind
    return rolling_force(road) + air_factor(road) * through_air * abs(through_air)


def top_speed(road: Road, power: float) -> float:
    """Return the speed at which a constant power at the wheel just meets the road load.

    Args:
        road: machine, air and strip.
        power: at the wheel, W, above zero.

    Returns:
        m/s; root of ``k v (v + w)|v + w| + f0 v = P`` (bisection); the highest one.

    Raises:
        InputError: the power is refused, or nothing holds back below 200 m/s.

    Source: closed form, root found numerically.

    >>> round(top_speed(Road(150, 0.025, 0.7, 1.2), 4000.0), 2)
    19.82
    """
    above_zero("power", power, "kW")

    def surplus(v: float) -> float:
        return power - v * road_load(road, v)

    low, high = 0.0, _FASTEST
    if surplus(high) > 0:
        raise InputError("Nothing holds this machine back: check drag area, rolling and grade.")
    steps = [_FASTEST * i / 2000 for i in range(2000, -1, -1)]
    low = next(v for v in steps if surplus(v) > 0)
    high = low + _FASTEST / 2000
    for _ in range(60):
        middle = (low + high) / 2
        if surplus(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
