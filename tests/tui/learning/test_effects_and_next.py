"""The two screens that say what each part did and what to test next, over the demo season."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.session import Book
from tests.tui.compare.going import bottom, page_text, press, settle, words
from tests.tui.contrast import assert_readable
from tests.tui.driving import STANDARD, opened
from tests.tui.season import empty_log
from tui.app import BackToBackApp
from tui.screens.effects import EffectsScreen
from tui.screens.next import NextScreen
from tui.screens.routes import make_screen

pytestmark = pytest.mark.xdist_group("season")


async def test_from_the_list_to_effects_to_what_next_and_back(season: Path) -> None:
    """One key each; the numbers are those of the season, other tests and machines one key away."""
    async with opened(season, opener=lambda: Book.open(season, read_only=True)) as pilot:
        await settle(pilot)
        app = pilot.app
        assert isinstance(app, BackToBackApp)
        await press(pilot, "e")
        assert isinstance(app.screen, EffectsScreen)
        assert app.screen.found is not None
        assert app.screen.found.test == "0-50"
        page = page_text(pilot)
        assert "60T -> 66T 0.96 s quicker" in page
        assert "alone, one day" in page
        assert "Days of one build differ by about" in page
        assert_readable(app)
        assert "Air and the rider's weight are allowed for in all sessions" in page
        await press(pilot, "r")
        assert "Raw: nothing is allowed for air or rider." in page_text(pilot)
        await press(pilot, "r", "t")
        assert "Kettle Moth 40-65" in words(pilot)
        await press(pilot, "m")
        assert "Low Badger, 80m, 2 sessions: no part or setting was changed" in page_text(pilot)
        await press(pilot, "t")
        assert bottom(pilot) == "Low Badger ran one test only."
        await press(pilot, "m", "w")
        assert isinstance(app.screen, NextScreen)
        page = page_text(pilot)
        assert "A-B-A on one day, tells most for its time" in page
        assert "prediction in s, with its sign, written down before running" in page
        assert_readable(app)
        await press(pilot, "p")
        assert bottom(pilot).startswith("Plan 2 of ")
        await press(pilot, "a")
        assert bottom(pilot).startswith("About ")
        assert app.screen.found is not None
        assert len({one.swap.slot for one in app.screen.found.proposals}) == 1
        await press(pilot, "m", "t", "e")
        assert isinstance(app.screen, EffectsScreen)
        await press(pilot, "escape", "escape", "escape")
        assert len(app.screen_stack) == 1


@pytest.mark.parametrize("size", [STANDARD, (50, 16), (160, 50)])
async def test_they_fit_any_room_without_colour_marks_alone(
    season: Path, size: tuple[int, int]
) -> None:
    """Narrow, usual and wide: the sentence and the first row can be read without scrolling."""
    opener = lambda: Book.open(season, read_only=True)  # noqa: E731
    async with opened(season, size=size, opener=opener) as pilot:
        await settle(pilot)
        for route in ("effects", "next"):
            await pilot.app.push_screen(make_screen(route))
            await settle(pilot)
            assert "Kettle Moth, 0-50" in words(pilot)
            assert "sprocket" in words(pilot)


async def test_an_empty_log_gets_a_sentence(tmp_path: Path) -> None:
    folder = empty_log(tmp_path)
    async with opened(folder) as pilot:
        await settle(pilot)
        for route in ("effects", "next"):
            await pilot.app.push_screen(make_screen(route))
            await settle(pilot)
            assert "The log has no session yet." in page_text(pilot)
            await press(pilot, "t", "m")
        assert "There is nothing to look at yet." in words(pilot)
