"""What is said about a session besides its sheet: question, gain, prediction, who is there."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, Final

import msgspec
from textual.app import App

from core.attempts import Test
from core.errors import BlockedError, InputError
from core.session import note, predict, say
from core.units import format_number, read_quantity
from tui.dialogs import ask_choice, ask_text
from tui.dialogs.plan_fields import MACHINE_KINDS
from tui.drafts import read_gain
from tui.predictions import EXPECT, prediction_words, read_prediction, way_words
from tui.screens.session.desk import Desk

__all__ = ["ask_note", "ask_said"]


async def ask_note(app: App[Any], desk: Desk) -> str:
    """Ask for a note and save it; return what was saved, or nothing after esc."""
    desk.need_writing()

    def save(text: str) -> None:
        desk.act(lambda session, at: note(session, text, at))

    kept = "Kept as typed, with its time."
    said = await ask_text(app, "Note", sentence=kept, check=save)
    return "" if said is None else "The note is saved."


async def ask_said(app: App[Any], desk: Desk, key: str) -> str:
    """Ask for one of these lines and save it; return what was saved, or nothing after esc."""
    desk.need_writing()
    return await _ASKERS[key](app, desk)


async def _question(app: App[Any], desk: Desk) -> str:
    said = await ask_text(app, "What is the question, in one line?", value=desk.session.question)
    if said is None:
        return ""
    desk.act(lambda s, at: say(s, at, question=" ".join(said.split())))
    return "The question is saved."


def _numbered(desk: Desk) -> Test:
    if not desk.test.unit:
        raise InputError(f"A {desk.test.title} has no number.")
    return desk.test


async def _gain(app: App[Any], desk: Desk) -> str:
    test = _numbered(desk)
    said = await ask_text(
        app,
        f"Smallest gain worth having, {test.unit}",
        sentence="Less than this would not be worth the part or the work.",
        value="" if desk.session.gain is None else format_number(desk.session.gain),
        check=lambda text: read_gain(text, test),
    )
    gain = read_gain(said, test) if said is not None else None
    if gain is None:
        return ""
    desk.act(lambda s, at: say(s, at, gain=gain))
    return f"Smallest gain worth having: {format_number(gain)} {test.unit}."


async def _prediction(app: App[Any], desk: Desk) -> str:
    """Ask what is expected; it is locked with its time, and only before the first timed attempt."""
    test = _numbered(desk)
    if any(a.kind == "timed" and a.value is not None for a in desk.session.attempts):
        raise BlockedError("Attempts are already timed: a prediction has to come before them.")
    baseline = desk.around.baseline if desk.around else None
    against = baseline.session if baseline else desk.session.came_from
    label = f" against {desk.label_of(against)}" if against else ""
    below, above = way_words(test)
    said = await ask_text(
        app,
        f"What do you expect{label}, {test.unit}?",
        sentence=EXPECT.format(below=below, above=above),
        check=lambda text: read_prediction(text, test),
    )
    expected = read_prediction(said, test) if said is not None else None
    if expected is None:
        return ""
    desk.act(
        lambda s, at: predict(
            s, expected.value, at, give_or_take=expected.give_or_take, against=against
        )
    )
    return f"Expected: {prediction_words(expected, test)}. It is saved with its time."


async def _rider(app: App[Any], desk: Desk) -> str:
    said = await ask_text(app, "Who rides? A code will do.", value=desk.session.rider)
    if said is None:
        return ""
    desk.act(lambda s, at: say(s, at, rider=said.strip()))
    return "The rider is saved."


async def _helper(app: App[Any], desk: Desk) -> str:
    said = await ask_text(app, "Who helps, and times?", value=desk.session.helper)
    if said is None:
        return ""
    desk.act(lambda s, at: say(s, at, helper=said.strip()))
    return "The helper is saved."


_HEIGHTS: Final = (-430.0, 5000.0)  # m; where people live


def _read_elevation(text: str) -> float:
    value = read_quantity(text, "m").value
    low, high = _HEIGHTS
    if not low <= value <= high:
        raise InputError(f"{format_number(value)} m is no elevation of a strip.")
    return value


async def _elevation(app: App[Any], desk: Desk) -> str:
    """Ask for the elevation, which belongs to the place and holds for all its sessions."""
    place = desk.place
    if place is None:
        raise BlockedError("This session has no place.")
    said = await ask_text(
        app,
        f"Elevation of {place.name}, m above sea level",
        sentence="A pressure reduced to sea level can only be used with it.",
        check=_read_elevation,
    )
    if said is None:
        return ""
    changed = msgspec.structs.replace(place, elevation=_read_elevation(said))
    desk.book.save(changed)
    desk.place = changed
    return "The elevation of the place is saved."


async def _kind(app: App[Any], desk: Desk) -> str:
    """Ask what the machine is, which holds for all its sessions."""
    machine = desk.machine
    if machine is None:
        raise BlockedError("The log does not hold this machine.")
    at = next((i for i, kind in enumerate(MACHINE_KINDS) if kind.words == machine.type), 0)
    picked = await ask_choice(app, f"What is {machine.name}?", MACHINE_KINDS, at=at)
    if picked is None or picked.words == machine.type:
        return ""
    changed = msgspec.structs.replace(machine, type=picked.words)
    desk.book.save(changed)
    desk.machine = changed
    return f"{machine.name} is saved as: {picked.words}."


async def _timing(app: App[Any], desk: Desk) -> str:
    raise BlockedError("The timing gear was fixed when the session was planned.")


_ASKERS: Final[dict[str, Callable[[App[Any], Desk], Awaitable[str]]]] = {
    "question": _question,
    "gain": _gain,
    "prediction": _prediction,
    "rider": _rider,
    "helper": _helper,
    "kind": _kind,
    "elevation": _elevation,
    "timing": _timing,
}
"""How each line is asked for, by its name."""
