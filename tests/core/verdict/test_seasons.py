"""Seasons with known truth: the net range holds it, and different air fools only the raw one.

A quick version with fixed seed; the table of the map comes from ``season_table.py``. Limits are the
wanted ones with room for the chance of so few seasons (two standard deviations).
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from core.drive import Powertrain, Road, accelerate
from tests.core.verdict import season_truth
from tests.core.verdict.season_truth import TEETH
from tests.core.verdict.seasons import SLOPE, called, covered, simulate

_FEW = 60


def _room(share: float, count: int) -> float:
    return 2.0 * sqrt(share * (1.0 - share) / count)


def test_net_holds_the_truth_where_raw_is_fooled() -> None:
    """Two days with other air: 93 to 97 % of ranges, at most 6 % false calls."""
    real, none = simulate("two days", _FEW), simulate("two days", _FEW, effect=0.0)
    both = [*real, *none]
    assert covered(both) >= 0.93 - _room(0.93, len(both))
    assert called(none) <= 0.06 + _room(0.06, len(none))
    assert covered(both, "raw") < 0.90  # as clocked: air and rider are in it and not in its range
    assert called(none, "raw_called") > called(none)


def test_the_truth_is_that_of_the_one_run_model() -> None:
    """The simulator's own physics against the formula page, on a machine with the same curve."""
    rng = np.random.default_rng(3)
    machines = season_truth.draw_machines(rng, 5)
    day = season_truth.draw_days(rng, 5)
    factor, density = season_truth.air_of(day)
    times = season_truth.run_times(machines, day, np.ones(5), SLOPE, 1.0)
    for i in range(5):
        train = Powertrain(
            curve_rpm=tuple(season_truth.KNOTS.tolist()),
            curve_torque=tuple((machines.torque[i] * machines.shape[i]).tolist()),
            ratio=TEETH / 12.0,
            circumference=1.06,
            engagement_rpm=float(machines.engagement[i]),
            efficiency=1.0,
            engine_inertia=float(machines.engine[i]),
            wheel_inertia=float(machines.turning[i]) * (1.06 / 2 / np.pi) ** 2,
            torque_scale=float(factor[i] ** -machines.exponent[i]),
        )
        road = Road(
            63.0 + float(day.rider[i]), float(machines.rolling[i]), float(machines.drag_area[i]),
            float(density[i]), float(day.wind[i]), SLOPE,
        )  # fmt: skip
        assert times[i] == pytest.approx(accelerate(train, road, 50 / 3.6).time, rel=2e-3)
