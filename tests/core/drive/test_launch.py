"""Runs by the road-load model, against an ODE solver, closed forms, and integrals of slopes."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from core import drive
from core.errors import InputError, UnknownInputError

CURVE = (
    (1800.0, 2200.0, 2600.0, 3000.0, 3400.0, 3800.0, 4200.0, 4600.0, 5000.0, 5400.0),
    (11.0, 11.8, 12.1, 12.0, 11.5, 10.6, 9.4, 7.8, 5.8, 3.4),
)
TRAIN = drive.Powertrain(
    *CURVE,
    ratio=6.0,
    circumference=1.47,
    engagement_rpm=2200.0,
    efficiency=0.9,
    wheel_inertia=0.25,
    engine_inertia=0.010,
)
ROAD = drive.Road(150.0, 0.025, 0.7, 1.2)
VARIED = st.tuples(
    st.floats(-2, 2), st.floats(-0.01, 0.01), st.floats(120, 190), st.floats(5.0, 7.0)
)


def step_by_step(train: drive.Powertrain, road: drive.Road, target: float) -> tuple[float, float]:
    """Return time and way to a speed by DOP853 in time, restarted where the clutch locks."""
    from scipy.integrate import solve_ivp

    def slope(_t: float, state: Any, locked: bool) -> list[float]:
        v = state[0]
        torque = train.torque_scale * _interpolated(
            max(train.engagement_rpm, 60 * train.ratio * v / train.circumference)
        )
        force = torque * train.ratio * train.efficiency * 2 * math.pi / train.circumference
        through = v + road.headwind
        theta = math.atan(road.grade)
        held = road.mass * 9.80665 * (road.rolling * math.cos(theta) + math.sin(theta))
        held += 0.5 * road.air_density * road.drag_area * through * abs(through)
        turning = train.wheel_inertia + (train.engine_inertia * train.ratio**2 if locked else 0)
        mass = road.mass + turning * (2 * math.pi / train.circumference) ** 2
        return [(force - held) / mass, v]

    t, state = 0.0, [0.0, 0.0]
    lock = train.engagement_rpm * train.circumference / 60 / train.ratio
    for locked, end in ((False, min(lock, target)), (True, target)):
        if state[0] >= end:
            continue

        def there(_t: float, y: Any, _locked: bool, end: float = end) -> float:
            return float(y[0] - end)

        there.terminal = True  # type: ignore[attr-defined]
        solve: Any = solve_ivp
        options = {"rtol": 1e-10, "atol": 1e-10, "max_step": 0.05}
        run = solve(slope, (t, t + 200), state, "DOP853", events=there, args=(locked,), **options)
        t, state = float(run.t_events[0][0]), [end, float(run.y_events[0][0][1])]
    return t, state[1]


def _interpolated(rpm: float) -> float:
    import numpy as np

    return float(np.interp(rpm, *CURVE))


@pytest.mark.parametrize(
    ("road", "ratio", "engagement", "target"),
    [
        (ROAD, 6.0, 2200.0, 13.0),
        (replace(ROAD, headwind=2.0, grade=0.002), 6.0, 2200.0, 13.0),
        (ROAD, 5.0, 2600.0, 14.0),
        (ROAD, 6.0, 2200.0, 5.0),
        (replace(ROAD, headwind=-3.0, grade=-0.005), 5.5, 1900.0, 17.0),
    ],
)
def test_standing_start_against_an_ode_solver(
    road: drive.Road, ratio: float, engagement: float, target: float
) -> None:
    train = replace(TRAIN, ratio=ratio, engagement_rpm=engagement)
    time, way = step_by_step(train, road, target)
    found = drive.accelerate(train, road, target)
    assert found.reached
    assert found.time == pytest.approx(time, rel=2e-6)
    assert found.distance == pytest.approx(way, rel=2e-6)


@given(mass=st.floats(80, 250), force=st.floats(100, 800), target=st.floats(2, 12))
def test_constant_force_is_the_schoolbook(mass: float, force: float, target: float) -> None:
    """While the clutch slips, without drag or rolling: t = m v/F, x = m v²/(2F)."""
    torque = force / (2 * math.pi)  # ratio, circumference and efficiency 1: F = 2 pi T
    train = drive.Powertrain((1000.0, 2000.0), (torque, torque), 1.0, 1.0, 1000.0, 1.0)
    found = drive.accelerate(train, drive.Road(mass, 0, 0, 1.2), target)
    assert found.time == pytest.approx(mass * target / force)
    assert found.distance == pytest.approx(mass * target**2 / (2 * force))


@settings(max_examples=25, deadline=None)
@given(varied=VARIED, middle=st.floats(2.0, 11.0))
def test_pieces_of_a_run_add_up(varied: tuple[float, float, float, float], middle: float) -> None:
    wind, grade, mass, ratio = varied
    train = replace(TRAIN, ratio=ratio)
    road = replace(ROAD, headwind=wind, grade=grade, mass=mass)
    whole = drive.accelerate(train, road, 11.5)
    first = drive.accelerate(train, road, middle)
    second = drive.accelerate(train, road, 11.5, start=middle)
    if not whole.reached:
        return
    assert first.time is not None
    assert second.time is not None
    assert whole.time == pytest.approx(first.time + second.time, rel=1e-8)


@settings(max_examples=25, deadline=None)
@given(varied=VARIED)
def test_harder_is_slower(varied: tuple[float, float, float, float]) -> None:
    wind, grade, mass, ratio = varied
    train = replace(TRAIN, ratio=ratio)
    road = replace(ROAD, headwind=wind, grade=grade, mass=mass)
    base = drive.accelerate(train, road, 11.0).time
    if base is None:
        return
    for worse in (
        replace(road, headwind=wind + 0.5),
        replace(road, grade=grade + 0.001),
        replace(road, mass=mass + 2),
        replace(road, drag_area=0.75),
        replace(road, rolling=0.027),
    ):
        time = drive.accelerate(train, worse, 11.0).time
        assert time is None or time > base


@pytest.mark.parametrize("distance", [3.0, 20.0, 50.0, 150.0, 2000.0])
def test_over_a_distance_and_to_its_end_speed_agree(distance: float) -> None:
    found = drive.over_distance(TRAIN, ROAD, distance)
    assert found.distance == distance
    assert found.time is not None
    if found.end_speed < 0.99 * drive.full_speed(TRAIN, ROAD):
        to_speed = drive.accelerate(TRAIN, ROAD, found.end_speed)
        assert to_speed.distance == pytest.approx(distance, rel=1e-8)
        assert to_speed.time == pytest.approx(found.time, rel=1e-8)
    else:
        assert distance > 500
        assert found.end_speed == pytest.approx(drive.full_speed(TRAIN, ROAD), rel=1e-4)


def test_top_speed_is_where_force_and_load_meet() -> None:
    top = drive.full_speed(TRAIN, ROAD)
    assert drive.road_force(TRAIN, top) == pytest.approx(drive.road_load(ROAD, top), rel=1e-9)
    assert not drive.accelerate(TRAIN, ROAD, top * 1.001).reached
    assert drive.accelerate(TRAIN, ROAD, top * 0.999).reached


def test_target_that_is_never_reached_says_so() -> None:
    steep = replace(ROAD, grade=0.12)
    found = drive.accelerate(replace(TRAIN, torque_scale=0.8), steep, 13.0)
    assert not found.reached
    assert found.time is None
    assert found.distance is None
    assert found.text().startswith("not reached")
    with pytest.raises(UnknownInputError, match="not reached"):
        drive.model_time(replace(TRAIN, torque_scale=0.8), steep, 13.0)


def test_machine_that_does_not_move_off() -> None:
    wall = replace(ROAD, grade=0.5)
    assert drive.full_speed(TRAIN, wall) == 0.0
    assert not drive.over_distance(TRAIN, wall, 10.0).reached


def test_torque_past_the_end_of_the_curve_is_unknown() -> None:
    downhill = replace(ROAD, grade=-0.13)
    with pytest.raises(UnknownInputError) as caught:
        drive.full_speed(TRAIN, downhill)
    assert caught.value.missing == ("torque curve",)
    with pytest.raises(UnknownInputError, match="torque curve ends at"):
        drive.accelerate(TRAIN, downhill, 25.0)
    with pytest.raises(UnknownInputError, match="runs from 1800 to 5400 rpm"):
        drive.accelerate(replace(TRAIN, engagement_rpm=1500.0), ROAD, 8.0)


def test_sensitivities_against_integrals_of_the_slope() -> None:
    """dt/dln s = -int m F/(F - R)² dv; dt/dw = int m rho CdA v/(F - R)² dv; grade: m·mg/(...)²."""
    from scipy.integrate import quad

    lock = TRAIN.lock_speed

    def integral(numerator: Any) -> float:
        def f(v: float, locked: bool) -> float:
            mass = drive.effective_mass(TRAIN, ROAD.mass, locked)
            left = drive.road_force(TRAIN, v) - drive.road_load(ROAD, v)
            return float(mass * numerator(v) / left**2)

        knots = [v for v in TRAIN.knots if v < 13.0]
        first = quad(f, 0, lock, args=(False,))[0]
        return float(first + quad(f, lock, 13.0, args=(True,), points=knots[1:])[0])

    time = drive.model_time(TRAIN, ROAD, 13.0)
    found, _ = drive.sensitivities(TRAIN, ROAD, 13.0)
    by_torque = -integral(lambda v: drive.road_force(TRAIN, v)) / time
    assert found.torque == pytest.approx(by_torque, abs=2e-3)
    assert found.headwind == pytest.approx(integral(lambda v: 1.2 * 0.7 * v), rel=2e-3)
    assert found.grade == pytest.approx(integral(lambda _: 150 * 9.80665) / 1000, rel=2e-3)
    by_air = integral(lambda v: 0.5 * 1.2 * 0.7 * v * v) / time
    assert found.density_fixed_torque == pytest.approx(by_air, abs=1e-3)
    assert found.density_with_torque == pytest.approx(by_torque + by_air, abs=3e-3)


def test_elasticity_against_the_derivative_of_the_top_speed() -> None:
    for alpha in (0.0, 0.5, 1.18):
        step = 1e-4
        ends = [
            drive.top_speed(replace(ROAD, air_density=1.2 * (1 + s)), 4000 * math.pow(1 + s, alpha))
            for s in (step, -step)
        ]
        slope = math.log(ends[0] / ends[1]) / (2 * step)
        found = drive.top_speed_elasticity(ROAD, 4000.0, alpha)
        assert found.density == pytest.approx(slope, abs=1e-5)
    windy = [drive.top_speed(replace(ROAD, headwind=w), 4000.0) for w in (0.001, -0.001)]
    assert found.wind == pytest.approx((windy[0] - windy[1]) / 0.002, abs=1e-4)


def test_allowance_puts_a_time_back_where_it_came_from() -> None:
    test = (replace(TRAIN, torque_scale=0.95), replace(ROAD, air_density=1.14, headwind=1.5))
    reference = (TRAIN, ROAD)
    there = drive.allowed_time(9.85, test, reference, 13.0)
    back = drive.allowed_time(there.corrected, reference, test, 13.0)
    assert back.corrected == pytest.approx(9.85)
    assert there.share < 1
    assert there.corrected == pytest.approx(9.85 * there.share)
    same = drive.allowed_time(9.85, test, test, 13.0)
    assert same.corrected == 9.85


def test_two_way_mean_of_times_is_biased_slow() -> None:
    """Table of the model: +0.008, +0.031, +0.123, +0.280 s at 0.5, 1, 2, 3 m/s."""
    still = drive.model_time(TRAIN, ROAD, 13.0)
    for wind, bias in [(0.5, 0.008), (1, 0.031), (2, 0.123), (3, 0.280)]:
        pair = [drive.model_time(TRAIN, replace(ROAD, headwind=w), 13.0) for w in (wind, -wind)]
        assert sum(pair) / 2 - still == pytest.approx(bias, abs=2e-3)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"curve_rpm": (1800.0,)}, "1 speeds and 10 torques"),
        ({"curve_rpm": (5400.0, *CURVE[0][1:])}, "the curve's speeds must rise"),
        ({"efficiency": 1.2}, "cannot be above 1"),
        ({"ratio": 0.0}, "Ratio is 0"),
        ({"circumference": -1.0}, "Rolling circumference is -1 m"),
        ({"engine_inertia": -0.1}, "cannot be below zero"),
    ],
)
def test_powertrains_that_are_none(change: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(TRAIN, **change)


def test_start_at_or_above_the_target() -> None:
    with pytest.raises(InputError, match="not below the target"):
        drive.accelerate(TRAIN, ROAD, 8.0, start=8.0)
