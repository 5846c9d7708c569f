"""The comparison screen in any size, look and terminal, and what loading it costs."""

from __future__ import annotations

import asyncio
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from core.report.comparison_view import Asked, ComparisonView, view_of
from core.session import Book
from tests.tui.compare.going import (
    app_of,
    comparing,
    page_text,
    press,
    session_id,
    settle,
    words,
)
from tests.tui.contrast import assert_readable
from tests.tui.driving import Driven, opened
from tests.tui.seeing import lines, text
from tests.tui.test_text_on_screen import assert_sound
from tui.screens.compare import CompareScreen
from tui.themes import THEMES
from tui.widgets.big_text import big_lines

pytestmark = pytest.mark.xdist_group("season")


async def _until(pilot: Driven, wanted: str) -> None:
    """Wait until words stand on the screen, whatever is still being worked out."""
    for _ in range(200):
        await pilot.pause(0.02)
        if wanted in text(pilot.app):
            return
    raise AssertionError(f"“{wanted}” does not come")


async def test_a_quiet_line_stands_there_until_the_answer_comes(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The frame is painted while the sums are held up, and keys say how it stands."""
    released = threading.Event()

    def held_up(book: Book, asked: Asked) -> ComparisonView:
        assert released.wait(timeout=30)
        return view_of(book, asked)

    monkeypatch.setattr("tui.screens.compare.screen.view_of", held_up)
    async with opened(season) as pilot:
        ids = (session_id(season, "S01"), session_id(season, "S03"))
        pilot.app.push_screen(CompareScreen(*ids))
        await _until(pilot, "Comparing …")
        assert lines(pilot.app)[0].strip() == "Comparison"
        await pilot.press("o")
        await _until(pilot, "There is nothing to look at yet.")
        await pilot.press("escape")
        released.set()
        await settle(pilot)
        assert "S03 is 1.19 s quicker" in words(pilot)


async def test_a_large_screen_puts_what_changed_beside_it(season: Path) -> None:
    """On one line with the answer's first lines; everything is in view."""
    async with comparing(season, "S01", "S03", size=(120, 40)) as pilot:
        shown = lines(pilot.app)
        row = next(line for line in shown if "clutch engagement: 2,100 rpm" in line)
        assert shown.index(row) < 6
        assert row.index("clutch") > 60
        assert "as said in S03" in "\n".join(shown)


@pytest.mark.parametrize("size", [(40, 10), (20, 5), (1, 1), (200, 60)])
async def test_any_size_is_survived_and_left_again(season: Path, size: tuple[int, int]) -> None:
    """Down and back."""
    async with comparing(season, "S05", "S08") as pilot:
        before = text(pilot.app)
        await pilot.resize_terminal(*size)
        await settle(pilot)
        assert_sound(pilot.app)
        await press(pilot, "down", "end", "o", "o", "home")
        await pilot.resize_terminal(80, 24)
        await asyncio.sleep(0.1)  # the terminal's own pause after a resize
        await settle(pilot)
        await press(pilot, "home")
        assert text(pilot.app).splitlines()[:20] == before.splitlines()[:20]


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_every_letter_stands_out(season: Path, theme: str, size: tuple[int, int]) -> None:
    """In both looks, with an answer and with a refusal, looked at otherwise as well."""
    async with comparing(season, "S05", "S08", size=size, theme=theme) as pilot:
        assert_readable(pilot.app)
        await press(pilot, "o", "f", "end")
        assert_readable(pilot.app)
    async with comparing(season, "S01", "S09", size=size, theme=theme) as pilot:
        assert_readable(pilot.app)


async def test_without_colour_it_says_the_same(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Signs and words do not change."""
    async with comparing(season, "S05", "S08") as pilot:
        coloured = text(pilot.app)
    monkeypatch.setenv("NO_COLOR", "1")
    async with comparing(season, "S05", "S08") as pilot:
        assert text(pilot.app) == coloured
        assert_readable(pilot.app)


async def test_a_plain_terminal_gets_plain_signs(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No large letters, no signs beyond ASCII in the page."""
    monkeypatch.setenv("TERM", "vt100")
    async with comparing(season, "S05", "S08") as pilot:
        assert "CAN'T TELL YET" in text(pilot.app)
        shown = page_text(pilot)
        assert "[" in shown
        assert not set(shown) & set("●○◆┣━╋┫├┼┤░·…▲◂▸")


def test_loading_the_screens_loads_no_numerics() -> None:
    """They come with the first comparison, in its thread."""
    script = (
        "import sys, tui.screens.compare, tui.screens.review, tui.widgets.picture\n"
        "print([m for m in ('scipy', 'numpy', 'pint') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True,
        cwd=Path(__file__).parents[3],
    )  # fmt: skip
    assert done.stdout.strip() == "[]"


async def test_everything_is_reached_by_scrolling(season: Path) -> None:
    """On a small screen by the keys of every list."""
    async with comparing(season, "S05", "S08") as pilot:
        assert "as said in S08" not in text(pilot.app)
        await press(pilot, "end")
        assert "as said in S08" in text(pilot.app)
        await press(pilot, "home")
        assert big_lines("CAN'T TELL YET", "half")[0].rstrip() in text(pilot.app)
        await press(pilot, "pagedown", "j", "k", "pageup")
        assert big_lines("CAN'T TELL YET", "half")[0].rstrip() in text(pilot.app)


async def test_an_answer_to_an_older_question_is_not_shown(season: Path) -> None:
    """When it comes in after a newer one was asked."""
    async with comparing(season, "S01", "S03") as pilot:
        screen = app_of(pilot).screen
        assert isinstance(screen, CompareScreen)
        old = screen.Compared(number=0, view=None, error=None)
        before = page_text(pilot)
        screen.post_message(old)
        await settle(pilot)
        assert page_text(pilot) == before
