"""Something happened that nobody changed: which it was, and whether its checks are open again."""

from __future__ import annotations

from typing import Any, Final

from textual.app import App

from core.checks import EVENTS, Event
from core.session import something_happened
from tui.dialogs import Option, ask_choice, confirm
from tui.screens.session.desk import Desk

__all__ = ["ask_event"]

_EVENTS: Final[dict[str, tuple[Event, str]]] = {
    "b": ("break", "a break of more than 30 minutes"),
    "f": ("fall", "a fall"),
    "c": ("crashed", "a crash"),
    "d": ("dropped", "it was dropped"),
    "t": ("transported", "it was transported"),
    "s": ("stood", "it stood for more than 60 days"),
}
"""By key: what can happen, and its words."""


async def ask_event(app: App[Any], desk: Desk) -> str:
    """Ask what happened, and once more before anything is opened again.

    Returns:
        What was done, or nothing after esc or no.
    """
    desk.need_writing()
    options = [Option(key, words) for key, (_, words) in _EVENTS.items()]
    picked = await ask_choice(app, "What happened?", options)
    if picked is None:
        return ""
    event, words = _EVENTS[picked.key]
    begun, due = f"{words[:1].upper()}{words[1:]}", len(EVENTS[event])
    said = "What was answered to them goes back to open; u takes it back."
    title = f"{begun}: open {due} checks again?"
    if not await confirm(app, title, said, yes="yes, it happened", no="no, back"):
        return ""
    desk.act(lambda session, at: something_happened(session, event, at))
    return f"{begun}: its {due} checks are due again."
