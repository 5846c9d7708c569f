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
from tui.drafts import Draft, first_draft, renewed, start
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
        kept: what was typed before and left with esc; None: nothing.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("plan")

    def __init__(self, asker: Asker, draft: Draft, kept: Draft | None = None) -> None:
        super().__init__(f"New session {draft.label}", " ")
        self._asker = asker
        self._fresh = draft
        self._draft = kept or draft
        self._cleared: Draft | None = None  # what was cleared, until something else is typed
        self._left = kept  # as it was left; still shown as such while nothing else was typed

    @property
    def typed(self) -> Draft | None:
        """What was typed so far; None: nothing that is not there by itself."""
        return None if self._draft == self._fresh else self._draft

    def compose_body(self) -> ComposeResult:
        """Yield the lines."""
        yield RecordList((Column("", 1, 1), Column("", 13, 13), Column("", 12, 200)), titles=False)

    def on_mount(self) -> None:
        """Show the draft."""
        self._show()

    def _show(self) -> None:
        draft = self._draft
        copied = f"Starts on a copy of the setup sheet of {draft.before_label}."
        sheet = copied if draft.before else "Starts on an empty setup sheet."
        left = "As you left it; x clears it. " if draft == self._left else ""
        left = "Cleared; x brings it back. " if self._cleared is not None else left
        if draft.copied_from is not None:
            whose = draft.copied_from.name
            sheet = f"Starts on the values of {whose}, copied until confirmed, without its parts."
        self.explain(f"{left}{sheet}")
        self.refresh_bindings()
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
            self._draft, self._cleared = changed, None
            self._show()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave out clearing while there is nothing to clear."""
        return action != "fresh" or self.typed is not None or self._cleared is not None

    def action_fresh(self) -> None:
        """Forget what was typed, or bring back what was just forgotten."""
        typed, back = self.typed, self._cleared
        self._draft, self._cleared = back or self._fresh, typed
        self.complain("")
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
    """Plan a session, start and save it; return it, or None when esc was pressed.

    What was typed before esc is kept by the app, and offered the next time.
    """
    book, preferences = app.book, app.preferences.now
    asker = Asker(app, book, lambda machine: first_draft(book, preferences, machine))
    kept = renewed(app.kept_plan, book, preferences) if app.kept_plan is not None else None
    drawer = PlanDrawer(asker, first_draft(book, preferences), kept)
    agreed = await app.push_screen_wait(drawer)
    app.kept_plan = drawer.typed if agreed is None else None
    if agreed is None:
        return None
    session = start(book, agreed)
    app.preferences.change(
        machine=session.machine, place=session.place, test=session.test, timing=session.timing
    )
    return session
