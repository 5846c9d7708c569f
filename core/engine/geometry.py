"""Volumes and compression ratios of a single cylinder."""

from __future__ import annotations

import math

from core.errors import InputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = [
    "chamber_for_ratio",
    "clearance_volume",
    "compression_ratio",
    "disc_volume",
    "head_gap",
    "swept_volume",
]


def disc_volume(diameter: float, height: float) -> float:
    """Return the volume of a disc, such as a gasket's hole.

    Args:
        diameter: m, above zero.
        height: m; below zero gives a volume below zero.

    Returns:
        m³; ``pi/4 d² h``.

    Source: closed form.
    """
    return math.pi / 4 * diameter**2 * height


def swept_volume(bore: float, stroke: float) -> float:
    """Return the volume that the piston sweeps.

    Args:
        bore: m, above zero.
        stroke: m, above zero.

    Returns:
        m³; ``Vs = pi/4 B² S``.

    Raises:
        InputError: bore or stroke is not above zero.

    Source: definition; closed form.

    >>> round(swept_volume(0.070, 0.054) * 1e6, 1)
    207.8
    """
    return disc_volume(above_zero("bore", bore, "mm"), above_zero("stroke", stroke, "mm"))


def clearance_volume(
    chamber: float,
    bore: float,
    deck: float,
    gasket_bore: float,
    gasket_thickness: float,
    crown: float = 0.0,
) -> float:
    """Return the volume left above the piston at top dead centre.

    The crevice above the top ring is not counted.

    Args:
        chamber: volume in the head, m³, zero or more.
        bore: m, above zero.
        deck: m; piston below the deck is above zero, piston proud of it below zero.
        gasket_bore: diameter of the gasket's hole, m, above zero.
        gasket_thickness: crushed, m, zero or more.
        crown: m³; a dish is above zero, a dome below zero.

    Returns:
        m³; ``Vc = chamber + pi/4 Bg² tg + pi/4 B² deck + crown``.

    Raises:
        InputError: an input is refused, or no volume is left.

    Source: definition; Heywood, Internal Combustion Engine Fundamentals, ch. 2 (from memory).

    >>> round(clearance_volume(21.5e-6, 0.068, 0.00035, 0.069, 0.0011) * 1e6, 3)
    26.884
    """
    volume = (
        not_negative("chamber volume", chamber, "cm³")
        + disc_volume(
            above_zero("gasket bore", gasket_bore, "mm"),
            not_negative("gasket thickness", gasket_thickness, "mm"),
        )
        + disc_volume(above_zero("bore", bore, "mm"), finite("deck", deck))
        + finite("crown volume", crown)
    )
    if volume <= 0:
        raise InputError(
            f"Clearance volume comes to {shown(volume, 'cm³')}: nothing is left above the piston.",
            "Check the signs of deck (below is plus) and crown (dish is plus).",
        )
    return volume


def compression_ratio(swept: float, clearance: float) -> float:
    """Return the static compression ratio.

    Args:
        swept: m³, above zero.
        clearance: m³, above zero.

    Returns:
        Ratio; ``(Vs + Vc) / Vc``.

    Raises:
        InputError: a volume is not above zero.

    Source: definition; Heywood, Internal Combustion Engine Fundamentals, ch. 2 (from memory).

    >>> round(compression_ratio(196.111e-6, 26.15e-6), 2)
    8.5
    """
    vs = above_zero("swept volume", swept, "cm³")
    vc = above_zero("clearance volume", clearance, "cm³")
    return (vs + vc) / vc


def chamber_for_ratio(ratio: float, swept: float, clearance: float, chamber: float) -> float:
    """Return the chamber volume that would give a wanted ratio, all else kept.

    Args:
        ratio: wanted static compression ratio, above 1.
        swept: m³, above zero.
        clearance: clearance volume as it is, m³, above zero.
        chamber: chamber volume as it is, m³, zero or more.

    Returns:
        m³; ``chamber + Vs/(CR - 1) - Vc``.

    Raises:
        InputError: the ratio is not above 1, or no chamber at all would give so high a ratio.

    Source: definition of the ratio, solved for the chamber; closed form.

    >>> round(chamber_for_ratio(9.5, 196.1108e-6, 26.8843e-6, 21.5e-6) * 1e6, 2)
    17.69
    """
    if finite("wanted ratio", ratio) <= 1:
        raise InputError(f"Wanted ratio is {ratio:g}: a compression ratio must be above 1.")
    vs = above_zero("swept volume", swept, "cm³")
    vc = above_zero("clearance volume", clearance, "cm³")
    wanted = not_negative("chamber volume", chamber, "cm³") + vs / (ratio - 1) - vc
    if wanted < 0:
        raise InputError(
            f"No chamber gives {ratio:g}: gasket, deck and crown alone hold too much volume."
        )
    return wanted


def head_gap(deck: float, gasket_thickness: float) -> float:
    """Return the gap between piston edge and head at top dead centre, rod stretch left out.

    Args:
        deck: m; piston below the deck is above zero.
        gasket_thickness: crushed, m, zero or more.

    Returns:
        m; ``deck + tg``; zero or less means that piston and head meet.

    Raises:
        InputError: the gasket thickness is below zero.

    Source: closed form.

    >>> round(head_gap(-0.00125, 0.0008) * 1000, 2)
    -0.45
    """
    return finite("deck", deck) + not_negative("gasket thickness", gasket_thickness, "mm")
