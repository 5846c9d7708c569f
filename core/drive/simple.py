"""Constant power: closed forms for plausibility, with no loss or with air drag only."""

from __future__ import annotations

import math

from core.errors import InputError
from core.guards import above_zero, not_negative, shown

__all__ = [
    "distance_speed",
    "distance_time",
    "drag_distance_speed",
    "drag_speed_time",
    "drag_terminal_speed",
    "elapsed_from_power",
    "fit_efficiency",
    "speed_time",
]


def speed_time(mass: float, power: float, speed: float) -> float:
    """Return the time from standstill to a speed at constant power without losses.

    Args:
        mass: kg, above zero.
        power: at the wheel, W, above zero.
        speed: m/s, zero or more.

    Returns:
        s; ``m v²/(2P)``.

    Raises:
        InputError: an input is refused.

    Source: closed form; G. T. Fox, Am. J. Phys. 41 (1973) 311 (from memory).

    >>> round(speed_time(150, 4000, 13), 3)
    3.169
    """
    v = not_negative("speed", speed, "km/h")
    return above_zero("mass", mass, "kg") * v**2 / (2 * above_zero("power", power, "kW"))


def distance_time(mass: float, power: float, distance: float) -> float:
    """Return the time over a distance from standstill at constant power without losses.

    Args:
        mass: kg, above zero.
        power: at the wheel, W, above zero.
        distance: m, zero or more.

    Returns:
        s; ``(9 m x²/(8P))^(1/3)``.

    Raises:
        InputError: an input is refused.

    Source: closed form; Fox 1973 (from memory).

    >>> round(distance_time(150, 4000, 100), 3)
    7.5
    """
    x = not_negative("distance", distance, "m")
    return math.cbrt(
        9 * above_zero("mass", mass, "kg") * x**2 / (8 * above_zero("power", power, "kW"))
    )


def distance_speed(mass: float, power: float, distance: float) -> float:
    """Return the speed after a distance from standstill at constant power without losses.

    Args:
        mass: kg, above zero.
        power: at the wheel, W, above zero.
        distance: m, zero or more.

    Returns:
        m/s; ``(3 P x/m)^(1/3)``.

    Raises:
        InputError: an input is refused.

    Source: closed form; Fox 1973 (from memory).

    >>> round(distance_speed(150, 4000, 100), 3)
    20.0
    """
    x = not_negative("distance", distance, "m")
    return math.cbrt(3 * above_zero("power", power, "kW") * x / above_zero("mass", mass, "kg"))


def drag_terminal_speed(power: float, air_factor: float) -> float:
    """Return the speed at which air drag alone takes all of a constant power.

    Args:
        power: at the wheel, W, above zero.
        air_factor: ``rho CdA/2``, N s²/m², above zero.

    Returns:
        m/s; ``(P/k)^(1/3)``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(drag_terminal_speed(4000, 0.42), 3)
    21.197
    """
    return math.cbrt(above_zero("power", power, "kW") / above_zero("air factor", air_factor))


def drag_speed_time(mass: float, power: float, air_factor: float, speed: float) -> float:
    """Return the time from standstill to a speed at constant power against air drag only.

    Args:
        mass: kg, above zero.
        power: at the wheel, W, above zero.
        air_factor: ``rho CdA/2``, N s²/m², above zero.
        speed: m/s, zero or more, below the terminal speed.

    Returns:
        s; with ``u = v/vT``: ``(m vT²/P) {ln[(1 + u + u²)/(1 - u)²]/6 - [atan((2u + 1)/sqrt 3)
        - atan(1/sqrt 3)]/sqrt 3}``.

    Raises:
        InputError: an input is refused, or the speed is never reached.

    Source: integral of ``m v dv/(P - k v³)``; closed form.

    >>> round(drag_speed_time(150, 4000, 0.42, 13), 4)
    3.512
    """
    terminal = drag_terminal_speed(power, air_factor)
    u = not_negative("speed", speed, "km/h") / terminal
    if u >= 1:
        raise InputError(
            f"{shown(speed, 'km/h')} is not reached: the top speed is {shown(terminal, 'km/h')}."
        )
    third = math.sqrt(3)
    logs = math.log((1 + u + u * u) / (1 - u) ** 2) / 6
    arcs = (math.atan((2 * u + 1) / third) - math.atan(1 / third)) / third
    return above_zero("mass", mass, "kg") * terminal**2 / power * (logs - arcs)


def drag_distance_speed(mass: float, power: float, air_factor: float, distance: float) -> float:
    """Return the speed after a distance from standstill against air drag only.

    Args:
        mass: kg, above zero.
        power: at the wheel, W, above zero.
        air_factor: ``rho CdA/2``, N s²/m², above zero.
        distance: m, zero or more.

    Returns:
        m/s; ``vT (1 - exp(-3 k x/m))^(1/3)``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(drag_distance_speed(150, 4000, 0.42, 100), 3)
    17.557
    """
    way = not_negative("distance", distance, "m") / above_zero("mass", mass, "kg")
    return drag_terminal_speed(power, air_factor) * math.cbrt(-math.expm1(-3 * air_factor * way))


def elapsed_from_power(mass: float, power: float, distance: float, efficiency: float) -> float:
    """Return the plausible time over a distance from rated power, with one efficiency for all else.

    Good to some 6 %: enough to see a slip of the pen, useless for judging a part.

    Args:
        mass: kg, above zero.
        power: rated, W, above zero.
        distance: m, zero or more.
        efficiency: share of the rated power that counts, above 0 to 1.

    Returns:
        s; ``(9 m x²/(8 eta P))^(1/3)``.

    Raises:
        InputError: an input is refused.

    Source: Fox 1973 (from memory); 0.465 fits 32 road tests of 1974 (Henderson & Velleman,
    Biometrics 37 (1981) 391) with 1.09 s of 17 s.
    """
    return distance_time(mass, power * above_zero("efficiency", efficiency), distance)


def fit_efficiency(
    masses: list[float], powers: list[float], times: list[float], distance: float
) -> float:
    """Return the efficiency that fits measured times best, least squares in time.

    Args:
        masses: kg, each above zero.
        powers: rated, W, each above zero.
        times: s, each above zero; as many as masses and powers.
        distance: m, above zero.

    Returns:
        ``eta = c^-3``, ``c = sum(t t0)/sum(t0²)`` with t0 the time at efficiency 1.

    Raises:
        InputError: the lists differ in length or are empty.

    Source: one-parameter linear least squares; closed form.
    """
    if not masses or not len(masses) == len(powers) == len(times):
        raise InputError("Masses, powers and times must be lists of the same length.")
    ideal = [distance_time(m, p, distance) for m, p in zip(masses, powers, strict=True)]
    share = sum(t * t0 for t, t0 in zip(times, ideal, strict=True)) / sum(t0**2 for t0 in ideal)
    return 1 / share**3
