"""Cam events and what follows from them: durations, centres, separation, overlap, advance.

All events of one cam are read at one stated checking lift. Angles are crank degrees unless said.
"""

from __future__ import annotations

import msgspec

from core.errors import InputError
from core.guards import between, finite

__all__ = ["CamEvents", "CamTiming", "advanced", "cam_timing", "events_from_centres"]


class CamEvents(msgspec.Struct, frozen=True):
    """When the valves open and close; negative means on the other side of the dead centre."""

    intake_opens: float  # degrees before top
    intake_closes: float  # degrees after bottom
    exhaust_opens: float  # degrees before bottom
    exhaust_closes: float  # degrees after top


class CamTiming(msgspec.Struct, frozen=True):
    """What follows from the events.

    A centre is the middle of the opening; it is where the lift is highest only on a lobe that
    opens as it closes.
    """

    intake_duration: float  # crank degrees
    exhaust_duration: float  # crank degrees
    intake_centre: float  # crank degrees after overlap top
    exhaust_centre: float  # crank degrees before overlap top
    separation: float  # cam degrees between the centres
    overlap: float  # crank degrees both are open; below zero: both shut for so long
    advance: float  # crank degrees; above zero: the cam runs early against straight up


def _duration(name: str, degrees: float) -> float:
    if not 0 < finite(name, degrees) < 540:
        raise InputError(
            f"{name.capitalize()} comes to {degrees:g}°: it must lie between 0 and 540°.",
            "Check the side of each event: before or after its dead centre.",
        )
    return degrees


def cam_timing(events: CamEvents) -> CamTiming:
    """Return durations, centres, separation, overlap and advance.

    Args:
        events: all at the same checking lift; each from -180 to 180 degrees.

    Returns:
        ``Di = IVO + 180 + IVC``, ``De = EVO + 180 + EVC``, ``ICL = Di/2 - IVO``,
        ``ECL = De/2 - EVC``, ``LSA = (ICL + ECL)/2``, ``overlap = IVO + EVC``,
        ``advance = LSA - ICL``.

    Raises:
        InputError: an event is out of range, or a duration is none.

    Source: definitions; Heywood, Internal Combustion Engine Fundamentals, ch. 6 (from memory).

    >>> timing = cam_timing(CamEvents(10, 42, 44, 8))
    >>> timing.intake_duration, timing.intake_centre, timing.separation, timing.overlap
    (232, 106.0, 107.0, 18)
    """
    for name in ("intake_opens", "intake_closes", "exhaust_opens", "exhaust_closes"):
        between(name.replace("_", " "), getattr(events, name), -180, 180, "°")
    intake = _duration("intake duration", events.intake_opens + 180 + events.intake_closes)
    exhaust = _duration("exhaust duration", events.exhaust_opens + 180 + events.exhaust_closes)
    intake_centre = intake / 2 - events.intake_opens
    exhaust_centre = exhaust / 2 - events.exhaust_closes
    separation = (intake_centre + exhaust_centre) / 2
    return CamTiming(
        intake_duration=intake,
        exhaust_duration=exhaust,
        intake_centre=intake_centre,
        exhaust_centre=exhaust_centre,
        separation=separation,
        overlap=events.intake_opens + events.exhaust_closes,
        advance=separation - intake_centre,
    )


def events_from_centres(
    intake_duration: float, exhaust_duration: float, intake_centre: float, exhaust_centre: float
) -> CamEvents:
    """Return the events of a cam known by its durations and centres.

    Args:
        intake_duration: crank degrees, 0 to 540.
        exhaust_duration: the same.
        intake_centre: crank degrees after overlap top.
        exhaust_centre: crank degrees before overlap top.

    Returns:
        ``IVO = Di/2 - ICL``, ``IVC = Di/2 + ICL - 180``, ``EVO = De/2 + ECL - 180``,
        ``EVC = De/2 - ECL``.

    Raises:
        InputError: a duration is out of range.

    Source: inverse of :func:`cam_timing`.

    >>> events_from_centres(232, 232, 106, 110)
    CamEvents(intake_opens=10.0, intake_closes=42.0, exhaust_opens=46.0, exhaust_closes=6.0)
    """
    intake = _duration("intake duration", intake_duration) / 2
    exhaust = _duration("exhaust duration", exhaust_duration) / 2
    return CamEvents(
        intake_opens=intake - finite("intake centre", intake_centre),
        intake_closes=intake + intake_centre - 180,
        exhaust_opens=exhaust + finite("exhaust centre", exhaust_centre) - 180,
        exhaust_closes=exhaust - exhaust_centre,
    )


def advanced(events: CamEvents, degrees: float) -> CamEvents:
    """Return the events after the cam is moved to run earlier.

    Args:
        events: as they are.
        degrees: crank degrees; above zero is earlier, below zero later.

    Returns:
        Opens earlier and closes earlier by so much, on both valves.

    Raises:
        InputError: the degrees are no number.

    Source: closed form.

    >>> advanced(CamEvents(10, 42, 44, 8), 4)
    CamEvents(intake_opens=14, intake_closes=38, exhaust_opens=48, exhaust_closes=4)
    """
    shift = finite("cam advance", degrees)
    return CamEvents(
        intake_opens=events.intake_opens + shift,
        intake_closes=events.intake_closes - shift,
        exhaust_opens=events.exhaust_opens + shift,
        exhaust_closes=events.exhaust_closes - shift,
    )
