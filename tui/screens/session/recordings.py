"""The way from a session to a recording and back; its screen is loaded when it is first wanted."""

from __future__ import annotations

from typing import Any

from textual.app import App

from tui.screens.routes import make_screen
from tui.screens.session.desk import Desk

__all__ = ["go_through"]


async def go_through(app: App[Any], desk: Desk) -> str:
    """Ask for a recording and show it until it is left; return what came of it.

    Raises:
        BackToBackError: nothing can be entered, or it is no recording.
    """
    from tui.screens.trace.opening import ask_recording  # lazy: 0.1 s, only for recordings

    desk.need_writing()
    opening = await ask_recording(app, desk)
    if opening is None:
        return ""
    said = await app.push_screen_wait(make_screen("trace", desk, opening))
    return str(said or "")
