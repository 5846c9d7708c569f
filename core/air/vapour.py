"""Water vapour in air: saturation pressure, dew point, humidity, dry pressure."""

from __future__ import annotations

import math

from core.air.checks import air_humidity, air_pressure, air_temperature
from core.errors import InputError
from core.guards import shown

__all__ = [
    "dew_point",
    "dry_pressure",
    "relative_humidity",
    "saturation_pressure",
    "vapour_pressure",
    "virtual_temperature",
]

_ZERO = 273.15  # K at 0 °C
_A, _B = 17.62, 243.12  # Magnus, over water


def saturation_pressure(temperature: float) -> float:
    """Return the pressure of water vapour over plain water.

    Below 0 °C this is over supercooled water, not over ice.

    Args:
        temperature: K, 223.15 to 353.15.

    Returns:
        Pa; ``exp(1.2378847e-5 T² - 1.9121316e-2 T + 33.93711047 - 6343.1645/T)``.

    Raises:
        OutOfRangeError: the temperature is outside the range.

    Source: Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149-155, appendix A (CIPM-2007);
    coefficients from Davis, Metrologia 29 (1992) 67, as quoted.

    >>> round(saturation_pressure(293.15), 1)
    2339.2
    """
    t = air_temperature(temperature)
    return math.exp(1.2378847e-5 * t**2 - 1.9121316e-2 * t + 33.93711047 - 6343.1645 / t)


def vapour_pressure(temperature: float, humidity: float) -> float:
    """Return the partial pressure of water vapour.

    Args:
        temperature: K.
        humidity: relative, 0 to 1.

    Returns:
        Pa; ``h psv(T)``.

    Raises:
        OutOfRangeError: an input is outside its range.

    Source: definition of relative humidity.
    """
    return air_humidity(humidity) * saturation_pressure(temperature)


def dry_pressure(pressure: float, temperature: float, humidity: float) -> float:
    """Return the pressure of the air without its vapour, on which power factors rest.

    Args:
        pressure: station pressure, Pa, 50,000 to 110,000.
        temperature: K.
        humidity: relative, 0 to 1.

    Returns:
        Pa; ``p - h psv(T)``, above zero.

    Raises:
        OutOfRangeError: an input is outside its range.
        InputError: the vapour would be as much as the whole.

    Source: Dalton's law.

    >>> round(dry_pressure(98_000, 303.15, 0.60))
    95452
    """
    total = air_pressure(pressure, "station pressure")
    dry = total - vapour_pressure(temperature, humidity)
    if dry <= 0:
        raise InputError("The vapour would be more than the whole pressure: check the units.")
    return dry


def _magnus(temperature: float) -> float:
    t = temperature - _ZERO
    return _A * t / (_B + t)


def dew_point(temperature: float, humidity: float) -> float:
    """Return the temperature at which dew would form.

    Args:
        temperature: K.
        humidity: relative, above 0 to 1.

    Returns:
        K; ``td = B g/(A - g)``, ``g = ln h + A t/(B + t)`` in °C, A 17.62, B 243.12.

    Raises:
        OutOfRangeError: an input is outside its range.
        InputError: dry air, which has no dew point.

    Source: WMO-No. 8 (CIMO Guide) annex 4.B, as quoted.

    >>> round(dew_point(293.15, 0.50) - 273.15, 2)
    9.26
    """
    t = air_temperature(temperature)
    h = air_humidity(humidity)
    if h == 0:
        raise InputError("Relative humidity is 0 %: dry air has no dew point.")
    g = math.log(h) + _magnus(t)
    return _B * g / (_A - g) + _ZERO


def relative_humidity(temperature: float, dew: float) -> float:
    """Return the relative humidity from a dew point.

    Args:
        temperature: K.
        dew: dew point, K, not above the temperature.

    Returns:
        0 to 1; ``e(td)/e(t)`` with Magnus.

    Raises:
        OutOfRangeError: an input is outside its range.
        InputError: the dew point lies above the temperature.

    Source: WMO-No. 8 (CIMO Guide) annex 4.B, as quoted.

    >>> round(relative_humidity(303.15, 293.15), 3)
    0.551
    """
    t, td = air_temperature(temperature), checked_dew_point(temperature, dew)
    return math.exp(_magnus(td) - _magnus(t))


def checked_dew_point(temperature: float, dew: float) -> float:
    """Return a dew point (K) that can belong to an air temperature (K).

    Raises:
        OutOfRangeError: it is outside -50 to 80 °C.
        InputError: it lies above the temperature.
    """
    t, td = air_temperature(temperature), air_temperature(dew, "dew point")
    if td > t:
        raise InputError(
            f"Dew point is {shown(td, '°C')} at {shown(t, '°C')}:"
            " a dew point cannot lie above the air temperature."
        )
    return td


def virtual_temperature(temperature: float, pressure: float, vapour: float) -> float:
    """Return the temperature at which dry air would be as light as this moist air.

    Args:
        temperature: K.
        pressure: station pressure, Pa.
        vapour: vapour pressure, Pa, zero or more and below the pressure.

    Returns:
        K; ``T / (1 - (e/p)(1 - 0.62198))``.

    Raises:
        OutOfRangeError: temperature or pressure is outside its range.
        InputError: the vapour pressure is not from zero to the whole.

    Source: ideal gas mixture with molar masses 18.01528 and 28.9647 g/mol; closed form.
    """
    t, p = air_temperature(temperature), air_pressure(pressure)
    if not 0 <= vapour < p:
        raise InputError(f"Vapour pressure is {shown(vapour, 'hPa')}: it must be below the whole.")
    return t / (1 - vapour / p * (1 - 18.01528 / 28.9647))
