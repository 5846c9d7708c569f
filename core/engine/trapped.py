"""Trapped volume and ratio: what is above the piston when the intake valve has shut.

Purely geometric, and it depends wholly on the lift at which 'shut' is read.
"""

from __future__ import annotations

from core.engine.crank import dead_centres, travel_from
from core.engine.geometry import compression_ratio, swept_volume
from core.guards import between

__all__ = ["trapped_ratio", "trapped_volume"]


def trapped_volume(
    bore: float, stroke: float, rod: float, intake_closes: float, offset: float = 0.0
) -> float:
    """Return the volume that the piston sweeps from intake closing to top.

    Args:
        bore: m, above zero.
        stroke: twice the throw, m, above zero.
        rod: centre to centre, m, longer than throw plus offset.
        intake_closes: crank degrees after bottom, from -180 (at top) up to 180.
        offset: of the pin, m.

    Returns:
        m³; ``pi/4 B² x(IVC)``, clearance volume not counted.

    Raises:
        InputError: an input is refused, or the crank cannot turn.

    Source: exact slider crank; closed form.

    >>> round(trapped_volume(0.068, 0.054, 0.084, 50) * 1e6, 1)
    170.5
    """
    after_bottom = between("intake closing", intake_closes, -180, 180, "°")
    turns = dead_centres(stroke, rod, offset)
    travel = travel_from(turns.bottom - turns.top + after_bottom, stroke, rod, offset)
    return swept_volume(bore, travel) if travel > 0 else 0.0


def trapped_ratio(
    bore: float,
    stroke: float,
    rod: float,
    clearance: float,
    intake_closes: float,
    offset: float = 0.0,
) -> float:
    """Return the compression ratio from intake closing on (often called dynamic).

    Args:
        bore: m, above zero.
        stroke: twice the throw, m, above zero.
        rod: centre to centre, m.
        clearance: m³, above zero.
        intake_closes: crank degrees after bottom, at a stated lift.
        offset: of the pin, m.

    Returns:
        Ratio; ``(pi/4 B² x(IVC) + Vc) / Vc``.

    Raises:
        InputError: an input is refused; shut at top, nothing is trapped.

    Source: exact slider crank; closed form.

    >>> round(trapped_ratio(0.068, 0.054, 0.084, 26.15e-6, 50), 3)
    7.519
    """
    return compression_ratio(trapped_volume(bore, stroke, rod, intake_closes, offset), clearance)
