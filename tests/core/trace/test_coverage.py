"""Recordings whose truth is known, at four rates and several noises: bias and stated error.

The machine leaves by ``v = 22 (1 - exp(-t/7))`` m/s, and every speed is read off with independent
normal noise. Truths are closed forms. The stated range, 1.96 standard deviations either way, must
hold the truth in 93 to 97 of 100 runs; the seed is fixed.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from core.trace import FIRST_MOTION, FoundRun, Wanted
from core.trace.runs import find_runs
from tests.core.trace.runs_support import trace_of
from tests.core.trace.synthetic import (
    Drive,
    Floats,
    coast_time,
    coasting,
    recorded,
    season_day,
    speed_after,
    time_to,
    way_after,
)

RATES = (1, 5, 10, 25)  # rows per second
NOISES = (0.03, 0.1, 0.2)  # m/s
DAYS, RUNS = 60, 8

TO_50 = Wanted("0-50", "standing", to_speed=50 / 3.6)
ROLLING = Wanted("25-50", "rolling", from_speed=25 / 3.6, to_speed=50 / 3.6)
OVER_80 = Wanted("80m", "distance", distance=80.0)
TOP = Wanted("top", "top")
COAST = Wanted("coast-40-15", "coast", from_speed=40 / 3.6, to_speed=15 / 3.6)


def time_over(metres: float) -> float:
    """From first motion until so much more way, s; the closed form of the way, solved."""
    begun = time_to(FIRST_MOTION)
    end = brentq(lambda t: way_after(t) - way_after(begun) - metres, 0.0, 60.0)
    return float(end) - begun


TRUTHS = {
    TO_50: time_to(50 / 3.6) - time_to(FIRST_MOTION),
    ROLLING: time_to(50 / 3.6) - time_to(25 / 3.6),
    OVER_80: time_over(80.0),
}


class Tally:
    """Errors of runs of one test, and whether their stated ranges hold the truth."""

    def __init__(self) -> None:
        self.errors: list[float] = []
        self.covered: list[bool] = []

    def add(self, run: FoundRun, truth: float) -> None:
        """Count one run."""
        self.errors.append(run.value - truth)
        self.covered.append(abs(run.value - truth) <= run.give_or_take)

    def check(self, low: float, high: float) -> None:
        """Bias below half of the scatter, and so many ranges that hold the truth."""
        errors = np.array(self.errors)
        assert abs(float(errors.mean())) < 0.5 * float(errors.std())
        assert low <= float(np.mean(self.covered)) <= high


def check_all(tallies: dict[float, Tally]) -> None:
    """All noises together 93 to 97 of 100; each by itself two deviations of 480 runs wider."""
    together = Tally()
    for tally in tallies.values():
        tally.check(0.91, 0.985)
        together.covered += tally.covered
    assert 0.93 <= float(np.mean(together.covered)) <= 0.97


@pytest.mark.parametrize("rate", RATES)
def test_standing_rolling_and_distance(rate: int) -> None:
    rng = np.random.default_rng(20260412)
    tallies = {wanted: {noise: Tally() for noise in NOISES} for wanted in TRUTHS}
    for noise in NOISES:
        for _ in range(DAYS):
            trace = trace_of(*recorded(season_day(RUNS, rng)[0], rate, noise, rng))
            for wanted, truth in TRUTHS.items():
                found = find_runs(trace, wanted).runs
                assert len(found) == RUNS
                for run in found:
                    tallies[wanted][noise].add(run, truth)
    for by_noise in tallies.values():
        check_all(by_noise)


def plateau(speed: float, seconds: float, drive: Drive, heading: float = 270.0) -> None:
    def held(time: Floats) -> Floats:
        return np.full(len(time), speed)

    def falling(time: Floats) -> Floats:
        return coasting(speed, time)

    drive.stand(4.0)
    drive.launch(time_to(speed), heading)
    drive.add(seconds, held, heading)
    drive.add(coast_time(speed, 8 / 3.6), falling, heading)
    drive.brake(8 / 3.6, heading=heading)


@pytest.mark.parametrize("rate", RATES)
def test_top_speed_and_coast_down(rate: int) -> None:
    rng = np.random.default_rng(20260503)
    tops = {noise: Tally() for noise in NOISES}
    coasts = {noise: Tally() for noise in NOISES}
    truth = coast_time(40 / 3.6, 15 / 3.6)
    for noise in NOISES:
        for _ in range(DAYS):
            drive, speeds = Drive(), rng.uniform(15, 20, RUNS)
            for speed in speeds:
                drive.stand(float(rng.uniform(0, 1)))
                plateau(float(speed), float(rng.uniform(4, 8)), drive)
            drive.stand(3.0)
            trace = trace_of(*recorded(drive, rate, noise, rng))
            found = find_runs(trace, TOP).runs
            assert len(found) == RUNS
            for run, speed in zip(found, speeds.tolist(), strict=True):
                tops[noise].add(run, speed * 3.6)
            for run in find_runs(trace, COAST).runs:
                coasts[noise].add(run, truth)
        assert len(coasts[noise].errors) >= 0.98 * DAYS * RUNS
    check_all(tops)
    check_all(coasts)


def test_the_first_row_above_comes_early_and_the_line_does_not() -> None:
    """By the same noise, 0.1 m/s at 25 rows a second: what the straight line is for."""
    rng = np.random.default_rng(7)
    early, fitted = [], []
    for _ in range(DAYS):
        times, speed, heading = recorded(season_day(1, rng)[0], 25, 0.3, rng)
        run = find_runs(trace_of(times, speed, heading), TO_50).runs[0]
        truth = time_to(50 / 3.6)
        left = next(i for i in range(len(times)) if speed[i] > 2.0)
        first = next(i for i in range(left, len(times)) if speed[i] >= 50 / 3.6)
        begun = run.end - run.value
        early.append(float(times[first]) - begun - truth)
        fitted.append(run.value - TRUTHS[TO_50])
    assert np.mean(early) < -0.15
    assert abs(np.mean(fitted)) < 0.05


def test_the_launch_is_the_one_the_truths_are_of() -> None:
    times = np.arange(0, 8, 0.1)
    assert speed_after(times)[-1] == pytest.approx(22 * (1 - np.exp(-times[-1] / 7)))
    assert time_to(float(speed_after(np.array(3.0)))) == pytest.approx(3.0)
