"""Correcting what is noted beside an attempt, and the build that it ran on."""

from __future__ import annotations

from typing import Any

from textual.app import App

from core.attempts import Attempt, opposite, read_attempt
from core.errors import BlockedError, InputError
from core.session import attempt_numbered, change_attempt, move_attempts
from core.setup import changes, main_changes
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.session.desk import Desk

__all__ = ["ask_correction", "ask_other_build", "read_second"]


def _attempt(desk: Desk, n: int | None) -> Attempt:
    desk.need_writing()
    if n is None:
        raise BlockedError("There is no attempt yet.")
    return attempt_numbered(desk.session, n)


async def ask_correction(app: App[Any], desk: Desk, n: int | None) -> str:
    """Ask what to put right on an attempt and do it; return what was done, or nothing."""
    attempt = _attempt(desk, n)
    other = opposite(attempt.direction, desk.session.directions) or desk.session.directions[:1]
    way = other if isinstance(other, str) else "".join(other)
    kind = "timed" if attempt.kind == "warm-up" else "warm-up"
    options = [
        *([Option("d", f"it ran {way}")] if way else []),
        *([Option("w", f"it was a {kind} one")] if attempt.kind != "aborted" else []),
        Option("q", "its time is not in doubt" if attempt.unsure else "its time is in doubt"),
        Option("y", "what a second timer said"),
        Option("n", "a note on it"),
    ]
    picked = await ask_choice(app, f"Attempt {attempt.n}: what to put right?", options)
    if picked is None:
        return ""
    if picked.key == "d":
        desk.act(lambda s, at: change_attempt(s, attempt.n, at, direction=way))
        return f"Attempt {attempt.n} ran {way}."
    if picked.key == "w":
        desk.act(
            lambda s, at: change_attempt(
                s, attempt.n, at, kind="timed" if attempt.kind == "warm-up" else "warm-up"
            )
        )
        return f"Attempt {attempt.n} is a {kind} one."
    if picked.key == "q":
        desk.act(lambda s, at: change_attempt(s, attempt.n, at, unsure=not attempt.unsure))
        return f"Attempt {attempt.n}: {picked.words}."
    return await (_second_timer if picked.key == "y" else _note)(app, desk, attempt)


def read_second(desk: Desk, text: str) -> float:
    """Return what a second timer said; raises BackToBackError when it is no value of the test."""
    value = read_attempt(text, desk.test, desk.usual).value
    if value is None:
        raise InputError("A second timer gives a value.")
    return value


async def _second_timer(app: App[Any], desk: Desk, attempt: Attempt) -> str:
    """Keep what the other timer said; the first one stays the one that counts."""
    said = await ask_text(
        app,
        f"What did the second timer say for attempt {attempt.n}?",
        sentence="It is kept beside the first one, which stays the one that counts.",
        check=lambda text: read_second(desk, text),
    )
    if said is None:
        return ""
    value = read_second(desk, said)
    desk.act(lambda s, at: change_attempt(s, attempt.n, at, second=value))
    return f"Second timer of attempt {attempt.n} is saved."


async def _note(app: App[Any], desk: Desk, attempt: Attempt) -> str:
    def save(text: str) -> None:
        desk.act(lambda s, at: change_attempt(s, attempt.n, at, note=text))

    title = f"Note on attempt {attempt.n}"
    if await ask_text(app, title, value=attempt.note, check=save) is None:
        return ""
    return f"The note on attempt {attempt.n} is saved."


async def ask_other_build(app: App[Any], desk: Desk, n: int | None) -> str:
    """Ask which build the attempts from this one on ran on, and move them there."""
    attempt = _attempt(desk, n)
    if len(desk.session.sheets) < 2:
        raise BlockedError(
            "There is only one setup sheet in this session.",
            "Take the swap first with s, then move the attempts with m.",
        )
    options = [
        Option(str(index + 1), f"sheet {index + 1}, build {letter}{_differs(desk, index)}")
        for index, letter in enumerate(desk.letters)
        if index != attempt.sheet
    ]
    title = f"Attempts from {attempt.n} on ran on which sheet?"
    picked = await ask_choice(app, title, options)
    if picked is None:
        return ""
    sheet = int(picked.key) - 1
    desk.act(lambda s, at: move_attempts(s, attempt.n, sheet, at))
    return f"Attempts from {attempt.n} on are on sheet {picked.key} now."


def _differs(desk: Desk, index: int) -> str:
    if index == 0:
        return ""
    sheets = desk.session.sheets
    made = main_changes(changes(sheets[index - 1], sheets[index]))
    return f": {', '.join(change.words for change in made)}" if made else ""
