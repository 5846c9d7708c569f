"""What can be done from the review screen: compare, open again, go on, print."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from core.session import Book
from tests.tui.compare.going import (
    app_of,
    bottom,
    press,
    reviewing,
    type_in,
    words,
)
from tests.tui.seeing import lines, text
from tui.screens.review import ReviewScreen

pytestmark = pytest.mark.xdist_group("season")

LABELS = ("S01", "S02", "S03", "S04", "S05", "S06", "S07", "Bench", "S08", "S09", "S10")


async def test_it_is_compared_with_what_it_is_held_against(season: Path) -> None:
    """The same two builds as the answer is about."""
    async with reviewing(season, "S08") as pilot:
        await press(pilot, "c")
        assert "S08 against S05:A" in lines(pilot.app)[0]
        await press(pilot, "escape")
        assert lines(pilot.app)[0].startswith(" S08  Kettle Moth")
    async with reviewing(season, "S09") as pilot:
        await press(pilot, "c")
        assert "S09:B against S09:A" in lines(pilot.app)[0]


async def test_a_closed_session_is_opened_again_with_a_note(own_season: Path) -> None:
    """Without a note it is not; afterwards its own screen is shown."""
    async with reviewing(own_season, "S03", read_only=False) as pilot:
        await press(pilot, "o", "enter")
        assert "Say why it is opened again." in text(pilot.app)
        await type_in(pilot, "forgot one")
        await press(pilot, "enter")
        session = app_of(pilot).book.session("S03")
        assert session.state == "open"
        assert session.notes[-1] == "opened again: forgot one"
        assert not isinstance(pilot.app.screen, ReviewScreen)
        assert lines(pilot.app)[0].startswith(" S03")


async def test_a_log_that_is_read_only_opens_nothing_again(season: Path) -> None:
    """The refusal is shown, and r says how it stands."""
    async with reviewing(season, "S03") as pilot:
        await press(pilot, "r")
        assert bottom(pilot) == "S03 is closed; o opens it again."
        await press(pilot, "o")
        assert "Nothing can be saved" in words(pilot)
        await press(pilot, "escape")
        assert lines(pilot.app)[0].startswith(" S03")


async def test_an_open_session_is_read_and_gone_on_with(own_season: Path) -> None:
    """From here to its own screen."""
    with Book.open(own_season) as book:
        book.save(msgspec.structs.replace(book.session("S03"), state="open", closed=None))
    async with reviewing(own_season, "S03", read_only=False) as pilot:
        assert lines(pilot.app)[0].endswith("open")
        await press(pilot, "o")
        assert bottom(pilot) == "S03 is open; r goes on with it."
        await press(pilot, "r")
        assert not isinstance(pilot.app.screen, ReviewScreen)
        assert lines(pilot.app)[0].startswith(" S03")


async def test_the_printable_sheet_is_written(
    season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """To the file that is named; one that is there is asked about; a folder is refused."""
    monkeypatch.chdir(tmp_path)
    async with reviewing(season, "S08") as pilot:
        await press(pilot, "p")
        await press(pilot, "enter")
        written = tmp_path / "S08-sheet.txt"
        sheet = written.read_text(encoding="utf-8")
        assert "S08: Kettle Moth, 0-50 at Vennimoor strip" in sheet
        assert "If in doubt, don't run." in sheet
        assert max(map(len, sheet.splitlines())) <= 80
        assert "Written to " in words(pilot)
        written.write_text("mine", encoding="utf-8")
        await press(pilot, "p", "enter")
        assert "S08-sheet.txt is there already." in text(pilot.app)
        await press(pilot, "n")
        assert written.read_text(encoding="utf-8") == "mine"
        await press(pilot, "p", "ctrl+u")
        await type_in(pilot, str(tmp_path))
        await press(pilot, "enter")
        assert "is a folder" in words(pilot)


async def test_a_sheet_that_cannot_be_written_is_said(
    season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the reason, and the review stays."""
    monkeypatch.chdir(tmp_path)
    async with reviewing(season, "S08") as pilot:
        await press(pilot, "p", "ctrl+u")
        await type_in(pilot, str(tmp_path / "no" / "x.txt"))
        await press(pilot, "enter")
        assert "was not written" in words(pilot)
        await press(pilot, "escape")
        assert lines(pilot.app)[0].startswith(" S08")
