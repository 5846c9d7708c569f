"""A field of one row for typing, and one that filters a list while it keeps the cursor moving."""

from __future__ import annotations

from typing import ClassVar, Final

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.widgets import Input

from tui.commands import bindings_for
from tui.text import STAND_IN, plain
from tui.widgets.record_list import RecordList

__all__ = ["FilterInput", "LineInput"]

_LONGEST = 2_000  # characters; a note longer than that is a document of its own


_TYPING: Final = [
    binding
    for binding in Input.BINDINGS
    if isinstance(binding, Binding) and binding.key not in ("enter", "ctrl+c,super+c")
]


class LineInput(Input, inherit_bindings=False):
    """One row for typing; what is typed stays as it is and is never read as markup.

    Enter is left to the screen, whose key line says what it does.
    """

    BINDINGS: ClassVar[list[BindingType]] = [*_TYPING]

    def __init__(self, value: str = "", *, hint: str = "") -> None:
        super().__init__(
            value,
            placeholder=plain(hint),
            compact=True,
            select_on_focus=False,
            max_length=_LONGEST,
        )
        self.cursor_blink = False

    def insert_text_at_cursor(self, text: str) -> None:
        """Insert as much of a text as there is room for."""
        super().insert_text_at_cursor(text[: _LONGEST - len(self.value)])

    @property
    def _value(self) -> Text:
        """What is drawn: the value with a stand-in for each character that no screen shows."""
        shown = "".join(c if c.isprintable() or c == " " else STAND_IN for c in self.value)
        return Text(shown, no_wrap=True, overflow="ignore", end="")


class FilterInput(LineInput):
    """A field whose text narrows a list; up and down move in the list while typing.

    Args:
        records: the list.
        hint: what stands in the empty field.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("list")

    def __init__(self, records: RecordList, *, hint: str = "") -> None:
        super().__init__(hint=hint)
        self._records = records

    def action_up(self) -> None:
        """Move one line up in the list."""
        self._records.action_up()

    def action_down(self) -> None:
        """Move one line down in the list."""
        self._records.action_down()

    def action_page_up(self) -> None:
        """Move one screen up in the list."""
        self._records.action_page_up()

    def action_page_down(self) -> None:
        """Move one screen down in the list."""
        self._records.action_page_down()

    def action_first(self) -> None:
        """Go to the first line of the list."""
        self._records.action_first()

    def action_last(self) -> None:
        """Go to the last line of the list."""
        self._records.action_last()
