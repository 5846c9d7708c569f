"""Power correction factors: reference air, log-slopes, limits passed and never hidden."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import air
from core.errors import InputError, NotFoundError

REFERENCE: dict[Callable[[float, float], air.Factor], tuple[float, float]] = {
    # standard: (pressure, temperature) at which nothing is corrected; K = 273 + °C in all three
    air.sae_j1349_factor: (99_000.0, 298.15),
    air.iso1585_factor: (99_000.0, 298.15),
    air.din70020_factor: (101_300.0, 293.15),
}


@pytest.mark.parametrize("factor", REFERENCE)
def test_reference_air_is_not_corrected(factor: Callable[[float, float], air.Factor]) -> None:
    found = factor(*REFERENCE[factor])
    assert found.value == pytest.approx(1.0, abs=1e-12)
    assert found.within
    assert found.limits == ()


@pytest.mark.parametrize(
    ("factor", "by_pressure", "by_temperature"),
    [
        (air.sae_j1349_factor, -1.18, 0.59),
        (air.iso1585_factor, -1.2, 0.6),
        (air.din70020_factor, -1.0, 0.5),
    ],
)
def test_log_slopes_at_reference(
    factor: Callable[[float, float], air.Factor], by_pressure: float, by_temperature: float
) -> None:
    """Derivative of the logarithm by pressure and by temperature (central differences)."""
    p, t = REFERENCE[factor]
    e = 1e-4
    up, down = factor(p * (1 + e), t).value, factor(p * (1 - e), t).value
    assert math.log(up / down) / (2 * e) == pytest.approx(by_pressure, abs=2e-3)
    up, down = factor(p, t * (1 + e)).value, factor(p, t * (1 - e)).value
    assert math.log(up / down) / (2 * e) == pytest.approx(by_temperature, abs=2e-3)


@given(p=st.floats(60_000, 109_000), t=st.floats(260, 320))
def test_thinner_and_hotter_air_is_corrected_upward(p: float, t: float) -> None:
    for factor in REFERENCE:
        assert factor(p - 500, t).value > factor(p, t).value
        assert factor(p, t + 1).value > factor(p, t).value


@given(p=st.floats(90_000, 104_000), t=st.floats(280, 312))
def test_standards_agree_near_reference(p: float, t: float) -> None:
    """SAE J1349 and ISO 1585 part by less than half a per cent in ordinary air."""
    sae, iso = air.sae_j1349_factor(p, t), air.iso1585_factor(p, t)
    assert sae.value == pytest.approx(iso.value, abs=5e-3)


def test_high_strip_is_shown_with_the_limit_and_the_conditions() -> None:
    found = air.iso1585_factor(air.dry_pressure(84_000, 298.15, 0.3), 298.15)
    assert found.value == pytest.approx(1.2347, abs=5e-5)
    assert not found.within
    assert [limit.what for limit in found.limits] == ["correction"]
    assert "correction 1.2347 is outside 0.93 to 1.07" in found.note
    assert "25 °C and 83.0491 kPa dry" in found.note


def test_cold_air_passes_the_temperature_limit_only() -> None:
    found = air.iso1585_factor(101_000, 285.15)
    assert [limit.what for limit in found.limits] == ["temperature"]
    assert "temperature 12 °C is outside 15 °C to 35 °C" in found.note


def test_power_factor_by_name_takes_the_pressure_its_standard_asks_for() -> None:
    total, dry, t = 98_000.0, 95_452.0, 303.15
    for name, (basis, factor) in air.STANDARDS.items():
        direct = factor(dry if basis == "dry" else total, t)
        assert air.power_factor(name, total, dry, t) == direct
    with pytest.raises(NotFoundError, match="none of SAE J1349"):
        air.power_factor("home brew", total, dry, t)


def test_density_ratio_is_no_power_factor() -> None:
    """Temperature counts about half in a factor: hot air is overcorrected by a density ratio."""
    p, t = 101_000.0, 313.15
    ratio = 1.225 / air.density(t, p, 0.0)
    factor = air.din70020_factor(p, t).value / air.din70020_factor(101_325, 288.15).value
    assert ratio - 1 > 1.7 * (factor - 1)


def test_corrected_power() -> None:
    factor = air.sae_j1349_factor(97_200, 304.15)
    assert air.corrected_power(4100, factor) == pytest.approx(4238.95, abs=0.5)
    with pytest.raises(InputError, match="cannot be below zero"):
        air.corrected_power(-1, factor)


@pytest.mark.parametrize("dry", [0.0, -100.0])
def test_dry_pressure_of_nothing(dry: float) -> None:
    with pytest.raises(InputError, match=r"Dry air pressure is .* must be above zero"):
        air.iso1585_factor(dry, 298.15)
