"""The what-if screen: a machine on paper, before and after side by side, with what falls due."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from core.errors import BlockedError
from core.reckon import BuildSide, WhatIf
from core.reckon.warnings import warnings_of
from tui.commands import bindings_for
from tui.dialogs import asking
from tui.screens.base import HouseScreen
from tui.screens.curves.screen import show_curves
from tui.screens.what_if.asking import ask_change, ask_top_speed
from tui.screens.what_if.plan import Planned, shown_side
from tui.screens.what_if.planning import start_planned
from tui.screens.what_if.rows import DUE, PLAN_COLUMNS, SLOT, PlanRow, plan_lines, plan_rows
from tui.screens.why.screen import ask_why
from tui.subject import Subject
from tui.text import safe, safe_lines
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line

__all__ = ["WhatIfScreen"]

_EMPTY = "Nothing is changed on paper yet: f picks a slot. What stands here is as it is now."
_WARNING = "▲"


class WhatIfScreen(HouseScreen[None]):
    """A plan for one machine; only the plan changes, never its setup sheet.

    Args:
        subject: the machine or loose engine as it stands.
    """

    SCENE = "what-if"
    AUTO_FOCUS = "RecordList"
    CSS_PATH = Path(__file__).with_name("what_if.tcss")
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - the base class declares it so
        (0, "-narrow"),
        (60, "-usual"),
        (132, "-wide"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("what-if")

    def __init__(self, subject: Subject) -> None:
        super().__init__()
        self.subject = subject
        self.planned: Planned = self.house.plans.get(subject.id, Planned())
        self.made: WhatIf = self.planned.made(subject, self.house.clock())
        self._other = False  # the deck kept stands under After
        self._rows: tuple[PlanRow, ...] = ()
        self._list = RecordList(PLAN_COLUMNS)

    def compose_body(self) -> ComposeResult:
        """Yield the warnings, the two sides and everything about one line."""
        yield Static(id="plan-warned")
        yield Static(id="plan-said")
        with Vertical(id="plan-body"):
            yield self._list
            with VerticalScroll(id="plan-detail", can_focus=False):
                yield Static(id="plan-words")

    def on_mount(self) -> None:
        """Show the plan as it was left."""
        self.entitle("What if", f"{self.subject.words}; nothing here is saved")
        self._show()

    # -- what it shows -------------------------------------------------------------------------

    def _show(self, at: str | None = None) -> None:
        self._rows = plan_rows(self.made, other=self._other)
        self._list.set_records(plan_lines(self._rows), at=at)
        side = shown_side(self.made, other=self._other)
        warned = tuple(f"{_WARNING} {one}" for one in self._warnings(side))
        self.query_one("#plan-warned", Static).update(safe_lines("\n".join(warned)))
        self.query_one("#plan-warned").display = bool(warned)
        notes = " ".join(self._notes(side)) if self.made.changes else _EMPTY
        self.query_one("#plan-said", Static).update(safe_lines(notes))
        self._detail()

    def _warnings(self, side: BuildSide) -> tuple[str, ...]:
        """Return what speaks against the plan as it is shown, and what is unusual in it."""
        made = self.made
        if not made.changes:
            return ()
        against = warnings_of(side, made.own or {}) if self._other else made.warnings
        return (*against, *made.questions)

    def _notes(self, side: BuildSide) -> Iterator[str]:
        """Yield what was taken for granted, and how much falls due."""
        made = self.made
        if self._other:
            yield f"Shown is {side.label}; d shows it with nothing done about the deck."
            yield from made.assumed[:-1]  # the last one is about the deck
        else:
            yield from made.assumed
            yield from ("d shows it with the deck kept.",) if made.alternatives else ()
        if side.due:
            count = f"{len(side.due)} check{'' if len(side.due) == 1 else 's'}"
            yield f"{count} due with it: see the end of the list."

    def _detail(self) -> None:
        row = self._row()
        words = "" if row is None else "\n".join((f"{row.label.strip()}", *row.full))
        self.query_one("#plan-words", Static).update(safe_lines(words) if words else safe(""))
        self.query_one("#plan-detail").scroll_home(animate=False)

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Say everything about the line under the cursor."""
        event.stop()
        self._detail()

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Change what was clicked."""
        event.stop()
        self.action_change()

    def on_resize(self, event: events.Resize) -> None:
        """Keep the detail at its top."""
        self._detail()

    def _row(self) -> PlanRow | None:
        current = self._list.current
        name = current.id if isinstance(current, Line) else ""
        return next((row for row in self._rows if row.id == name), None)

    def _slot(self) -> str:
        """Id of the slot whose change is under the cursor; empty: another line is."""
        row = self._row()
        if row is None or not row.id.startswith(SLOT):
            return ""
        return row.id.removeprefix(SLOT)

    # -- changing ------------------------------------------------------------------------------

    def _take(self, planned: Planned | None, *, at: str | None = None) -> None:
        """Take the plan over; what follows is worked out at once."""
        if planned is None:
            return
        made = planned.made(self.subject, self.house.clock())
        self.planned, self.made = planned, made
        self.house.plans[self.subject.id] = planned
        self._other = self._other and bool(made.alternatives)
        self._show(at)

    @asking
    async def action_pick(self) -> None:
        """Ask for a slot and change it."""
        await self._ask("")

    @asking
    async def action_change(self) -> None:
        """Ask for the change under the cursor once more; on another line for any slot."""
        await self._ask(self._slot())

    async def _ask(self, slot: str) -> None:
        book, now = self.house.book, self.house.clock()
        planned = await ask_change(self.app, book, self.subject.sheet, self.planned, slot, now)
        self._take(planned, at=SLOT + slot if slot else "")

    def action_drop(self) -> None:
        """Take the change under the cursor off the plan."""
        slot = self._slot()
        if not slot:
            raise BlockedError("x takes a change off: put the cursor on one, at the top.")
        if slot not in self.planned.typed:
            raise BlockedError("This comes with another change: take that one off.")
        self._take(self.planned.without(slot), at="")

    def action_other_way(self) -> None:
        """Show the plan with the deck kept, or not."""
        if not self.made.alternatives:
            raise BlockedError("This plan does not move the deck: there is no other way to show.")
        self._other = not self._other
        self._show()

    @asking
    async def action_top_speed(self) -> None:
        """Ask for the top speed that is expected."""
        self._take(await ask_top_speed(self.app, self.planned))

    # -- looking further -----------------------------------------------------------------------

    @asking
    async def action_why(self) -> None:
        """Explain the value under the cursor as it would be, or any other."""
        row, subject = self._row(), self.subject
        name = "" if row is None or row.id.startswith((SLOT, DUE)) else row.id
        name = "_".join(name.split("_")[:2]) if name.startswith("gap_") else name
        side = shown_side(self.made, other=self._other)
        words = f"{subject.name}, on paper" if self.made.changes else subject.words
        await ask_why(
            self.app, side.sheet, subject.rpm_factory, subject.past, at=name, words=words,
            before=subject.sheet,
        )  # fmt: skip

    @asking
    async def action_curves(self) -> None:
        """Show lift, piston and gap as they would be."""
        side = shown_side(self.made, other=self._other)
        await show_curves(self.app, self.subject, side.sheet, side.label)

    @asking
    async def action_plan(self) -> None:
        """Put these changes on the sheet of a new session, or of the open one."""
        from tui.screens.session.screen import SessionScreen  # that one leads here too

        session = await start_planned(self.house, self.subject, self.planned)
        if session is not None:
            self.house.plans.pop(self.subject.id, None)
            below = any(
                isinstance(screen, SessionScreen) and screen.desk.session.id == session.id
                for screen in self.app.screen_stack
            )
            self.dismiss(None)
            if not below:  # one that is below reads it again
                self.house.call_later(self.house.open_session, session.id)

    def action_back(self) -> None:
        """Go back; the plan stays."""
        self.dismiss(None)
