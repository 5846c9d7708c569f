"""Opens the app over a real log and drives it by keys, as a person would."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import datetime
from pathlib import Path

from textual.pilot import Pilot

from core.clock import ManualClock
from core.session.book import Book
from tests.tui.seeing import text
from tui.app import BackToBackApp
from tui.preferences import PreferencesFile

__all__ = [
    "NOW",
    "STANDARD",
    "Driven",
    "opened",
    "preferences",
    "press",
    "settle",
    "type_in",
    "until_read",
]

NOW = datetime.fromisoformat("2026-09-12T10:00:00+02:00")
STANDARD = (80, 24)
_PATIENCE = 500  # looks
_FRAME = 1 / 60  # s between two repaints

Driven = Pilot[None]


def preferences(**fields: object) -> PreferencesFile:
    """Return preferences in memory of someone who has read the cautions."""
    kept = PreferencesFile()
    kept.change(cautions_seen=True, **fields)
    return kept


@asynccontextmanager
async def opened(
    folder: Path,
    *,
    size: tuple[int, int] = STANDARD,
    clock: ManualClock | None = None,
    wishes: PreferencesFile | None = None,
    opener: Callable[[], Book] | None = None,
    demo: bool = False,
) -> AsyncIterator[Driven]:
    """Run the app over the log in a folder until its list is shown."""
    ticking = clock or ManualClock(NOW)
    app = BackToBackApp(
        opener or (lambda: Book.open(folder, clock=ticking)),
        wishes or preferences(),
        ticking,
        demo=demo,
    )
    async with app.run_test(size=size) as pilot:
        await until_read(pilot)
        yield pilot


async def until_read(pilot: Driven) -> None:
    """Wait until the log is shown, or the refusal to open it."""
    app = pilot.app
    assert isinstance(app, BackToBackApp)
    for _ in range(_PATIENCE):
        await settle(pilot)
        if app.has_book or "tries again" in text(app):
            return
        await asyncio.sleep(0.01)
    raise AssertionError("the log was not read")


async def settle(pilot: Driven) -> None:
    """Wait for work in threads, and until the screen stays as it is for two frames."""
    seen = ["", ""]
    for _ in range(_PATIENCE):
        await pilot.pause()
        running = [worker for worker in pilot.app.workers if worker.group in ("log", "compare")]
        if running:
            await pilot.app.workers.wait_for_complete(running)
        seen.append(text(pilot.app))
        if len(set(seen[-3:])) == 1:
            return
        await asyncio.sleep(_FRAME)
    raise AssertionError("the screen does not come to rest")


async def press(pilot: Driven, *keys: str) -> None:
    """Press keys one after the other, and wait for what they lead to."""
    for key in keys:
        await pilot.press(key)
    await settle(pilot)


async def type_in(pilot: Driven, words: str) -> None:
    """Type words into what has the focus."""
    await press(pilot, *("space" if letter == " " else letter for letter in words))
