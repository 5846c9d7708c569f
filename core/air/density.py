"""Density of moist air by the CIPM-2007 equation, from humidity or from dew point."""

from __future__ import annotations

from core.air.checks import air_humidity, air_pressure, air_temperature
from core.air.vapour import checked_dew_point, saturation_pressure

__all__ = ["density", "density_from_dew_point"]

_GAS_CONSTANT = 8.314472  # J/(mol K), the value the equation was published with
_WATER = 18.01528e-3  # kg/mol
_CARBON_DIOXIDE = 0.0004  # mole fraction


def _enhancement(pressure: float, temperature: float) -> float:
    return 1.00062 + 3.14e-8 * pressure + 5.6e-7 * (temperature - 273.15) ** 2


def _compressibility(pressure: float, temperature: float, x: float) -> float:
    t = temperature - 273.15
    a = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t**2
    b = 5.707e-6 - 2.051e-8 * t
    c = 1.9898e-4 - 2.376e-6 * t
    ratio = pressure / temperature
    return 1 - ratio * (a + b * x + c * x**2) + ratio**2 * (1.83e-11 - 0.765e-8 * x**2)


def _moist(temperature: float, pressure: float, x: float, carbon_dioxide: float) -> float:
    air = (28.96546 + 12.011 * (carbon_dioxide - _CARBON_DIOXIDE)) * 1e-3
    z = _compressibility(pressure, temperature, x)
    return pressure * air / (z * _GAS_CONSTANT * temperature) * (1 - x * (1 - _WATER / air))


def density(
    temperature: float,
    pressure: float,
    humidity: float,
    carbon_dioxide: float = _CARBON_DIOXIDE,
) -> float:
    """Return the density of moist air.

    Args:
        temperature: K, 223.15 to 353.15.
        pressure: station (absolute) pressure, Pa, 50,000 to 110,000; not a sea-level pressure.
        humidity: relative, 0 to 1.
        carbon_dioxide: mole fraction, 0.0004 by default.

    Returns:
        kg/m³; ``p Ma/(Z R T) [1 - xv(1 - Mv/Ma)]``, ``xv = h f psv/p``. Stated for 600 to 1100 hPa
        and 15 to 27 °C (2.2e-5); within 1e-4 of a humid-air library from -5 to 45 °C.

    Raises:
        OutOfRangeError: an input is outside its range, such as inHg typed as hPa.

    Source: Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149-155 (CIPM-2007), as quoted.

    >>> round(density(293.15, 101_325, 0.5), 5)
    1.19931
    """
    t, p = air_temperature(temperature), air_pressure(pressure)
    x = air_humidity(humidity) * _enhancement(p, t) * saturation_pressure(t) / p
    return _moist(t, p, x, carbon_dioxide)


def density_from_dew_point(
    temperature: float,
    pressure: float,
    dew: float,
    carbon_dioxide: float = _CARBON_DIOXIDE,
) -> float:
    """Return the density of moist air from its dew point.

    Args:
        temperature: K.
        pressure: station (absolute) pressure, Pa.
        dew: dew point, K, not above the temperature.
        carbon_dioxide: mole fraction.

    Returns:
        kg/m³; as :func:`density` with ``xv = f(td) psv(td)/p``.

    Raises:
        OutOfRangeError: an input is outside its range.
        InputError: the dew point lies above the temperature.

    Source: as :func:`density`.

    >>> round(density_from_dew_point(301.15, 97_500, 291.15), 5)
    1.11919
    """
    t, p = air_temperature(temperature), air_pressure(pressure)
    td = checked_dew_point(t, dew)
    return _moist(t, p, _enhancement(p, td) * saturation_pressure(td) / p, carbon_dioxide)
