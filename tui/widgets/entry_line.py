"""The field that is always armed: digits are typed, letters on an empty field are commands."""

from __future__ import annotations

import time
from collections.abc import Callable, Collection
from typing import Final

from textual import events
from textual.widgets.input import Selection

from tui.text import plain
from tui.widgets.line_input import LineInput

__all__ = ["BOUNCE", "EntryLine"]

BOUNCE: Final = 0.5
"""Seconds within which a second Enter is taken for a bounce of the first one."""

_STARTS: Final = frozenset("0123456789,+-−>")
"""What starts an attempt; a point on an empty field reads the last one back."""


class EntryLine(LineInput):
    """A field that takes a line with Enter and never lets go of the keys.

    Everything happens in the order the keys came in: a line is taken, or a command is run, before
    the next key is looked at.

    Args:
        take: called with the line when Enter was pressed; puts what stays into the field.
        starters: letters that begin a line, such as x for a strike.
        hint: what stands in the empty field.
        clock: seconds that only go up, to know a bounce of Enter.
    """

    def __init__(
        self,
        take: Callable[[str], None],
        *,
        starters: str = "",
        hint: str = "",
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__(hint=hint)
        self._take = take
        self._starters = frozenset(starters)
        self.clock = clock
        self._entered: float | None = None  # when Enter came, if no other key came since
        self._answers: frozenset[str] = frozenset()
        self._answered: Callable[[str], None] = lambda key: None

    # -- questions -----------------------------------------------------------------------------

    @property
    def is_asking(self) -> bool:
        """Whether one of a few keys is waited for."""
        return bool(self._answers)

    def ask(self, keys: Collection[str], answered: Callable[[str], None]) -> None:
        """Wait for one of these keys; nothing is typed meanwhile.

        Args:
            keys: that answer; ``escape`` may be among them.
            answered: called with the key, or with nothing when another one was pressed.
        """
        self._answers = frozenset(keys)
        self._answered = answered

    def stop_asking(self) -> None:
        """Listen to everything again."""
        self._answers = frozenset()

    # -- keys ----------------------------------------------------------------------------------

    async def on_key(self, event: events.Key) -> None:
        """Take a line, answer a question, run a command, or let the key be typed."""
        bounced = event.key == "enter" and self._is_bounce()
        self._entered = self.clock() if event.key == "enter" else None
        if bounced:
            _swallow(event)
        elif self.is_asking:
            self._answer(event)
        elif event.key == "enter":
            _swallow(event)
            self._take(self.value)
        elif event.key == "escape" and self.value:
            _swallow(event)
            self.put("")
        elif event.is_printable and self.is_free and not self._begins(event.character or ""):
            _swallow(event)
            await self._run_command(event)

    @property
    def is_free(self) -> bool:
        """Whether a new line can begin: nothing is typed, or a refused line waits as a whole."""
        return not self.value or len(self.selected_text) == len(self.value)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Tell whether a key never is a command here; the key line shows those that can be.

        It stays the same while a line is typed, so that the key line stands still.
        """
        return character is not None and character in _STARTS

    def _is_bounce(self) -> bool:
        return self._entered is not None and self.clock() - self._entered < BOUNCE

    def _begins(self, character: str) -> bool:
        return character in _STARTS or character.casefold() in self._starters

    def _answer(self, event: events.Key) -> None:
        pressed = (event.character or "").casefold()
        key = event.key if event.key in self._answers else pressed
        if key in self._answers:
            _swallow(event)
            self.stop_asking()
            self._answered(key)
        elif event.is_printable or event.key == "enter":
            _swallow(event)
            self._answered("")

    async def _run_command(self, event: events.Key) -> None:
        """Run what the key stands for on this screen; a capital letter counts as the small one."""
        key = event.key if len(event.key) > 1 else event.key.lower()
        active = self.screen.active_bindings.get(key)
        if active is not None and active.enabled and active.node is not self:
            await self.app.run_action(active.binding.action, active.node)

    def put(self, value: str, *, waiting: bool = False) -> None:
        """Put a line into the field.

        Args:
            value: the line; the cursor goes behind it.
            waiting: a refused line: a new one replaces it, and it can be mended with the arrows.
        """
        self.value = value
        self.selection = Selection(0, len(value)) if waiting else Selection.cursor(len(value))

    def _on_paste(self, event: events.Paste) -> None:
        """Take only what can be shown of a pasted text, on one line."""
        event.prevent_default()
        event.stop()
        if not self.is_asking:
            self.insert_text_at_cursor(plain(" ".join(event.text.split())))


def _swallow(event: events.Key) -> None:
    event.stop()
    event.prevent_default()
