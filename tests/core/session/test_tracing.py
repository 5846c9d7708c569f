"""A session and its recordings: kept, accepted, put beside, refused, matched by clock."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.attempts import find_test
from core.clock import ManualClock
from core.errors import BlockedError, InputError, LogReadOnlyError, OutOfRangeError
from core.session import Book, enter, last_undoable, undo
from core.session.run_judging import accept_run, adjusted_run, judged, put_beside
from core.session.tracing import (
    keep_trace,
    read_kept,
    remembered_columns,
    run_moment,
    wanted_of,
    with_shift,
)
from core.trace import StartRule, TraceDocument
from core.trace.formats import read_columns
from core.trace.reading import layout_of, read_trace
from core.trace.runs import find_runs
from tests.core.session.rides import TRACE_START, recording, runs_of
from tests.core.trace.synthetic import csv_text
from tests.making import new_book, ready_session


@pytest.fixture
def book(tmp_path: Path) -> tuple[Book, ManualClock]:
    return new_book(tmp_path)


# -- what to look for ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "shape"),
    [("0-50", "standing"), ("40-65", "rolling"), ("80m", "distance"), ("top", "top"),
     ("coast-40-15", "coast"), ("0-30mph", "standing")],
)  # fmt: skip
def test_every_test_with_speeds_can_be_looked_for(name: str, shape: str) -> None:
    wanted = wanted_of(find_test(name), StartRule("rest"))
    assert (wanted.test, wanted.shape, wanted.start) == (name, shape, StartRule("rest"))
    if name == "0-30mph":
        assert wanted.to_speed == pytest.approx(30 * 0.44704)


@pytest.mark.parametrize("name", ["hill", "plug"])
def test_tests_without_speeds_cannot(name: str) -> None:
    with pytest.raises(InputError, match="cannot be found in a recording"):
        wanted_of(find_test(name))


# -- keeping -------------------------------------------------------------------------------------


def test_recording_is_kept_with_its_document(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    session = ready_session(log, clock)
    path, trace = recording(tmp_path)
    document = keep_trace(log, path, trace, session)
    assert (document.name, document.form, document.size) == ("ride.nmea", "nmea", trace.size)
    assert (document.session, document.rows) == (session.id, trace.rows)
    assert document.began == TRACE_START
    assert keep_trace(log, path, trace, session) == document
    assert [head.sha256 for head in log.traces()] == [trace.sha256]
    path.unlink()
    again = read_kept(log, document)
    assert again.speed.tolist() == trace.speed.tolist()
    log.close()
    with Book.open(log.log.folder, read_only=True) as later:
        assert later.log.get(TraceDocument, document.id) == document
        assert later.log.problems == ()


def test_read_only_log_keeps_nothing(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    path, trace = recording(tmp_path)
    folder = book[0].log.folder
    book[0].close()
    with (
        Book.open(folder, read_only=True) as reader,
        pytest.raises(LogReadOnlyError, match=r"ride\.nmea was not kept"),
    ):
        keep_trace(reader, path, trace)
    assert list((folder / "traces").iterdir()) == []


def test_file_that_was_altered_beside_the_log_is_noticed(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    path, trace = recording(tmp_path)
    document = keep_trace(book[0], path, trace)
    kept = book[0].log.folder / "traces" / f"{trace.sha256}.nmea"
    kept.write_text(path.read_text().replace(",A,", ",A,", 1) + "\r\n")
    with pytest.raises(InputError, match="is not what it was"):
        read_kept(book[0], document)


def test_columns_are_confirmed_once_and_remembered_by_the_header(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    log, clock = book
    times = np.arange(0, 10, 0.1)
    path = tmp_path / "a.csv"
    path.write_text(csv_text(times, times, header="stamp,v1"))
    layout = layout_of(path)
    assert remembered_columns(log, layout.key) is None
    columns = read_columns("time=stamp,speed=v1:km/h", layout)
    keep_trace(log, path, read_trace(path, columns=columns))
    other = tmp_path / "b.csv"
    other.write_text(csv_text(times + 5, times * 0.5, header="Stamp,V1"))
    found = remembered_columns(log, layout_of(other).key)
    assert found == columns
    clock.advance(minutes=1)
    changed = msgspec.structs.replace(columns, speed_unit="mph")
    path.write_text(path.read_text() + "11.0,3.0\n")
    keep_trace(log, path, read_trace(path, columns=changed))
    assert remembered_columns(log, layout.key) == changed


# -- accepting, putting beside, refusing ---------------------------------------------------------


def test_accepted_run_is_an_attempt_and_one_undo_takes_it_back(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    run = runs_of(trace)[0]
    when = run_moment(trace, run, session)
    after = accept_run(session, run, book[1](), when=when)
    (attempt,) = after.attempts
    assert attempt.value == pytest.approx(run.value, abs=5e-3)
    assert (attempt.direction, attempt.timing, attempt.entered) == ("W", "trace", "trace")
    assert attempt.at == when
    assert "from first motion (1.5 km/h), give or take 0.0" in attempt.note
    assert len(after.trail) == len(session.trail) + 1
    back = undo(after, book[1]())
    assert back.attempts == ()
    assert last_undoable(after) == len(after.trail) - 1
    book[0].save(after)


def test_run_goes_on_the_sheet_that_was_on_when_it_ran(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    between = trace.moment(runs[2].end)
    assert between is not None
    first = session.sheets[0]
    second = msgspec.structs.replace(first, started=between + timedelta(seconds=5))
    session = msgspec.structs.replace(session, sheets=(first, second))
    for run in runs:
        session = accept_run(session, run, book[1](), when=run_moment(trace, run, session))
    assert [a.sheet for a in session.attempts] == [0, 0, 0, 1, 1, 1]
    assert [a.direction for a in session.attempts] == ["W", "E"] * 3


def test_stop_check_and_range_hold_for_runs_as_well(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    run = runs_of(trace)[0]
    with pytest.raises(BlockedError):
        accept_run(msgspec.structs.replace(session, state="closed"), run, book[1]())
    with pytest.raises(OutOfRangeError, match=r"out of range for 0-50"):
        accept_run(session, msgspec.structs.replace(run, value=500.0), book[1]())


def test_run_of_another_test_keeps_its_test(tmp_path: Path, book: tuple[Book, ManualClock]) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    run = find_runs(trace, wanted_of(find_test("25-50"))).runs[0]
    (attempt,) = accept_run(session, run, book[1]()).attempts
    assert attempt.test == "25-50"


def test_run_beside_a_typed_attempt_is_a_second_timer(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    session = ready_session(*book)
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    session = enter(session, book[1](), value=6.9, text="690")
    after = put_beside(session, 1, runs[0], book[1]())
    (attempt,) = after.attempts
    assert (attempt.value, attempt.text, attempt.second_timing) == (6.9, "690", "trace")
    assert attempt.second == pytest.approx(runs[0].value, abs=5e-3)
    with pytest.raises(InputError, match="second timer already"):
        put_beside(after, 1, runs[1], book[1]())
    other = msgspec.structs.replace(runs[0], test="25-50")
    with pytest.raises(InputError, match="is a 0-50, and the run is a 25-50"):
        put_beside(session, 1, other, book[1]())


def test_adjusted_run_says_what_was_found_and_why(tmp_path: Path) -> None:
    run = runs_of(recording(tmp_path)[1])[0]
    new = adjusted_run(run, "rolled back before the start", value=6.5, direction="E")
    assert (new.value, new.direction) == (6.5, "E")
    assert new.notes[-1] == (
        f"Adjusted by hand: rolled back before the start (found {run.value:.2f} s)."
    )
    with pytest.raises(InputError, match="needs a reason"):
        adjusted_run(run, " ", value=6.5)
    with pytest.raises(OutOfRangeError):
        adjusted_run(run, "slip", value=0.0)


def test_what_was_said_of_a_run_is_kept_with_the_recording(
    tmp_path: Path, book: tuple[Book, ManualClock]
) -> None:
    path, trace = recording(tmp_path)
    document = keep_trace(book[0], path, trace)
    one, two = runs_of(trace)[:2]
    document = judged(document, one, "refused", book[1](), reason="slid")
    document = judged(document, two, "accepted", book[1](), attempt=3)
    document = judged(document, one, "accepted", book[1](), attempt=4)
    book[0].save(document)
    assert [(j.verdict, j.attempt, j.run) for j in document.runs] == [
        ("accepted", 3, two),
        ("accepted", 4, one),
    ]
    with pytest.raises(InputError, match="needs its reason"):
        with_shift(document, 3600.0, "")
    shifted = with_shift(document, 3600.0, "logger was left on winter time")
    book[0].save(shifted)
    assert book[0].log.get(TraceDocument, document.id) == shifted
