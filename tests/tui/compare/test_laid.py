"""Several sessions side by side, and what the comparison shows of air and days."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from core.session import Book
from tests.tui.compare.going import app_of, page_text, press, session_id, settle
from tests.tui.driving import opened
from tui.screens.compare import CompareScreen
from tui.screens.compare.laid import LaidScreen
from tui.screens.routes import make_screen

pytestmark = pytest.mark.xdist_group("season")


async def test_three_days_of_one_build_and_a_way_into_one_of_them(season: Path) -> None:
    """Dots and net bars on one axis, the table, what changed; c opens one comparison, with the
    difference as clocked, what is allowed for and net, and its build day by day.
    """
    ids = [session_id(season, label) for label in ("S03", "S04", "S08")]
    async with opened(season, opener=lambda: Book.open(season, read_only=True)) as pilot:
        app_of(pilot).push_screen(make_screen("laid", *ids))
        await settle(pilot)
        assert isinstance(app_of(pilot).screen, LaidScreen)
        shown = page_text(pilot)
        for words in ("All against S03", "S04 net", "S08 net", "0.53 s slower", "rockers: Stock"):
            assert words in shown
        await press(pilot, "c", "1")
        await settle(pilot)
        assert isinstance(app_of(pilot).screen, CompareScreen)
        shown = page_text(pilot)
        for words in ("as clocked", "allowed for", "net", "The build of S04, day by day"):
            assert words in shown
        assert re.search(r"allowed for .* 0\.4\d s slower", shown)


async def test_what_cannot_be_laid_side_by_side_is_a_sentence(season: Path) -> None:
    """Different tests."""
    ids = [session_id(season, label) for label in ("S03", "S04", "S09")]
    async with opened(season, opener=lambda: Book.open(season, read_only=True)) as pilot:
        app_of(pilot).push_screen(make_screen("laid", *ids))
        await settle(pilot)
        assert "different tests cannot be compared" in page_text(pilot)
        await press(pilot, "escape")
        assert not isinstance(app_of(pilot).screen, LaidScreen)
