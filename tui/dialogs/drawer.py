"""What all dialogs share: a drawer at the bottom, with the screen still readable above it."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar, TypeVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.commands import bindings_for
from tui.text import safe, safe_lines
from tui.widgets.lines import KeyLine

__all__ = ["Drawer"]

R = TypeVar("R")


class Drawer(ModalScreen[R | None]):
    """A modal drawer; esc answers None.

    Args:
        title: what is asked, in a few words.
        sentence: more about it; may be empty.
    """

    CSS_PATH = Path(__file__).with_name("drawer.tcss")
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("dialog")
    VERTICAL_BREAKPOINTS = [(0, "-short"), (16, "-tall")]  # noqa: RUF012 - the base has it so
    LONG_WORDS: ClassVar[bool] = False
    """Whether the sentence may be long and is scrolled by the arrow keys."""

    def __init__(self, title: str, sentence: str = "") -> None:
        super().__init__()
        self._title = title
        self._sentence = sentence

    def compose(self) -> ComposeResult:
        """Put title, sentence, body, complaint and keys under each other."""
        with Vertical(classes="drawer"):
            yield Static(safe(self._title), classes="drawer-title")
            if self._sentence:
                with VerticalScroll(can_focus=self.LONG_WORDS, classes="drawer-words"):
                    yield Static(safe_lines(self._sentence), classes="drawer-sentence")
            yield from self.compose_body()
            yield Static(classes="drawer-complaint -empty")
            yield KeyLine()

    def compose_body(self) -> ComposeResult:
        """Yield what is between the sentence and the keys."""
        yield from ()

    def explain(self, sentence: str) -> None:
        """Change the sentence under the title; only for a drawer that was given one."""
        self.query_one(".drawer-sentence", Static).update(safe_lines(sentence))

    def complain(self, sentence: str) -> None:
        """Say in the drawer why the answer is not taken; empty takes it away."""
        line = self.query_one(".drawer-complaint", Static)
        line.update(safe(sentence))
        line.set_class(not sentence, "-empty")

    def action_accept(self) -> None:
        """Take the answer; a drawer that asks for one says here what it is."""
        self.dismiss(None)

    def action_back(self) -> None:
        """Leave without an answer."""
        self.dismiss(None)
