"""Check-case quantities of topics A and B, answered by core.air."""

from __future__ import annotations

from typing import Any

from core import air
from tests.core.reference.reading import Answers, Inputs, Rule

_TEMPERATURE = ("air_temperature", "inlet_air_temperature", "intake_air_temperature", "temperature")
_PRESSURE = ("absolute_pressure", "station_pressure", "pressure")
_HUMIDITY = ("relative_humidity", "humidity")
_DEW = ("dew_point", "dew_point_temperature")


def vapour(given: Inputs) -> Answers:
    return {"psv": lambda: air.saturation_pressure(given.get(*_TEMPERATURE))}


def _rho(given: Inputs) -> float:
    temperature, pressure = given.get(*_TEMPERATURE), given.get(*_PRESSURE)
    if given.has(*_DEW):
        return air.density_from_dew_point(temperature, pressure, given.get(*_DEW))
    return air.density(temperature, pressure, given.get(*_HUMIDITY))


def density(given: Inputs) -> Answers:
    return {"(?:rho|air_density|density)": lambda: _rho(given)}


def _station(given: Inputs) -> float:
    elevation = given.get("field_elevation", "elevation")
    if given.has("sea_level_pressure"):
        virtual = given.get("virtual_temperature", *_TEMPERATURE)
        return air.pressure_from_sea_level(given.get("sea_level_pressure"), elevation, virtual)
    return air.pressure_from_altimeter(given.get("altimeter_setting", "qnh"), elevation)


def station_pressure(given: Inputs) -> Answers:
    return {
        "station_pressure": lambda: _station(given),
        "station_pressure_if_treated_as_altimeter_setting_wrong": lambda: (
            air.pressure_from_altimeter(
                given.get("sea_level_pressure"), given.get("field_elevation")
            )
        ),
    }


def density_altitude(given: Inputs) -> Answers:
    return {
        "density_altitude": lambda: air.density_altitude(given.get("air_density", "density", "rho"))
    }


def weather_chain(given: Inputs) -> Answers:
    def rho() -> float:
        temperature = given.get(*_TEMPERATURE)
        if given.has(*_DEW):
            return air.density_from_dew_point(temperature, _station(given), given.get(*_DEW))
        return air.density(temperature, _station(given), given.get(*_HUMIDITY))

    return {
        "station_pressure": lambda: _station(given),
        "air_density": rho,
        "density_altitude": lambda: air.density_altitude(rho()),
        "density_altitude_nws_formula": lambda: air.density_altitude_nws(
            _station(given), given.get(*_TEMPERATURE), given.get(*_DEW)
        ),
    }


def humidity(given: Inputs) -> Answers:
    temperature = given.get(*_TEMPERATURE)
    return {
        "dew_point": lambda: air.dew_point(temperature, given.get(*_HUMIDITY)),
        "relative_humidity": lambda: air.relative_humidity(temperature, given.get(*_DEW)),
    }


def standard(given: Inputs) -> Answers:
    height = given.get("geopotential_height", "height", "altitude")
    return {
        "temperature": lambda: air.standard_air(height).temperature,
        "pressure": lambda: air.standard_air(height).pressure,
        "(?:air_)?density": lambda: air.standard_air(height).density,
    }


def _dry(given: Inputs) -> float:
    if given.has("dry_air_pressure", "dry_pressure"):
        return float(given.get("dry_air_pressure", "dry_pressure"))
    return air.dry_pressure(given.get(*_PRESSURE), given.get(*_TEMPERATURE), given.get(*_HUMIDITY))


def power_factor(given: Inputs) -> Answers:
    def sae() -> air.Factor:
        return air.sae_j1349_factor(_dry(given), given.get(*_TEMPERATURE))

    def iso() -> air.Factor:
        return air.iso1585_factor(_dry(given), given.get(*_TEMPERATURE))

    def correction_within(low: str, high: str) -> bool:
        passed = [limit for limit in iso().limits if limit.what == "correction"]
        assert all((limit.low, limit.high) == (float(low), float(high)) for limit in passed)
        return not passed

    def power(factor: air.Factor) -> float:
        return air.corrected_power(given.get("observed_power"), factor)

    answers: dict[str, Any] = {
        "dry_pressure": lambda: _dry(given),
        "(?:cf_|)sae_j1349": lambda: sae().value,
        "(?:alpha_|cf_)iso1585(?:_r85)?": lambda: iso().value,
        "(?:cf_|)din70020": lambda: (
            air.din70020_factor(given.get(*_PRESSURE), given.get(*_TEMPERATURE)).value
        ),
        r"alpha_within_([\d.]+)_([\d.]+)": correction_within,
        "power_sae_j1349": lambda: power(sae()),
        "power_iso1585": lambda: power(iso()),
    }
    return answers


RULES = (
    Rule("A", "saturation vapou?r pressure", vapour),
    Rule("A", "weather chain", weather_chain),
    Rule("A", "density altitude", density_altitude),
    Rule("A", "station pressure", station_pressure),
    Rule("A", "dew point from|relative humidity|^dew point", humidity),
    Rule("A", "standard atmosphere", standard),
    Rule("A", "density", density),
    Rule("B", "correction factor|corrected power", power_factor),
)
