"""The checks stage: what is due and why, answered one at a time; a stop has no default."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from core.checks import CheckRecord, Rule, rule_for
from core.errors import BlockedError
from core.session import Answering, check_record
from tui.commands import bindings_for
from tui.dialogs import FieldDrawer, asking
from tui.screens.session.answering import ask_reason, ask_result
from tui.screens.session.beside import Beside
from tui.screens.session.checks_view import (
    CHECK_COLUMNS,
    caution_words,
    check_lines,
    detail_of,
    following,
    how_to_answer,
    no_answers,
    progress_words,
)
from tui.screens.session.stage import Stage
from tui.text import safe, safe_lines
from tui.widgets.record_list import RecordList

__all__ = ["HELD", "ChecksStage"]

HELD: Final = 0.35
"""Seconds within which the same answer key again is taken for a key that is held down."""


class ChecksStage(Stage):
    """The checks of a session."""

    SCENE = "checks"
    NAME = "Checks"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("checks")

    def compose(self) -> ComposeResult:
        """Put progress, the list and the reason of one check under or beside each other."""
        self._list = RecordList(CHECK_COLUMNS)
        self._beside = Beside(self.desk)
        self._typed = ""  # digits that started a result and are not in its field yet
        self._pressed = float("-inf")  # when an answer key came last, by the clock below
        self.clock: Callable[[], float] = time.monotonic
        yield Static(id="check-progress")
        with Vertical(id="checks-body"):
            yield self._list
            with VerticalScroll(id="check-detail", can_focus=False):
                yield Static(id="check-question")
                yield Static(id="check-words")
        yield Static(safe(caution_words()), id="caution-line")

    def progress(self) -> str:
        """Return how many stops are open."""
        stops = len(self.desk.stops)
        return f"{stops} open" if stops else "ready"

    def arrive(self) -> None:
        """Give the keys to the list, with the cursor on the next open check."""
        self._list.focus()
        self.go_on()

    def go_on(self, after: str = "") -> None:
        """Put the cursor on the next open check, if there is one."""
        rule = following(self.desk, after)
        if rule and self._list.go_to(rule):
            self._detail()  # in the frame in which the cursor moves

    def show(self) -> None:
        """Draw everything anew."""
        self._list.set_records(check_lines(self.desk))
        self.query_one("#check-progress", Static).update(safe(progress_words(self.desk)))
        self._detail()

    def _detail(self) -> None:
        current = self._list.current
        question, words, beside = "", "", ""
        if current is not None:
            record = self._record(current.id)
            beside = self._beside.words(record)
            question, words = detail_of(self.desk, record, beside)
        self.query_one("#check-question", Static).update(safe(question))
        self.query_one("#check-words", Static).update(safe_lines(words))
        self.query_one("#check-detail").scroll_home(animate=False)
        self.room.refresh_keys()

    def keys_left_out(self) -> frozenset[str]:
        """Return the ids of answers that the check under the cursor does not take."""
        current = self._list.current
        return no_answers(self.desk, self._record(current.id)) if current else frozenset()

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Show the reason of the check under the cursor."""
        event.stop()
        self._detail()

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Ask for the result of the check that was clicked."""
        event.stop()
        self.action_value()

    # -- answering -----------------------------------------------------------------------------

    def _record(self, rule: str) -> CheckRecord:
        return check_record(self.desk.session, rule)

    def _current(self) -> tuple[CheckRecord, Rule]:
        current = self._list.current
        if current is None:
            raise BlockedError("No check is due.")
        record = self._record(current.id)
        return record, rule_for(record)

    def _is_held(self) -> bool:
        """Tell whether an answer key came again at once, as it does when it is held down."""
        now = self.clock()
        held = now - self._pressed < HELD
        self._pressed = now
        return held

    def action_done(self) -> None:
        """Clear the check under the cursor, or say what it is cleared by."""
        if self._is_held():
            return
        record, rule = self._current()
        if rule.answer == "done":
            self._took(self.desk.answer(record.rule, "done"))
        else:
            self.room.say(f"▲ {rule.short} is cleared by a result: {how_to_answer(rule)}.")

    def action_same(self) -> None:
        """Clear the check under the cursor with the words of last time, which stand under it."""
        if self._is_held():
            return
        record, rule = self._current()
        words = self.desk.words_before(record.rule) if rule.answer == "text" else ""
        if not words:
            self.room.say(f"{rule.short}: there are no words from last time to take over.")
            return
        self._took(self.desk.answer(record.rule, words))

    def action_not_done(self) -> None:
        """Say that the check under the cursor is not done."""
        if self._is_held():
            return
        record, rule = self._current()
        given = self.desk.answer(record.rule, "not done")
        self._took(given)
        if rule.is_stop:
            self.room.say(f"{rule.short}: not done. z saves the session as stopped by check.")

    @asking
    async def action_not_applying(self) -> None:
        """Ask why the check under the cursor does not apply."""
        _, rule = self._current()
        if not rule.may_not_apply:
            raise BlockedError(f"The check “{rule.short}” always applies.", "d done, n not done.")
        given = await ask_reason(self.app, self.desk, rule)
        if given is not None:
            self._took(given)

    @asking
    async def action_value(self) -> None:
        """Ask for the result of the check under the cursor."""
        await self._ask()

    async def _ask(self) -> None:
        _, rule = self._current()
        typed, self._typed = self._typed, ""
        if rule.answer == "done":
            self.room.say(f"d done, n not done: {rule.short}.")
            return
        given = await ask_result(self.app, self.desk, rule, typed)
        if given is not None:
            self._took(given)

    def on_key(self, event: events.Key) -> None:
        """Let a digit start the result by itself; those that follow at once are kept as well."""
        if event.character is None or event.character not in "0123456789>.,":
            return
        event.stop()
        drawer = self.app.screen
        if isinstance(drawer, FieldDrawer):
            drawer.keep(event.character)
        else:
            self._typed += event.character
            self.action_value()

    def action_bench(self) -> None:
        """Take the reading of the check under the cursor at the bench."""
        current = self._list.current
        self.go_to_bench(current.id if current is not None else "")

    def action_again(self) -> None:
        """Take the answer of the check under the cursor back."""
        record, rule = self._current()
        if record.answer == "open" and not record.result:
            self.room.say(f"{rule.short} is open.")
            return
        self.desk.answer_again(record.rule)
        self.room.took(f"{rule.short} is open again.")

    def _took(self, given: Answering) -> None:
        """Show what an answer came to; the cursor goes on unless the check is still open."""
        rule = rule_for(given.record)
        words = given.warning or f"{rule.short}: {given.record.answer}."
        self.room.took(f"▲ {words}" if given.warning else words)
        if given.record.answer != "open":
            self.go_on(given.record.rule)
        if not self.desk.stops and given.record.answer == "cleared" and rule.is_stop:
            self.room.say("No stop check is open: tab goes on to the attempts.")
