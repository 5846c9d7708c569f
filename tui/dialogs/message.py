"""Something the user should read: a title, a sentence and what to do about it."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from core.errors import BackToBackError
from tui.commands import bindings_for
from tui.dialogs.drawer import Drawer
from tui.text import safe

__all__ = ["MessageDrawer", "show_error", "show_message"]


class MessageDrawer(Drawer[bool], inherit_bindings=False):
    """A message; enter, space or esc closes it.

    Args:
        title: what it is about.
        sentence: what there is to say.
        hint: what to do about it; may be empty.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("message")
    LONG_WORDS = True

    def __init__(self, title: str, sentence: str, hint: str = "") -> None:
        super().__init__(title, sentence)
        self._hint = hint

    @classmethod
    def of(cls, error: BackToBackError) -> MessageDrawer:
        """Return the message for a refusal of the core."""
        return cls(error.title, error.message, error.hint)

    def compose_body(self) -> ComposeResult:
        """Yield the hint."""
        if self._hint:
            yield Static(safe(self._hint), classes="drawer-hint")

    def action_close(self) -> None:
        """Close it."""
        self.dismiss(True)


async def show_message(app: App[Any], title: str, sentence: str, hint: str = "") -> None:
    """Show a message and wait until it is closed."""
    await app.push_screen_wait(MessageDrawer(title, sentence, hint))


async def show_error(app: App[Any], error: BackToBackError) -> None:
    """Show a refusal of the core and wait until it is closed."""
    await app.push_screen_wait(MessageDrawer.of(error))
