"""A drawer with a field: keys that come before the field is ready are kept, and put in after."""

from __future__ import annotations

from typing import ClassVar, TypeVar

from textual import events
from textual.widgets import Input

from tui.dialogs.drawer import Drawer

__all__ = ["FieldDrawer"]

R = TypeVar("R")


class FieldDrawer(Drawer[R]):
    """What is typed in the moment while the drawer opens is not lost, and takes nothing half."""

    TAKES_EARLY_ENTER: ClassVar[bool] = False
    """Whether Enter among those keys accepts; else it has to be pressed again."""

    def __init__(self, title: str, sentence: str = "") -> None:
        super().__init__(title, sentence)
        self._early = ""

    def keep(self, text: str) -> None:
        """Put this into the field, or keep it until there is one."""
        if isinstance(self.focused, Input):
            self.focused.insert_text_at_cursor(text)
        else:
            self._early += text

    def on_key(self, event: events.Key) -> None:
        """Keep letters and Enter while the field has not got the focus yet."""
        if self.focused is not None or not (event.is_printable or event.key == "enter"):
            return
        event.stop()
        event.prevent_default()
        self._early += "\r" if event.key == "enter" else (event.character or "")

    def on_descendant_focus(self) -> None:
        """Put in what was kept."""
        early, self._early = self._early, ""
        letters, enter, _ = early.partition("\r")
        if letters and isinstance(self.focused, Input):
            self.focused.insert_text_at_cursor(letters)
        if enter and self.TAKES_EARLY_ENTER:
            self.accept()

    def action_accept(self) -> None:
        """Take the answer, once what was typed stands in the field."""
        if isinstance(self.focused, Input):
            self.accept()
        else:
            self._early += "\r"

    def accept(self) -> None:
        """Take the answer as it stands; each kind of drawer says what that is."""
        self.dismiss(None)
