"""Many runs at once say the same as one run at a time."""

from __future__ import annotations

import math
from dataclasses import fields

import numpy as np
import pytest

from core.drive import Powertrain, Road, accelerate, coast_time, full_speed, over_distance
from core.drive.batch import (
    Many,
    coast_times,
    distance_times,
    speed_times,
    top_speeds,
    torque_shape,
)

_RATIO, _CIRCUMFERENCE, _WHEEL, _ENGINE = 5.5, 1.06, 0.1, 0.008
_RADIUS = _CIRCUMFERENCE / (2 * math.pi)
_ROWS = {  # torque, peak, fall, engagement, mass, headwind, grade
    "plain": (10.0, 3200.0, 0.55, 2100.0, 141.0, 0.0, 0.0),
    "late clutch": (10.0, 3200.0, 0.55, 2900.0, 141.0, 0.0, 0.0),
    "clutch above the peak": (9.0, 2500.0, 0.6, 2900.0, 141.0, 0.0, 0.0),
    "into the wind, uphill": (11.0, 3600.0, 0.5, 2300.0, 160.0, 2.5, 0.004),
    "down the wind": (8.0, 3000.0, 0.45, 2000.0, 120.0, -3.0, -0.003),
}


def _many(*rows: tuple[float, ...]) -> Many:
    columns = [np.array(column) for column in zip(*rows, strict=True)]
    torque, peak, fall, engagement, mass, headwind, grade = columns
    ones = np.ones(len(rows))
    return Many(
        torque=torque,
        peak_rpm=peak,
        fall=fall,
        rpm_per_speed=60 * _RATIO / _CIRCUMFERENCE * ones,
        engagement_rpm=engagement,
        mass=mass,
        wheels=_WHEEL / _RADIUS**2 * ones,
        engine_inertia=_ENGINE * ones,
        rolling=0.025 * ones,
        drag_area=0.6 * ones,
        density=1.2 * ones,
        headwind=headwind,
        grade=grade,
    )


def _one(row: tuple[float, ...]) -> tuple[Powertrain, Road]:
    """The same machine with its curve drawn finely, for the model of one run."""
    torque, peak, fall, engagement, mass, headwind, grade = row
    rpm = np.geomspace(400.0, 20_000.0, 500)
    curve = torque * torque_shape(rpm, np.full_like(rpm, peak), np.full_like(rpm, fall))
    train = Powertrain(
        curve_rpm=tuple(rpm.tolist()),
        curve_torque=tuple(curve.tolist()),
        ratio=_RATIO,
        circumference=_CIRCUMFERENCE,
        engagement_rpm=engagement,
        efficiency=1.0,
        wheel_inertia=_WHEEL,
        engine_inertia=_ENGINE,
    )
    return train, Road(mass, 0.025, 0.6, 1.2, headwind, grade)


@pytest.mark.parametrize("name", _ROWS)
def test_as_one_run_at_a_time(name: str) -> None:
    """Standing, rolling, over a distance, flat out; within 3 in 10,000."""
    runs, (train, road) = _many(_ROWS[name]), _one(_ROWS[name])
    for start, end in ((0.0, 45 / 3.6), (30 / 3.6, 50 / 3.6)):
        one = accelerate(train, road, end, start).time
        assert speed_times(runs, start, end)[0] == pytest.approx(one, rel=3e-4)
    one = over_distance(train, road, 80.0).time
    assert distance_times(runs, 80.0)[0] == pytest.approx(one, rel=3e-4)
    assert top_speeds(runs)[0] == pytest.approx(full_speed(train, road), rel=3e-4)


def test_coasting_as_in_closed_form() -> None:
    """Still air, level ground. Source: White and Korst's closed form, as on its page."""
    runs = _many(_ROWS["plain"])
    heavy, f0, f2 = 141.0 + _WHEEL / _RADIUS**2, 141.0 * 9.80665 * 0.025, 0.5 * 1.2 * 0.6
    expected = coast_time(heavy, f0, f2, 40 / 3.6, 15 / 3.6)
    assert coast_times(runs, 40 / 3.6, 15 / 3.6)[0] == pytest.approx(expected, rel=1e-6)


def test_what_is_not_reached_is_no_number() -> None:
    """A machine too weak for the speed, or for moving off; its neighbours are not touched."""
    weak = (0.5, *_ROWS["plain"][1:])
    runs = _many(_ROWS["plain"], weak)
    for found in (speed_times(runs, 0.0, 45 / 3.6), top_speeds(runs)):
        assert math.isfinite(found[0])
        assert math.isnan(found[1])


def test_a_column_keeps_every_field() -> None:
    """Each becomes a column of one."""
    runs = _many(*_ROWS.values())
    assert all(getattr(runs.column(), f.name).shape == (len(_ROWS), 1) for f in fields(Many))
