"""The log list: all sessions, newest first; opens, starts, marks and compares them."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Final, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from core.errors import BackToBackError, BlockedError, LogReadOnlyError
from tui.commands import bindings_for
from tui.dialogs import asking, confirm, show_message
from tui.notices import notices
from tui.screens.base import HouseScreen
from tui.screens.giving import GivingBack
from tui.screens.routes import make_screen
from tui.text import safe_lines
from tui.widgets.columns import Column
from tui.widgets.line_input import FilterInput
from tui.widgets.record_list import RecordList
from tui.widgets.session_card import SessionCard

if TYPE_CHECKING:
    from tui.log_rows import LogRow, LogState

__all__ = ["COLUMNS", "LogListScreen"]

COLUMNS: Final = (
    Column("Label", 5, 14),
    Column("Date", 9, 9, right=True, rank=3),
    Column("Machine", 7, 22, rank=2),
    Column("Test", 5, 12, rank=5),
    Column("Place", 8, 24, rank=6),
    Column("n", 2, 4, right=True, rank=4),
    Column("Mean", 9, 26, right=True, rank=1),
    Column("State", 9, 9),
    Column("Question", 16, 70, rank=7, extra=True),
)

_EMPTY: Final = (
    "No session yet.\n\nPress n to start the first one: pick a machine, a place and a test, "
    "then say what is bolted on.\nEverything is saved as you enter it."
)
_MARKS_AT_MOST: Final = 8  # more do not fit one axis
_ALONE: Final = "; c compares it with the one under the cursor"
_HOW: Final = ("", _ALONE, "; c compares them", "; c lays them side by side")
_NEEDS_ROWS: Final = ("open", "filter", "mark", "compare", "clear", "effects", "next")


class LogListScreen(GivingBack, HouseScreen[None]):
    """All sessions of the log under a filter."""

    SCENE = "log"
    AUTO_FOCUS = "RecordList"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("log")

    def __init__(self) -> None:
        super().__init__(classes="-nothing")
        self._state: LogState | None = None
        self._list = RecordList(COLUMNS)

    def compose_body(self) -> ComposeResult:
        """Yield notices, filter, list and, where there is room, the card of one session."""
        yield Static(id="notices")
        with Horizontal(id="filter-row"):
            yield Static("/", id="filter-sign")
            yield FilterInput(self._list, hint="label, machine, place, test, date, tag")
        with Horizontal(id="log-body"):
            yield self._list
            yield SessionCard()
        yield Static("Reading the log …", id="instead", markup=False)

    def on_mount(self) -> None:
        """Show the frame at once; the log is read after that."""
        self.entitle("Back to Back")
        self.app.call_after_refresh(self.house.read_log)

    # -- what it shows -------------------------------------------------------------------------

    def show_log(self, state: LogState) -> None:
        """Show the log as it was read, with the cursor on a session that was left open."""
        first = self._state is None
        old = self._left_open(state)
        self._take(state, at=old[0].id if first and old else None)

    def show_refusal(self, error: BackToBackError) -> None:
        """Say why there is no log, and what can be done."""
        lines = (error.title, "", error.message, error.hint, "", "r tries again, ctrl+q leaves.")
        self._instead("\n".join(lines))

    def on_screen_resume(self) -> None:
        """Show what the other screens changed."""
        self._take_anew()

    def _take_anew(self) -> None:
        """Show the log as it is in memory now."""
        if self.house.has_book and self._state is not None:
            from tui.log_rows import read_state  # loaded with the log

            self._take(read_state(self.house.book, self._state))

    def _take(self, state: LogState, at: str | None = None) -> None:
        changed = self._state is None or self._state.rows != state.rows
        self._state = state
        if changed:
            self._list.set_records(state.rows, at=at)
            self._narrow(self.query_one(FilterInput).value)
            self.refresh_bindings()
        self._instead("" if state.rows else _EMPTY)
        self._notice(state)

    def _instead(self, words: str) -> None:
        """Show these words in place of the list; empty shows the list."""
        self.query_one("#instead", Static).update(safe_lines(words))
        self.set_class(bool(words), "-nothing")

    def _notice(self, state: LogState) -> None:
        complaints = (*self.house.key_complaints, self.house.preferences.problem)
        lines = notices(state, self._left_open(state), complaints)
        shown = self.query_one("#notices", Static)
        shown.update(safe_lines("\n".join(lines)))
        shown.display = bool(lines)

    def _left_open(self, state: LogState) -> tuple[LogRow, ...]:
        from tui.log_rows import left_open  # loaded with the log

        return left_open(state.rows, self.house.clock())

    # -- filter and cursor ---------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list to what fits."""
        self._narrow(event.value)

    def _narrow(self, text: str) -> None:
        if self._state is None:
            return
        from tui.log_rows import matching  # loaded with the log

        self._list.narrow(matching(self._state.rows, text))
        shown, total = self._list.shown_count, len(self._state.rows)
        count = f"{total:,} session{'' if total == 1 else 's'}"
        words = count if shown == total else f"{shown:,} of {count}"
        name = "demo season" if self.house.demo else self._state.folder
        self.entitle(f"Back to Back   {name}", words)

    def on_key(self, event: events.Key) -> None:
        """Let a digit in the list start the filter by itself: 08 finds S08."""
        field = self.query_one(FilterInput)
        if event.character and event.character.isdigit() and self.focused is self._list:
            event.stop()
            field.focus()
            field.insert_text_at_cursor(event.character)

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Show the session under the cursor beside the list."""
        card = self.query_one(SessionCard)
        if card.display:
            card.show(self._current_row())

    def on_resize(self) -> None:
        """Fill the card where it comes into view."""
        self.query_one(SessionCard).show(self._current_row())

    def on_record_list_chosen(self) -> None:
        """Open the session that was clicked."""
        self.action_open()

    def _current_row(self) -> LogRow | None:
        return cast("LogRow | None", self._list.current)

    def _need_row(self) -> LogRow:
        row = self._current_row()
        if row is None:
            raise BlockedError("No session is shown.", "Press n for a new one, or esc to show all.")
        return row

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave out what has nothing to work on in an empty log."""
        needs_rows = action in _NEEDS_ROWS
        return not needs_rows or bool(self._state and self._state.rows)

    # -- commands ------------------------------------------------------------------------------

    def action_filter(self) -> None:
        """Go to the filter."""
        self.query_one(FilterInput).focus()

    def action_clear(self) -> None:
        """Clear the filter, then the marks."""
        field = self.query_one(FilterInput)
        if not field.value and self._list.has_focus:
            self._list.set_marked(frozenset())
            self.say("")
        field.value = ""
        self._list.focus()

    def action_open(self) -> None:
        """Open the session under the cursor."""
        with self.house.telling():
            self.house.open_session(self._need_row().id)

    def action_mark(self) -> None:
        """Mark the session under the cursor, or take its mark off."""
        row, marked = self._need_row(), self._list.marked
        if row.id not in marked and len(marked) == _MARKS_AT_MOST:
            self.say("Eight are marked already: c compares them, space on one takes its mark off.")
            return
        self._list.set_marked(marked ^ {row.id})
        labels = [r.head.label for r in self._marked_rows()]
        self.say(f"Marked: {', '.join(labels)}{_HOW[min(len(labels), 3)]}." if labels else "")

    def _marked_rows(self) -> list[LogRow]:
        rows = reversed(self._state.rows) if self._state else ()
        return [row for row in rows if row.id in self._list.marked]

    def action_compare(self) -> None:
        """Compare the marked sessions, or the marked one with the one under the cursor."""
        wanted = self._list.marked
        if len(wanted) == 1:
            wanted |= {self._need_row().id}
        rows = reversed(self._state.rows if self._state else ())
        ids = [row.id for row in rows if row.id in wanted]
        if len(ids) < 2:
            self.say("Mark one session with space, go to another and press c.")
        elif len(ids) == 2:
            self.house.compare_sessions(*ids)
        else:
            self.app.push_screen(make_screen("laid", *ids))

    def action_effects(self) -> None:
        """Show what each part did on the machine under the cursor."""
        self.app.push_screen(make_screen("effects", self._need_row().head.machine))

    def action_next(self) -> None:
        """Say what to test next on the machine under the cursor."""
        self.app.push_screen(make_screen("next", self._need_row().head.machine))

    @asking
    async def action_new(self) -> None:
        """Ask for what is fixed before the day, start the session and go on with it."""
        from tui.dialogs.new_session import new_session  # lazy: needs the log to be read

        self._need_writing()
        started = await new_session(self.house)
        if started is not None:
            self.house.open_session(started.id)
        elif self.house.kept_plan is not None:
            self.say("What you typed is kept: n goes on with it.")

    @asking
    async def action_close_old(self) -> None:
        """Close a session that was left open, as of its last entry; put an empty one away."""
        from core.session.closing import end_left_open, is_empty, last_entry  # loaded with the log

        self._need_writing()
        old = self._left_open(self._state) if self._state else ()
        if not old:
            raise BlockedError("No session is open from an earlier day.")
        row = next((r for r in old if r is self._list.current), old[0])
        session = self.house.book.session(row.id)
        last = last_entry(session)
        when = f"{last.day} {last:%b %H:%M}"
        title = f"Close {session.label} as of its last entry, {when}?"
        if is_empty(session):
            title = f"Nothing was entered in {session.label} of {when}. Put it away?"
        said = "It can be opened again with a note."
        if await confirm(self.app, title, said, yes="Close it", no="Leave it open"):
            self.house.book.act(session, end_left_open)
            self._take_anew()
            self.say(f"{session.label} is closed as of {when}.")

    def _need_writing(self) -> None:
        if self._state is not None and self._state.read_only:
            raise LogReadOnlyError(self._state.read_only, "Reading and comparing still work.")

    @asking
    async def action_problems(self) -> None:
        """Show what was found wrong in the log folder."""
        if self._state is None:
            raise BlockedError("The log is not open.", "r reads it again.")
        problems = self._state.problems
        if not problems:
            self.say("Nothing is wrong in the log folder.")
            return
        sentences = "\n".join(f"{i}. {p.sentence}" for i, p in enumerate(problems, 1))
        hint = "Nothing was deleted; everything else in the log is open."
        await show_message(self.app, "What was found in the log folder", sentences, hint)

    def action_read(self) -> None:
        """Read the log folder again."""
        self.say("Reading the log again …")
        self.house.read_log()

    async def action_quit(self) -> None:
        """Leave."""
        self.app.exit()
