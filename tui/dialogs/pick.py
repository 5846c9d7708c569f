"""A pick from a list by a few letters, with a new entry where that is allowed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from textual.app import App, ComposeResult
from textual.widgets import Input

from core.errors import BackToBackError
from tui.dialogs.early_keys import FieldDrawer
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.line_input import FilterInput
from tui.widgets.record_list import RecordList
from tui.widgets.records import Cell, Toned

__all__ = ["PickDrawer", "PickRow", "Picked", "pick"]

_NEW = "new"
Check = Callable[[str], object]


@dataclass(frozen=True)
class PickRow:
    """One thing that can be picked."""

    id: str
    words: str
    note: str = ""  # set quietly beside it
    also: tuple[str, ...] = ()  # other names that find it

    @property
    def cells(self) -> tuple[Cell, ...]:
        """What the list shows."""
        return self.words, Toned(self.note, "quiet")

    @property
    def names(self) -> tuple[str, ...]:
        """What it is called, casefolded."""
        return tuple(name.casefold() for name in (self.words, *self.also))


@dataclass(frozen=True)
class Picked:
    """What was picked: the id of a row, or the text of a new entry."""

    id: str = ""
    new: str = ""


class PickDrawer(FieldDrawer[Picked]):
    """Rows that typing narrows; enter takes the one under the cursor.

    Args:
        title: what to pick.
        rows: what there is.
        at: id of the row the cursor starts on.
        new: what a new entry is called, such as ``a new place``; empty: only rows can be picked.
        check: called with a new entry's text; raises BackToBackError when it is not taken.
    """

    def __init__(
        self,
        title: str,
        rows: Sequence[PickRow],
        *,
        at: str = "",
        new: str = "",
        check: Check | None = None,
    ) -> None:
        super().__init__(title)
        self._rows = tuple(rows)
        self._at = at
        self._new = new
        self._check = check
        self._list = RecordList((Column("", 10, 60), Column("", 0, 60, rank=1)), titles=False)

    def compose_body(self) -> ComposeResult:
        """Yield the field and the list."""
        hint = "type a few letters" + (f", or the name of {self._new}" if self._new else "")
        yield FilterInput(self._list, hint=hint)
        yield self._list

    def on_mount(self) -> None:
        """Fill the list."""
        self._list.can_focus = False
        self._list.set_records(self._rows, at=self._at)

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what fits the text, and the text itself as a new entry where that is allowed."""
        event.stop()
        self.complain("")
        words = event.value.casefold().split()
        fits = [
            row
            for row in self._rows
            if all(word in " ".join((*row.names, row.note.casefold())) for word in words)
        ]
        text = " ".join(event.value.split())
        known = any(text.casefold() in row.names for row in self._rows)
        if self._new and text and not known:
            fits.append(PickRow(_NEW, f"+ {plain(text)}", self._new))
        self._list.set_records(fits)

    def on_record_list_chosen(self) -> None:
        """Take the row that was clicked."""
        self.accept()

    def accept(self) -> None:
        """Take the row under the cursor, or the new entry unless the check refuses it."""
        current = self._list.current
        if current is None:
            self.complain("Nothing fits what is typed.")
        elif current.id != _NEW:
            self.dismiss(Picked(id=current.id))
        else:
            self._take_new(" ".join(self.query_one(FilterInput).value.split()))

    def _take_new(self, text: str) -> None:
        try:
            if self._check is not None:
                self._check(text)
        except BackToBackError as error:
            self.complain(" ".join(filter(None, (error.message, error.hint))))
        else:
            self.dismiss(Picked(new=text))


async def pick(
    app: App[Any],
    title: str,
    rows: Sequence[PickRow],
    *,
    at: str = "",
    new: str = "",
    check: Check | None = None,
) -> Picked | None:
    """Ask for one row of many, or a new entry, and wait for it.

    Args:
        app: the app.
        title: what to pick.
        rows: what there is.
        at: id of the row the cursor starts on.
        new: what a new entry is called, such as ``a new place``; empty: only rows can be picked.
        check: called with a new entry's text; raises BackToBackError when it is not taken.

    Returns:
        The pick, or None when esc was pressed.
    """
    return await app.push_screen_wait(PickDrawer(title, rows, at=at, new=new, check=check))
