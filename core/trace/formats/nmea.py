"""One NMEA 0183 sentence: its checksum, and the fix of an RMC sentence."""

from __future__ import annotations

import re
from functools import reduce
from operator import xor

import msgspec

from core.errors import InputError, UnknownInputError

__all__ = ["KNOT", "RmcFix", "checked_fields", "checksum", "read_rmc"]

KNOT = 1852 / 3600
"""m/s in one knot, exact."""

_FRAME = re.compile(r"\$(?P<body>[\x20-\x7e]*)\*(?P<sum>[0-9A-Fa-f]{2})")
_ANGLE = re.compile(r"(?P<degrees>\d{2,3})(?P<minutes>\d{2}(?:\.\d+)?)")


class RmcFix(msgspec.Struct, frozen=True):
    """Position and speed of one RMC sentence."""

    time: str  # UTC, hhmmss.ss as sent
    date: str  # ddmmyy as sent; empty when left out
    latitude: float  # degrees, north above zero
    longitude: float  # degrees, east above zero
    speed: float  # m/s over ground


def checksum(body: str) -> str:
    """Return the checksum of what stands between ``$`` and ``*``: two hex digits.

    Source: NMEA 0183: exclusive or of all characters (from memory).

    >>> checksum("GPGLL,5300.97914,N,00259.98174,E,125926,A")
    '28'
    """
    return f"{reduce(xor, body.encode('ascii', 'replace'), 0):02X}"


def checked_fields(sentence: str) -> tuple[str, ...]:
    """Return the fields of a sentence whose checksum is right, the first one its kind.

    Raises:
        InputError: no sentence, no checksum, or a wrong one.
    """
    frame = _FRAME.fullmatch(sentence.strip())
    if frame is None:
        raise InputError("Not a whole NMEA sentence: it needs $, * and two hex digits.")
    wanted, said = checksum(frame["body"]), frame["sum"].upper()
    if wanted != said:
        raise InputError(f"Checksum is {said} but the sentence gives {wanted}: it was garbled.")
    return tuple(frame["body"].split(","))


def _angle(text: str, side: str, sides: str) -> float:
    match = _ANGLE.fullmatch(text)
    if match is None or side not in tuple(sides) or float(match["minutes"]) >= 60:
        raise InputError(f"Position “{text},{side}” is not degrees and minutes.")
    degrees = int(match["degrees"]) + float(match["minutes"]) / 60
    if degrees > (90 if sides == "NS" else 180):
        raise InputError(f"Position “{text},{side}” is off the globe.")
    return -degrees if side == sides[1] else degrees


def read_rmc(sentence: str) -> RmcFix:
    """Return the fix of an RMC sentence.

    Args:
        sentence: one line, from any talker.

    Returns:
        Position in degrees and speed in m/s (``knots 1852/3600``).

    Raises:
        InputError: garbled, another kind of sentence, or fields that are none.
        UnknownInputError: the receiver had no fix (status V or empty fields).

    Source: NMEA 0183 (from memory).

    >>> fix = read_rmc(
    ...     "$GPRMC,123519.20,A,4807.0380,N,01131.0000,E,022.4,084.4,230394,003.1,W*46"
    ... )
    >>> round(fix.latitude, 4), round(fix.speed, 3)
    (48.1173, 11.524)
    """
    kind, *fields = checked_fields(sentence)
    if not kind.endswith("RMC") or len(fields) < 9:
        raise InputError(f"“{kind}” is not a whole RMC sentence.")
    time, status, latitude, north, longitude, east, knots, _course, date = fields[:9]
    if status != "A" or not (latitude and longitude and knots):
        raise UnknownInputError("Unknown: the receiver had no fix.", ("position", "speed"))
    try:
        speed = float(knots) * KNOT
    except ValueError:
        raise InputError(f"Speed “{knots}” is not a number.") from None
    return RmcFix(time, date, _angle(latitude, north, "NS"), _angle(longitude, east, "EW"), speed)
