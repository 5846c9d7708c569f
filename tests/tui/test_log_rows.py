"""What the log list says of a session, and what its filter finds."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import msgspec
import pytest

from core.clock import ManualClock
from core.session import Book
from tests.making import bare_session
from tests.tui.season import small_season
from tui.log_rows import LogState, left_open, matching, read_state
from tui.notices import notices
from tui.widgets.records import text_of


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A season of six sessions."""
    return Book.open(small_season(tmp_path), read_only=True)


def shown(state: LogState, label: str) -> list[str]:
    """Return the texts of one row."""
    row = next(row for row in state.rows if row.head.label == label)
    return [text_of(cell) for cell in row.cells]


def found(state: LogState, text: str) -> list[str]:
    """Return the labels that a filter leaves."""
    return [state.rows[i].head.label for i in matching(state.rows, text)]


def test_sessions_stand_newest_first_with_names_for_ids(book: Book) -> None:
    """Label, date, machine, test, place, attempts, raw mean, state, question."""
    state = read_state(book)
    assert [row.head.label for row in state.rows] == ["S06", "S05", "S04", "S03", "S02", "S01"]
    assert shown(state, "S03") == [
        "S03", "3 May 26", "Kettle Moth", "0-50", "Vennimoor strip", "4", "7.20 s", "● closed",
        "Clutch and 66T",
    ]  # fmt: skip


def test_struck_attempts_are_left_out_of_count_and_mean(book: Book) -> None:
    """9.75, 9.53 and 9.34 count: 9.54; the struck 13.10 does not."""
    assert shown(read_state(book), "S06")[5:7] == ["3", "9.54 s"]


def test_several_sheets_give_several_means_and_never_one(book: Book) -> None:
    """A mean over two builds would be that of neither."""
    state = read_state(book)
    row = next(row for row in state.rows if row.head.label == "S04")
    assert text_of(row.cells[6]) == "7.35 · 8.20 · 7.28 s"
    assert text_of(row.cells[6], short=True) == "3 sheets"


def test_a_session_stopped_by_a_check_is_shown_as_what_it_is(book: Book) -> None:
    """No attempts, no mean, the word stopped; its reason is found by the filter."""
    state = read_state(book)
    assert shown(state, "S05")[5:8] == ["–", "–", "▲ stopped"]
    assert found(state, "brake") == ["S05"]


@pytest.mark.parametrize(
    ("text", "labels"),
    [
        ("", ["S06", "S05", "S04", "S03", "S02", "S01"]),
        ("s03", ["S03"]),
        ("MOTH", ["S04", "S03", "S01"]),
        ("badger 80m", ["S06", "S05", "S02"]),
        ("strip may", ["S03"]),
        ("2026-05", ["S03"]),
        ("3 may 26", ["S03"]),
        ("chain", ["S06"]),
        ("struck", ["S06"]),
        ("stopped", ["S05"]),
        ("66t", ["S03"]),
        ("hand", ["S06", "S05", "S02"]),
        ("moth badger", []),
        ("[/]", []),
    ],
)
def test_the_filter_finds_every_word_anywhere(book: Book, text: str, labels: list[str]) -> None:
    """In label, machine, place, test, timing, question, date, state, tags and strikes."""
    assert found(read_state(book), text) == labels


def test_rows_of_unchanged_sessions_are_taken_over(book: Book) -> None:
    """So that coming back from a session costs the same in any log."""
    first = read_state(book)
    again = read_state(book, first)
    assert all(a is b for a, b in zip(first.rows, again.rows, strict=True))


def test_a_changed_session_gets_a_new_row(tmp_path: Path) -> None:
    """And only that one."""
    with Book.open(small_season(tmp_path)) as book:
        first = read_state(book)
        changed = msgspec.structs.replace(book.session("S02"), question="Why so slow?")
        book.save(changed)
        again = read_state(book, first)
    new = [b.head.label for a, b in zip(first.rows, again.rows, strict=True) if a is not b]
    assert new == ["S02"]
    assert found(again, "why so slow") == ["S02"]


def test_what_the_log_does_not_hold_is_shown_by_its_id(tmp_path: Path) -> None:
    """A machine from another log, a test of another version: rather so than by nothing."""
    stray = bare_session("S09", ["W8.00"], day=200, machine="gone", test="no such test")
    with Book.open(small_season(tmp_path, more=[stray])) as book:
        assert shown(read_state(book), "S09")[2:4] == ["gone", "no such test"]


def test_left_open_means_open_since_an_earlier_day(tmp_path: Path) -> None:
    """Of the local day: a session of this morning is simply open."""
    with Book.open(small_season(tmp_path)) as book:
        book.save(msgspec.structs.replace(book.session("S03"), state="open", closed=None))
        rows = read_state(book).rows
    same_day = datetime.fromisoformat("2026-05-03T23:00:00+02:00")
    next_day = datetime.fromisoformat("2026-05-04T00:30:00+02:00")
    assert left_open(rows, same_day) == ()
    assert [row.head.label for row in left_open(rows, next_day)] == ["S03"]


@pytest.mark.parametrize(
    ("shows", "says"),
    [
        ("1970-01-01T00:10:00+00:00", "The clock says 1 Jan 1970: is that right?"),
        (
            "2025-12-31T10:00:00+01:00",
            "The clock says 31 Dec 2025, and the newest session is of 12 Jul 2026:"
            " is the clock right?",
        ),
        (
            "2027-09-12T10:00:00+02:00",
            "The clock says 12 Sep 2027, and the newest session is of 12 Jul 2026:"
            " is the clock right?",
        ),
        ("2026-07-12T07:00:00-10:00", ""),  # the same day on the other side of the world
        ("2027-04-01T10:00:00+02:00", ""),  # the next season
    ],
)
def test_a_clock_that_can_hardly_be_right_is_asked_about(
    tmp_path: Path, shows: str, says: str
) -> None:
    """Before a session is started under it; nothing is put right by itself."""
    clock = ManualClock(datetime.fromisoformat(shows))
    with Book.open(small_season(tmp_path), read_only=True, clock=clock) as book:
        state = read_state(book)
    assert state.clock_doubt == says
    assert [line for line in notices(state, (), ()) if "clock" in line] == (
        [f"▲ {says}"] if says else []
    )


def test_a_session_that_was_put_aside_is_told_every_time_until_it_is_back(tmp_path: Path) -> None:
    """Not only by the run that put it there."""
    folder = small_season(tmp_path)
    file = sorted((folder / "sessions").glob("*s03*.json"))[0]
    whole = file.read_bytes()
    file.write_bytes(whole[:40])
    for _ in range(3):
        with Book.open(folder) as book:
            (problem,) = read_state(book).problems
            assert f"aside/sessions/{file.name}" in problem.sentence
    file.write_bytes(whole)
    with Book.open(folder) as book:
        state = read_state(book)
    assert (state.problems, len(state.rows)) == ((), 6)
