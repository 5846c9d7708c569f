"""Machines, weather and runs with known truth, by their own physics: nothing of the fitter's code.

Times come from stepping the equation of motion through time; torque from a curve of straight lines
through random points; vapour pressure from Magnus' formula, density from the ideal gas law. Every
machine, day and attempt of all seasons is drawn and run at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

KNOTS = np.array([1200.0, 1800, 2400, 3000, 3600, 4200, 4800, 5400, 6000, 6600, 7200])
_USUAL = np.array([0.72, 0.85, 0.94, 0.99, 1.0, 0.97, 0.91, 0.82, 0.70, 0.56, 0.42])
_STEP = 0.02  # s
_TARGET = 50.0 / 3.6  # m/s
TEETH = 66.0


@dataclass(frozen=True)
class Machines:
    """One machine a season, a row each."""

    torque: Array  # N·m at the peak, losses taken off
    shape: Array  # rows of shares of it at the knots
    rolling: Array
    drag_area: Array  # m²
    turning: Array  # kg that wheels count for
    engine: Array  # kg·m²
    exponent: Array  # of the air factor
    engagement: Array  # 1/min

    @property
    def n(self) -> int:
        """How many."""
        return len(self.torque)


@dataclass(frozen=True)
class Days:
    """One day a season, a row each: true conditions."""

    temperature: Array  # °C
    pressure: Array  # hPa
    humidity: Array  # %
    wind: Array  # m/s out of the west
    rider: Array  # kg


def draw_machines(rng: np.random.Generator, n: int) -> Machines:
    """Draw machines about what is usual."""
    bend = 1.0 + 0.10 * rng.normal(size=(n, 1)) * np.linspace(-1.0, 1.0, len(KNOTS))
    rough = 1.0 + 0.015 * rng.normal(size=(n, len(KNOTS)))
    return Machines(
        torque=10.6 * np.exp(0.12 * rng.normal(size=n)),
        shape=_USUAL * bend * rough,
        rolling=0.025 * np.exp(0.30 * rng.normal(size=n)),
        drag_area=0.60 * np.exp(0.25 * rng.normal(size=n)),
        turning=4.0 * np.exp(0.4 * rng.normal(size=n)),
        engine=0.008 * np.exp(0.4 * rng.normal(size=n)),
        exponent=1.0 + 0.15 * rng.normal(size=n),
        engagement=2500.0 * np.exp(0.03 * rng.normal(size=n)),
    )


def draw_days(rng: np.random.Generator, n: int) -> Days:
    """Draw days of a riding season: 5 to 33 °C, 995 to 1030 hPa, up to 2 m/s along the strip."""
    return Days(
        temperature=rng.uniform(5.0, 33.0, n),
        pressure=rng.uniform(995.0, 1030.0, n),
        humidity=rng.uniform(35.0, 90.0, n),
        wind=rng.uniform(-2.0, 2.0, n),
        rider=78.0 + 0.5 * rng.normal(size=n),
    )


def air_of(day: Days) -> tuple[Array, Array]:
    """Thin-air factor of the engine and density, kg/m³."""
    kelvin = day.temperature + 273.15
    vapour = (
        day.humidity / 100.0 * 6.112 * np.exp(17.62 * day.temperature / (243.12 + day.temperature))
    )
    dry = day.pressure - vapour
    density = 100.0 * dry / (287.05 * kelvin) + 100.0 * vapour / (461.5 * kelvin)
    return (990.0 / dry) ** 1.2 * (kelvin / 298.0) ** 0.6, density


def run_times(machines: Machines, day: Days, part: Array, slope: float, heading: float) -> Array:
    """Return the time from rest to 50 km/h of each machine on its day, s.

    Args:
        machines: one a row.
        day: of each.
        part: what the torque is multiplied by; 1: the build as it was.
        slope: rise over run towards the west.
        heading: 1 west, -1 east.
    """
    factor, density = air_of(day)
    pull = machines.torque * part * factor**-machines.exponent
    per_speed = 60.0 * (TEETH / 12.0) / 1.06
    lever, mass = per_speed * np.pi / 30.0, 63.0 + day.rider
    held = mass * 9.80665 * (machines.rolling + heading * slope)
    air = 0.5 * density * machines.drag_area

    def rise(v: Array) -> Array:
        rpm = np.maximum(machines.engagement, per_speed * v)
        at = np.clip(np.searchsorted(KNOTS, rpm) - 1, 0, len(KNOTS) - 2)
        share, rows = (rpm - KNOTS[at]) / 600.0, np.arange(machines.n)
        curve = machines.shape[rows, at] * (1.0 - share) + machines.shape[rows, at + 1] * share
        through = v + heading * day.wind
        force = pull * curve * lever - held - air * through * np.abs(through)
        heavy = (
            mass
            + machines.turning
            + np.where(rpm > machines.engagement, machines.engine * lever**2, 0.0)
        )
        accelerated: Array = force / heavy
        return accelerated

    speed, time, done = np.zeros(machines.n), np.zeros(machines.n), np.zeros(machines.n, bool)
    for _ in range(3000):
        half = speed + 0.5 * _STEP * rise(speed)
        after = speed + _STEP * rise(half)
        over = after >= _TARGET
        share = np.where(over, (_TARGET - speed) / np.maximum(after - speed, 1e-9), 1.0)
        time = np.where(done, time, time + _STEP * share)
        done |= over
        if done.all():
            return time
        speed = np.where(done, speed, np.maximum(after, 0.0))
    return np.where(done, time, np.nan)
