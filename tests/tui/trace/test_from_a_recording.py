"""A whole session entered from the season's recording in the real app, by keyboard alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.attempts import find_test
from core.clock import ManualClock
from core.session import Book, Session, open_again
from core.session.tracing import wanted_of
from core.trace.keeping import is_kept_whole
from core.trace.reading import read_trace
from core.trace.runs import bearings_of, find_runs
from tests.tui.contrast import assert_readable
from tests.tui.session.strip import new_session
from tests.tui.trace.desk import (
    BEFORE,
    EVENING,
    demo_recording,
    documents,
    on_the_strip,
    open_file,
    shown,
    until,
    with_recording,
)
from tui.screens.session import SessionScreen


async def test_a_session_from_its_recording(season: Path, tmp_path: Path) -> None:
    """Eight runs: six accepted, one adjusted, one refused; then its verdict and close-out."""
    file = demo_recording(season, tmp_path)
    async with with_recording(season, file) as strip:
        await shown(strip)
        assert "8 runs of 0-50." in strip.said
        assert "10 rows a second" in strip.text
        assert "from first motion (1.5 km/h)" in strip.text
        assert documents(season, strip.session_id) == []
        assert_readable(strip.app)

        await strip.press("a")
        assert [a.n for a in strip.saved.attempts] == [1]  # on disk before anything else
        await strip.press("a")
        await shown(strip)
        await strip.press("x")
        await strip.type_in("slid at the start")
        await strip.press("enter")
        await strip.press("p", "v")
        await strip.type_in("7.52")
        await strip.press("enter")
        await strip.type_in("rolled back first")
        await strip.press("enter")
        await strip.press("a", "a", "a", "a")
        await shown(strip)
        assert "is 3, adjusted" in strip.text
        assert "refused" in strip.text
        await strip.press("a")
        assert "already" in strip.flat
        await strip.press("enter", "escape")
        assert isinstance(strip.app.screen, SessionScreen)
        assert "7 runs taken over." in strip.said

        await strip.press("tab")
        await until(strip, "S11 against")
        await strip.press("1", "f", "y")
        assert "● closed" in strip.text, strip.text
        saved, session_id = strip.saved, strip.session_id

    _check_session(saved, file)
    _check_document(season, session_id)


def _check_session(saved: Session, file: Path) -> None:
    """The attempts are the runs of the file, on their own times."""
    trace = read_trace(file)
    bearings = bearings_of(saved.directions)
    runs = find_runs(trace, wanted_of(find_test(saved.test)), bearings).runs
    kept = [run for place, run in enumerate(runs) if place != 2]
    assert saved.state == "closed"
    assert [a.direction for a in saved.attempts] == [run.direction for run in kept]
    assert [a.at for a in saved.attempts] == [trace.moment(run.end) for run in kept]
    values = [7.52 if place == 2 else round(run.value, 2) for place, run in enumerate(kept)]
    assert [a.value for a in saved.attempts] == values
    assert {a.timing or saved.timing for a in saved.attempts} == {"logger-10hz"}
    assert {a.entered for a in saved.attempts} == {"trace"}
    assert "rolled back first" in saved.attempts[2].note
    assert all("from first motion" in a.note for a in saved.attempts)
    assert [line.action for line in saved.trail].count("enter") == 7


def _check_document(season: Path, session_id: str) -> None:
    (document,) = documents(season, session_id)
    assert [(j.verdict, j.attempt) for j in document.runs] == [
        ("accepted", 1),
        ("accepted", 2),
        ("refused", None),
        ("adjusted", 3),
        *(("accepted", n) for n in (4, 5, 6, 7)),
    ]
    assert document.runs[2].reason == "slid at the start"
    assert is_kept_whole(season, document)


async def test_it_is_known_again_and_undo_opens_a_run(season: Path, tmp_path: Path) -> None:
    """After leaving the screen the recording is offered by name, with what was said of its runs."""
    file = demo_recording(season, tmp_path)
    async with with_recording(season, file) as strip:
        await shown(strip)
        await strip.press("a", "a")
        await shown(strip)
        await strip.press("escape", "r")
        assert "moth-0906.nmea: 4.4 min, 2 runs looked at" in strip.text
        file.unlink()
        await strip.press("1")
        await shown(strip)
        assert "is 2" in strip.text
        await strip.press("u", "u")
        await shown(strip)
        assert len(strip.saved.attempts) == 1
        assert "is 2" not in strip.text


async def test_runs_go_beside_what_was_typed(season: Path) -> None:
    """The season's own session of that day has its attempts and its recording already."""
    with Book.open(season) as book:
        session = open_again(book.session("S10"), "the recording came late", EVENING)
        book.save(session)
    async with on_the_strip(season, session.id) as strip:
        await strip.press("r", "1")
        await shown(strip)
        assert "clock agrees with 8 typed attempts" in strip.text
        assert "beside 1?" in strip.text
        await strip.press("a")
        await shown(strip)
        first = strip.saved.attempts[0]
        assert first.second == pytest.approx(first.value, abs=0.1)
        assert (first.second_timing, len(strip.saved.attempts)) == ("logger-10hz", 8)
        assert "beside 1?" not in strip.text
        assert "beside 1" in strip.text
        await strip.press("p", "n")
        await shown(strip)
        assert [a.entered for a in strip.saved.attempts if a.n == 9] == ["trace"]
        assert "is 9" in strip.text


async def test_an_open_stop_check_holds_runs_back_as_well(season: Path, tmp_path: Path) -> None:
    """A run put beside a typed attempt is no new one; everything else waits for the check."""
    file = demo_recording(season, tmp_path)
    session_id = new_session(season, ready=False, clock=ManualClock(BEFORE))
    async with on_the_strip(season, session_id) as strip:
        await open_file(strip, file)
        await shown(strip)
        await strip.press("a")
        assert "c there to it" in strip.flat
        assert strip.saved.attempts == ()
        assert documents(season, session_id) == []
