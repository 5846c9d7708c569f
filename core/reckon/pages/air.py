"""Moist air, station pressure, density altitude and power correction factors."""

from __future__ import annotations

from dataclasses import replace

from core.air import (
    STANDARDS,
    Factor,
    corrected_power,
    density,
    density_altitude,
    density_altitude_nws,
    density_from_dew_point,
    dew_point,
    dry_pressure,
    power_factor,
    pressure_from_altimeter,
    pressure_from_sea_level,
    relative_humidity,
    saturation_pressure,
    standard_air,
    vapour_pressure,
    virtual_temperature,
)
from core.reckon.formula import Formula, Input, Outcome, Output
from core.reckon.inputs import HUMIDITY, POWER, PRESSURE, TEMPERATURE

__all__ = ["AIR"]

_CIPM = "Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149-155 (CIPM-2007), as quoted"
_WMO = "WMO-No. 8 (CIMO Guide) annex 4.B, as quoted"
_ISO = "ISO 2533:1975 (from memory)"
_FACTORS = (
    "SAE J1349 (June 1990), ISO 1585 / UN R85 and DIN 70020 (older), as quoted; their limits: from "
    "memory"
)
_DEW = Input("dew-point", "dew point", "°C", instrument="thermometer", to="dew")
_ELEVATION = Input("elevation", "elevation of the field", "m")
_STANDARD = Input(
    "standard", "standard", kind="choice", required=False, default="ISO 1585",
    choices=tuple(STANDARDS),
)  # fmt: skip


def _density(temperature: float, pressure: float, humidity: float) -> Outcome:
    found = density(temperature, pressure, humidity)
    return Outcome({"density": found, "density-altitude": density_altitude(found)})


def _standard(height: float) -> Outcome:
    air = standard_air(height)
    numbers = {"pressure": air.pressure, "temperature": air.temperature, "density": air.density}
    return Outcome(numbers)


def _factor(standard: str, pressure: float, temperature: float, humidity: float) -> Factor:
    dry = dry_pressure(pressure, temperature, humidity)
    return power_factor(standard, pressure, dry, temperature)


def _power_factor(standard: str, pressure: float, temperature: float, humidity: float) -> Outcome:
    factor = _factor(standard, pressure, temperature, humidity)
    return Outcome({"factor": factor.value}, (factor.note,))


def _corrected(
    power: float, standard: str, pressure: float, temperature: float, humidity: float
) -> Outcome:
    factor = _factor(standard, pressure, temperature, humidity)
    numbers = {"power": corrected_power(power, factor), "factor": factor.value}
    return Outcome(numbers, (factor.note,))


AIR: tuple[Formula, ...] = (
    Formula(
        id="air-density", title="Density of the air",
        inputs=(TEMPERATURE, PRESSURE, HUMIDITY),
        outputs=(Output("density", "air density", "kg/m³", 4),
                 Output("density-altitude", "density altitude", "m", 0)),
        compute=_density,
        equation="p Ma/(Z R T) [1 - xv (1 - Mv/Ma)], xv = h f psv/p; density altitude = 288.15/"
        "0.0065 [1 - (density/1.225)^(1/4.25588)]",
        source=f"{_CIPM}; {_ISO}", covers=("air.density", "air.density_altitude"),
    ),
    Formula(
        id="air-density-dew-point", title="Density of the air from its dew point",
        inputs=(TEMPERATURE, PRESSURE, _DEW),
        outputs=(Output("density", "air density", "kg/m³", 4),),
        compute=density_from_dew_point,
        equation="as air-density, with xv = f(td) psv(td)/p",
        source=_CIPM, covers=("air.density_from_dew_point",),
    ),
    Formula(
        id="saturation-pressure", title="Pressure of water vapour when the air is full of it",
        inputs=(TEMPERATURE,), outputs=(Output("pressure", "saturation pressure", "hPa", 3),),
        compute=saturation_pressure,
        equation="exp(1.2378847e-5 T² - 1.9121316e-2 T + 33.93711047 - 6343.1645/T), T in K",
        source=_CIPM, covers=("air.saturation_pressure",),
    ),
    Formula(
        id="vapour-pressure", title="Pressure of the water vapour in the air",
        inputs=(TEMPERATURE, HUMIDITY), outputs=(Output("pressure", "vapour pressure", "hPa", 3),),
        compute=vapour_pressure, equation="humidity x saturation pressure",
        source="definition of relative humidity", covers=("air.vapour_pressure",),
    ),
    Formula(
        id="dry-pressure", title="Pressure of the air without its vapour",
        inputs=(PRESSURE, TEMPERATURE, HUMIDITY),
        outputs=(Output("pressure", "dry pressure", "hPa", 1),),
        compute=dry_pressure, equation="station pressure - humidity x saturation pressure",
        source="Dalton's law", covers=("air.dry_pressure",),
    ),
    Formula(
        id="dew-point", title="Dew point",
        inputs=(TEMPERATURE, HUMIDITY), outputs=(Output("dew-point", "dew point", "°C", 1),),
        compute=dew_point,
        equation="243.12 g/(17.62 - g), g = ln(humidity) + 17.62 t/(243.12 + t), t in °C",
        source=_WMO, covers=("air.dew_point",),
    ),
    Formula(
        id="humidity", title="Relative humidity from a dew point",
        inputs=(TEMPERATURE, _DEW), outputs=(Output("humidity", "relative humidity", "%", 1),),
        compute=relative_humidity, equation="e(dew point)/e(temperature), e by Magnus",
        source=_WMO, covers=("air.relative_humidity",),
    ),
    Formula(
        id="virtual-temperature", title="Temperature at which dry air would be as light",
        inputs=(TEMPERATURE, PRESSURE, Input("vapour", "vapour pressure", "hPa", least=0)),
        outputs=(Output("temperature", "virtual temperature", "°C", 2),),
        compute=virtual_temperature, equation="T/(1 - (e/p)(1 - 0.62198)), T in K",
        source="ideal gas mixture; closed form", covers=("air.virtual_temperature",),
    ),
    Formula(
        id="standard-air", title="Standard air at a height",
        inputs=(Input("height", "height (geopotential)", "m"),),
        outputs=(Output("pressure", "pressure", "hPa", 2),
                 Output("temperature", "temperature", "°C", 2),
                 Output("density", "air density", "kg/m³", 5)),
        compute=_standard,
        equation="T = 288.15 - 0.0065 H; p = 1013.25 (T/288.15)^5.25588; density = 1.225 "
        "(T/288.15)^4.25588",
        source=_ISO, covers=("air.standard_air",),
    ),
    Formula(
        id="station-pressure-altimeter", title="Station pressure from an altimeter setting (QNH)",
        inputs=(Input("setting", "altimeter setting", "hPa"), _ELEVATION),
        outputs=(Output("pressure", "station pressure", "hPa", 1),),
        compute=pressure_from_altimeter,
        equation="setting x (1 - 0.0065 H/288.15)^5.25588; printed variants differ by up to "
        "0.5 hPa",
        source=_ISO, covers=("air.pressure_from_altimeter",),
    ),
    Formula(
        id="station-pressure-sea-level",
        title="Station pressure from a meteorological sea-level pressure (QFF)",
        inputs=(Input("sea-level", "sea-level pressure", "hPa"), _ELEVATION,
                replace(TEMPERATURE, label="air temperature there, virtual if known",
                        to="virtual")),
        outputs=(Output("pressure", "station pressure", "hPa", 1),),
        compute=pressure_from_sea_level,
        equation="sea-level pressure x (Tv/(Tv + 0.0065 H))^5.25588, Tv in K",
        source="hydrostatic equation with a lapse of 6.5 K/km; closed form",
        covers=("air.pressure_from_sea_level",),
    ),
    Formula(
        id="density-altitude", title="Height at which standard air has this density",
        inputs=(Input("density", "air density", "kg/m³", to="air_density"),),
        outputs=(Output("height", "density altitude", "m", 0),),
        compute=density_altitude,
        equation="288.15/0.0065 [1 - (density/1.225)^(1/4.25588)]",
        source=_ISO, covers=("air.density_altitude",),
    ),
    Formula(
        id="density-altitude-nws",
        title="Density altitude as the weather service's sheet reckons it, for comparison",
        inputs=(PRESSURE, TEMPERATURE, _DEW),
        outputs=(Output("height", "density altitude", "m", 0),),
        compute=density_altitude_nws,
        equation="145366 ft [1 - (17.326 p/Tv)^0.235], p in inHg, Tv in degrees Rankine",
        source="National Weather Service density-altitude sheet, as quoted",
        covers=("air.density_altitude_nws",),
    ),
    Formula(
        id="power-factor", title="Power correction factor; for power only, never for a time",
        inputs=(_STANDARD, PRESSURE, TEMPERATURE, HUMIDITY),
        outputs=(Output("factor", "power factor", "", 4),),
        compute=_power_factor,
        equation="SAE J1349: 1.180 (99/pd) sqrt((t + 273)/298) - 0.180; ISO 1585: (99/pd)^1.2 "
        "(T/298)^0.6; DIN 70020: (1013/p) sqrt((t + 273)/293); pd: dry pressure in kPa",
        source=_FACTORS,
        covers=("air.power_factor", "air.sae_j1349_factor", "air.iso1585_factor",
                "air.din70020_factor"),
    ),
    Formula(
        id="corrected-power", title="Power in the reference air of a standard",
        inputs=(replace(POWER, label="power as measured"), _STANDARD, PRESSURE, TEMPERATURE,
                HUMIDITY),
        outputs=(Output("power", "corrected power", "kW", 3),
                 Output("factor", "power factor", "", 4)),
        compute=_corrected, equation="measured power x power factor", source=_FACTORS,
        covers=("air.corrected_power",),
    ),
)  # fmt: skip
