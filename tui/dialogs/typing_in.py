"""A line of text from the user."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.app import App, ComposeResult
from textual.widgets.input import Selection

from core.errors import BackToBackError
from tui.dialogs.early_keys import FieldDrawer
from tui.widgets.line_input import LineInput

__all__ = ["TextDrawer", "ask_text"]

Check = Callable[[str], object]


class TextDrawer(FieldDrawer[str]):
    """A field of one row; what the check refuses is said in the drawer and can be corrected.

    Args:
        title: what to type.
        sentence: more about it.
        value: what stands in the field at first.
        hint: what stands in the empty field.
        check: called with the text; raises BackToBackError when it is not taken.
    """

    TAKES_EARLY_ENTER = True

    def __init__(
        self,
        title: str,
        *,
        sentence: str = "",
        value: str = "",
        hint: str = "",
        check: Check | None = None,
    ) -> None:
        super().__init__(title, sentence)
        self._value = value
        self._hint = hint
        self._check = check

    def compose_body(self) -> ComposeResult:
        """Yield the field."""
        yield LineInput(self._value, hint=self._hint)

    def on_input_changed(self) -> None:
        """Take the complaint away once something else is typed."""
        self.complain("")

    def accept(self) -> None:
        """Take the text, unless the check refuses it."""
        field = self.query_one(LineInput)
        text = field.value
        try:
            if self._check is not None:
                self._check(text)
        except BackToBackError as error:
            self.complain(" ".join(filter(None, (error.message, error.hint))))
            if " " not in text:  # one value: the next one takes its place; words are mended
                field.selection = Selection(0, len(text))
        else:
            self.dismiss(text)


async def ask_text(
    app: App[Any],
    title: str,
    *,
    sentence: str = "",
    value: str = "",
    hint: str = "",
    check: Check | None = None,
) -> str | None:
    """Ask for a line of text and wait for it.

    Args:
        app: the app.
        title: what to type.
        sentence: more about it.
        value: what stands in the field at first.
        hint: what stands in the empty field.
        check: called with the text when it is to be taken; raises BackToBackError when it is not.
            Where it saves the text, words are not lost when the disk takes nothing.

    Returns:
        The text as typed, which may be empty, or None when esc was pressed.
    """
    return await app.push_screen_wait(
        TextDrawer(title, sentence=sentence, value=value, hint=hint, check=check)
    )
