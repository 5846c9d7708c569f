"""Runs of a recording and what was made of them; drag of coast-downs, kept for the road load."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.attempts import AirReading
from core.clock import ManualClock
from core.drive import road_load
from core.errors import UnknownInputError
from core.session import Book, Session, undo
from core.session.dragging import (
    density_of,
    drag_inputs,
    drag_of_machine,
    drag_of_runs,
    road_of,
    with_drag,
)
from core.session.looking import look_for
from core.session.run_judging import accept_run, adjusted_run, judged, put_beside, timing_of
from core.session.tracing import keep_trace, run_moment, with_shift
from core.trace import TraceDocument
from core.trace.reading import read_trace
from core.trace.traces import Trace
from tests.core.session.rides import TEST, coasts, recording, runs_of, typed_after
from tests.core.trace.synthetic import csv_text, recorded, season_day
from tests.making import START, new_book, ready_session


@pytest.fixture
def book(tmp_path: Path) -> tuple[Book, ManualClock]:
    return new_book(tmp_path)


def states(trace: Trace, session: Session, document: TraceDocument | None) -> list[str]:
    return [one.state for one in look_for(trace, TEST, session, document=document).standings]


def test_what_was_made_of_each_run_is_known_again(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    runs = runs_of(trace)
    session = typed_after(session, trace, runs[:1])
    document = keep_trace(log, path, trace, session)
    looked = look_for(trace, TEST, session, document=document)
    assert states(trace, session, document) == ["open"] * 6
    assert [looked.attempt_of(i) for i in range(3)] == [1, None, None]
    now = clock()
    session = put_beside(session, 1, runs[0], now, timing="logger-10hz")
    document = judged(document, runs[0], "accepted", now, attempt=1)
    session = accept_run(session, runs[1], now, when=run_moment(trace, runs[1], session))
    assert states(trace, session, document)[:2] == ["beside", "accepted"]
    document = judged(document, runs[1], "accepted", now, attempt=2)
    document = judged(document, runs[2], "refused", now, reason="slid")
    mended = adjusted_run(runs[3], "left late", value=7.5)
    session = accept_run(session, mended, now)
    document = judged(document, mended, "adjusted", now, attempt=3)
    wanted = ["beside", "accepted", "refused", "adjusted", "open", "open"]
    assert states(trace, session, document) == wanted
    assert look_for(trace, TEST, session, document=document).standings[3].run == mended
    assert states(trace, undo(session, now), document)[3] == "open"


def test_names_of_ways_are_learned_from_accepted_runs(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    """A place whose names are no points of the compass."""
    session = msgspec.structs.replace(ready_session(*book), directions=("out", "back"))
    _, trace = recording(tmp_path)
    looked = look_for(trace, TEST, session)
    assert {run.direction for run in looked.found.runs} == {""}
    first = looked.found.runs[0]
    session = accept_run(session, first, book[1](), when=run_moment(trace, first, session))
    looked = look_for(trace, TEST, session)
    assert [run.direction for run in looked.found.runs] == ["out", "back"] * 3


def test_a_kept_shift_is_used_again(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    session = ready_session(*book)
    path, trace = recording(tmp_path)
    document = with_shift(keep_trace(book[0], path, trace, session), 90.0, "set by hand")
    looked = look_for(trace, TEST, session, document=document)
    assert looked.matching is not None
    assert (looked.shift, looked.matching.reason) == (90.0, "set by hand")
    assert look_for(trace, TEST, session, shift=5.0, document=document).shift == 5.0
    assert look_for(trace, TEST).shift == 0.0


@pytest.mark.parametrize(
    ("rate", "timing", "gear"),
    [(10, "logger-10hz", "logger-10hz"), (10, "hand", "logger-10hz"), (1, "hand", "logger-1hz"),
     (25, "logger-10hz", "trace"), (5, "hand", "trace")],
)  # fmt: skip
def test_timing_gear_of_a_recording(
    tmp_path: Path, book: tuple[Book, ManualClock], rate: int, timing: str, gear: str
) -> None:
    session = msgspec.structs.replace(ready_session(*book), timing=timing)
    _, trace = recording(tmp_path)
    assert timing_of(replace(trace, rate=float(rate)), session) == gear


def test_a_table_is_a_satellite_logger_only_where_it_tells_places(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    rng = np.random.default_rng(5)
    times, speed, _ = recorded(season_day(1, rng)[0], 10, 0.05, rng)
    path = tmp_path / "a.csv"
    path.write_text(csv_text(times, speed))
    trace = read_trace(path)
    assert timing_of(trace, session) == "logger-10hz"
    assert timing_of(trace, msgspec.structs.replace(session, timing="hand")) == "trace"


# -- drag ----------------------------------------------------------------------------------------


def test_drag_is_kept_and_feeds_the_road_load(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(*book)
    path, trace, runs = coasts(tmp_path)
    assert len(runs) == 2
    drag = drag_of_runs(trace, runs, 150.0, clock(), 1.2)
    assert drag.f0.low <= 35 <= drag.f0.high
    assert drag.f2.low <= 0.42 <= drag.f2.high
    assert drag_of_machine(log, session.machine) is None
    document = keep_trace(log, path, trace, session)
    log.save(with_drag(document, drag))
    assert drag_of_machine(log, session.machine) == drag
    assert drag_of_machine(log, "another") is None
    force = road_load(road_of(drag), 12.0)
    assert force == pytest.approx(35 + 0.42 * 144, rel=0.05)
    assert road_load(road_of(drag, air_density=1.0), 12.0) < force
    typed = drag_inputs(drag)
    assert set(typed) == {"rolling", "f0", "f2", "drag-area"}
    assert typed["rolling"].startswith("0.02")


def test_drag_without_air_gives_no_drag_area(tmp_path: Path) -> None:
    _, trace, runs = coasts(tmp_path)
    drag = drag_of_runs(trace, runs, 150.0, START, None)
    assert drag.drag_area is None
    assert "drag-area" not in drag_inputs(drag)
    with pytest.raises(UnknownInputError, match="air of the coast-downs was not read"):
        road_of(drag)


def test_density_is_that_of_the_reading_nearest_in_time(book: tuple[Book, ManualClock]) -> None:
    session = ready_session(*book)
    assert density_of(session) is None
    cold, warm = (
        AirReading(observed=book[1]() + timedelta(hours=h), temperature=c, pressure=1013.25)
        for h, c in ((0, 0.0), (5, 30.0))
    )
    session = msgspec.structs.replace(session, air=(cold, warm))
    assert density_of(session, cold.observed) == pytest.approx(1.29, abs=0.01)
    assert density_of(session) == pytest.approx(1.156, abs=0.01)
    no_pressure = msgspec.structs.replace(cold, pressure=None)
    assert density_of(msgspec.structs.replace(session, air=(no_pressure,))) is None
