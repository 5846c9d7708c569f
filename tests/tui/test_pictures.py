"""Three pictures of the app itself: everything else is tested as text."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from core.clock import ManualClock
from core.session import Book
from tests.tui.driving import NOW, preferences, press, until_read
from tests.tui.season import small_season
from tui.app import BackToBackApp

Compare = Callable[..., bool]


@pytest.mark.parametrize(
    ("theme", "size", "keys"),
    [
        ("sun", (80, 24), ("space", "down")),
        ("dusk", (80, 24), ("down", "n")),
        ("dusk", (140, 40), ("down", "down", "slash", "m", "o", "t", "h")),
    ],
    ids=["list", "new-session", "wide"],
)
def test_it_looks_as_it_did(
    snap_compare: Compare, tmp_path: Path, theme: str, size: tuple[int, int], keys: tuple[str, ...]
) -> None:
    """The log list in both looks, small and large, and a drawer."""
    folder, clock = small_season(tmp_path), ManualClock(NOW)
    app = BackToBackApp(lambda: Book.open(folder, clock=clock), preferences(theme=theme), clock)

    async def drive(pilot: Pilot[None]) -> None:
        await until_read(pilot)
        await press(pilot, *keys)

    assert snap_compare(app, terminal_size=size, run_before=drive)
