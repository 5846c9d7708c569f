"""Drives the bench over a real log by keys, and looks at what is on the disk."""

from __future__ import annotations

import asyncio
import random
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from core.bench import BenchReading, take_clay, take_lift_table
from core.clock import ManualClock
from core.session import Book, keep_reading
from tests.core.reckon.moth import lift_table
from tests.tui.driving import NOW, STANDARD, Driven, opened, preferences, settle
from tests.tui.seeing import lines, text
from tui.app import BackToBackApp
from tui.subject import read_subject
from tui.widgets.line_input import LineInput
from tui.widgets.record_list import RecordList

__all__ = ["At", "at_the_bench", "readings", "with_tables"]

_GOES_AWAY = ("b", "i")
"""Keys that read what is on file in a thread before they show it."""
_NAMES = {
    " ": "space",
    ".": "full_stop",
    "-": "minus",
    ",": "comma",
    "?": "question_mark",
    "~": "tilde",
    ">": "greater_than_sign",
}


@dataclass
class At:
    """The app in front of someone at the bench."""

    pilot: Driven
    clock: ManualClock
    folder: Path

    @property
    def app(self) -> BackToBackApp:
        """The app."""
        assert isinstance(self.pilot.app, BackToBackApp)
        return self.pilot.app

    @property
    def flat(self) -> str:
        """The whole screen on one line, with single blanks."""
        return " ".join(" ".join(lines(self.app)).split())

    @property
    def text(self) -> str:
        """The whole screen."""
        return text(self.app)

    async def press(self, *keys: str) -> None:
        """Press keys and wait for what they lead to, also in a thread."""
        for key in keys:
            before = self.app.screen
            await self.pilot.press(key)
            await settle(self.pilot)
            if key in _GOES_AWAY and before is self.app.screen:
                await self._until(lambda: self.app.screen is not before)  # noqa: B023
        for worker in [one for one in self.app.workers if one.group == "bench"]:
            await worker.wait()
        await settle(self.pilot)

    async def _until(self, true: Callable[[], bool]) -> None:
        """Wait for work in a thread, a few seconds at most."""
        for _ in range(500):
            if true():
                return
            await asyncio.sleep(0.01)

    async def enter(self, words: str) -> None:
        """Type words and press Enter; into a field all but the last letter at once."""
        field = self.app.focused
        if isinstance(field, LineInput):
            field.insert_text_at_cursor(words[:-1])
            words = words[-1:]
        for letter in words:
            await self.pilot.press(_NAMES.get(letter, letter))
        await self.press("enter")

    async def find(self, words: str) -> None:
        """Go to a line of the list in front by the words that stand in it."""
        found = next(
            record.id
            for record in self.app.screen.query_one(RecordList).records
            if any(words in str(getattr(cell, "text", cell)) for cell in record.cells)
        )
        self.app.screen.query_one(RecordList).go_to(found)
        await self.press()


@asynccontextmanager
async def at_the_bench(
    folder: Path, *keys: str, size: tuple[int, int] = STANDARD, theme: str = "sun"
) -> AsyncIterator[At]:
    """Open the app over a log and press keys, usually b for the bench or i for what if.

    Args:
        folder: of the log; the cursor is on its newest session, of the Kettle Moth.
        keys: pressed at first.
        size: of the terminal.
        theme: sun or dusk.
    """
    clock, wishes = ManualClock(NOW), preferences(theme=theme)

    def opener() -> Book:
        return Book.open(folder, clock=clock, rng=random.Random(7))

    async with opened(folder, size=size, clock=clock, wishes=wishes, opener=opener) as pilot:
        at = At(pilot, clock, folder)
        await at.press(*keys)
        yield at


def readings(folder: Path) -> list[BenchReading]:
    """Return every bench reading on the disk, as another program would read it, oldest first."""
    with Book.open(folder, read_only=True) as book:
        return sorted(book.log.all(BenchReading), key=lambda one: (one.at, one.id))


def with_tables(folder: Path) -> None:
    """Take lift tables of both lobes and clay of 3.5 and 3.0 mm on the Kettle Moth as it stands."""
    clock = ManualClock(NOW)
    with Book.open(folder, clock=clock, rng=random.Random(9)) as book:
        subject = read_subject(book, book.machine("Kettle Moth").id)
        for side, centre in (("intake", 104.0), ("exhaust", -108.0)):
            lobe = lift_table(centre)
            rows = zip(lobe.angles, lobe.lifts, strict=True)
            told = "\n".join(f"{angle} {lift * 1000:.4f}" for angle, lift in rows)
            took = take_lift_table(told, side, subject.about(book, clock()))  # type: ignore[arg-type]
            keep_reading(book, took.reading)
        keep_reading(book, take_clay("3.5 3.0 of 5 own 1.5", subject.about(book, clock())).reading)
