"""Planning a session: one line for each thing that is fixed before the day, picked, not typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from tui.commands import bindings_for
from tui.dialogs.asking import asking
from tui.dialogs.drawer import Drawer
from tui.dialogs.plan_fields import FIELDS, Asker
from tui.drafts import Draft, first_draft, start
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

if TYPE_CHECKING:
    from core.session.documents import Session
    from tui.app import BackToBackApp

__all__ = ["PlanDrawer", "new_session"]


class PlanDrawer(Drawer[Draft], inherit_bindings=False):
    """A draft with one line for each field; its digit or space changes it, enter starts.

    Args:
        asker: what the questions need.
        draft: what it starts from.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("plan")

    def __init__(self, asker: Asker, draft: Draft) -> None:
        super().__init__(f"New session {draft.label}", " ")
        self._asker = asker
        self._draft = draft

    def compose_body(self) -> ComposeResult:
        """Yield the lines."""
        yield RecordList((Column("", 1, 1), Column("", 13, 13), Column("", 12, 200)), titles=False)

    def on_mount(self) -> None:
        """Show the draft."""
        self._show()

    def _show(self) -> None:
        draft = self._draft
        copied = f"Starts on a copy of the setup sheet of {draft.before_label}."
        self.explain(copied if draft.before else "Starts on an empty setup sheet.")
        lines = []
        for number, (name, field) in enumerate(FIELDS.items(), 1):
            value, note = field.shown(draft)
            shown = f"{value}   {note}".rstrip()
            lines.append(Line(name, (Toned(str(number), "strong"), field.words, shown)))
        self.query_one(RecordList).set_records(lines)

    def on_key(self, event: events.Key) -> None:
        """Change the line whose digit was pressed."""
        digit = event.character or ""
        if digit.isdecimal() and 1 <= int(digit) <= len(FIELDS):
            event.stop()
            self.query_one(RecordList).cursor = int(digit) - 1
            self.action_change()

    def on_record_list_chosen(self) -> None:
        """Change the line that was clicked."""
        self.action_change()

    @asking
    async def action_change(self) -> None:
        """Ask for the line under the cursor."""
        current = self.query_one(RecordList).current
        if current is None:
            return
        self.complain("")
        changed = await FIELDS[current.id].ask(self._asker, self._draft)
        if changed is not None:
            self._draft = changed
            self._show()

    def action_start(self) -> None:
        """Start, unless something is missing."""
        missing = self._draft.missing
        if missing:
            self.query_one(RecordList).go_to(missing)
            self.complain(f"A session needs a {missing}: space picks it.")
        else:
            self.dismiss(self._draft)


async def new_session(app: BackToBackApp) -> Session | None:
    """Plan a session, start and save it; return it, or None when esc was pressed."""
    book, preferences = app.book, app.preferences.now
    asker = Asker(app, book, lambda machine: first_draft(book, preferences, machine))
    agreed = await app.push_screen_wait(PlanDrawer(asker, first_draft(book, preferences)))
    if agreed is None:
        return None
    session = start(book, agreed)
    app.preferences.change(
        machine=session.machine, place=session.place, test=session.test, timing=session.timing
    )
    return session
