"""The bench screen: what can be read on a machine or a loose engine, and what was read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.message import Message
from textual.widgets import Input, Static

from core.bench import CLAY_RULE
from core.errors import BackToBackError, BlockedError, LogReadOnlyError
from core.session import Session
from tui.commands import bindings_for
from tui.dialogs import asking, show_message
from tui.screens.base import HouseScreen
from tui.screens.bench.choosing import ask_gauge, ask_subject
from tui.screens.bench.detail import detail_words
from tui.screens.bench.fields import Asker
from tui.screens.bench.form import TakingDrawer
from tui.screens.bench.keeping import keep, kept_words
from tui.screens.bench.lift_screen import LiftScreen
from tui.screens.bench.rows import (
    BENCH_COLUMNS,
    LIFT_SIDES,
    VALUE,
    bench_lines,
    entry_lines,
)
from tui.screens.bench.taken import CHECK, begun
from tui.screens.bench.values import ask_value
from tui.screens.curves.screen import show_curves
from tui.screens.what_if.screen import WhatIfScreen
from tui.screens.why.screen import ask_why
from tui.subject import Subject, read_subject
from tui.text import safe_lines
from tui.widgets.line_input import FilterInput
from tui.widgets.record_list import RecordList

__all__ = ["BenchScreen"]


class BenchScreen(HouseScreen[None]):
    """Readings of one machine or loose part.

    Args:
        subject_id: of the machine or part.
        rule: check that the cursor starts on; empty: the first line.
    """

    SCENE = "bench"
    AUTO_FOCUS = "RecordList"
    CSS_PATH = Path(__file__).with_name("bench.tcss")
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("bench")

    @dataclass
    class SubjectRead(Message):
        """What is on file of the machine or part was read, or could not be."""

        subject: Subject | None
        error: BackToBackError | None

    def __init__(self, subject_id: str, rule: str = "") -> None:
        super().__init__()
        self._subject_id = subject_id
        self._at: str | None = CHECK + rule if rule else None
        self._subject: Subject | None = None
        self._session: Session | None = None
        self._list = RecordList(BENCH_COLUMNS)

    def compose_body(self) -> ComposeResult:
        """Yield the search, the list and everything about one line."""
        with Horizontal(id="bench-find"):
            yield Static("/", id="bench-sign")
            yield FilterInput(self._list, hint="anything that is read, by two or three letters")
        with Vertical(id="bench-body"):
            yield self._list
            with VerticalScroll(id="bench-detail", can_focus=False):
                yield Static(id="bench-words")

    def on_mount(self) -> None:
        """Read what is on file away from the keys."""
        self.entitle("Bench", "reading what is on file …")
        self._read()

    # -- what it is about ----------------------------------------------------------------------

    def _read(self) -> None:
        self.run_worker(
            self._read_away, name="read the bench", group="bench", thread=True, exclusive=True
        )

    def _read_away(self) -> None:
        try:
            subject = read_subject(self.house.book, self._subject_id)
            self.post_message(self.SubjectRead(subject, None))
        except BackToBackError as error:
            self.post_message(self.SubjectRead(None, error))

    def on_bench_screen_subject_read(self, message: SubjectRead) -> None:
        """Show it."""
        message.stop()
        if message.subject is None:
            self.entitle("Bench", "nothing to show")
            if message.error is not None:
                self.house.show_error(message.error)
            return
        subject = self._subject = message.subject
        book = self.house.book
        self._session = book.log.get(Session, subject.session) if subject.session else None
        self.entitle("Bench", subject.words)
        self._show(self._at)
        self._at = None

    @property
    def subject(self) -> Subject:
        """The machine or part.

        Raises:
            BlockedError: it is not read yet.
        """
        if self._subject is None:
            raise BlockedError("What is on file is still being read.", "A moment.")
        return self._subject

    def _show(self, at: str | None = None) -> None:
        letters = self.query_one(FilterInput).value
        self._list.set_records(bench_lines(self.subject, self._session, letters), at=at)
        self._detail()

    def _detail(self) -> None:
        words = ""
        current = self._list.current
        if current is not None and self._subject is not None:
            words = detail_words(self._subject, self._session, current.id, self._labels())
        self.query_one("#bench-words", Static).update(safe_lines(words))
        self.query_one("#bench-detail").scroll_home(animate=False)

    def _labels(self) -> dict[str, str]:
        return {head.id: head.label for head in self.house.book.sessions()}

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Show what was read at the line under the cursor."""
        event.stop()
        self._detail()

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Take a reading for what was clicked."""
        event.stop()
        self.action_take()

    # -- finding -------------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what the letters may mean."""
        event.stop()
        if self._subject is not None:
            self._show("")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take a reading for what was found."""
        event.stop()
        self.action_take()

    def action_find(self) -> None:
        """Begin a search."""
        field = self.query_one(FilterInput)
        field.value = ""
        field.focus()

    def _leave_search(self) -> bool:
        """Leave the search; return whether there was one."""
        field = self.query_one(FilterInput)
        searching = field.has_focus or bool(field.value)
        with field.prevent(Input.Changed):
            field.value = ""
        self._list.focus()
        return searching

    # -- taking --------------------------------------------------------------------------------

    def _need_writing(self) -> None:
        log = self.house.book.log
        if log.read_only:
            raise LogReadOnlyError(f"Nothing can be entered. {log.read_only_reason}")

    @asking
    async def action_take(self) -> None:
        """Take a reading for the line under the cursor."""
        subject, current = self.subject, self._list.current
        if current is None:
            raise BlockedError("Nothing that is read fits these letters.", "esc clears them.")
        self._need_writing()
        side = LIFT_SIDES.get(current.id)
        if side is not None:
            await self.app.push_screen_wait(LiftScreen(subject, side))
        elif current.id.startswith(VALUE):
            self.say("This one follows from readings: y shows from which.")
            return
        elif not await self._take(current.id):
            return
        self._leave_search()
        self._at = current.id
        self._read()

    async def _take(self, key: str) -> bool:
        """Ask for a reading and keep it; return whether it was kept."""
        subject, book = self.subject, self.house.book
        taking = begun(key, self.house.clock(), subject.own_gap)
        valued = await ask_value(self.app, book, subject, taking)
        if valued is None:
            return False
        form = TakingDrawer(Asker(self.app, book, subject), valued, self._where())
        agreed = await self.app.push_screen_wait(form)
        if agreed is None:
            self.say("Nothing was saved.")
            return False
        reading = agreed.took(book, subject).reading
        rule = key.removeprefix(CHECK) if key.startswith(CHECK) else ""
        kept = await keep(self.app, book, reading, self._session, rule=rule)
        if kept is None:
            self.say("Nothing was saved.")
            return False
        self.say(kept_words(kept))
        return True

    def _where(self) -> str:
        """Say where a reading goes."""
        if self._session is not None:
            return f"Enter saves it and puts it on the setup sheet of {self._session.label}."
        if self.subject.is_machine:
            return "Enter saves it for this machine; no session of it is open: no sheet changes."
        return "Enter saves it for this part; it counts for the machine it is fitted to later."

    # -- looking -------------------------------------------------------------------------------

    @asking
    async def action_history(self) -> None:
        """Show everything that was read at the line under the cursor."""
        current = self._list.current
        key = "" if current is None else current.id
        key = "clay" if key == CHECK + CLAY_RULE else key
        lines = entry_lines(self.subject, key, self._labels()) if ":" not in key else ()
        words = "\n".join(lines) or "Nothing was read here yet."
        await show_message(self.app, "What was read, newest first", words)

    @asking
    async def action_why(self) -> None:
        """Explain the value under the cursor, or any other."""
        subject, current = self.subject, self._list.current
        name = current.id.removeprefix(VALUE) if current is not None else ""
        await ask_why(
            self.app, subject.sheet, subject.rpm_factory, subject.past, at=name,
            words=subject.words,
        )  # fmt: skip

    @asking
    async def action_curves(self) -> None:
        """Show lift, piston and gap."""
        await show_curves(self.app, self.subject, self.subject.sheet)

    def action_what_if(self) -> None:
        """Change slots on paper."""
        self.app.push_screen(WhatIfScreen(self.subject))

    @asking
    async def action_gauge(self) -> None:
        """Put an instrument right."""
        self._need_writing()
        said = await ask_gauge(self.app, self.house.book, self.subject)
        if said:
            self.say(said)
            self._read()

    @asking
    async def action_other(self) -> None:
        """Go to another machine or part."""
        picked = await ask_subject(self.app, self.house.book, self._subject_id)
        if picked:
            self._subject_id, self._subject = picked, None
            self._leave_search()
            self._read()

    def action_back(self) -> None:
        """Leave a search, or go back."""
        if self._leave_search():
            self._show()
        else:
            self.dismiss(None)
