"""What counts as a believable air reading; anything else is refused in one sentence."""

from __future__ import annotations

from core.errors import OutOfRangeError
from core.guards import above_zero, between, shown

__all__ = ["air_humidity", "air_pressure", "air_temperature", "field_elevation"]

_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 50_000.0, 110_000.0  # Pa; any place a machine can run
_INCHES_TYPED_AS_HPA = (2_500.0, 3_300.0)  # Pa; 25 to 33 with the unit hPa
_INCHES_TYPED_AS_KPA = (25_000.0, 33_000.0)  # Pa
_COLDEST, _HOTTEST = 223.15, 353.15  # K


def air_pressure(value: float, name: str = "pressure") -> float:
    """Return an air pressure (Pa) that can be one: 500 to 1100 hPa.

    Raises:
        InputError: zero or less; :class:`~core.errors.OutOfRangeError` outside the range, with a
            word about inHg when the number looks like that.
    """
    pressure = above_zero(name, value, "hPa")
    for (low, high), unit in ((_INCHES_TYPED_AS_HPA, "hPa"), (_INCHES_TYPED_AS_KPA, "kPa")):
        if low <= pressure <= high:
            raise OutOfRangeError(
                f"{name.capitalize()} is {shown(pressure, unit)}: that looks like inHg"
                f" typed as {unit}.",
                "Type the unit with the number, such as 29.92 inHg.",
            )
    return between(name, pressure, _LOWEST_PRESSURE, _HIGHEST_PRESSURE, "hPa")


def air_temperature(value: float, name: str = "air temperature") -> float:
    """Return an air temperature (K) that can be one: -50 to 80 °C."""
    return between(name, value, _COLDEST, _HOTTEST, "°C")


def air_humidity(value: float) -> float:
    """Return a relative humidity (0 to 1) that can be one."""
    return between("relative humidity", value, 0.0, 1.0, "%")


def field_elevation(value: float) -> float:
    """Return a field elevation (m) that can be one: -500 to 6,000 m."""
    return between("field elevation", value, -500.0, 6_000.0, "m")
