"""The close-out stage: the verdict, what was learnt, what stays bolted on, and the end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final, Literal

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widgets import Static

from core.errors import BlockedError, LogReadOnlyError
from core.session import CloseOut, Session, close, open_again
from core.session.closing import conclude
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking, confirm
from tui.screens.session.attempts_view import picture_of
from tui.screens.session.closing_view import (
    CLOSING_COLUMNS,
    Judged,
    closing_lines,
    judge,
    verdict_text,
)
from tui.screens.session.stage import Stage
from tui.text import safe_lines
from tui.widgets.picture import PictureView
from tui.widgets.record_list import RecordList

__all__ = ["ClosingStage"]

_TITLES: Final = {
    "learnt": "What was learnt, in one line?",
    "because": "Why so?",
    "following": "What comes next?",
}
_LINES: Final = ("learnt", "decision", "because", "following")


class _Lines(RecordList):
    """The few lines to write; page up and down turn the verdict above them."""

    def action_page_up(self) -> None:
        """Turn the verdict back."""
        self.screen.query_one("#verdict-box", VerticalScroll).scroll_page_up(animate=False)

    def action_page_down(self) -> None:
        """Turn the verdict on."""
        self.screen.query_one("#verdict-box", VerticalScroll).scroll_page_down(animate=False)


class ClosingStage(Stage):
    """The end of a session."""

    SCENE = "closing"
    NAME = "Close-out"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_for("closing"), *bindings_for("noting")]

    @dataclass
    class Compared(Message):
        """The comparisons are made."""

        session: Session
        judged: Judged

    def compose(self) -> ComposeResult:
        """Put the verdict over the lines to write."""
        self._list = _Lines(CLOSING_COLUMNS, titles=False)
        self._judged: Judged | None = None
        self._about: Session | None = None  # the session that was judged
        yield PictureView(id="closing-picture")
        with VerticalScroll(id="verdict-box", can_focus=False):
            yield Static(id="verdict")
        yield self._list

    def progress(self) -> str:
        """Return the state of the session, once it is not open any more."""
        return "" if self.desk.session.state == "open" else self.desk.session.state

    def keys_left_out(self) -> frozenset[str]:
        """Return the ids of what an open session does not need, or one that is not open."""
        is_open = self.desk.session.state == "open"
        return frozenset({"closing.reopen"} if is_open else {"closing.change", "closing.finish"})

    def arrive(self) -> None:
        """Give the keys to the lines, and compare if anything is new."""
        self._list.focus()
        made = self.desk.session.close_out or CloseOut()
        values = (made.learnt, made.decision, made.because, made.next)
        self._list.go_to(next((k for k, v in zip(_LINES, values, strict=True) if not v), "learnt"))
        self._compare_anew()

    def _compare_anew(self) -> None:
        """Compare, away from the keys, unless that was done for the session as it is."""
        if self._about is not self.desk.session:
            self._about = self.desk.session
            self.run_worker(
                self._compare, name="compare", group="compare", thread=True, exclusive=True
            )

    def _compare(self) -> None:
        session = self.desk.session
        self.post_message(self.Compared(session, judge(self.desk)))

    def on_closing_stage_compared(self, message: Compared) -> None:
        """Show the verdict."""
        message.stop()
        self._judged = message.judged
        self._show_verdict()

    def leave(self) -> None:
        """Take the hint away."""
        self.room.usually_say("")

    def show(self) -> None:
        """Draw everything anew."""
        self._list.set_records(closing_lines(self.desk))
        self.query_one(PictureView).show(picture_of(self.desk))
        self._show_verdict()

    def _show_verdict(self) -> None:
        words = verdict_text(self.desk, self._judged)
        self.query_one("#verdict", Static).update(safe_lines(words))
        self.call_after_refresh(self._tell_of_more)

    def _tell_of_more(self) -> None:
        """Say how to read on when the verdict is longer than its room."""
        longer = self.query_one("#verdict-box", VerticalScroll).max_scroll_y > 0
        self.room.usually_say("PgDn reads on." if longer and self.display else "")

    # -- writing -------------------------------------------------------------------------------

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Write the line that was clicked."""
        event.stop()
        self.action_change()

    @asking
    async def action_change(self) -> None:
        """Write the line under the cursor."""
        current = self._list.current
        if current is None:
            return
        self.desk.need_writing()
        if current.id == "decision":
            self.room.say("1 keep, 2 revert, 3 repeat.")
            return
        made = self.desk.session.close_out or CloseOut()
        old = {"learnt": made.learnt, "because": made.because, "following": made.next}[current.id]

        def save(text: str) -> None:
            field = {current.id: " ".join(text.split())}
            self.desk.act(lambda s, at: conclude(s, at, **field))  # type: ignore[arg-type]

        if await ask_text(self.app, _TITLES[current.id], value=old, check=save) is None:
            return
        made = self.desk.session.close_out or CloseOut()
        ready = bool(made.learnt and made.decision and made.next)
        self.room.took("Saved. f closes the session." if ready else "Saved.")
        self._list.go_to(_LINES[min(_LINES.index(current.id) + 1, len(_LINES) - 1)])

    def action_decide(self, decision: Literal["keep", "revert", "repeat"]) -> None:
        """Decide with one key; it rests on the comparison that is shown."""
        self.desk.need_writing()
        rests_on = self._judged.against if self._judged else None
        other = rests_on.a.session if rests_on else None
        self.desk.act(lambda s, at: conclude(s, at, decision=decision, compared_with=other))
        self.room.took(f"Decision: {decision}.")
        self._list.go_to("because")

    # -- ending --------------------------------------------------------------------------------

    @asking
    async def action_finish(self) -> None:
        """Close the session and go back to the list."""
        self.desk.need_writing()
        made = self.desk.session.close_out or CloseOut()
        missing = [
            words
            for words, said in (("learnt", made.learnt), ("decision", made.decision))
            if not said
        ]
        if missing:
            title = f"Close {self.desk.session.label} without {' and '.join(missing)}?"
            said = "It can be opened again with a note."
            if not await confirm(self.app, title, said, yes="Close it", no="Write it first"):
                return
        self.desk.act(lambda s, at: close(s, s.close_out or CloseOut(), at))
        self.room.leave()

    @asking
    async def action_reopen(self) -> None:
        """Open the session again, with a note why."""
        desk = self.desk
        if desk.book.log.read_only:
            raise LogReadOnlyError(f"Nothing can be entered. {desk.book.log.read_only_reason}")
        if desk.session.state == "open":
            raise BlockedError(f"{desk.session.label} is open already.")
        said = await ask_text(
            self.app,
            f"Why is {desk.session.label} opened again?",
            check=lambda text: open_again(desk.session, text, desk.now()),
        )
        if said is not None:
            desk.act(lambda s, at: open_again(s, said, at))
            self.room.took(f"{desk.session.label} is open again.")
            self._compare_anew()
