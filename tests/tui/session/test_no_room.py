"""A disk that takes nothing more while a session runs: said at once, and what was typed stays."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from core.log import files
from tests.tui.session.strip import at_the_strip
from tui.widgets.line_input import LineInput


async def test_what_was_typed_stays_until_there_is_room(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An attempt in the entry, a note in its drawer."""

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    async with at_the_strip(season) as strip:
        with monkeypatch.context() as no_room:
            no_room.setattr(files, "write_durably", full)
            await strip.enter("765")
            assert "The disk is full" in strip.said
            assert strip.entry == "765"
        await strip.press("enter")
        assert [a.value for a in strip.saved.attempts] == [7.65]
        with monkeypatch.context() as no_room:
            no_room.setattr(files, "write_durably", full)
            await strip.press("n")
            await strip.type_in("smells rich")
            await strip.press("enter")
            assert "The disk is full" in strip.flat
            assert strip.app.screen.query_one(LineInput).value == "smells rich"
        await strip.press("enter")
        assert strip.saved.notes == ("smells rich",)
