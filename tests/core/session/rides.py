"""A recording of a session's runs, and what a hand watch said of the same."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from core.attempts import find_test
from core.drive import coast_speed
from core.session import Session, enter
from core.session.looking import look_for
from core.session.tracing import wanted_of
from core.trace import FoundRun
from core.trace.reading import read_trace
from core.trace.runs import bearings_of, find_runs
from core.trace.traces import Trace
from tests.core.trace.synthetic import START as TRACE_START
from tests.core.trace.synthetic import csv_text, nmea_text, recorded, season_day

__all__ = ["RUNS", "TEST", "TRACE_START", "coasts", "recording", "runs_of", "typed_after"]

RUNS = 6
TEST = find_test("0-50")


def recording(folder: Path, start: datetime = TRACE_START, seed: int = 5) -> tuple[Path, Trace]:
    """Six runs to and fro, some ninety seconds apart, told by satellite time."""
    rng = np.random.default_rng(seed)
    path = folder / "ride.nmea"
    drive, _ = season_day(RUNS, rng, pause=75.0)
    path.write_text(nmea_text(*recorded(drive, 10, 0.05, rng), start=start))
    return path, read_trace(path, now=start + timedelta(days=3))


def runs_of(trace: Trace, directions: tuple[str, ...] = ("W", "E")) -> tuple[FoundRun, ...]:
    return find_runs(trace, wanted_of(TEST), bearings_of(directions)).runs


def typed_after(
    session: Session, trace: Trace, runs: tuple[FoundRun, ...], *, late: float = 15.0, **more: Any
) -> Session:
    """Enter what a hand watch said of each run, some seconds after it ended."""
    draw = random.Random(3)
    for run in runs:
        moment = trace.moment(run.end)
        assert moment is not None
        at = moment + timedelta(seconds=late + draw.uniform(-8, 8))
        value = round(run.value + draw.gauss(0, 0.1), 2)
        session = enter(session, at.astimezone(session.started.tzinfo), value=value, **more)
    return session


def coasts(folder: Path) -> tuple[Path, Trace, tuple[FoundRun, ...]]:
    """Two coast-downs with 35 N and 0.42 N s²/m² at 150 kg, in one file."""
    t = np.arange(0, 40, 0.1)
    one = [coast_speed(150, 35, 0.42, 15, float(x)) for x in t]
    up = np.linspace(0, 15, 100)
    speed = np.concatenate([np.zeros(50), up, one, np.zeros(50), up, one, np.zeros(50)])
    rng = np.random.default_rng(3)
    noise = rng.normal(0, 0.03, len(speed)) * (speed > 0)
    speed = np.abs(speed + noise).astype(np.float64)
    path = folder / "coast.csv"
    path.write_text(csv_text(np.arange(len(speed), dtype=np.float64) * 0.1, speed))
    trace = read_trace(path)
    return path, trace, look_for(trace, find_test("coast-45-15")).found.runs
