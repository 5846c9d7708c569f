"""The log list: everything a person does on it, over real logs."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest
from textual.screen import Screen

from core.errors import LogFolderError
from core.session import Book
from tests.making import START
from tests.tui.driving import Driven, opened, press, settle, type_in
from tests.tui.season import empty_log, left_open_session, small_season
from tests.tui.seeing import lines, text
from tui.app import BackToBackApp


def labels(pilot: Driven) -> list[str]:
    """Return the labels in the list from top to bottom."""
    rows = [line[3:7].strip() for line in lines(pilot.app)]
    return [label for label in rows if len(label) == 3 and label.startswith("S")]


def here(pilot: Driven) -> str:
    """Return the label under the cursor."""
    return next(line[3:7].strip() for line in lines(pilot.app) if line.startswith("▸"))


@pytest.fixture
def went(monkeypatch: pytest.MonkeyPatch) -> list[tuple[object, ...]]:
    """Catch where the app goes instead of going there: other screens have tests of their own."""
    seen: list[tuple[object, ...]] = []

    def go(route: str, *arguments: object) -> Screen[Any]:
        seen.append((route, *arguments))
        return Screen()

    monkeypatch.setattr("tui.app.make_screen", go)
    return seen


async def test_all_sessions_are_there_newest_first(tmp_path: Path) -> None:
    """With title, count and keys."""
    async with opened(small_season(tmp_path)) as pilot:
        assert labels(pilot) == ["S06", "S05", "S04", "S03", "S02", "S01"]
        shown = lines(pilot.app)
        assert shown[0].startswith(" Back to Back   log")
        assert shown[0].endswith("6 sessions")
        assert "▲ stopped" in shown[5]
        assert here(pilot) == "S06"


async def test_typing_narrows_and_esc_shows_all_again(tmp_path: Path) -> None:
    """Slash goes to the filter; up and down keep moving in the list; esc clears and leaves."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "slash")
        await type_in(pilot, "moth 0")
        assert labels(pilot) == ["S04", "S03", "S01"]
        assert lines(pilot.app)[0].endswith("3 of 6 sessions")
        await press(pilot, "down")
        assert here(pilot) == "S03"
        await press(pilot, "escape")
        assert labels(pilot) == ["S06", "S05", "S04", "S03", "S02", "S01"]
        assert here(pilot) == "S03"


async def test_a_digit_starts_the_filter_by_itself(tmp_path: Path) -> None:
    """A glove on the number block finds a session."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "0", "3")
        assert labels(pilot) == ["S03"]


async def test_a_filter_that_fits_nothing_says_so_on_enter(tmp_path: Path) -> None:
    """And loses nothing."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "slash")
        await type_in(pilot, "zz[/]")
        assert labels(pilot) == []
        await press(pilot, "enter")
        assert "No session is shown." in text(pilot.app)
        await press(pilot, "enter", "escape")
        assert len(labels(pilot)) == 6


async def test_enter_opens_what_is_under_the_cursor(
    tmp_path: Path, went: list[tuple[object, ...]]
) -> None:
    """An open session to go on with, a closed or stopped one to read."""
    folder = small_season(tmp_path, more=[left_open_session()])
    ids = {h.label: h.id for h in Book.open(folder, read_only=True).sessions()}
    for label, route in (("S07", "session"), ("S05", "review"), ("S01", "review")):
        async with opened(folder) as pilot:
            await press(pilot, "slash")
            await type_in(pilot, label)
            await press(pilot, "enter")
        assert went.pop() == (route, ids[label])


async def test_two_marked_sessions_are_compared_older_first(
    tmp_path: Path, went: list[tuple[object, ...]]
) -> None:
    """Whichever was marked first; a third one is laid beside them."""
    folder = small_season(tmp_path)
    ids = {h.label: h.id for h in Book.open(folder, read_only=True).sessions()}
    async with opened(folder) as pilot:
        await press(pilot, "c")
        assert "Mark one session with space" in text(pilot.app)
        await press(pilot, "space")
        assert "Marked: S06; c compares it with the one under the cursor." in text(pilot.app)
        await press(pilot, "end", "space")
        assert "Marked: S01, S06; c compares them." in text(pilot.app)
        await press(pilot, "up", "space")
        assert "Marked: S01, S02, S06; c lays them side by side." in text(pilot.app)
        await press(pilot, "space", "c")
        assert went == [("compare", ids["S01"], ids["S06"])]


async def test_one_mark_and_the_cursor_are_enough(
    tmp_path: Path, went: list[tuple[object, ...]]
) -> None:
    """Esc takes marks off again."""
    folder = small_season(tmp_path)
    ids = {h.label: h.id for h in Book.open(folder, read_only=True).sessions()}
    async with opened(folder) as pilot:
        await press(pilot, "space", "down", "c")
        assert went == [("compare", ids["S05"], ids["S06"])]
    async with opened(folder) as pilot:
        await press(pilot, "space", "escape", "down", "c")
        assert len(went) == 1


async def test_an_empty_log_says_what_to_press(tmp_path: Path) -> None:
    """And offers nothing that has nothing to work on."""
    async with opened(empty_log(tmp_path)) as pilot:
        assert "Press n to start the first one" in text(pilot.app)
        assert lines(pilot.app)[-1].split() == ["n", "New", "?", "Help"]
        await press(pilot, "enter", "c", "space", "x")
        assert "No session is open from an earlier day." in text(pilot.app)


async def test_a_session_left_open_is_offered_and_closed_as_of_its_last_entry(
    tmp_path: Path,
) -> None:
    """The cursor is on it; x asks first, and the time of closing is that of the last entry."""
    folder = small_season(tmp_path, more=[left_open_session()])
    async with opened(folder) as pilot:
        assert "○ S07 is open since 2 May: enter resumes it, x closes it" in text(pilot.app)
        assert here(pilot) == "S07"
        await press(pilot, "x", "n")
        assert "S07 is open since" in text(pilot.app)
        await press(pilot, "x")
        assert "Close S07 as of its last entry, 2 May 10:16?" in text(pilot.app)
        await press(pilot, "y")
        assert "S07 is open since" not in text(pilot.app)
        assert "S07 is closed as of 2 May 10:16." in text(pilot.app)
    with Book.open(folder, read_only=True) as book:
        session = book.session("S07")
    assert session.state == "closed"
    assert session.closed == START + timedelta(days=20, hours=2, minutes=16)


async def test_a_second_process_reads_and_says_who_writes(tmp_path: Path) -> None:
    """What would write is refused with the reason."""
    folder = small_season(tmp_path)
    with Book.open(folder) as writer:
        assert not writer.log.read_only
        async with opened(folder, opener=lambda: Book.open(folder, read_only=True)) as pilot:
            assert "▲ Read only:" in text(pilot.app)
            assert len(labels(pilot)) == 6
            await press(pilot, "n")
            assert "Reading and comparing still work." in text(pilot.app)


async def test_broken_documents_are_counted_in_one_line_and_listed_by_a_key(
    tmp_path: Path,
) -> None:
    """The rest of the log is open."""
    folder = small_season(tmp_path)
    broken = sorted((folder / "sessions").glob("*s03*.json"))[0]
    broken.write_text('{"format": 1, "id": "20260412-000021-s03aa", "label": ')
    async with opened(folder) as pilot:
        assert labels(pilot) == ["S06", "S05", "S04", "S02", "S01"]
        assert "▲ 1 thing is not as it should be in the log folder: p shows it." in text(pilot.app)
        await press(pilot, "p")
        shown = " ".join(text(pilot.app).split())
        assert f"sessions/{broken.name} cannot be read: it ends in the middle" in shown
        await press(pilot, "enter")
        assert len(labels(pilot)) == 5


async def test_a_log_that_cannot_be_opened_is_explained_and_tried_again(tmp_path: Path) -> None:
    """With title, sentence, hint and the key for another try."""
    folder = small_season(tmp_path)
    tries: list[int] = []

    def opener() -> Book:
        tries.append(1)
        if len(tries) == 1:
            raise LogFolderError("The log folder is not there.", "Put the stick back in.")
        return Book.open(folder)

    async with opened(folder, opener=opener) as pilot:
        shown = text(pilot.app)
        for words in ("The log folder", "is not there.", "Put the stick back in.", "r tries again"):
            assert words in shown
        await press(pilot, "n")
        assert "The log is not open yet." in text(pilot.app)
        await press(pilot, "enter", "p")
        assert "The log is not open. r" in " ".join(text(pilot.app).split())
        await press(pilot, "enter", "r")
        await settle(pilot)
        assert len(labels(pilot)) == 6


async def test_what_another_screen_saved_is_shown_on_coming_back(tmp_path: Path) -> None:
    """Without reading the whole folder again."""
    async with opened(small_season(tmp_path)) as pilot:
        app = pilot.app
        assert isinstance(app, BackToBackApp)
        app.push_screen(Screen())
        await settle(pilot)
        session = app.book.session("S02")
        app.book.save(msgspec.structs.replace(session, state="open", closed=None))
        app.pop_screen()
        await settle(pilot)
        assert any("S02" in line and "○ open" in line for line in lines(app))


async def test_new_documents_of_another_program_come_in_by_a_key(tmp_path: Path) -> None:
    """Such as a file synchroniser that brings in a session."""
    folder = small_season(tmp_path)
    elsewhere = tmp_path / "other"
    elsewhere.mkdir()
    other = small_season(elsewhere, more=[left_open_session()])
    brought = next((other / "sessions").glob("*s07*.json"))
    async with opened(folder) as pilot:
        (folder / "sessions" / brought.name).write_bytes(brought.read_bytes())
        await press(pilot, "r")
        await settle(pilot)
        assert "S07" in labels(pilot)


async def test_the_card_stands_beside_the_list_where_there_is_room(tmp_path: Path) -> None:
    """Every attempt of the session under the cursor, struck ones with their reason."""
    folder = small_season(tmp_path)
    async with opened(folder, size=(140, 30)) as pilot:
        struck = next(line for line in lines(pilot.app) if "struck CHAIN" in line)
        assert struck.split()[-4:] == ["3", "13.10", "struck", "CHAIN"]
        await press(pilot, "down")
        assert "stopped: brake reaches its stop" in text(pilot.app)
    async with opened(folder) as pilot:
        assert "struck CHAIN" not in text(pilot.app)


async def test_any_size_and_back(tmp_path: Path) -> None:
    """Down to 40 x 10 and less; nothing is lost and the cursor stays."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "down", "down", "space")
        before = text(pilot.app)
        for size in ((40, 10), (20, 5), (5, 2), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert text(pilot.app) == before
        await pilot.resize_terminal(40, 10)
        await settle(pilot)
        assert here(pilot) == "S04"
        assert "S04" in labels(pilot)


async def test_the_look_changes_by_one_key_and_is_remembered(tmp_path: Path) -> None:
    """From the list and from within the filter."""
    async with opened(small_season(tmp_path)) as pilot:
        app = pilot.app
        assert isinstance(app, BackToBackApp)
        assert app.theme == "sun"
        await press(pilot, "slash", "ctrl+t")
        assert (app.theme, app.preferences.now.theme) == ("dusk", "dusk")


async def test_ctrl_c_ends_nothing_and_says_what_does(tmp_path: Path) -> None:
    """The reflex costs no entry."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "ctrl+c")
        assert "ctrl+q leaves. Everything that was entered is saved." in text(pilot.app)


@pytest.mark.parametrize("key", ["q", "ctrl+q"])
async def test_leaving_gives_the_log_back(tmp_path: Path, key: str) -> None:
    """The lock is free for the next process."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await pilot.press(key)
    with Book.open(folder) as book:
        assert not book.log.read_only
