"""Power correction factors: what an engine's power would be in the air of a standard.

A factor corrects power at full throttle; never multiply a time or a speed with it. Outside the
limits of its standard the value is still given, together with the limits that were passed.
"""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from core.air.checks import air_pressure, air_temperature
from core.errors import NotFoundError
from core.guards import above_zero, between, not_negative, shown

__all__ = [
    "STANDARDS",
    "Factor",
    "Limit",
    "corrected_power",
    "din70020_factor",
    "iso1585_factor",
    "power_factor",
    "sae_j1349_factor",
]

_LEAST_DRY, _MOST_DRY = 40_000.0, 110_000.0  # Pa
_ROUNDED_ZERO = 0.15  # K; the standards count 0 °C as 273 K


class Limit(msgspec.Struct, frozen=True):
    """One limit of a standard that was passed."""

    what: str  # 'correction', 'temperature' or 'dry pressure'
    value: float  # as it is, SI
    low: float  # least allowed, SI
    high: float  # most allowed, SI
    unit: str  # symbol to show the three in

    def text(self) -> str:
        """Return it as a sentence part.

        >>> Limit("temperature", 285.15, 288.15, 308.15, "°C").text()
        'temperature 12 °C is outside 15 °C to 35 °C'
        """
        value, low, high = (shown(x, self.unit) for x in (self.value, self.low, self.high))
        return f"{self.what} {value} is outside {low} to {high}"


class Factor(msgspec.Struct, frozen=True):
    """A power correction factor and whether its standard stands behind it."""

    value: float  # observed power times this is power in reference air
    within: bool  # inside all limits of the standard
    limits: tuple[Limit, ...]  # those that were passed; empty when within
    note: str  # reference air, the air it was reckoned for, and the limits passed


def _factor(value: float, standard: str, conditions: str, limits: tuple[Limit, ...]) -> Factor:
    passed = tuple(one for one in limits if not one.low <= one.value <= one.high)
    said = "; ".join(one.text() for one in passed)
    outside = f" Outside its limits: {said}." if passed else ""
    return Factor(value, not passed, passed, f"{standard}, for {conditions}.{outside}")


def _dry(pressure: float) -> float:
    dry = above_zero("dry air pressure", pressure, "kPa")
    return between("dry air pressure", dry, _LEAST_DRY, _MOST_DRY, "kPa")


def sae_j1349_factor(dry: float, temperature: float) -> Factor:
    """Return the factor of SAE J1349 for spark ignition without supercharging.

    Args:
        dry: pressure of the air without its vapour, Pa, 40,000 to 110,000.
        temperature: of the intake air, K.

    Returns:
        Value ``1.180 (99/pd) sqrt((t + 273)/298) - 0.180``; reference air 25 °C, dry 99 kPa.

    Raises:
        InputError: the dry pressure is not above zero.
        OutOfRangeError: an input is outside its range.

    Source: SAE J1349, June 1990 formula, as quoted; limits 15 to 35 °C, 90 to 105 kPa, 7 %: from
    memory, they differ by edition.

    >>> round(sae_j1349_factor(97_200, 304.15).value, 4)
    1.0339
    """
    pd, t = _dry(dry), air_temperature(temperature, "intake air temperature")
    value = 1.180 * (99_000 / pd) * ((t - _ROUNDED_ZERO) / 298) ** 0.5 - 0.180
    limits = (
        Limit("correction", value, 0.93, 1.07, ""),
        Limit("temperature", t, 288.15, 308.15, "°C"),
        Limit("dry pressure", pd, 90_000, 105_000, "kPa"),
    )
    conditions = f"{shown(t, '°C')} and {shown(pd, 'kPa')} dry"
    return _factor(value, "SAE J1349, reference 25 °C and 99 kPa dry", conditions, limits)


def iso1585_factor(dry: float, temperature: float) -> Factor:
    """Return the factor of ISO 1585 (also UN R85) for spark ignition without supercharging.

    Args:
        dry: pressure of the air without its vapour, Pa, 40,000 to 110,000.
        temperature: of the intake air, K.

    Returns:
        Value ``(99/ps)^1.2 (T/298)^0.6``; reference air 25 °C, dry 99 kPa.

    Raises:
        InputError: the dry pressure is not above zero.
        OutOfRangeError: an input is outside its range.

    Source: ISO 1585 and 80/1269/EEC as amended, as quoted; limits of UN R85 (0.93 to 1.07, 288 to
    308 K, 80 to 110 kPa): from memory. That a result outside the limits is still given, with the
    conditions: EU 134/2014 annex X appendix 2.2.

    >>> factor = iso1585_factor(83_049, 298.15)
    >>> round(factor.value, 4), factor.within, factor.limits[0].what
    (1.2347, False, 'correction')
    """
    ps, t = _dry(dry), air_temperature(temperature, "intake air temperature")
    value = (99_000 / ps) ** 1.2 * ((t - _ROUNDED_ZERO) / 298) ** 0.6
    limits = (
        Limit("correction", value, 0.93, 1.07, ""),
        Limit("temperature", t, 288.15, 308.15, "°C"),
        Limit("dry pressure", ps, 80_000, 110_000, "kPa"),
    )
    conditions = f"{shown(t, '°C')} and {shown(ps, 'kPa')} dry"
    return _factor(value, "ISO 1585, reference 25 °C and 99 kPa dry", conditions, limits)


def din70020_factor(pressure: float, temperature: float) -> Factor:
    """Return the factor of the older DIN 70020, which leaves humidity out.

    Args:
        pressure: total station pressure, Pa, 50,000 to 110,000.
        temperature: of the intake air, K.

    Returns:
        Value ``(1013/p) sqrt((t + 273)/293)``; reference air 20 °C, 1013 hPa. No limits are known
        to us; it is within always.

    Raises:
        OutOfRangeError: an input is outside its range.

    Source: DIN 70020 (older edition), as quoted.

    >>> round(din70020_factor(98_000, 303.15).value, 4)
    1.0512
    """
    p = air_pressure(pressure, "station pressure")
    t = air_temperature(temperature, "intake air temperature")
    value = 101_300 / p * ((t - _ROUNDED_ZERO) / 293) ** 0.5
    conditions = f"{shown(t, '°C')} and {shown(p, 'hPa')}, humidity left out; no limits are on file"
    return _factor(value, "DIN 70020, reference 20 °C and 1013 hPa", conditions, ())


STANDARDS: dict[str, tuple[str, Callable[[float, float], Factor]]] = {
    # name: (which pressure it takes, function of that pressure (Pa) and temperature (K))
    "SAE J1349": ("dry", sae_j1349_factor),
    "ISO 1585": ("dry", iso1585_factor),
    "DIN 70020": ("total", din70020_factor),
}


def power_factor(standard: str, pressure: float, dry: float, temperature: float) -> Factor:
    """Return the factor of a named standard.

    Args:
        standard: a name in :data:`STANDARDS`.
        pressure: total station pressure, Pa.
        dry: the same without vapour, Pa.
        temperature: of the intake air, K.

    Raises:
        NotFoundError: no standard of that name.
        InputError: the standard's own refusals.

    Source: the standard's function.
    """
    if standard not in STANDARDS:
        raise NotFoundError(f"“{standard}” is none of {', '.join(STANDARDS)}.")
    basis, factor = STANDARDS[standard]
    return factor(dry if basis == "dry" else pressure, temperature)


def corrected_power(observed: float, factor: Factor) -> float:
    """Return the power in reference air.

    Args:
        observed: W, zero or more.
        factor: of the air it was observed in.

    Returns:
        W; observed times the factor's value.

    Raises:
        InputError: the power is below zero.

    Source: definition of the factor.
    """
    return not_negative("observed power", observed, "kW") * factor.value
