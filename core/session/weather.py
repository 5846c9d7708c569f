"""What the air of a session does to an engine, in two numbers that a head of it carries."""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from statistics import fmean

import msgspec

from core.air import density, dry_pressure, iso1585_factor
from core.attempts.documents import AirReading
from core.errors import InputError
from core.setup import Sheet, known_value

__all__ = ["Weather", "load_of", "weather_of"]

_KELVIN = 273.15
_USUAL_PRESSURE, _USUAL_HUMIDITY = 1013.0, 60.0  # hPa, %; where only the temperature was read


class Weather(msgspec.Struct, frozen=True, array_like=True):
    """The mean air of one session."""

    log_factor: float  # ln of the power factor of ISO 1585; above 0: thin air
    log_density: float  # ln of kg/m³


def weather_of(readings: Sequence[AirReading]) -> Weather | None:
    """Return the mean air of some readings; None where no temperature was read.

    Source: ISO 1585 and CIPM-2007, as on their pages.
    """
    temperatures = [r.temperature for r in readings if r.temperature is not None]
    if not temperatures:
        return None
    kelvin = fmean(temperatures) + _KELVIN
    pascal = 100.0 * _mean([r.pressure for r in readings], _USUAL_PRESSURE)
    humidity = _mean([r.humidity for r in readings], _USUAL_HUMIDITY) / 100.0
    try:
        factor = iso1585_factor(dry_pressure(pascal, kelvin, humidity), kelvin).value
        return Weather(log(factor), log(density(kelvin, pascal, humidity)))
    except InputError:  # no air is like that: as if it had not been read
        return None


def _mean(values: Sequence[float | None], usual: float) -> float:
    return fmean([value for value in values if value is not None] or [usual])


def load_of(sheet: Sheet) -> float | None:
    """Return rider in gear and ballast, kg; None where the rider was not weighed."""
    rider = known_value(sheet.readings.get("rider_mass"))
    if rider is None:
        return None
    return rider + (known_value(sheet.readings.get("ballast")) or 0.0)
