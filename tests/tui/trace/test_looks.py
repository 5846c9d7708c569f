"""The screen of a recording at many sizes, in both looks, in plain ASCII, with a hostile name."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len

from core.clock import ManualClock
from tests.tui.contrast import assert_readable
from tests.tui.driving import settle
from tests.tui.seeing import lines
from tests.tui.session.strip import at_the_strip, new_session
from tests.tui.trace.desk import BEFORE, EVENING, demo_recording, open_file, shown

HOSTILE = "left [low] [bold]x[.nmea"


@pytest.mark.parametrize(
    ("size", "theme", "terminal"),
    [((120, 40), "dusk", "xterm-256color"), ((60, 14), "sun", "vt100")],
)
async def test_it_fits_and_can_be_read(
    season: Path,
    tmp_path: Path,
    size: tuple[int, int],
    theme: str,
    terminal: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("TERM", terminal)
    file = demo_recording(season, tmp_path).rename(tmp_path / HOSTILE)
    session_id = new_session(season, clock=ManualClock(BEFORE))
    async with at_the_strip(
        season, session_id, clock=ManualClock(EVENING), stage="Attempts", size=size, theme=theme
    ) as strip:
        await open_file(strip, file)
        await shown(strip)
        assert_readable(strip.app)
        seen = lines(strip.app)
        assert all(cell_len(line) <= size[0] for line in seen)
        assert seen[0].startswith(f" {HOSTILE}")
        assert "8 runs of 0-50." in strip.said
        assert "7.84" in strip.text
        assert ("├" in strip.text) is (terminal != "vt100")
        await strip.pilot.resize_terminal(40, 10)
        await settle(strip.pilot)
        assert "7.84" in strip.text
        await strip.press("f")
        assert "Rows" in strip.text
        assert_readable(strip.app)
