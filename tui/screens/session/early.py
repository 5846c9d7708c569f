"""Keys that come while a screen opens: they wait for the field that is to have them."""

from __future__ import annotations

from textual import events
from textual.widget import Widget

__all__ = ["EarlyKeys"]


class EarlyKeys:
    """Keeps keys in their order until there is a widget for them, and passes them on from then."""

    def __init__(self) -> None:
        self._kept: list[events.Key] = []
        self._taker: Widget | None = None

    def take(self, event: events.Key) -> None:
        """Keep a key, or pass it on."""
        key = events.Key(event.key, event.character)
        if self._taker is None:
            self._kept.append(key)
        else:
            self._taker.post_message(key)

    def give_to(self, taker: Widget) -> None:
        """Pass on what was kept; what comes from now on follows it."""
        self._taker = taker
        for key in self._kept:
            taker.post_message(key)
        self._kept.clear()
