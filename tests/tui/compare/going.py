"""Opens the comparison and the review over a log, and says what is on them."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from pathlib import Path

from core.session import Book
from tests.tui import driving
from tests.tui.driving import NOW, STANDARD, Driven, opened, preferences
from tests.tui.seeing import lines, text
from tui.app import BackToBackApp
from tui.screens.routes import make_screen
from tui.widgets.page import PageView

__all__ = [
    "app_of",
    "bottom",
    "comparing",
    "page_text",
    "press",
    "reviewing",
    "session_id",
    "settle",
    "type_in",
    "words",
]


_IN_THREADS = ("log", "compare", "judge", "effects", "next")  # workers that a screen waits for
_LOOKS = 200


async def settle(pilot: Driven) -> None:
    """Wait for what is worked out in threads, and until the screen stays as it is."""
    for _ in range(_LOOKS):
        await driving.settle(pilot)
        running = [worker for worker in pilot.app.workers if worker.group in _IN_THREADS]
        if not running:
            return
        await pilot.app.workers.wait_for_complete(running)
    raise AssertionError("a comparison does not end")


async def press(pilot: Driven, *keys: str) -> None:
    """Press keys one after the other, and wait for what they lead to."""
    for key in keys:
        await pilot.press(key)
    await settle(pilot)


async def type_in(pilot: Driven, typed: str) -> None:
    """Type words into what has the focus."""
    await press(pilot, *("space" if letter == " " else letter for letter in typed))


def app_of(pilot: Driven) -> BackToBackApp:
    """The app under test."""
    app = pilot.app
    assert isinstance(app, BackToBackApp)
    return app


def session_id(folder: Path, label: str) -> str:
    """Id of the session of that label."""
    with Book.open(folder, read_only=True) as book:
        return book.session(label).id


@asynccontextmanager
async def _showing(
    folder: Path,
    route: str,
    labels: tuple[str, ...],
    size: tuple[int, int],
    theme: str,
    read_only: bool,
) -> AsyncIterator[Driven]:
    ids = [session_id(folder, label) for label in labels]

    def opener() -> Book:
        return Book.open(folder, read_only=read_only, clock=lambda: NOW)

    wishes = preferences(theme=theme)
    async with opened(folder, size=size, opener=opener, wishes=wishes) as pilot:
        pilot.app.push_screen(make_screen(route, *ids))
        await settle(pilot)
        yield pilot


def comparing(
    folder: Path,
    first: str,
    second: str,
    *,
    size: tuple[int, int] = STANDARD,
    theme: str = "sun",
) -> AbstractAsyncContextManager[Driven]:
    """Show the comparison of two sessions, by label."""
    return _showing(folder, "compare", (first, second), size, theme, read_only=True)


def reviewing(
    folder: Path,
    label: str,
    *,
    size: tuple[int, int] = STANDARD,
    theme: str = "sun",
    read_only: bool = True,
) -> AbstractAsyncContextManager[Driven]:
    """Show the review of a session, by label."""
    return _showing(folder, "review", (label,), size, theme, read_only)


def words(pilot: Driven) -> str:
    """The screen as running text, with single blanks."""
    return " ".join(text(pilot.app).split())


def page_text(pilot: Driven) -> str:
    """The whole page as running text, also what is scrolled out of view."""
    page = pilot.app.screen.query_one(PageView).page
    told = ("".join(part for part, _ in line) for line in page.lines)
    return " ".join(" ".join(told).split())


def bottom(pilot: Driven) -> str:
    """The line that says what was done last."""
    return lines(pilot.app)[-2].strip()
