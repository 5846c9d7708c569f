"""Opens a recording in a session of the real app and waits for what is done away from the keys."""

from __future__ import annotations

import asyncio
import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime
from pathlib import Path

from core.clock import ManualClock
from core.session import Book
from core.trace import TraceDocument
from core.trace.keeping import kept_path
from tests.tui.driving import STANDARD, settle
from tests.tui.session.strip import Strip, at_the_strip, new_session

__all__ = [
    "BEFORE",
    "EVENING",
    "demo_recording",
    "documents",
    "on_the_strip",
    "open_file",
    "shown",
    "until",
    "with_recording",
]

BEFORE = datetime.fromisoformat("2026-09-06T09:30:00+02:00")
"""In the morning of the day that was recorded, before its first run."""

EVENING = datetime.fromisoformat("2026-09-06T18:00:00+02:00")


def demo_recording(season: Path, to: Path) -> Path:
    """Copy the file of the season's recording out of the log, as the logger would hold it."""
    with Book.open(season, read_only=True) as book:
        document = book.log.get(TraceDocument, book.traces()[0].id)
        return Path(shutil.copy(kept_path(season, document), to / document.name))


def documents(season: Path, session_id: str) -> list[TraceDocument]:
    """Read the recordings of a session from the files."""
    with Book.open(season, read_only=True) as book:
        heads = [head for head in book.traces() if head.session == session_id]
        return [book.log.get(TraceDocument, head.id) for head in heads]


async def shown(strip: Strip) -> None:
    """Wait until nothing is being read or looked for any more."""
    for _ in range(500):
        await settle(strip.pilot)
        if not [worker for worker in strip.app.workers if worker.group in ("trace", "drag")]:
            await settle(strip.pilot)
            return
        await asyncio.sleep(0.01)
    raise AssertionError("the recording is never read")


async def until(strip: Strip, words: str) -> None:
    """Wait until this is on the screen."""
    for _ in range(500):
        if words in strip.flat:
            return
        await asyncio.sleep(0.01)
        await settle(strip.pilot)
    raise AssertionError(f"{words} never comes:\n{strip.text}")


@asynccontextmanager
async def on_the_strip(
    season: Path,
    session_id: str,
    *,
    size: tuple[int, int] = STANDARD,
    now: datetime = EVENING,
) -> AsyncIterator[Strip]:
    """Open a session of the log at its attempts."""
    clock = ManualClock(now)
    async with at_the_strip(season, session_id, clock=clock, stage="Attempts", size=size) as strip:
        yield strip


async def open_file(strip: Strip, file: Path) -> None:
    """Open a file as a recording, by keys."""
    await strip.pilot.press("r")
    await settle(strip.pilot)
    if "Which recording?" in strip.text:
        await strip.press("n")
    await strip.type_in(str(file))
    await strip.press("enter")


@asynccontextmanager
async def with_recording(season: Path, file: Path) -> AsyncIterator[Strip]:
    """Open a file in a new session of the day that was recorded, by keys."""
    session_id = new_session(season, clock=ManualClock(BEFORE))
    async with on_the_strip(season, session_id) as strip:
        await open_file(strip, file)
        yield strip
