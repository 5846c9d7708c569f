"""Runs of a recording and typed attempts: which is which, clocks that differ, names of ways."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.clock import ManualClock
from core.session import Book, enter
from core.session.matching_runs import learned_bearings, match_runs
from core.trace.reading import read_trace
from tests.core.session.rides import RUNS, TRACE_START, recording, runs_of, typed_after
from tests.core.trace.synthetic import csv_text, recorded, season_day
from tests.making import new_book, ready_session


@pytest.fixture
def book(tmp_path: Path) -> tuple[Book, ManualClock]:
    return new_book(tmp_path)


def test_runs_and_attempts_by_clock(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    matching = match_runs(trace, runs, typed_after(session, trace, runs))
    assert (matching.shift, matching.reason) == (0.0, "")
    assert [(p.run, p.attempt) for p in matching.pairs] == [(i, i + 1) for i in range(RUNS)]
    assert all(p.apart is not None and abs(p.apart) < 0.5 for p in matching.pairs)
    assert (matching.only_runs, matching.only_attempts) == ((), ())


@pytest.mark.parametrize(
    ("off", "words"),
    [
        (7200.0, "2:00 h slow, as another time zone is"),
        (-3600.0, "1:00 h fast, as another time zone is"),
        (1234.0, "slow, by the pattern of its runs"),
        (86400.0 * 20, "20.0 days slow, by the pattern of its runs"),
    ],
)
def test_clocks_that_differ_are_noticed(
    tmp_path: Path, book: tuple[Book, ManualClock], off: float, words: str
) -> None:
    session = ready_session(*book)
    _, right = recording(tmp_path)
    runs = runs_of(right)
    session = typed_after(session, right, runs)
    _, trace = recording(tmp_path, TRACE_START - timedelta(seconds=off))
    matching = match_runs(trace, runs_of(trace), session)
    assert matching.shift == pytest.approx(off, abs=15)
    assert words in matching.reason
    assert [(p.run, p.attempt) for p in matching.pairs] == [(i, i + 1) for i in range(RUNS)]


def test_recording_without_a_clock_is_placed_by_its_pattern(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, told = recording(tmp_path)
    runs = runs_of(told)
    session = typed_after(session, told, runs)
    rng = np.random.default_rng(5)
    times, speed, _ = recorded(season_day(RUNS, rng, pause=75.0)[0], 10, 0.05, rng)
    path = tmp_path / "plain.csv"
    path.write_text(csv_text(times + 512.0, speed))
    trace = read_trace(path)
    matching = match_runs(trace, runs_of(trace), session)
    assert "tells no time of day" in matching.reason
    assert [(p.run, p.attempt) for p in matching.pairs] == [(i, i + 1) for i in range(RUNS)]


def test_runs_nobody_typed_and_attempts_nobody_recorded(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    session = typed_after(session, trace, (runs[0], runs[1], runs[4]))
    late = trace.moment(4000.0)
    assert late is not None
    session = enter(session, late.astimezone(session.started.tzinfo), value=7.0)
    matching = match_runs(trace, runs, session)
    assert [(p.run, p.attempt) for p in matching.pairs] == [(0, 1), (1, 2), (4, 3)]
    assert matching.only_runs == (2, 3, 5)
    assert matching.only_attempts == (4,)


def test_shift_that_is_told_is_taken(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    session = typed_after(session, trace, runs)
    assert match_runs(trace, runs, session, shift=9000.0).pairs == ()


def test_session_without_attempts(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    matching = match_runs(trace, runs, ready_session(*book))
    assert matching.pairs == ()
    assert matching.only_runs == tuple(range(RUNS))


def test_bearings_of_own_names_are_learned_from_matched_attempts(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = msgspec.structs.replace(ready_session(*book), directions=("out", "back"))
    _, trace = recording(tmp_path)
    runs = runs_of(trace, ("out", "back"))
    assert {run.direction for run in runs} == {""}
    typed = typed_after(session, trace, runs[:1], direction="out")
    learned = learned_bearings(match_runs(trace, runs, typed), runs, typed)
    assert learned == {"out": pytest.approx(270.0), "back": pytest.approx(90.0)}
    wrong = typed_after(session, trace, runs[:2], direction="out")
    assert learned_bearings(match_runs(trace, runs, wrong), runs, wrong) == {}
