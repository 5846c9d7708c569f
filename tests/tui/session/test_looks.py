"""How the session looks: readable in both looks, laid out at every size, calm when resized."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.contrast import assert_readable
from tests.tui.seeing import lines
from tests.tui.session.strip import Strip, at_the_strip
from tui.screens.session.attempts_stage import AttemptsStage
from tui.themes import THEMES
from tui.widgets.entry_line import EntryLine
from tui.widgets.lines import StatusLine
from tui.widgets.picture import PictureView
from tui.widgets.record_list import RecordList
from tui.widgets.stage_line import StageLine
from tui.widgets.time_board import TimeBoard

_SIZES = ((80, 24), (120, 40), (40, 10), (200, 60))


async def _some_attempts(strip: Strip) -> None:
    """Eight attempts, one struck, one tagged, one that stands apart."""
    for value in ("765", "731 b", "759", "735", "762", "850", "758 x l", "729"):
        await strip.enter(value)


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_letter_of_every_stage_stands_out(season: Path, theme: str) -> None:
    """By 7:1 or more, with questions, legends, drawers and the list of letters as well."""
    async with at_the_strip(season, theme=theme) as strip:
        await _some_attempts(strip)
        assert_readable(strip.app)
        for keys in (("x",), ("escape", "t"), ("escape", "u"), ("escape", "o"), ("escape", "a")):
            await strip.press(*keys)
            assert_readable(strip.app)
        await strip.press("escape", "h")
        assert_readable(strip.app)
        await strip.press("escape")
        for stage in ("Close-out", "Setup", "Checks"):
            await strip.go_to(stage)
            assert_readable(strip.app)


@pytest.mark.parametrize("size", _SIZES)
async def test_nothing_overlaps_and_the_entry_is_always_there(
    season: Path, size: tuple[int, int]
) -> None:
    """The title on top, the entry over the status and the keys, at every size."""
    async with at_the_strip(season, size=size) as strip:
        await _some_attempts(strip)
        screen = strip.screen
        shown = lines(strip.app)
        assert len(shown) == size[1]
        assert shown[0].strip().startswith("S11")
        assert "▸Attempts" in shown[1]
        assert screen.query_one(EntryLine).region.y == size[1] - 3
        assert screen.query_one(StatusLine).region.y == size[1] - 2
        assert screen.query_one(EntryLine).region.width == size[0]
        assert screen.query_one("#attempts-body").region.width == size[0]
        for stage in ("Close-out", "Setup", "Checks", "Attempts"):
            await strip.go_to(stage)
            assert f"▸{stage}" in lines(strip.app)[1]
            assert all(len(line) <= size[0] for line in lines(strip.app))


async def test_the_last_time_and_the_next_way_are_large_at_80_by_24(season: Path) -> None:
    """Three rows of blocks; the words to read back and the range beside them."""
    async with at_the_strip(season) as strip:
        await strip.enter("726")
        rows = lines(strip.app)[2:5]
        assert [row[1:18] for row in rows] == [
            "▀▀▀█   ▀▀▀█ █▀▀▀ ",
            "  █    █▀▀▀ █▀▀█ ",
            "  ▀  ▀ ▀▀▀▀ ▀▀▀▀ ",
        ]
        assert "attempt 1  W  10:08" in rows[0]
        assert "“seven two six, west”" in rows[1]
        assert "this build: 7.26 s" in rows[2]
        assert [row[-5:].strip() for row in rows] == ["█▀▀▀", "█▀▀", "▀▀▀▀"]


async def test_more_room_is_used_at_120_by_40(season: Path) -> None:
    """Five rows of digits; sheet and facts, list and picture side by side."""
    async with at_the_strip(season, size=(120, 40)) as strip:
        await _some_attempts(strip)
        screen = strip.screen
        assert screen.query_one(TimeBoard).content_size.height == 5
        records, picture = (
            screen.query_one("AttemptsStage RecordList", RecordList).region,
            screen.query_one("AttemptsStage PictureView", PictureView).region,
        )
        assert records.right <= picture.x
        assert picture.width >= 48
        await strip.go_to("Setup")
        sheet = screen.query_one("SetupStage RecordList", RecordList).region
        facts = screen.query_one("#facts").region
        assert sheet.right <= facts.x
        assert (sheet.y, sheet.bottom) == (facts.y, facts.bottom)


async def test_resized_to_40_by_10_and_back(season: Path) -> None:
    """What is being typed stays, and so does everything else."""
    async with at_the_strip(season) as strip:
        await _some_attempts(strip)
        await strip.type_in("73")
        await strip.press()
        before = strip.text
        for size in ((40, 10), (20, 6), (80, 24)):
            await strip.pilot.resize_terminal(*size)
            await strip.press()
        assert strip.text == before
        await strip.type_in("4")
        await strip.press("enter")
        assert strip.saved.attempts[-1].value == 7.34


async def test_the_board_has_letters_without_blocks_where_there_are_none(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On terminals that have no block characters."""
    monkeypatch.setenv("TERM", "vt220")
    async with at_the_strip(season, size=(120, 40)) as strip:
        await strip.enter("726")
        board = "\n".join(lines(strip.app)[2:9])
        assert "####" in board
        assert not set(board) & set("█▀▄")


async def test_the_tick_draws_nothing_when_nothing_changed(season: Path) -> None:
    """A second that changes no words costs no repaint."""
    async with at_the_strip(season) as strip:
        await strip.enter("726")
        stage = strip.screen.stage
        assert isinstance(stage, AttemptsStage)
        drawn: list[object] = []
        board = strip.screen.query_one(TimeBoard)
        board.refresh = lambda *_, **__: drawn.append(1) or board  # type: ignore[method-assign,func-returns-value]
        stage._tick()
        assert drawn == []
        strip.clock.advance(seconds=1)
        stage._tick()
        assert drawn == [1]


async def test_the_stage_line_shows_where_one_is_and_how_far(season: Path) -> None:
    """With a sign and in words."""
    async with at_the_strip(season, ready=False) as strip:
        line = strip.screen.query_one(StageLine).render().plain
        assert line.split() == [
            "▸Setup",
            "unchanged",
            "Checks",
            str(len(strip.screen.desk.stops)),
            "open",
            "Attempts",
            "0",
            "Close-out",
        ]
