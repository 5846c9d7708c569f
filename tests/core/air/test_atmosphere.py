"""Standard atmosphere and pressures from reports, against their differential equation."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import air
from core.errors import InputError, OutOfRangeError

GRAVITY, GAS = 9.80665, 287.05287  # m/s², J/(kg K): ISO 2533 (from memory)


def climb(pressure: float, temperature: float, height: float, steps: int = 4000) -> float:
    """Return the pressure above by integrating dp/dh = -p g/(R T), T falling 6.5 K/km (RK4)."""
    step = height / steps

    def slope(h: float, p: float) -> float:
        return -p * GRAVITY / (GAS * (temperature - 0.0065 * h))

    for i in range(steps):
        h = i * step
        k1 = slope(h, pressure)
        k2 = slope(h + step / 2, pressure + step / 2 * k1)
        k3 = slope(h + step / 2, pressure + step / 2 * k2)
        k4 = slope(h + step, pressure + step * k3)
        pressure += step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return pressure


@pytest.mark.parametrize("height", [-500, 500, 1500, 3000])
def test_standard_air_is_in_equilibrium(height: float) -> None:
    found = air.standard_air(height)
    assert found.pressure == pytest.approx(climb(101_325, 288.15, height), rel=2e-6)
    assert found.density == pytest.approx(found.pressure / (GAS * found.temperature), rel=2e-5)


@pytest.mark.parametrize(
    ("height", "pressure", "density"),
    [(0, 1013.250, 1.22500), (1000, 898.746, 1.11164), (2000, 794.952, 1.00649)],
)
def test_standard_air_table(height: float, pressure: float, density: float) -> None:
    """Digits of the table of the library ambiance 1.3.1 (ICAO standard atmosphere 1993)."""
    found = air.standard_air(height)
    assert found.pressure / 100 == pytest.approx(pressure, abs=6e-4)
    assert found.density == pytest.approx(density, abs=6e-6)


@pytest.mark.parametrize("height", [-500.0, 0.0, 800.0, 2500.0, 5000.0])
def test_standard_air_against_a_library(height: float) -> None:
    """ambiance takes a geometric height: H = r z/(r + z), r 6,356,766 m."""
    ambiance = pytest.importorskip("ambiance")
    radius = 6_356_766.0
    there = ambiance.Atmosphere(radius * height / (radius - height))
    found = air.standard_air(height)
    assert found.pressure == pytest.approx(float(there.pressure[0]), rel=2e-6)
    assert found.density == pytest.approx(float(there.density[0]), rel=2e-6)


@given(height=st.floats(-1500, 8000))
def test_density_altitude_is_the_inverse(height: float) -> None:
    found = air.density_altitude(air.standard_air(height).density)
    assert found == pytest.approx(height, abs=1e-6)


@given(height=st.floats(-400, 3000))
def test_standard_setting_gives_standard_pressure(height: float) -> None:
    found = air.pressure_from_altimeter(101_325, height)
    assert found == pytest.approx(air.standard_air(height).pressure, rel=1e-12)


@pytest.mark.parametrize(("elevation", "celsius"), [(300, 5), (610, 31), (1600, 20)])
def test_sea_level_pressure_by_going_down(elevation: float, celsius: float) -> None:
    """From the station down with its own temperature: back at the sea-level pressure."""
    virtual = celsius + 273.15
    station = air.pressure_from_sea_level(101_800, elevation, virtual)
    assert climb(station, virtual, -elevation) == pytest.approx(101_800, rel=5e-6)


def test_the_two_reports_are_not_interchangeable() -> None:
    """At 610 m and 31 °C they part by 4.5 hPa, 0.5 % of the density."""
    setting = air.pressure_from_altimeter(101_800, 610)
    sea_level = air.pressure_from_sea_level(101_800, 610, 304.15)
    assert (sea_level - setting) / 100 == pytest.approx(4.5, abs=0.05)


def test_weather_service_sheet_reads_a_little_high() -> None:
    """Its rounded constants: 6 to 11 m above ISO 2533 with CIPM-2007 air, at four places."""
    for setting, feet, celsius, dew in [
        (29.92, 0, 15, -40),
        (30.05, 2200, 32, 12),
        (29.6, 5280, 28, 9),
        (30.2, 300, 10, 4),
    ]:
        pressure = air.pressure_from_altimeter(setting * 3386.389, feet * 0.3048)
        t, td = celsius + 273.15, dew + 273.15
        ours = air.density_altitude(air.density_from_dew_point(t, pressure, td))
        assert 6 < air.density_altitude_nws(pressure, t, td) - ours < 11


@pytest.mark.parametrize("density", [0.0, -1.0])
def test_no_density(density: float) -> None:
    with pytest.raises(InputError, match="must be above zero"):
        air.density_altitude(density)


@pytest.mark.parametrize("density", [0.1, 3.0])
def test_density_of_no_air_near_the_ground(density: float) -> None:
    with pytest.raises(OutOfRangeError, match="no air near the ground"):
        air.density_altitude(density)


def test_elevation_in_feet_typed_as_metres() -> None:
    with pytest.raises(OutOfRangeError, match="Field elevation is 7200 m"):
        air.pressure_from_altimeter(101_325, 7200)


def test_altimeter_setting_in_inches_typed_as_hectopascal() -> None:
    with pytest.raises(OutOfRangeError, match=r"Altimeter setting is 29\.92 hPa: that looks"):
        air.pressure_from_altimeter(2992, 300)
