"""An airfield weather report line (METAR), pasted: the groups that a test day can use."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import msgspec

from core.attempts.air_line import AirParts, compass_point
from core.errors import InputError
from core.units import convert

__all__ = ["Report", "is_report", "read_report"]


class Report(msgspec.Struct, frozen=True):
    """What a report says."""

    parts: AirParts  # its pressure is reduced to sea level
    observed: datetime | None  # UTC; None: no time in it


_TIME = re.compile(r"\b(\d{2})(\d{2})(\d{2})Z\b")
_WIND = re.compile(r"\b(\d{3}|VRB|///)(\d{2,3})(?:G(\d{2,3}))?(KT|MPS|KMH)\b")
_TEMPERATURE = re.compile(r"(?<=\s)(M?\d{2})/(M?\d{2}|//|XX)?(?=\s|=|$)")
_HECTOPASCAL = re.compile(r"\bQ(\d{4})\b")
_INCHES = re.compile(r"\bA(\d{4})\b")
_GROUPS = (_TIME, _WIND, _TEMPERATURE, _HECTOPASCAL, _INCHES)
_WIND_UNITS = {"KT": "kn", "MPS": "m/s", "KMH": "km/h"}
_AHEAD = timedelta(hours=1)  # a report's clock may be a little ahead of the laptop's


def is_report(text: str) -> bool:
    """Tell whether a line is a report: it says so, or has two of the groups of one."""
    head = text.split(maxsplit=1)[0].upper() if text.split() else ""
    return head in ("METAR", "SPECI") or sum(bool(g.search(text)) for g in _GROUPS) >= 2


def read_report(text: str, now: datetime) -> Report:
    """Read a report line.

    Args:
        text: the line; what it holds beside time, wind, temperature, dew point and pressure is
            passed over, and remarks (``RMK``) are not read.
        now: aware; gives the month that the report's day of the month belongs to.

    Returns:
        Temperatures in °C, wind in m/s, pressure in hPa as reduced to sea level.

    Raises:
        InputError: nothing usable in it, or a time that is none.

    Source: WMO-No. 306, Manual on Codes, FM 15 METAR (from memory).
    """
    body = " ".join(re.split(r"\bRMK\b", text)[0].split())
    parts = AirParts()
    _wind(body, parts)
    match = _TEMPERATURE.search(body)
    if match:
        parts.values["temperature"] = _celsius(match[1])
        if match[2] and match[2].lstrip("M").isdigit():
            parts.values["dew"] = _celsius(match[2])
    hectopascal, inches = _HECTOPASCAL.search(body), _INCHES.search(body)
    if hectopascal:
        parts.values["reduced"] = float(hectopascal[1])
    elif inches:
        parts.values["reduced"] = convert(int(inches[1]) / 100, "inHg", "hPa")
    if not parts.values:
        raise InputError("That report has no temperature, pressure or wind in it.")
    return Report(parts, _observed(body, now))


def _celsius(group: str) -> float:
    return float(group.replace("M", "-"))


def _wind(body: str, parts: AirParts) -> None:
    match = _WIND.search(body)
    if match is None:
        return
    bearing, mean, gust, unit = match.groups()
    symbol = _WIND_UNITS[unit]
    parts.values["wind"] = round(convert(float(mean), symbol, "m/s"), 2)
    if gust:
        parts.values["gust"] = round(convert(float(gust), symbol, "m/s"), 2)
    if bearing.isdigit() and float(mean) > 0:
        parts.wind_from = compass_point(float(bearing))


def _observed(body: str, now: datetime) -> datetime | None:
    """Return the latest moment with the report's day, hour and minute that is not ahead of now."""
    match = _TIME.search(body)
    if match is None:
        return None
    day, hour, minute = (int(group) for group in match.groups())
    latest = now.astimezone(UTC) + _AHEAD
    if not (1 <= day <= 31 and hour <= 23 and minute <= 59):
        raise InputError(f"{match[0]} is not a day and time.")
    date = latest
    while date.day != day:
        date -= timedelta(days=1)
    found = date.replace(hour=hour, minute=minute, second=0, microsecond=0)
    return found if found <= latest else _before(found, day)


def _before(moment: datetime, day: int) -> datetime:
    """Return the same day of the month and time, in the newest earlier month that has that day."""
    earlier = moment - timedelta(days=1)
    while earlier.day != day:
        earlier -= timedelta(days=1)
    return earlier
