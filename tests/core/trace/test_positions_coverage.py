"""Runs where nothing but positions is told: the stated range has to hold the truth all the same.

Positions carry independent normal errors; speeds are their central differences, so a row before
leaving already moves. The range may be wider than it need be, and never narrower.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.trace import FoundRun, Wanted
from core.trace.noise import speed_noise
from core.trace.positions import courses, speeds_along
from core.trace.runs import find_runs
from core.trace.traces import Trace
from tests.core.trace.runs_support import trace_of
from tests.core.trace.synthetic import Drive, season_day
from tests.core.trace.test_coverage import TRUTHS

DAYS, RUNS = 8, 8
_FINE = 200  # rows a second that the true way is added up over


def by_places(drive: Drive, rate: int, error: float, rng: np.random.Generator) -> Trace:
    """A recording of positions alone, each off by so many metres either way."""
    fine = np.arange(int(drive.length * _FINE)) / _FINE
    speed, heading = drive.sampled(fine)
    angle = np.radians(heading)
    rows = slice(None, None, _FINE // rate)
    times = fine[rows]
    north, east = (
        np.cumsum(speed * part)[rows] / _FINE + rng.normal(0, error, len(times))
        for part in (np.cos(angle), np.sin(angle))
    )
    told = speeds_along(times, north, east, courses(times, north, east))
    noise = speed_noise(told, ((0, len(times)),), from_positions=True)
    return replace(trace_of(times, told), from_positions=True, noise=noise)


def runs_of(rate: int, error: float) -> dict[Wanted, list[tuple[FoundRun, float]]]:
    """All runs of some days with their truths."""
    rng = np.random.default_rng(20260906)
    found: dict[Wanted, list[tuple[FoundRun, float]]] = {wanted: [] for wanted in TRUTHS}
    for _ in range(DAYS):
        trace = by_places(season_day(RUNS, rng)[0], rate, error, rng)
        for wanted, truth in TRUTHS.items():
            found[wanted] += [(run, truth) for run in find_runs(trace, wanted).runs]
    return found


@pytest.mark.parametrize("rate", [1, 5, 10])
@pytest.mark.parametrize("error", [0.02, 0.1])
def test_the_stated_range_holds_the_truth(rate: int, error: float) -> None:
    for pairs in runs_of(rate, error).values():
        assert len(pairs) >= 0.9 * DAYS * RUNS
        held = [abs(run.value - truth) <= run.give_or_take for run, truth in pairs]
        assert np.mean(held) >= 0.92
        off = np.array([run.value - truth for run, truth in pairs])
        said = np.array([run.sd for run, _ in pairs])
        assert abs(float(off.mean())) < float(said.mean())
        assert float(said.mean()) < 0.12 + 3 * float(off.std())  # and is no excuse for anything


def test_hopeless_positions_end_in_no_fault_of_the_program() -> None:
    """A third of a metre from row to row at ten rows a second is 8 km/h of noise."""
    for pairs in runs_of(10, 0.3).values():
        assert np.mean([run.sd for run, _ in pairs]) > 0.15
