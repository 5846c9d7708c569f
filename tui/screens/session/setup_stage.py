"""The setup stage: the last sheet again, of which only what was touched is entered."""

from __future__ import annotations

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from core.errors import BlockedError
from core.session import past_of
from core.setup import main_changes, reading_words, slot_of
from tui.commands import bindings_for
from tui.dialogs import asking, show_message
from tui.screens.opening import open_what_if
from tui.screens.session.saying import ask_said
from tui.screens.session.setup_facts import fact_page, facts_text, moved_away
from tui.screens.session.slot_asking import ask_slot, start
from tui.screens.session.slot_rows import SAID, SLOT_COLUMNS, changed_slots, slot_lines
from tui.screens.session.stage import Stage
from tui.screens.why.screen import ask_why
from tui.text import safe_lines
from tui.widgets.line_input import FilterInput
from tui.widgets.record_list import RecordList

__all__ = ["SetupStage"]

_UNDER: Final = 10  # lines at most of what follows from the sheet, where it stands under it


class SetupStage(Stage):
    """The setup sheet of a session."""

    SCENE = "setup"
    NAME = "Setup"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_for("setup"), *bindings_for("noting")]

    def compose(self) -> ComposeResult:
        """Put the search, the sheet and what follows from it under or beside each other."""
        self._list = RecordList(SLOT_COLUMNS)
        with Horizontal(id="find-row"):
            yield Static("/", id="find-sign")
            yield FilterInput(self._list, hint="any slot by two or three letters")
        with Horizontal(id="setup-body"):
            yield self._list
            yield Static(id="facts")
        yield Static(id="moved")

    def progress(self) -> str:
        """Return how many changes there are, each cause once."""
        if self.desk.base_sheet is None:
            return "first sheet"
        made = len(main_changes(changed_slots(self.desk).values()))
        return f"{made} change{'' if made == 1 else 's'}" if made else "unchanged"

    def arrive(self) -> None:
        """Give the keys to the sheet."""
        self._list.focus()

    def show(self) -> None:
        """Draw everything anew."""
        self._list.set_records(slot_lines(self.desk, self.query_one(FilterInput).value))
        moved = self.query_one("#moved", Static)
        questions = moved_away(self.desk)
        moved.update(safe_lines("\n".join(questions[:2])))
        moved.display = bool(questions)
        self._facts()

    def _facts(self) -> None:
        facts = self.query_one("#facts", Static)
        width, height = facts.content_size
        if not self.screen.has_class("-wide"):
            width, height = self.content_size.width - 2, _UNDER
        if width > 0 and height > 0:
            facts.update(safe_lines(facts_text(self.desk, width, height)))

    def on_resize(self, event: events.Resize) -> None:
        """Lay the facts out anew."""
        self.call_after_refresh(self._facts)

    # -- finding -------------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show the slots that the letters may mean."""
        event.stop()
        self._list.set_records(slot_lines(self.desk, event.value), at="")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Change the slot that was found."""
        event.stop()
        self.action_change()

    def action_find(self) -> None:
        """Begin a search."""
        field = self.query_one(FilterInput)
        field.value = ""
        self.screen.set_focus(field)

    def on_key(self, event: events.Key) -> None:
        """Let a letter that is no command begin a search by itself.

        Letters that were on their way to the list when the search began belong to it as well.
        """
        field, letter = self.query_one(FilterInput), event.character or ""
        if self.screen.focused is not field:
            if not letter.isalpha() or letter.lower() in self.screen.active_bindings:
                return
            self.action_find()
        elif not event.is_printable:
            return
        event.stop()
        event.prevent_default()
        field.insert_text_at_cursor(letter)

    def clear(self) -> bool:
        """Leave the search; return whether there was one."""
        field = self.query_one(FilterInput)
        searching = field.has_focus or bool(field.value)
        with field.prevent(Input.Changed):
            field.value = ""
        if searching:
            self._list.set_records(slot_lines(self.desk))
        self._list.focus()
        return searching

    # -- changing ------------------------------------------------------------------------------

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Change the line that was clicked."""
        event.stop()
        self.action_change()

    @asking
    async def action_change(self) -> None:
        """Ask for the line under the cursor and save what it comes to."""
        current = self._list.current
        if current is None:
            raise BlockedError("No slot fits these letters.", "esc clears them.")
        if current.id.startswith(SAID):
            said = await ask_said(self.app, self.desk, current.id.removeprefix(SAID))
        else:
            said = await self._change(current.id)
        self.clear()
        self.room.took(said)
        self._list.go_to(current.id)

    async def _change(self, slot_id: str) -> str:
        desk = self.desk
        desk.need_writing()
        swapping = desk.sheet_has_run
        filled = await ask_slot(self.app, desk, slot_id)
        if filled is None:
            return ""
        desk.put(filled)
        slot = slot_of(slot_id)
        words = reading_words(slot, desk.sheet.readings.get(slot_id))
        build = f" Build {desk.letters[-1]} from here; its checks come first." if swapping else ""
        return f"{start(slot.label)}: {words} is saved.{build}"

    @asking
    async def action_values(self) -> None:
        """Show everything that follows from the sheet."""
        await show_message(self.app, "What follows from the sheet", fact_page(self.desk))

    def action_bench(self) -> None:
        """Take readings of this machine."""
        self.go_to_bench()

    @asking
    async def action_what_if(self) -> None:
        """Change slots on paper."""
        await open_what_if(self.room.house, self.desk.session.machine)
        self.desk.read_again()
        self.room.took("Back from the plan on paper.")

    @asking
    async def action_why(self) -> None:
        """Explain a value that follows from the sheet."""
        desk = self.desk
        past = past_of(desk.book, desk.session.machine)
        words = f"{desk.machine_name}, {desk.session.label}"
        await ask_why(self.app, desk.sheet, desk.rpm_factory, past, words=words)
