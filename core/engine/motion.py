"""Speeds, accelerations and loads of piston, rod and flywheel: sums, never a 'safe' number."""

from __future__ import annotations

import math

from core.engine.crank import check_crank
from core.guards import above_zero, not_negative

__all__ = [
    "inertia_force",
    "mean_piston_speed",
    "peak_piston_speed",
    "piston_acceleration",
    "piston_speed",
    "relative_rod_load",
    "rim_speed",
    "ring_stress",
]

_SEARCH_STEPS = 80  # halvings of an angle bracket in a golden-section search


def mean_piston_speed(stroke: float, rpm: float) -> float:
    """Return the mean piston speed.

    Args:
        stroke: m, above zero.
        rpm: crank speed, 1/min, zero or more.

    Returns:
        m/s; ``2 S n / 60``.

    Raises:
        InputError: an input is refused.

    Source: definition; closed form.

    >>> round(mean_piston_speed(0.054, 3600), 2)
    6.48
    """
    return 2 * above_zero("stroke", stroke, "mm") * not_negative("engine speed", rpm, "rpm") / 60


def piston_speed(angle: float, stroke: float, rod: float, rpm: float, offset: float = 0.0) -> float:
    """Return the speed of the piston, downward above zero.

    Args:
        angle: crank degrees after the throw points along the cylinder.
        stroke: twice the throw, m.
        rod: centre to centre, m, longer than throw plus offset.
        rpm: 1/min, zero or more.
        offset: of the pin, m, toward the side the crankpin moves to after top.

    Returns:
        m/s; ``w [r sin a + q r cos a / sqrt(l² - q²)]`` with ``q = r sin a - d``.

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: first derivative of the exact slider crank; closed form.
    """
    throw = check_crank(stroke, rod, offset)
    omega = 2 * math.pi * not_negative("engine speed", rpm, "rpm") / 60
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    q = throw * sine - offset
    return omega * throw * (sine + q * cosine / math.sqrt(rod**2 - q**2))


def peak_piston_speed(stroke: float, rod: float, rpm: float, offset: float = 0.0) -> float:
    """Return the highest downward speed of the piston.

    Args:
        stroke: twice the throw, m.
        rod: centre to centre, m.
        rpm: 1/min, zero or more.
        offset: of the pin, m.

    Returns:
        m/s; maximum of :func:`piston_speed` over the down stroke (golden-section search).

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: closed form, maximum found numerically.

    >>> round(peak_piston_speed(0.054, 0.084, 3600), 3)
    10.696
    """
    low, high = 20.0, 160.0
    golden = (math.sqrt(5) - 1) / 2
    for _ in range(_SEARCH_STEPS):
        left, right = high - golden * (high - low), low + golden * (high - low)
        if piston_speed(left, stroke, rod, rpm, offset) < piston_speed(
            right, stroke, rod, rpm, offset
        ):
            low = left
        else:
            high = right
    return piston_speed((low + high) / 2, stroke, rod, rpm, offset)


def piston_acceleration(
    angle: float, stroke: float, rod: float, rpm: float, offset: float = 0.0
) -> float:
    """Return the acceleration of the piston, downward above zero.

    Args:
        angle: crank degrees after the throw points along the cylinder.
        stroke: twice the throw, m.
        rod: centre to centre, m.
        rpm: 1/min, zero or more.
        offset: of the pin, m.

    Returns:
        m/s²; second derivative of the exact travel. Without offset it is ``r w² (1 + r/l)`` at top
        dead centre.

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: second derivative of the exact slider crank; closed form.

    >>> round(piston_acceleration(0, 0.054, 0.084, 3600))
    5071
    """
    throw = check_crank(stroke, rod, offset)
    omega = 2 * math.pi * not_negative("engine speed", rpm, "rpm") / 60
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    q, dq = throw * sine - offset, throw * cosine
    root = math.sqrt(rod**2 - q**2)
    bend = (dq**2 - q * throw * sine) / root + q**2 * dq**2 / root**3
    return omega**2 * (throw * cosine + bend)


def inertia_force(mass: float, stroke: float, rod: float, rpm: float) -> float:
    """Return the pull on the rod from the reciprocating mass at the top between exhaust and intake.

    Args:
        mass: piston, pin, rings and the upper part of the rod, kg, above zero.
        stroke: m.
        rod: centre to centre, m.
        rpm: 1/min, zero or more.

    Returns:
        N; ``m r w² (1 + r/l)``; gas force is left out, which is near nothing at that top.

    Raises:
        InputError: an input is refused.

    Source: closed form.
    """
    return above_zero("reciprocating mass", mass, "kg") * piston_acceleration(0, stroke, rod, rpm)


def relative_rod_load(rpm: float, reference_rpm: float = 3600) -> float:
    """Return how many times the load of the reference speed the moving parts carry.

    Args:
        rpm: 1/min, zero or more.
        reference_rpm: 1/min, above zero; 3,600 is where governed engines of this kind run.

    Returns:
        Ratio; ``(n / n_ref)²``.

    Raises:
        InputError: an input is refused.

    Source: inertia force goes with speed squared; closed form. 3,600 as the governed speed:
    common practice, no source.

    >>> round(relative_rod_load(6000), 1)
    2.8
    """
    speed = not_negative("engine speed", rpm, "rpm")
    return (speed / above_zero("reference speed", reference_rpm, "rpm")) ** 2


def rim_speed(diameter: float, rpm: float) -> float:
    """Return the speed of a flywheel's rim.

    Args:
        diameter: m, above zero.
        rpm: 1/min, zero or more.

    Returns:
        m/s; ``pi D n / 60``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(rim_speed(0.160, 3600), 1)
    30.2
    """
    return (
        math.pi
        * above_zero("rim diameter", diameter, "mm")
        * not_negative("engine speed", rpm, "rpm")
        / 60
    )


def ring_stress(rim: float, density: float = 7200.0) -> float:
    """Return the hoop stress of a thin ring turning at a rim speed.

    A real wheel with holes, magnets, fins and a hub is stressed higher: this is the least it can
    be, not what it may be.

    Args:
        rim: rim speed, m/s, zero or more.
        density: kg/m³, above zero; 7,200 for cast iron (from memory).

    Returns:
        Pa; ``rho v²``.

    Raises:
        InputError: an input is refused.

    Source: thin rotating ring, any text on strength of materials; closed form.

    >>> round(ring_stress(30.16) / 1e6, 2)
    6.55
    """
    return above_zero("density", density, "kg/m³") * not_negative("rim speed", rim, "m/s") ** 2
