"""The road-load model of a machine on one test: results for many states at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import log
from typing import TYPE_CHECKING

from core.air import density, dry_pressure, iso1585_factor
from core.attempts import Test
from core.drive.batch import Many, coast_times, distance_times, speed_times, top_speeds
from core.verdict.allowing.conditions import Conditions
from core.verdict.allowing.priors import SheetFacts

if TYPE_CHECKING:
    import numpy as np

__all__ = ["AirNumbers", "State", "air_numbers", "modelled", "results", "state_of"]

_KMH = 3.6
_KELVIN = 273.15
_SHAPES = ("standing", "rolling", "distance", "top", "coast")


@dataclass(frozen=True)
class AirNumbers:
    """What an air does to engine and drag."""

    log_factor: float  # ln of the power factor: above 0 in thin air, the engine is weaker
    density: float  # kg/m³
    outside: tuple[str, ...]  # limits of the standard that were passed, in words


@lru_cache(maxsize=512)
def air_numbers(temperature: float, pressure: float, humidity: float) -> AirNumbers:
    """Return power factor and density of an air.

    Args:
        temperature: °C.
        pressure: hPa at the place.
        humidity: % relative; held to 0 to 100.

    Raises:
        OutOfRangeError: no air on the ground is like that.

    Source: ISO 1585 (:func:`core.air.iso1585_factor`) and CIPM-2007.
    """
    kelvin, pascal = temperature + _KELVIN, pressure * 100.0
    share = min(max(humidity, 0.0), 100.0) / 100.0
    factor = iso1585_factor(dry_pressure(pascal, kelvin, share), kelvin)
    return AirNumbers(
        log_factor=log(factor.value),
        density=density(kelvin, pascal, share),
        outside=tuple(limit.text() for limit in factor.limits),
    )


@dataclass(frozen=True)
class State:
    """What one result is worked out for, beside the machine's own unknowns."""

    log_factor: float
    density: float  # kg/m³
    wind: float  # m/s out of the first direction
    grade: float  # rise over run towards the first direction
    load: float  # kg, rider and ballast


def state_of(conditions: Conditions) -> State:
    """Return the state that the middle of the conditions stands for."""
    air = air_numbers(
        conditions.temperature.value, conditions.pressure.value, conditions.humidity.value
    )
    return State(
        air.log_factor,
        air.density,
        conditions.wind.value,
        conditions.slope.value / 100.0,
        conditions.load.value,
    )


def modelled(test: Test) -> bool:
    """Tell whether the model can run a test at all: not a hill, not a plug reading run."""
    return test.shape in _SHAPES


def results(
    test: Test,
    facts: Sequence[SheetFacts],
    unknowns: np.ndarray,
    states: Sequence[State],
    headings: Sequence[float],
) -> np.ndarray:
    """Return the model's results, in the test's unit; not a number where it is not reached.

    Args:
        test: one that is :func:`modelled`.
        facts: of the sheet of each row.
        unknowns: a row each, the machine's own numbers as in ``priors.middles``.
        states: of each row.
        headings: of each row: 1 towards the first direction, -1 the other way.
    """
    import numpy as np  # lazy: 0.1 s

    told = np.array([(f.torque, f.rpm_per_speed, f.engagement, f.machine) for f in facts]).T
    air = np.array([(s.log_factor, s.density, s.wind, s.grade, s.load) for s in states]).T
    own, exponent = np.exp(unknowns[:, :-1]).T, unknowns[:, -1]
    heading = np.array(headings)
    return _run(
        test,
        Many(
            torque=told[0] * own[0] * np.exp(-exponent * air[0]),
            peak_rpm=own[1],
            fall=own[2],
            rpm_per_speed=told[1],
            engagement_rpm=told[2] * own[7],
            mass=told[3] + air[4],
            wheels=own[5],
            engine_inertia=own[6],
            rolling=own[3],
            drag_area=own[4],
            density=air[1],
            headwind=heading * air[2],
            grade=heading * air[3],
        ),
    )


def _run(test: Test, runs: Many) -> np.ndarray:
    first, last = (speed / _KMH for speed in (test.from_speed or 0.0, test.to_speed or 0.0))
    if test.shape == "distance":
        return distance_times(runs, test.distance or 0.0)
    if test.shape == "top":
        return top_speeds(runs) * _KMH
    if test.shape == "coast":
        return coast_times(runs, first, last)
    return speed_times(runs, first, last)
