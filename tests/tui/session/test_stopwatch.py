"""The stopwatch: two presses of the space bar, saved as timed by hand, a second watch beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.report.words import attempt_words
from core.session.attempting import last_attempt
from tests.tui.session.strip import Strip, at_the_strip
from tui.screens.session.attempts_stage import AttemptsStage
from tui.screens.session.stopwatch import large
from tui.widgets.big_text import big_lines


class Watch:
    """A clock that the test moves."""

    def __init__(self, strip: Strip) -> None:
        self.now = 1000.0
        strip.screen.query_one(AttemptsStage).watch_clock = lambda: self.now

    def wait(self, seconds: float) -> None:
        self.now += seconds


async def test_space_starts_and_stops_and_the_second_watch_goes_beside(season: Path) -> None:
    async with at_the_strip(season, stage="Attempts") as strip:
        watch = Watch(strip)
        await strip.press("space")
        assert "0.10 s (sd)" in strip.flat
        assert "Faux and Godolphin" in strip.flat
        watch.wait(0.2)
        await strip.press("space")  # the bounce of the first press
        assert not strip.saved.attempts
        watch.wait(7.064)
        await strip.press("space")
        first = last_attempt(strip.saved)
        assert (first.value, first.timing, first.direction) == (7.26, "hand", "W")
        assert "Attempt 1 W is saved" in strip.text
        assert attempt_words(first) == "timed by hand"
        await strip.type_in("731")
        await strip.press("enter")
        first = last_attempt(strip.saved)
        assert (first.value, first.second, first.second_timing) == (7.26, 7.31, "hand")
        assert "+0.05 s to the first" in strip.said

        await strip.press("space")
        watch.wait(7.4)
        await strip.press("escape")
        assert "dropped" in strip.said
        assert len(strip.saved.attempts) == 1

        await strip.press("space")
        watch.wait(6.9)
        await strip.press("space", "enter")
        second = last_attempt(strip.saved)
        assert (second.value, second.second, second.direction) == (6.9, None, "E")
        await strip.press("u", "enter")
        assert len(strip.saved.attempts) == 1


async def test_what_cannot_be_taken_down_is_said_and_not_lost(season: Path) -> None:
    async with at_the_strip(season, stage="Attempts") as strip:
        watch = Watch(strip)
        await strip.press("space")
        watch.wait(0.7)
        await strip.press("space")
        assert not strip.saved.attempts
        assert strip.said.startswith("▲")
        assert strip.entry == "0.70"
        await strip.press("escape", "space")
        watch.wait(70.0)
        await strip.press("space")
        assert not strip.saved.attempts
        assert "70" in strip.flat


async def test_the_watch_does_not_run_before_open_stops(season: Path) -> None:
    async with at_the_strip(season, stage="Attempts", ready=False) as strip:
        await strip.press("space")
        assert "Stopwatch" not in strip.text
        assert "stop check" in strip.flat


@pytest.mark.parametrize(
    ("seconds", "decimals", "wanted"),
    [(7.264, 2, "7.26"), (59.96, 1, "1:00.0"), (62.4, 1, "1:02.4")],
)
def test_large_digits(seconds: float, decimals: int, wanted: str) -> None:
    assert large(seconds, decimals, tall=False) == "\n".join(big_lines(wanted))
