"""A reading before it is kept: one line for each thing that is known of it."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from core.errors import BackToBackError
from tui.commands import bindings_for
from tui.dialogs import Drawer, asking
from tui.screens.bench.fields import Asker, fields_of
from tui.screens.bench.taken import Taking
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

__all__ = ["TakingDrawer"]


class TakingDrawer(Drawer[Taking], inherit_bindings=False):
    """A reading with how it was taken; a digit or space changes a line, enter keeps it.

    Args:
        asker: what the questions need.
        taking: the reading so far.
        where: one sentence about where it goes.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("taking")

    def __init__(self, asker: Asker, taking: Taking, where: str) -> None:
        super().__init__(taking.title, where)
        self._asker = asker
        self._taking = taking

    def compose_body(self) -> ComposeResult:
        """Yield the lines."""
        yield RecordList((Column("", 1, 1), Column("", 11, 11), Column("", 12, 200)), titles=False)

    def on_mount(self) -> None:
        """Show the reading."""
        self._show()

    def _show(self) -> None:
        lines = [
            Line(
                str(number),
                (
                    Toned(str(number), "strong"),
                    field.words,
                    plain(field.shown(self._asker, self._taking)),
                ),
            )
            for number, field in enumerate(fields_of(self._taking), 1)
        ]
        self.query_one(RecordList).set_records(lines)

    def on_key(self, event: events.Key) -> None:
        """Change the line whose digit was pressed."""
        digit = event.character or ""
        if digit.isdecimal() and 1 <= int(digit) <= len(fields_of(self._taking)):
            event.stop()
            self.query_one(RecordList).cursor = int(digit) - 1
            self.action_change()

    def on_record_list_chosen(self) -> None:
        """Change the line that was clicked."""
        self.action_change()

    @asking
    async def action_change(self) -> None:
        """Ask for the line under the cursor."""
        field = fields_of(self._taking)[self.query_one(RecordList).cursor]
        self.complain("")
        changed = await field.ask(self._asker, self._taking)
        if changed is not None:
            self._taking = changed
            self._show()

    def action_keep(self) -> None:
        """Take the reading, unless it is refused as a whole."""
        try:
            self._taking.took(self._asker.book, self._asker.subject)
        except BackToBackError as error:
            self.complain(" ".join(filter(None, (error.message, error.hint))))
        else:
            self.dismiss(self._taking)
