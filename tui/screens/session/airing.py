"""Taking air and wind down: one line, and the question whether a pressure was read at the place."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from textual.app import App

from core.attempts import AirReading, pressure_question, read_air
from core.session import note_air
from core.session.live import read_observed
from tui.dialogs import ask_choice, ask_text
from tui.screens.session.desk import Desk

__all__ = ["ask_air"]

_HINT: Final = "18C 1012hPa 55% 0.5m/s W gust 2"
_HELP: Final = (
    "In any order; leave out what you do not have. qnh before a pressure reduced to sea level,"
    " at 14:05 behind it all when it was read earlier. An airfield report can be pasted."
)


async def ask_air(app: App[Any], desk: Desk) -> str:
    """Ask for the air, save it, and return what was saved; empty when esc was pressed."""
    desk.need_writing()
    typed = ""
    while True:
        said = await ask_text(
            app,
            "Air and wind",
            sentence=_HELP,
            value=typed,
            hint=_HINT,
            check=lambda text: _read(desk, text),
        )
        if said is None:
            return ""
        typed, reading = said, _read(desk, said)
        question = pressure_question(reading.pressure, _elevation(desk))
        if question is None:
            break
        choice = await ask_choice(app, question.text, question.choices)
        if choice is not None and choice.value is not None:
            reading = msgspec.structs.replace(reading, pressure=choice.value)
            break
    desk.act(lambda session, at: note_air(session, reading, at))
    return f"Air is saved, read at {reading.observed:%H:%M}."


def _elevation(desk: Desk) -> float | None:
    return desk.place.elevation if desk.place else None


def _read(desk: Desk, text: str) -> AirReading:
    now = desk.now()
    line, observed = read_observed(text, now)
    directions = desk.session.directions
    return read_air(line, observed, elevation=_elevation(desk), directions=directions, entered=now)
