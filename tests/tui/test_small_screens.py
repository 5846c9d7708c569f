"""At 40 x 10 every screen and dialog still shows what it asks, the answers and the keys."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.driving import opened, press
from tests.tui.season import empty_log, small_season
from tests.tui.seeing import lines, text
from tui.preferences import PreferencesFile

SMALL = (40, 10)

PLACES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "log list": ((), ("S06", "enter Open", "? Help")),
    "filter": (("slash", "m", "o"), ("/ mo", "S04", "enter Open", "esc Show all", "f1 Help")),
    "new session": (("n",), ("New session S07", "1  Machine", "enter Start", "esc Back")),
    "new session, last line": (("n", "end"), ("▸  7  Prediction", "enter Start")),
    "pick": (("n", "1"), ("Which machine?", "Low Badger", "enter Take it", "esc Back")),
    "choice": (("n", "2", "z", "enter"), ("called?", "1  W / E", "enter Take it")),
    "choice, last line": (("n", "2", "z", "enter", "end"), ("▸  8  run one way", "esc Back")),
    "typing, refused": (("n", "6", "x", "enter"), ("gain worth having", "is not a number", "esc")),
    "message": (("x",), ("Not open now", "No session is open from", "enter Close")),
    "help": (("question_mark",), ("Open: Open the", "esc Back")),
    "units": (("ctrl+u",), ("1  Speeds", "○ mph", "enter Go on")),
}
"""By name: the keys that lead there, and what must be on the screen."""


@pytest.mark.parametrize("place", PLACES)
async def test_what_matters_is_on_the_smallest_screen(tmp_path: Path, place: str) -> None:
    """And a resize to 80 x 24 and back changes nothing."""
    keys, wanted = PLACES[place]
    async with opened(small_season(tmp_path), size=SMALL) as pilot:
        await press(pilot, *keys)
        shown = text(pilot.app)
        assert [words for words in wanted if words not in shown] == []
        await pilot.resize_terminal(80, 24)
        await press(pilot)
        assert [words for words in wanted if words not in text(pilot.app)] == []
        await pilot.resize_terminal(*SMALL)
        await press(pilot)
        assert text(pilot.app) == shown


async def test_the_caution_can_be_read_to_its_end(tmp_path: Path) -> None:
    """By the arrow keys; its key stays in view."""
    async with opened(empty_log(tmp_path), size=SMALL, wishes=PreferencesFile()) as pilot:
        await press(pilot, "enter")
        assert "enter I have read this" in lines(pilot.app)[-1]
        assert "If in doubt" not in " ".join(text(pilot.app).split())
        await press(pilot, "end")
        assert "don't run." in text(pilot.app)
        assert "enter I have read this" in lines(pilot.app)[-1]


async def test_a_long_message_is_scrolled_by_the_arrow_keys(tmp_path: Path) -> None:
    """Such as a list of everything that was found wrong in the folder."""
    folder = small_season(tmp_path)
    for number in range(9):
        (folder / "sessions" / f"20260101-00000{number}-aaaaaaaa.json").write_text("{")
    async with opened(folder) as pilot:
        await press(pilot, "p")
        assert "1. sessions/20260101-000000-aaaaaaaa.json" in text(pilot.app)
        assert "9. sessions/" not in text(pilot.app)
        await press(pilot, "end")
        assert "9. sessions/" in text(pilot.app)
        await press(pilot, "space")
        assert "6 sessions" in text(pilot.app)
