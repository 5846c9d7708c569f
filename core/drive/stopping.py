"""How far it takes to stop, for the length of run-out to ask for."""

from __future__ import annotations

from core.guards import above_zero, not_negative

__all__ = ["stopping_distance"]


def stopping_distance(speed: float, reaction: float = 1.0, deceleration: float = 3.0) -> float:
    """Return the way from seeing the mark to standing still.

    Args:
        speed: m/s, zero or more.
        reaction: s, zero or more.
        deceleration: m/s², above zero; 3 for one small rear brake.

    Returns:
        m; ``v t + v²/(2a)``. A reckoning for planning; the strip, the brake and the rider decide.

    Raises:
        InputError: an input is refused.

    Source: constant deceleration, closed form; 1 s and 3 m/s²: common practice, no source.

    >>> [round(stopping_distance(kmh / 3.6)) for kmh in (20, 40, 60, 75)]
    [11, 32, 63, 93]
    """
    v = not_negative("speed", speed, "km/h")
    delay = not_negative("reaction time", reaction, "s")
    return v * delay + v**2 / (2 * above_zero("deceleration", deceleration, "m/s²"))
