"""Opens one session of a real log in the app and drives it by keys, as at the strip."""

from __future__ import annotations

import random
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from core.clock import ManualClock
from core.session import Book, Plan, Session
from tests.making import answered
from tests.tui.driving import STANDARD, Driven, opened, preferences, settle
from tests.tui.seeing import lines, text
from tui.app import BackToBackApp
from tui.screens.session import SessionScreen
from tui.screens.session.attempts_stage import AttemptsStage
from tui.screens.session.checks_stage import ChecksStage
from tui.widgets.entry_line import EntryLine
from tui.widgets.line_input import LineInput
from tui.widgets.lines import StatusLine

__all__ = ["MORNING", "Strip", "at_the_strip", "new_session", "on_disk"]

MORNING = datetime.fromisoformat("2026-09-20T10:05:00+02:00")
_COUNTED = {"teeth_final": "final_sprocket_teeth", "teeth_engine": "engine_sprocket_teeth"}
_NAMES = {
    " ": "space",
    ".": "full_stop",
    "/": "slash",
    "-": "minus",
    ",": "comma",
    "+": "plus",
    "?": "question_mark",
    "~": "tilde",
    ">": "greater_than_sign",
}


def new_session(
    folder: Path,
    *,
    ready: bool = True,
    machine: str = "Kettle Moth",
    place: str = "Vennimoor strip",
    test: str = "0-50",
    clock: ManualClock | None = None,
) -> str:
    """Start a session from the machine's last sheet; return its id.

    Args:
        folder: of the log.
        ready: clear every check.
        machine: name.
        place: name; empty: none.
        test: name of the test.
        clock: None: the morning of the day.
    """
    ticking = clock or ManualClock(MORNING)
    with Book.open(folder, clock=ticking, rng=random.Random(machine)) as book:
        plan = Plan(
            machine=book.machine(machine).id,
            place=book.place(place).id if place else "",
            test=test,
            timing="logger-10hz",
            question="What does it cost?",
            gain=0.15,
        )
        session = book.start(plan)
        if ready:
            book.save(answered(session, ticking()))
        return session.id


def on_disk(folder: Path, session_id: str) -> Session:
    """Read a session from the files, as another program would."""
    with Book.open(folder, read_only=True) as book:
        return book.log.get(Session, session_id)


@dataclass
class Strip:
    """A session on the screen, with the clock in the hand."""

    pilot: Driven
    clock: ManualClock
    folder: Path
    session_id: str

    @property
    def app(self) -> BackToBackApp:
        """The app."""
        assert isinstance(self.pilot.app, BackToBackApp)
        return self.pilot.app

    @property
    def screen(self) -> SessionScreen:
        """The screen of the session, under whatever dialog there is."""
        return next(s for s in reversed(self.app.screen_stack) if isinstance(s, SessionScreen))

    @property
    def entry(self) -> str:
        """What stands in the entry."""
        return self.screen.query_one(EntryLine).value

    @property
    def saved(self) -> Session:
        """The session as it is on disk now."""
        return on_disk(self.folder, self.session_id)

    @property
    def text(self) -> str:
        """The whole screen."""
        return text(self.app)

    @property
    def flat(self) -> str:
        """The whole screen on one line, with single blanks: for sentences that may be wrapped."""
        return " ".join(" ".join(lines(self.app)).split())

    @property
    def said(self) -> str:
        """What stands over the keys, on one line."""
        where = self.screen.query_one(StatusLine).region
        return " ".join(line.strip() for line in lines(self.app)[where.y : where.bottom]).strip()

    async def press(self, *keys: str) -> None:
        """Press keys and wait for what they lead to."""
        for key in keys:
            await self.pilot.press(key)
        await settle(self.pilot)

    async def type_in(self, words: str) -> None:
        """Type words; ``press`` waits for what they lead to.

        In the entry every letter is a key. Into a field all but the last letter are put at once,
        as a paste would, to save the time of so many keys.
        """
        field = self.app.focused
        if isinstance(field, LineInput) and not isinstance(field, EntryLine):
            field.insert_text_at_cursor(words[:-1])
            words = words[-1:]
        for letter in words:
            await self.pilot.press(_NAMES.get(letter, letter))

    async def enter(self, words: str, *, after: float = 200.0) -> None:
        """Let so many seconds pass, type a line and press Enter.

        Enter is far enough from the last one to be no bounce of it.
        """
        self.clock.advance(seconds=after)
        await self.type_in(words)
        await self.press("enter")

    async def clear_checks(self) -> None:
        """Answer every check that is due now, for tests that are not about checks."""
        desk = self.screen.desk
        for record in desk.stops:
            if record.rule in _COUNTED:
                desk.answer(record.rule, f"{desk.sheet.readings[_COUNTED[record.rule]].value:g}")
            elif record.rule == "rpm_at_top":
                desk.answer(record.rule, "5000")
        desk.act(answered)
        assert not desk.stops, desk.stops
        self.screen.refresh_stages()
        await settle(self.pilot)

    async def go_to(self, stage: str) -> None:
        """Press tab until this stage is shown."""
        for _ in range(4):
            if stage == self.screen.stage.NAME:
                return
            await self.press("tab")
        raise AssertionError(f"no stage is called {stage}")


@asynccontextmanager
async def at_the_strip(
    folder: Path,
    session_id: str = "",
    *,
    stage: str = "",
    size: tuple[int, int] = STANDARD,
    theme: str = "sun",
    clock: ManualClock | None = None,
    ready: bool = True,
    read_only: bool = False,
) -> AsyncIterator[Strip]:
    """Open a session of the log in the app.

    Args:
        folder: of the log.
        session_id: empty: a new one is started.
        stage: name of the stage to go to; empty: where it opens by itself.
        size: of the terminal.
        theme: sun or dusk.
        clock: None: the morning of the day.
        ready: a new session has every check cleared.
        read_only: open the log to read only.
    """
    ticking = clock or ManualClock(MORNING)
    session_id = session_id or new_session(folder, ready=ready, clock=ticking)

    def opener() -> Book:
        return Book.open(folder, clock=ticking, read_only=read_only, rng=random.Random(5))

    wishes = preferences(theme=theme)
    async with opened(folder, size=size, clock=ticking, wishes=wishes, opener=opener) as pilot:
        assert isinstance(pilot.app, BackToBackApp)
        pilot.app.open_session(session_id)
        await settle(pilot)
        strip = Strip(pilot, ticking, folder, session_id)
        _without_bounces(strip.screen)
        if stage:
            await strip.go_to(stage)
        yield strip


def _without_bounces(screen: SessionScreen) -> None:
    """Let every key count: tests press keys faster than any glove bounces."""
    ticks = iter(range(10**9))
    for stage in screen.stages:
        if isinstance(stage, ChecksStage):
            stage.clock = lambda: float(next(ticks))
        elif isinstance(stage, AttemptsStage):
            stage.query_one(EntryLine).clock = lambda: float(next(ticks))
