"""A choice by one key, and a yes or no."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from textual import events
from textual.app import App, ComposeResult

from tui.dialogs.drawer import Drawer
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

__all__ = ["ChoiceDrawer", "Option", "ask_choice", "confirm"]


class ChoiceLike(Protocol):
    """What an answer has: the core's choices have it as well."""

    @property
    def key(self) -> str:
        """The letter or digit that picks it."""

    @property
    def words(self) -> str:
        """What it says."""


@dataclass(frozen=True)
class Option:
    """One answer that is no more than its key and its words."""

    key: str
    words: str


C = TypeVar("C", bound=ChoiceLike)


class ChoiceDrawer(Drawer[C], Generic[C]):
    """One line for each answer; its key takes it, enter takes the one under the cursor.

    Args:
        title: the question.
        choices: the answers.
        sentence: more about the question.
        at: index of the answer the cursor starts on.
    """

    def __init__(
        self, title: str, choices: Sequence[C], *, sentence: str = "", at: int = 0
    ) -> None:
        super().__init__(title, sentence)
        self._choices = tuple(choices)
        self._at = at

    def compose_body(self) -> ComposeResult:
        """Yield the list of answers."""
        widest = max(len(choice.key) for choice in self._choices)
        yield RecordList((Column("", widest, 8), Column("", 10, 200)), titles=False)

    def on_mount(self) -> None:
        """Fill the list."""
        lines = [Line(c.key, (Toned(c.key, "strong"), c.words)) for c in self._choices]
        self.query_one(RecordList).set_records(lines, at=self._choices[self._at].key)

    def on_key(self, event: events.Key) -> None:
        """Take the answer whose key was pressed."""
        pressed = (event.character or "").casefold()
        for choice in self._choices:
            if pressed and choice.key.casefold() == pressed:
                event.stop()
                event.prevent_default()
                self.dismiss(choice)
                return

    def on_record_list_chosen(self) -> None:
        """Take the answer that was clicked."""
        self.action_accept()

    def action_accept(self) -> None:
        """Take the answer under the cursor."""
        current = self.query_one(RecordList).current
        if current is not None:
            self.dismiss(next(c for c in self._choices if c.key == current.id))


async def ask_choice(
    app: App[Any], title: str, choices: Sequence[C], *, sentence: str = "", at: int = 0
) -> C | None:
    """Ask for one of a few answers and wait for it.

    Args:
        app: the app.
        title: the question.
        choices: anything with ``key`` and ``words``; keys are letters or digits, each one once.
        sentence: more about the question.
        at: index of the answer the cursor starts on.

    Returns:
        The answer, or None when esc was pressed.
    """
    return await app.push_screen_wait(ChoiceDrawer(title, choices, sentence=sentence, at=at))


async def confirm(
    app: App[Any], title: str, sentence: str = "", *, yes: str = "Yes", no: str = "No"
) -> bool:
    """Ask y or n and wait for it; the cursor starts on no, and esc means no.

    Args:
        app: the app.
        title: the question.
        sentence: what it would do.
        yes: the words beside y.
        no: the words beside n.
    """
    options = (Option("y", yes), Option("n", no))
    answer = await ask_choice(app, title, options, sentence=sentence, at=1)
    return answer is options[0]
