"""Putting a run right before it is accepted: its value, its way, or the attempt it belongs to."""

from __future__ import annotations

from typing import Any

from textual.app import App

from core.attempts import find_test, opposite, read_attempt
from core.errors import InputError
from core.session import attempt_numbered
from core.session.looking import Looked
from core.session.run_judging import adjusted_run
from core.session.taking_runs import As
from core.trace import FoundRun
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.session.desk import Desk

__all__ = ["ask_adjustment"]


async def ask_adjustment(app: App[Any], desk: Desk, looked: Looked, place: int) -> As | None:
    """Ask what to put right about a run; None when esc was pressed."""
    run, beside = looked.found.runs[place], looked.attempt_of(place)
    way = opposite(run.direction, desk.session.directions) if run.direction else ""
    ways = (way,) if way else desk.session.directions
    options = [
        Option("v", f"another value than {run.value:.2f} {run.unit}"),
        *(Option("we"[i], f"it went {name}") for i, name in enumerate(ways[:2])),
        Option("k", "it was a warm-up"),
        Option("b", "put it beside another typed attempt"),
        *([Option("n", "make it an attempt of its own")] if beside is not None else []),
    ]
    picked = await ask_choice(app, f"Run {place + 1}: what to put right?", options)
    if picked is None:
        return None
    if picked.key == "k":
        return As(None, kind="warm-up")
    if picked.key == "n":
        return As(None)
    if picked.key == "b":
        n = await _attempt(app, desk)
        return None if n is None else As(n)
    if picked.key == "v":
        return await _value(app, desk, run, beside)
    return await _reasoned(app, run, beside, direction=picked.words.removeprefix("it went "))


async def _attempt(app: App[Any], desk: Desk) -> int | None:
    def read(text: str) -> int:
        if not text.strip().isdecimal():
            raise InputError("The number of an attempt is wanted.")
        return attempt_numbered(desk.session, int(text)).n

    said = await ask_text(app, "Beside which attempt?", hint="its number", check=read)
    return None if said is None else read(said)


async def _value(app: App[Any], desk: Desk, run: FoundRun, beside: int | None) -> As | None:
    test = find_test(run.test)

    def read(text: str) -> float:
        value = read_attempt(text, test, desk.usual).value
        if value is None:
            raise InputError("A run needs a value.")
        return value

    said = await ask_text(
        app, f"Which value, {run.unit}?", sentence="What was found is kept with it.", check=read
    )
    return None if said is None else await _reasoned(app, run, beside, value=read(said))


async def _reasoned(
    app: App[Any],
    run: FoundRun,
    beside: int | None,
    *,
    value: float | None = None,
    direction: str | None = None,
) -> As | None:
    """Ask for the reason, without which nothing is adjusted."""
    said = await ask_text(
        app,
        "Why?",
        sentence="It is kept beside the run.",
        check=lambda text: adjusted_run(run, text, value=value, direction=direction),
    )
    if said is None:
        return None
    new = adjusted_run(run, said, value=value, direction=direction)
    return As(beside, new, reason=said)
