"""Constant power, coast-down, wind and road load: quadrature, inverses, and known truth."""

from __future__ import annotations

import random
import statistics

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core import drive
from core.errors import InputError, OutOfRangeError

MASSES = st.floats(80, 300)
POWERS = st.floats(1500, 9000)
F0 = st.floats(10, 90)
F2 = st.floats(0.15, 0.8)


def integral(f: object, low: float, high: float) -> float:
    from scipy.integrate import quad

    return float(quad(f, low, high, epsabs=0, epsrel=1e-11)[0])  # type: ignore[call-overload]


@settings(deadline=None)  # the first draw loads SciPy
@given(mass=MASSES, power=POWERS, k=F2, share=st.floats(0.1, 0.97))
def test_power_against_drag_by_quadrature(
    mass: float, power: float, k: float, share: float
) -> None:
    v = share * drive.drag_terminal_speed(power, k)
    time = integral(lambda u: mass * u / (power - k * u**3), 0, v)
    way = integral(lambda u: mass * u * u / (power - k * u**3), 0, v)
    assert drive.drag_speed_time(mass, power, k, v) == pytest.approx(time, rel=1e-8)
    assert drive.drag_distance_speed(mass, power, k, way) == pytest.approx(v, rel=1e-8)


@given(mass=MASSES, power=POWERS, way=st.floats(1, 300))
def test_power_without_losses_agrees_with_itself(mass: float, power: float, way: float) -> None:
    v = drive.distance_speed(mass, power, way)
    assert drive.speed_time(mass, power, v) == pytest.approx(drive.distance_time(mass, power, way))
    assert power * drive.speed_time(mass, power, v) == pytest.approx(mass * v * v / 2)


@given(mass=MASSES, power=POWERS, v=st.floats(1, 8))
def test_a_little_drag_is_no_drag(mass: float, power: float, v: float) -> None:
    nearly = drive.drag_speed_time(mass, power, 1e-7, v)
    assert nearly == pytest.approx(drive.speed_time(mass, power, v), rel=1e-5)


def test_speed_above_the_terminal_one() -> None:
    with pytest.raises(InputError, match=r"100\.8 km/h is not reached: the top speed is 76\.3"):
        drive.drag_speed_time(150, 4000, 0.42, 28)


@settings(deadline=None)
@given(mass=MASSES, f0=F0, f2=F2, start=st.floats(6, 25), share=st.floats(0.05, 0.95))
def test_coast_down_by_quadrature_and_inverse(
    mass: float, f0: float, f2: float, start: float, share: float
) -> None:
    end = share * start
    time = drive.coast_time(mass, f0, f2, start, end)
    assert time == pytest.approx(integral(lambda v: mass / (f0 + f2 * v * v), end, start), rel=1e-9)
    way = integral(lambda v: mass * v / (f0 + f2 * v * v), end, start)
    assert drive.coast_distance(mass, f0, f2, start, end) == pytest.approx(way, rel=1e-9)
    assert drive.coast_speed(mass, f0, f2, start, time) == pytest.approx(end, rel=1e-9)


def test_machine_that_came_to_rest_stays_there() -> None:
    rest = drive.coast_time(150, 35, 0.42, 15)
    assert drive.coast_speed(150, 35, 0.42, 15, rest) == pytest.approx(0, abs=1e-9)
    assert drive.coast_speed(150, 35, 0.42, 15, rest + 60) == 0.0


def trace(noise: float, seed: int) -> tuple[list[float], list[float]]:
    draw = random.Random(seed)
    times = [0.5 * i for i in range(60)]
    speeds = [drive.coast_speed(150, 35, 0.42, 15, t) + draw.gauss(0, noise) for t in times]
    return times, speeds


def test_fit_finds_the_truth_and_knows_how_well() -> None:
    """200 noisy traces: mean within three standard errors, stated sd within 15 %, 95 % covered."""
    fits = [drive.fit_coast(150, *trace(0.05, seed)) for seed in range(200)]
    for name, truth in (("f0", 35.0), ("f2", 0.42)):
        values = [getattr(fit, name) for fit in fits]
        sds = [getattr(fit, f"{name}_sd") for fit in fits]
        scatter = statistics.stdev(values)
        assert statistics.mean(values) == pytest.approx(truth, abs=3 * scatter / 200**0.5)
        assert statistics.mean(sds) == pytest.approx(scatter, rel=0.15)
        inside = sum(abs(v - truth) < 2 * s for v, s in zip(values, sds, strict=True))
        assert 0.90 <= inside / 200 <= 0.99


def test_fit_takes_times_from_any_start() -> None:
    times, speeds = trace(0.0, 1)
    early = drive.fit_coast(150, times, speeds)
    late = drive.fit_coast(150, [t + 1000 for t in times], speeds)
    assert late.f0 == pytest.approx(early.f0, rel=1e-6)
    assert early.f0 == pytest.approx(35, rel=1e-5)
    assert early.start_speed == pytest.approx(15, rel=1e-6)


@pytest.mark.parametrize(
    ("times", "speeds", "words"),
    [
        ([0, 1, 2], [9, 8, 7], "five or more"),
        ([0, 1, 1, 2, 3], [9, 8, 8, 7, 6], "must increase"),
        ([0, 1, 2, 3, 4], [9, 8, 7, 6, 0], "not above zero"),
        ([0, 1, 2, 3, 4], [6, 7, 8, 9, 10], "no coast-down"),
    ],
)
def test_traces_that_are_no_coast_down(times: list[float], speeds: list[float], words: str) -> None:
    with pytest.raises(InputError, match=words):
        drive.fit_coast(150, times, speeds)


def test_coasting_faster_is_refused() -> None:
    with pytest.raises(InputError, match="a machine that coasts slows down"):
        drive.coast_time(150, 35, 0.42, 5, 15)


@given(wind=st.floats(-4, 4), grade=st.floats(-0.01, 0.01), v=st.floats(6, 20))
def test_two_way_coast_by_two_road_loads(wind: float, grade: float, v: float) -> None:
    """Force up and down the strip from the road load, small slope: mean and half difference."""
    road = drive.Road(150, 0.0238, 0.7, 1.2)
    up = drive.road_load(drive.Road(150, 0.0238, 0.7, 1.2, wind, grade), v)
    down = drive.road_load(drive.Road(150, 0.0238, 0.7, 1.2, -wind, -grade), v)
    f0 = drive.rolling_force(road)
    found = drive.two_way_coast(150, f0, drive.air_factor(road), v, wind, grade)
    assert found.mean_force == pytest.approx((up + down) / 2, abs=0.01)
    assert found.half_difference == pytest.approx((up - down) / 2, abs=0.01)


def test_grade_and_rolling_are_one_number_on_one_way_runs() -> None:
    sloped = drive.Road(150, 0.025, 0.7, 1.2, grade=0.005)
    rough = drive.Road(150, 0.030, 0.7, 1.2)
    assert drive.road_load(sloped, 12) == pytest.approx(drive.road_load(rough, 12), rel=1e-4)


@given(power=POWERS, wind=st.floats(-6, 6), grade=st.floats(-0.03, 0.03))
def test_top_speed_uses_all_the_power(power: float, wind: float, grade: float) -> None:
    road = drive.Road(150, 0.025, 0.7, 1.2, wind, grade)
    top = drive.top_speed(road, power)
    assert top * drive.road_load(road, top) == pytest.approx(power, rel=1e-9)
    assert drive.top_speed(road, power * 1.05) > top


@given(still=st.floats(8, 30), share=st.floats(0.01, 0.2))
def test_two_way_means_by_their_series(still: float, share: float) -> None:
    """+w²/(9 v0) for the mean of speeds, -w²/(3 v0) for the mean of times, to a few per cent."""
    wind = share * still
    found = drive.two_way_top_speed(still, wind)
    series = wind**2 / (9 * still)
    assert found.bias_of_mean == pytest.approx(series, rel=0.05)
    assert found.bias_from_times == pytest.approx(-3 * series, rel=0.05)
    assert found.upwind < still < found.downwind


def test_top_speed_in_a_tailwind_faster_than_the_machine() -> None:
    found = drive.top_speed_in_wind(5.0, -12.0)
    assert found * (found - 12) * abs(found - 12) == pytest.approx(125.0)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((0, 0.02, 0.7, 1.2), "Mass is 0 kg"),
        ((150, -0.02, 0.7, 1.2), "cannot be below zero"),
        ((150, 0.02, 0.7, 0), "Air density is 0"),
        ((150, 0.02, 0.7, 1.2, 0, 3), "Grade is 300 %"),
    ],
)
def test_roads_that_are_none(values: tuple[float, ...], words: str) -> None:
    with pytest.raises(InputError, match=words):
        drive.Road(*values)


def test_nothing_holds_back() -> None:
    with pytest.raises(InputError, match="Nothing holds this machine back"):
        drive.top_speed(drive.Road(150, 0.0, 0.0, 1.2), 4000)


def test_wind_that_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="Wind is -1 m/s"):
        drive.two_way_top_speed(20, -1)
    with pytest.raises(InputError, match="wind is as fast as the machine"):
        drive.two_way_coast(150, 35, 0.42, 3, 4, 0)


def test_plausible_time_needs_lists_of_one_length() -> None:
    with pytest.raises(InputError, match="same length"):
        drive.fit_efficiency([1500.0], [75_000.0, 1.0], [17.0], 402.336)
    assert issubclass(OutOfRangeError, InputError)


def test_efficiency_is_found_again() -> None:
    masses, powers = [900.0, 1200.0, 1500.0], [50_000.0, 70_000.0, 120_000.0]
    times = [
        drive.elapsed_from_power(m, p, 402.336, 0.47) for m, p in zip(masses, powers, strict=True)
    ]
    assert drive.fit_efficiency(masses, powers, times, 402.336) == pytest.approx(0.47)
