"""Ratios, rolling circumference, and road speed against engine speed, with slip.

A variable belt drive has no fixed ratio: none of this holds for one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from core.errors import InputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = [
    "apparent_slip",
    "circumference_from_diameter",
    "overall_ratio",
    "rolling_circumference",
    "rpm",
    "speed",
    "tyre_growth",
]


def _teeth(name: str, count: float) -> float:
    number = above_zero(f"tooth count of the {name}", count)
    if number != int(number):
        raise InputError(f"Tooth count of the {name} is {count:g}: teeth come whole.")
    return number


def overall_ratio(stages: Sequence[tuple[float, float]]) -> float:
    """Return the overall ratio of all stages from engine to wheel.

    Args:
        stages: (driver, driven) teeth of each stage, whole and above zero; at least one stage.

    Returns:
        Engine turns per wheel turn; product of ``driven / driver``.

    Raises:
        InputError: no stage, or a tooth count that is zero, below zero or not whole.

    Source: closed form.

    >>> overall_ratio([(12, 72)]), round(overall_ratio([(15, 40), (10, 50)]), 2)
    (6.0, 13.33)
    """
    if not stages:
        raise InputError("No stage is given: a ratio needs at least one driver and one driven.")
    return math.prod(_teeth("driven", n) / _teeth("driver", d) for d, n in stages)


def _slip(slip: float) -> float:
    if not -1 < finite("slip", slip) < 1:
        raise InputError(f"Slip is {shown(slip, '%')}: it must lie between -100 and 100 %.")
    return slip


def speed(rpm: float, ratio: float, circumference: float, slip: float = 0.0) -> float:
    """Return the road speed at an engine speed.

    Args:
        rpm: engine speed, 1/min, zero or more.
        ratio: overall, above zero.
        circumference: rolling, loaded, m, above zero.
        slip: share of the wheel's way that is lost, usually 0.02 to 0.03; below zero for growth.

    Returns:
        m/s; ``n C (1 - s) / (60 G)``.

    Raises:
        InputError: an input is refused.

    Source: closed form; 2 to 3 % of slip: common practice, no source.

    >>> round(speed(3600, 6.0, 1.47), 2)
    14.7
    """
    turns = not_negative("engine speed", rpm, "rpm") / 60 / above_zero("ratio", ratio)
    return turns * above_zero("rolling circumference", circumference, "m") * (1 - _slip(slip))


def rpm(speed: float, ratio: float, circumference: float, slip: float = 0.0) -> float:
    """Return the engine speed at a road speed.

    With slip left at zero the true engine speed is a few per cent higher than this.

    Args:
        speed: m/s, zero or more.
        ratio: overall, above zero.
        circumference: rolling, loaded, m, above zero.
        slip: share of the wheel's way that is lost.

    Returns:
        1/min; ``60 G v / (C (1 - s))``.

    Raises:
        InputError: an input is refused.

    Source: closed form, inverse of :func:`speed`.

    >>> round(rpm(10.0, 6.0, 1.47))
    2449
    """
    wheel = not_negative("speed", speed, "km/h") / (
        above_zero("rolling circumference", circumference, "m") * (1 - _slip(slip))
    )
    return 60 * above_zero("ratio", ratio) * wheel


def apparent_slip(measured: float, engine_rpm: float, ratio: float, circumference: float) -> float:
    """Return the slip that one pair of speed and rpm seems to show.

    One speed cannot tell slip from a tyre that grew, from a circumference that is off, or from an
    error of the speed or the rpm. Below zero the circumference on file is too small.

    Args:
        measured: speed, m/s, zero or more.
        engine_rpm: 1/min, above zero.
        ratio: overall, above zero.
        circumference: rolling, m, above zero.

    Returns:
        Share; ``1 - v / (n C / (60 G))``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(apparent_slip(13.1, 3400, 6.0, 1.47), 4)
    0.0564
    """
    full = speed(above_zero("engine speed", engine_rpm, "rpm"), ratio, circumference)
    return 1 - not_negative("speed", measured, "km/h") / full


def circumference_from_diameter(diameter: float) -> float:
    """Return the circumference of an unloaded tyre: an upper value for the rolling one.

    Args:
        diameter: over the tread, m, above zero.

    Returns:
        m; ``pi D``; the loaded rolling circumference is usually a few per cent less.

    Raises:
        InputError: the diameter is not above zero.

    Source: closed form; 'a few per cent less': common practice, no source.

    >>> round(circumference_from_diameter(19 * 0.0254), 3)
    1.516
    """
    return math.pi * above_zero("tyre diameter", diameter, "mm")


def rolling_circumference(distance: float, turns: float) -> float:
    """Return the rolling circumference from a roll-out with the rider on.

    Args:
        distance: rolled, m, above zero.
        turns: of the wheel, above zero.

    Returns:
        m; ``distance / turns``.

    Raises:
        InputError: an input is not above zero.

    Source: definition.

    >>> round(rolling_circumference(4.435, 3), 4)
    1.4783
    """
    return above_zero("rolled distance", distance, "m") / above_zero("number of turns", turns)


def tyre_growth(at_rest: float, at_speed: float) -> float:
    """Return how much a tyre's circumference grows at speed.

    Args:
        at_rest: rolling circumference at walking pace, m, above zero.
        at_speed: the same at speed, m, above zero.

    Returns:
        Share; ``C / C0 - 1``; speed at the same rpm rises by the same share.

    Raises:
        InputError: an input is not above zero.

    Source: closed form.

    >>> round(tyre_growth(0.838, 0.855), 4)
    0.0203
    """
    grown = above_zero("rolling circumference at speed", at_speed, "m")
    return grown / above_zero("rolling circumference", at_rest, "m") - 1
