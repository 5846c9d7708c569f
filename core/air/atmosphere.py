"""The standard atmosphere, station pressure from reported pressures, and density altitude.

A report gives an altimeter setting or a sea-level pressure; neither is the pressure at the strip,
and the two are not the same thing: each has its own function, and each asks for the elevation.
"""

from __future__ import annotations

import math

import msgspec

from core.air.checks import air_pressure, air_temperature, field_elevation
from core.errors import OutOfRangeError
from core.guards import above_zero

__all__ = [
    "StandardAir",
    "density_altitude",
    "density_altitude_nws",
    "pressure_from_altimeter",
    "pressure_from_sea_level",
    "standard_air",
]

_T0 = 288.15  # K
_P0 = 101_325.0  # Pa
_RHO0 = 1.225  # kg/m³
_LAPSE = 0.0065  # K/m
_EXPONENT = 5.25588  # g0 / (R L)


class StandardAir(msgspec.Struct, frozen=True):
    """Standard air at one height."""

    temperature: float  # K
    pressure: float  # Pa
    density: float  # kg/m³


def standard_air(height: float) -> StandardAir:
    """Return the standard atmosphere of the lowest layer.

    Args:
        height: geopotential, m, -2,000 to 11,000 (at 3 km 0.05 % from the geometric height).

    Returns:
        ``T = 288.15 - 0.0065 H``, ``p = 101325 (T/288.15)^5.25588``,
        ``rho = 1.225 (T/288.15)^4.25588``.

    Raises:
        OutOfRangeError: the height is outside the range.

    Source: ISO 2533:1975 (from memory).

    >>> round(standard_air(1000).density, 5)
    1.11164
    """
    if not -2_000 <= height <= 11_000:
        raise OutOfRangeError(f"Height is {height:g} m: it must lie between -2000 and 11000 m.")
    share = 1 - _LAPSE * height / _T0
    return StandardAir(_T0 * share, _P0 * share**_EXPONENT, _RHO0 * share ** (_EXPONENT - 1))


def pressure_from_altimeter(setting: float, elevation: float) -> float:
    """Return the station pressure from an altimeter setting (QNH).

    Args:
        setting: Pa, 50,000 to 110,000.
        elevation: of the field, m, -500 to 6,000.

    Returns:
        Pa; ``A (1 - 0.0065 H/288.15)^5.25588``; printed variants differ by up to 50 Pa.

    Raises:
        OutOfRangeError: an input is outside its range.

    Source: ISO 2533:1975, pressure of the standard atmosphere; closed form.

    >>> round(pressure_from_altimeter(29.92 * 3386.389, 304.8) / 100, 2)
    977.12
    """
    share = 1 - _LAPSE * field_elevation(elevation) / _T0
    return air_pressure(setting, "altimeter setting") * math.pow(share, _EXPONENT)


def pressure_from_sea_level(sea_level: float, elevation: float, virtual: float) -> float:
    """Return the station pressure from a meteorological sea-level pressure (QFF).

    Args:
        sea_level: Pa, 50,000 to 110,000.
        elevation: of the field, m, -500 to 6,000.
        virtual: virtual temperature at the station, K; the air temperature itself is good to 0.1 %
            of the pressure at 600 m.

    Returns:
        Pa; ``SLP (Tv/(Tv + 0.0065 H))^5.25588``.

    Raises:
        OutOfRangeError: an input is outside its range.

    Source: hydrostatic equation with a lapse of 6.5 K/km below the station; closed form.

    >>> round(pressure_from_sea_level(101_800, 610, 304.15) / 100, 1)
    951.0
    """
    t = air_temperature(virtual, "virtual temperature")
    return air_pressure(sea_level, "sea-level pressure") * math.pow(
        t / (t + _LAPSE * field_elevation(elevation)), _EXPONENT
    )


def density_altitude(air_density: float) -> float:
    """Return the height at which standard air has this density.

    Args:
        air_density: kg/m³, above zero, and that of a height from -2,000 to 11,000 m.

    Returns:
        m (geopotential); ``288.15/0.0065 [1 - (rho/1.225)^(1/4.25588)]``.

    Raises:
        InputError: the density is not above zero.
        OutOfRangeError: no such air in the lowest layer.

    Source: ISO 2533:1975, density of the standard atmosphere inverted; closed form.

    >>> round(density_altitude(1.11164))
    1000
    """
    rho = above_zero("air density", air_density, "kg/m³")
    height = _T0 / _LAPSE * (1 - math.pow(rho / _RHO0, 1 / (_EXPONENT - 1)))
    if not -2_000 <= height <= 11_000:
        raise OutOfRangeError(f"Air density is {rho:g} kg/m³: no air near the ground is like that.")
    return height


def density_altitude_nws(pressure: float, temperature: float, dew: float) -> float:
    """Return the density altitude as the weather service's sheet reckons it, for comparison.

    It reads 6 to 11 m above :func:`density_altitude` with CIPM-2007 air: its constants are rounded.

    Args:
        pressure: station pressure, Pa.
        temperature: K.
        dew: dew point, K.

    Returns:
        m; ``145366 ft [1 - (17.326 p/Tv)^0.235]``, p in inHg, Tv in degrees Rankine,
        ``Tv = T/(1 - (e/p)(1 - 0.622))``, ``e = 6.11 hPa 10^(7.5 td/(237.7 + td))``.

    Raises:
        OutOfRangeError: an input is outside its range.

    Source: National Weather Service density-altitude sheet, as quoted (Rankine offset 459.69).
    """
    p = air_pressure(pressure, "station pressure")
    t, td = air_temperature(temperature) - 273.15, air_temperature(dew, "dew point") - 273.15
    vapour = 611.0 * 10 ** (7.5 * td / (237.7 + td))
    virtual = (t + 273.15) / (1 - vapour / p * (1 - 0.622))
    rankine = 9 / 5 * (virtual - 273.15) + 32 + 459.69
    return 145_366 * 0.3048 * (1 - math.pow(17.326 * (p / 3386.389) / rankine, 0.235))
