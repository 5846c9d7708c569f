"""Vapour and density of moist air, against other formulas, libraries, and their own inverses."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import air
from core.errors import InputError, OutOfRangeError

TEMPERATURES = st.floats(258.15, 318.15)
HUMIDITIES = st.floats(0.02, 1.0)
PRESSURES = st.floats(70_000.0, 105_000.0)


@pytest.mark.parametrize("celsius", [0.01, 10, 20, 30, 40])
def test_saturation_against_a_second_formula(celsius: float) -> None:
    """Magnus with the constants of WMO-No. 8, quoted: within 0.5 % from 0 to 40 °C."""
    magnus = 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))
    assert air.saturation_pressure(celsius + 273.15) == pytest.approx(magnus, rel=5e-3)


@pytest.mark.parametrize("celsius", [-10, 0.01, 15, 25, 45])
def test_saturation_slope_by_clausius_clapeyron(celsius: float) -> None:
    """d ln e/dT = L/(R T²), L 2.501e6 - 2361 t J/kg (from memory): within 1 %."""
    t = celsius + 273.15
    slope = math.log(air.saturation_pressure(t + 0.05) / air.saturation_pressure(t - 0.05)) / 0.1
    assert slope == pytest.approx((2.501e6 - 2361 * celsius) / (461.5 * t**2), rel=0.01)


@given(t=TEMPERATURES, h=HUMIDITIES)
def test_dew_point_and_humidity_are_inverse(t: float, h: float) -> None:
    dew = air.dew_point(t, h)
    assert dew <= t + 1e-9
    if dew >= 223.15:
        assert air.relative_humidity(t, min(dew, t)) == pytest.approx(h, rel=1e-9)


@given(t=TEMPERATURES, p=PRESSURES, h=st.floats(0.05, 1.0))
def test_density_from_humidity_and_from_dew_point_agree(t: float, p: float, h: float) -> None:
    """The two routes use different vapour formulas: within 1.5e-4 of each other."""
    dew = min(t, air.dew_point(t, h))
    if dew < 233.15:
        return
    assert air.density_from_dew_point(t, p, dew) == pytest.approx(air.density(t, p, h), rel=1.5e-4)


@given(t=TEMPERATURES, p=PRESSURES, h=st.floats(0.0, 1.0))
def test_density_against_the_ideal_gas(t: float, p: float, h: float) -> None:
    """(p - 0.378 e)/(287.05 T), any text on meteorology (from memory): it reads up to 0.1 % low."""
    ideal = (p - 0.378 * air.vapour_pressure(t, h)) / (287.05 * t)
    assert 0 <= air.density(t, p, h) / ideal - 1 < 1.0e-3


@given(t=TEMPERATURES, p=PRESSURES, h=st.floats(0.0, 0.95))
def test_density_falls_with_heat_and_damp_and_rises_with_pressure(
    t: float, p: float, h: float
) -> None:
    here = air.density(t, p, h)
    assert air.density(t + 0.5, p, h) < here
    assert air.density(t, p, h + 0.05) < here
    assert air.density(t, p + 100, h) > here


@given(t=TEMPERATURES, p=PRESSURES, h=st.floats(0.0, 1.0))
def test_virtual_temperature_gives_the_same_density_as_dry_air(
    t: float, p: float, h: float
) -> None:
    virtual = air.virtual_temperature(t, p, air.vapour_pressure(t, h))
    assert p / (287.05 * virtual) == pytest.approx(air.density(t, p, h), rel=1.2e-3)


@pytest.mark.parametrize(
    ("celsius", "hectopascals", "percent"),
    [
        (15, 1013.25, 0),
        (20, 1013.25, 50),
        (30, 980, 60),
        (5, 1025, 90),
        (25, 840, 30),
        (40, 950, 80),
    ],
)
def test_against_libraries(celsius: float, hectopascals: float, percent: float) -> None:
    """CoolProp humid air within 1e-4; PsychroLib (ideal gas) within 7e-4."""
    coolprop = pytest.importorskip("CoolProp.HumidAirProp")
    psychrolib = pytest.importorskip("psychrolib")
    t, p, h = celsius + 273.15, hectopascals * 100, percent / 100
    found = air.density(t, p, h)
    assert found == pytest.approx(1 / coolprop.HAPropsSI("Vha", "T", t, "P", p, "R", h), rel=1e-4)
    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, h, p)
    ideal = psychrolib.GetMoistAirDensity(celsius, ratio, p)
    assert found == pytest.approx(ideal, rel=7e-4)


@pytest.mark.parametrize(("celsius", "percent"), [(20, 50), (30, 60), (35, 20), (10, 95)])
def test_dew_point_against_a_library(celsius: float, percent: float) -> None:
    """MetPy (Bolton's formula) within 0.06 K."""
    calc = pytest.importorskip("metpy.calc")
    units = pytest.importorskip("metpy.units").units
    wanted = calc.dewpoint_from_relative_humidity(
        units.Quantity(celsius, "degC"), units.Quantity(percent, "percent")
    )
    found = air.dew_point(celsius + 273.15, percent / 100)
    assert found == pytest.approx(wanted.to("kelvin").magnitude, abs=0.06)


@pytest.mark.parametrize(
    ("pressure", "words"),
    [
        (2_992.0, "29.92 hPa: that looks like inHg typed as hPa"),
        (29_920.0, "29.92 kPa: that looks like inHg typed as kPa"),
        (120_000.0, "must lie between 500 and 1100 hPa"),
        (0.0, "must be above zero"),
    ],
)
def test_pressure_that_is_none(pressure: float, words: str) -> None:
    with pytest.raises(InputError, match=words):
        air.density(293.15, pressure, 0.5)


@pytest.mark.parametrize("humidity", [-0.01, 1.01, 50.0])
def test_humidity_outside_its_range(humidity: float) -> None:
    with pytest.raises(OutOfRangeError, match="between 0 and 100 %"):
        air.density(293.15, 101_325.0, humidity)


def test_dew_point_above_temperature() -> None:
    with pytest.raises(InputError) as caught:
        air.density_from_dew_point(293.15, 101_325.0, 295.15)
    assert str(caught.value) == (
        "Dew point is 22 °C at 20 °C: a dew point cannot lie above the air temperature."
    )


@pytest.mark.parametrize("temperature", [-5.0, 0.0, 20.0, 400.0])
def test_celsius_handed_in_as_kelvin(temperature: float) -> None:
    with pytest.raises(OutOfRangeError, match="between -50 and 80 °C"):
        air.density(temperature, 101_325.0, 0.5)


def test_dry_air_has_no_dew_point() -> None:
    with pytest.raises(InputError, match="dry air has no dew point"):
        air.dew_point(293.15, 0.0)


def test_vapour_as_much_as_the_whole_is_refused() -> None:
    with pytest.raises(InputError, match="below the whole"):
        air.virtual_temperature(293.15, 60_000.0, 60_000.0)
