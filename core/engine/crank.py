"""The exact slider crank with pin offset: where the piston is at a crank angle.

Angles are crank degrees after the throw points along the cylinder axis; with an offset the true
top dead centre lies a little beside that.
"""

from __future__ import annotations

import math

import msgspec

from core.errors import InputError
from core.guards import above_zero, finite, shown

__all__ = ["DeadCentres", "check_crank", "dead_centres", "piston_travel", "travel_from"]


class DeadCentres(msgspec.Struct, frozen=True):
    """Where the piston turns round."""

    top: float  # crank degrees after the throw points along the cylinder
    bottom: float  # the same, near 180
    stroke: float  # true travel from top to bottom, m


def check_crank(stroke: float, rod: float, offset: float = 0.0) -> float:
    """Return the throw (half of ``stroke``, m) of a crank that can turn.

    Args:
        stroke: twice the throw, m, above zero.
        rod: centre to centre, m, longer than throw plus offset.
        offset: of the pin from the plane of the crank, m.

    Raises:
        InputError: an input is refused, or the rod is too short to turn.
    """
    throw = above_zero("stroke", stroke, "mm") / 2
    reach = throw + abs(finite("pin offset", offset))
    if above_zero("rod length", rod, "mm") <= reach:
        raise InputError(
            f"Rod is {shown(rod, 'mm')}: it must be longer than throw and pin offset together"
            f" ({shown(reach, 'mm')}), or the crank cannot turn."
        )
    return throw


def piston_travel(angle: float, stroke: float, rod: float, offset: float = 0.0) -> float:
    """Return how far the piston is below its top dead centre.

    Args:
        angle: crank degrees after the throw points along the cylinder.
        stroke: twice the throw, m, above zero.
        rod: centre to centre, m, longer than throw plus offset.
        offset: of the pin, m, above zero toward the side the crankpin moves to after top. A pin
            set toward the major thrust side is below zero.

    Returns:
        m; ``x = sqrt((l+r)² - d²) - [r cos a + sqrt(l² - (r sin a - d)²)]``.

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: exact slider crank; closed form.

    >>> round(piston_travel(90, 0.054, 0.084) * 1000, 4)
    31.4576
    """
    throw = check_crank(stroke, rod, offset)
    turned = math.radians(finite("crank angle", angle))
    along = throw * math.cos(turned) + math.sqrt(rod**2 - (throw * math.sin(turned) - offset) ** 2)
    return math.sqrt((rod + throw) ** 2 - offset**2) - along


def dead_centres(stroke: float, rod: float, offset: float = 0.0) -> DeadCentres:
    """Return the crank angles of top and bottom and the true stroke.

    Args:
        stroke: twice the throw, m, above zero.
        rod: centre to centre, m, longer than throw plus offset.
        offset: of the pin, m.

    Returns:
        Top at ``asin(d/(l+r))``, bottom at ``180° + asin(d/(l-r))``, true stroke
        ``sqrt((l+r)² - d²) - sqrt((l-r)² - d²)``.

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: exact slider crank; closed form.

    >>> turns = dead_centres(0.054, 0.084, 0.0015)
    >>> round(turns.top, 3), round(turns.bottom, 3), round(turns.stroke * 1000, 4)
    (0.774, 181.508, 54.0096)
    """
    throw = check_crank(stroke, rod, offset)
    long, short = rod + throw, rod - throw
    return DeadCentres(
        top=math.degrees(math.asin(offset / long)),
        bottom=180 + math.degrees(math.asin(offset / short)),
        stroke=math.sqrt(long**2 - offset**2) - math.sqrt(short**2 - offset**2),
    )


def travel_from(angle: float, stroke: float, rod: float, offset: float = 0.0) -> float:
    """Return the travel below top at crank degrees counted from the true top dead centre.

    This is what a degree wheel reads that was zeroed with a positive stop.

    Args:
        angle: crank degrees after true top dead centre.
        stroke: twice the throw, m.
        rod: centre to centre, m.
        offset: of the pin, m.

    Returns:
        m; :func:`piston_travel` at ``angle`` plus the angle of true top.

    Raises:
        InputError: the crank cannot turn, or an input is refused.

    Source: exact slider crank; closed form.
    """
    return piston_travel(angle + dead_centres(stroke, rod, offset).top, stroke, rod, offset)
