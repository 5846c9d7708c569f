"""Margins of spring, retainer and pushrod, and the lengths that move when the head comes down.

A margin of zero or below is contact. Which margin is enough is the user's own number.
"""

from __future__ import annotations

import msgspec

from core.errors import InputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = [
    "USUAL_MINIMUMS",
    "UsualMinimum",
    "coil_bind_margin",
    "deck_after_stroke",
    "pushrod_length_change",
    "pushrod_rub_margin",
    "retainer_margin",
]


class UsualMinimum(msgspec.Struct, frozen=True):
    """A minimum that is often used; offered for the user's own, never applied by itself."""

    key: str  # what it belongs to
    words: str  # as shown
    low: float  # m, lower end of what is used
    high: float  # m, upper end of what is used
    source: str


_TRADE = "common practice, no source"

USUAL_MINIMUMS: tuple[UsualMinimum, ...] = (
    UsualMinimum("intake_to_piston", "intake valve to piston, steel rod", 2.0e-3, 2.0e-3, _TRADE),
    UsualMinimum("exhaust_to_piston", "exhaust valve to piston, steel rod", 2.5e-3, 2.5e-3, _TRADE),
    UsualMinimum("aluminium_rod", "more to add with an aluminium rod", 0.5e-3, 0.8e-3, _TRADE),
    UsualMinimum("pocket", "valve edge to pocket wall", 1.3e-3, 1.3e-3, _TRADE),
    UsualMinimum("coil_bind", "spring to coil bind", 1.0e-3, 1.5e-3, _TRADE),
    UsualMinimum("retainer", "retainer to guide or seal", 1.3e-3, 1.5e-3, _TRADE),
    UsualMinimum("head", "piston to head, steel rod", 0.9e-3, 1.0e-3, _TRADE),
)


def coil_bind_margin(installed: float, solid: float, lift: float) -> float:
    """Return how much further a spring could be pressed at full lift.

    Args:
        installed: height with the valve shut, m, above the solid height.
        solid: height with all coils touching, m, above zero.
        lift: highest valve lift, m, zero or more.

    Returns:
        m; ``installed - lift - solid``; zero or below is coil bind.

    Raises:
        InputError: an input is refused.

    Source: definition.

    >>> round(coil_bind_margin(0.034, 0.0245, 0.0069) * 1000, 2)
    2.6
    """
    full = above_zero("installed height", installed, "mm")
    if full <= above_zero("solid height", solid, "mm"):
        raise InputError(
            f"Installed height {shown(full, 'mm')} is not above the solid height"
            f" {shown(solid, 'mm')}: check which is which."
        )
    return full - not_negative("valve lift", lift, "mm") - solid


def retainer_margin(closed: float, lift: float) -> float:
    """Return the gap left between retainer and guide or seal at full lift.

    Args:
        closed: gap with the valve shut, m, above zero.
        lift: highest valve lift, m, zero or more.

    Returns:
        m; ``closed - lift``; zero or below is contact.

    Raises:
        InputError: an input is refused.

    Source: definition.

    >>> round(retainer_margin(0.0094, 0.0069) * 1000, 2)
    2.5
    """
    return above_zero("closed retainer gap", closed, "mm") - not_negative("valve lift", lift, "mm")


def pushrod_rub_margin(hole: float, rod: float, sideways: float) -> float:
    """Return the gap between a pushrod and its hole or guide plate at its worst point.

    Args:
        hole: diameter or slot width, m, above the rod's.
        rod: diameter, m, above zero.
        sideways: largest distance of the rod from the middle of the hole over a turn, m, zero or
            more.

    Returns:
        m; ``(hole - rod)/2 - sideways``; zero or below is rubbing.

    Raises:
        InputError: an input is refused, or the rod does not fit.

    Source: closed form.

    >>> round(pushrod_rub_margin(0.0095, 0.0065, 0.0011) * 1000, 2)
    0.4
    """
    if above_zero("hole", hole, "mm") <= above_zero("pushrod diameter", rod, "mm"):
        raise InputError(f"A {shown(rod, 'mm')} pushrod does not fit a {shown(hole, 'mm')} hole.")
    return (hole - rod) / 2 - not_negative("sideways travel", sideways, "mm")


def pushrod_length_change(gasket_change: float, head_cut: float, deck_cut: float = 0.0) -> float:
    """Return how much longer the pushrod must be to keep the rocker's sweep and the lash setting.

    Args:
        gasket_change: new crushed thickness less old, m.
        head_cut: taken off the head's face, m, zero or more.
        deck_cut: taken off the block's deck, m, zero or more.

    Returns:
        m; ``gasket_change - head_cut - deck_cut``; below zero is shorter. Holds where the rocker
        stands on the head and the cam in the block.

    Raises:
        InputError: a cut is below zero.

    Source: closed form.

    >>> round(pushrod_length_change(-0.0003, 0.0005) * 1000, 2)
    -0.8
    """
    lost = not_negative("head cut", head_cut, "mm") + not_negative("deck cut", deck_cut, "mm")
    return finite("gasket change", gasket_change) - lost


def deck_after_stroke(
    deck: float,
    old_stroke: float,
    new_stroke: float,
    rod_change: float = 0.0,
    pin_rise: float = 0.0,
) -> float:
    """Return the deck of a longer or shorter stroke with nothing else done about it.

    Args:
        deck: as measured, m; piston below the deck is above zero.
        old_stroke: m, above zero.
        new_stroke: m, above zero.
        rod_change: new rod less old, m.
        pin_rise: new distance from pin to crown less old, m.

    Returns:
        m; ``deck - (S2 - S1)/2 - rod_change - pin_rise``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(deck_after_stroke(0.00025, 0.054, 0.057) * 1000, 2)
    -1.25
    """
    longer = above_zero("new stroke", new_stroke, "mm") - above_zero("stroke", old_stroke, "mm")
    return finite("deck", deck) - longer / 2 - finite("rod change", rod_change) - pin_rise
