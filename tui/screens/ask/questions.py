"""The twenty questions as a list; a number takes one, enter the one under the cursor."""

from __future__ import annotations

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from core.ask import QUESTIONS
from core.errors import InputError
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking
from tui.screens.base import HouseScreen
from tui.screens.routes import make_screen
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

__all__ = ["AskScreen"]

_COLUMNS: Final = (
    Column("No", 2, 2, right=True),
    Column("Question", 20, 70),
    Column("About", 10, 40, rank=1, extra=True),
)


class AskScreen(HouseScreen[None]):
    """What the log can be asked.

    Args:
        machine: id of the machine that questions are about where none is named; may be empty.
    """

    SCENE = "ask"
    AUTO_FOCUS = "RecordList"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("ask")

    def __init__(self, machine: str = "") -> None:
        super().__init__()
        self._machine = machine
        self._digits = ""  # of a number that may have one more

    def compose_body(self) -> ComposeResult:
        """Yield the list."""
        yield RecordList(_COLUMNS)

    def on_mount(self) -> None:
        """Fill the list."""
        name = self.house.book.name_of(self._machine) if self.house.has_book else ""
        self.entitle("Ask the log", name)
        self.usually_say("A number takes a question; enter the one under the cursor.")
        lines = [
            Line(str(q.number), (Toned(str(q.number), "strong"), q.words, Toned(q.about, "quiet")))
            for q in QUESTIONS
        ]
        self.query_one(RecordList).set_records(lines)

    def on_key(self, event: events.Key) -> None:
        """Take a number: at once when no other begins so, else by one more digit or enter."""
        if not (event.character and event.character.isdigit()):
            return
        event.stop()
        typed = self._digits + event.character
        numbers = [str(q.number) for q in QUESTIONS if str(q.number).startswith(typed.lstrip("0"))]
        if not typed.lstrip("0"):
            self._wait(typed)
        elif len(numbers) == 1 or (typed in numbers and len(typed) > 1):
            self._open(int(typed))
        elif numbers:
            self._wait(typed)
            self.query_one(RecordList).go_to(typed.lstrip("0"))
        else:
            self._digits = ""
            self.say(f"There is no question {typed}.")

    def _wait(self, typed: str) -> None:
        self._digits = typed
        self.say(f"{typed} … enter takes it, another digit goes on.")

    def _open(self, number: int) -> None:
        self._digits = ""
        self.say("")
        self.query_one(RecordList).go_to(str(number))
        self.app.push_screen(make_screen("answer", self._machine, number))

    def on_record_list_chosen(self) -> None:
        """Answer the question that was clicked."""
        self.action_answer()

    def on_record_list_moved(self) -> None:
        """Forget half a number when the cursor is moved by hand."""
        if self._digits and (row := self.query_one(RecordList).current) is not None:
            self._digits = self._digits if row.id == self._digits else ""

    # -- commands ------------------------------------------------------------------------------

    def action_answer(self) -> None:
        """Answer the question under the cursor."""
        row = self.query_one(RecordList).current
        if row is not None:
            self._open(int(row.id))

    @asking
    async def action_search(self) -> None:
        """Look for words everywhere."""
        words = await ask_text(
            self.app,
            "Look for which words?",
            sentence="In notes, tags, strikes, checks, sheets, parts and places.",
            check=_some_words,
        )
        if words is not None:
            self.app.push_screen(make_screen("answer", self._machine, 0, words))

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)


def _some_words(typed: str) -> None:
    if not typed.strip():
        raise InputError("Type a word to look for.")
