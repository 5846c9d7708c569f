"""Keys that come while a session is still opening: an attempt typed at once is not lost."""

from __future__ import annotations

from pathlib import Path

from textual import events

from tests.tui.session.strip import at_the_strip


async def test_an_attempt_typed_before_the_entry_is_drawn_is_taken(season: Path) -> None:
    """Whole, in its order, and what follows goes on from there."""
    async with at_the_strip(season) as strip:
        await strip.press("escape")
        strip.app.open_session(strip.session_id)
        for letter in "765\r73":
            key = "enter" if letter == "\r" else letter
            strip.app.post_message(events.Key(key, letter))
        await strip.press("1")
        assert [a.value for a in strip.saved.attempts] == [7.65]
        assert strip.entry == "731"
