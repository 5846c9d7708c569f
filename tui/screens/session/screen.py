"""The screen of one session: four stages, one key apart, and what is open in all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.checks import stop_reason
from core.errors import BackToBackError, BlockedError
from core.session import last_undoable, stop, undo
from core.units import convert
from tui.commands import bindings_for
from tui.dialogs import Option, ask_choice, ask_text, asking
from tui.screens.base import HouseScreen
from tui.screens.session.accident import AccidentScreen
from tui.screens.session.attempts_stage import AttemptsStage
from tui.screens.session.checks_stage import ChecksStage
from tui.screens.session.closing_stage import ClosingStage
from tui.screens.session.desk import Desk, Surroundings
from tui.screens.session.early import EarlyKeys
from tui.screens.session.happening import ask_event
from tui.screens.session.saying import ask_note
from tui.screens.session.setup_facts import opening_words
from tui.screens.session.setup_stage import SetupStage
from tui.screens.session.stage import Stage
from tui.widgets.entry_line import EntryLine
from tui.widgets.lines import KeyLine
from tui.widgets.stage_line import StageLine

__all__ = ["SessionScreen"]

_TYPED = AttemptsStage.NAME


class SessionScreen(HouseScreen[None]):
    """One session, from its setup sheet to its close-out.

    Args:
        session_id: of the session.

    Raises:
        BackToBackError: it cannot be read.
    """

    CSS_PATH = "session.tcss"
    AUTO_FOCUS = ""
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - the base class declares it so
        (0, "-narrow"),
        (60, "-usual"),
        (110, "-wide"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("session")

    @dataclass
    class AroundRead(Message):
        """What the rest of the log says about the session was read."""

        around: Surroundings

    def __init__(self, session_id: str) -> None:
        super().__init__()
        self.desk = Desk(self.house.book, session_id)
        self.stages: Sequence[Stage] = (
            SetupStage(self.desk),
            ChecksStage(self.desk),
            AttemptsStage(self.desk),
            ClosingStage(self.desk),
        )
        self._here = self._first_stage()
        self._sheets_seen: object = None
        self._early = EarlyKeys()

    def _first_stage(self) -> int:
        """Index of the stage to start on: where the session was left, as far as it can tell."""
        session = self.desk.session
        if session.state != "open":
            return 3
        if session.attempts or not self.desk.stops:
            return 2
        return 1 if any(r.answer != "open" for r in self.desk.checks) else 0

    # -- composing -----------------------------------------------------------------------------

    def compose_body(self) -> ComposeResult:
        """Yield the stage line and the stages, of which one is shown."""
        yield StageLine()
        for index, stage in enumerate(self.stages):
            stage.display = index == self._here
            yield stage

    def on_mount(self) -> None:
        """Say what this is, and go to where it was left."""
        desk = self.desk
        session = desk.session
        about = " · ".join(
            filter(None, (desk.machine_name, desk.place_name, session.test, session.timing))
        )
        self.entitle(session.label, about)
        self.stage.show()
        self.stage.arrive()
        self._early.give_to(self.query_one(EntryLine))
        self._show_line()
        self.say(opening_words(desk))
        self._read_around()
        self.call_after_refresh(self._load_units)

    @property
    def scene(self) -> str:
        """The scene of the stage that is shown."""
        return self.stage.SCENE

    @property
    def stage(self) -> Stage:
        """The stage that is shown."""
        return self.stages[self._here]

    # -- the rest of the log -------------------------------------------------------------------

    def _read_around(self) -> None:
        """Read what the rest of the log says, away from the keys, when the sheet is another."""
        if self._sheets_seen is self.desk.session.sheets:
            return
        self._sheets_seen = self.desk.session.sheets
        self.run_worker(
            self._around, name="read around", group="around", thread=True, exclusive=True
        )

    def _around(self) -> None:
        try:
            self.post_message(self.AroundRead(self.desk.read_around()))
        except BackToBackError:
            return  # without it there is no baseline and no odd attempt; everything else goes on

    def on_session_screen_around_read(self, message: AroundRead) -> None:
        """Show the baseline, and ask about attempts that stand apart."""
        message.stop()
        self.desk.around = message.around
        self.refresh_stages()

    def _load_units(self) -> None:
        """Load what a first value with a unit needs (0.3 s), so that no key waits for it."""
        self.run_worker(
            lambda: convert(1.0, "in", "mm"), name="load units", group="loading", thread=True
        )

    # -- stages --------------------------------------------------------------------------------

    def refresh_stages(self) -> None:
        """Draw the stage that is shown and the stage line anew."""
        self.stage.show()
        self._show_line()

    def _show_line(self) -> None:
        line = [(stage.NAME, stage.progress()) for stage in self.stages]
        self.query_one(StageLine).show(line, self._here)
        self.refresh_keys()

    def refresh_keys(self) -> None:
        """Let the key line follow what is asked on the stage that is shown."""
        keys = self.query_one(KeyLine)
        keys.leave_out(self.stage.keys_left_out())
        keys.instead(self.stage.keys_asked())

    def go_to(self, index: int) -> None:
        """Show a stage and give it the keys."""
        self.stage.leave()
        self.stage.display = False
        self._here = index
        self.stage.display = True
        self.say("")
        self.refresh_stages()
        self.stage.arrive()

    def action_next(self) -> None:
        """Go to the next stage."""
        self.go_to((self._here + 1) % len(self.stages))

    def action_previous(self) -> None:
        """Go to the stage before."""
        self.go_to((self._here - 1) % len(self.stages))

    def go_to_next_check(self) -> None:
        """Go to the checks, with the cursor on the next open one."""
        words = self._last_said
        self.go_to(1)
        self.say(words)

    def action_check(self) -> None:
        """Go to the next open check."""
        self.go_to(1)

    def took(self, words: str) -> None:
        """Show what was done; nothing when it is empty."""
        if not words:
            return
        self.refresh_stages()
        self.say(words)
        self._read_around()

    def say(self, text: str) -> None:
        """Say one thing in the status line."""
        self._last_said = text
        super().say(text)

    def unsay(self, text: str) -> None:
        """Take this out of the status line, once it is about nothing any more."""
        if text and self._last_said == text:
            self.say("")

    # -- everywhere ----------------------------------------------------------------------------

    def _forward_event(self, event: events.Event) -> None:
        """Let what is typed while the screen opens wait for the entry."""
        if isinstance(event, events.Key) and self.focused is None and self.stage.NAME == _TYPED:
            self._early.take(event)
        else:
            super()._forward_event(event)

    async def on_key(self, event: events.Key) -> None:
        """Let a capital letter count as the small one, for who has caps lock on."""
        letter = event.character or ""
        if len(letter) == 1 and letter.isupper():
            active = self.active_bindings.get(letter.lower())
            if active is not None and active.enabled:
                event.stop()
                await self.app.run_action(active.binding.action, active.node)

    @asking
    async def write_note(self) -> None:
        """Write a note."""
        self.took(await ask_note(self.app, self.desk))

    @asking
    async def action_undo(self) -> None:
        """Ask whether to take the newest action back."""
        self.desk.need_writing()
        index = last_undoable(self.desk.session)
        if index is None:
            raise BlockedError("There is nothing to take back in this session.")
        words = self.desk.session.trail[index].words
        options = (Option("u", "take it back"), Option("n", "leave it"))
        answer = await ask_choice(self.app, f"Take back: {words}?", options)
        if answer is options[0]:
            self.desk.act(undo)
            self.took(f"Took back: {words}.")

    @asking
    async def action_event(self) -> None:
        """Ask what happened; the checks that follow are due again."""
        said = await ask_event(self.app, self.desk)
        self.took(said)
        if said:
            self.go_to_next_check()

    @asking
    async def action_stop(self) -> None:
        """Ask why the session ends early; with open stops the reason stands there already."""
        desk = self.desk
        desk.need_writing()
        attempts = len(desk.session.attempts)
        reason = stop_reason(desk.session.checks, desk.sheet_index, attempts)
        said = await ask_text(
            self.app,
            f"End {desk.session.label} early: why?",
            sentence="Noise, leak, light, tired, or a check: it is a full record all the same.",
            value=reason,
            check=lambda text: stop(desk.session, text, desk.now()),
        )
        if said is not None:
            desk.act(lambda session, at: stop(session, said, at))
            self.leave()

    @asking
    async def action_accident(self) -> None:
        """Show who to call and where one is."""
        marked = await self.app.push_screen_wait(AccidentScreen(self.desk))
        if marked:
            self.took(
                "The time is marked and the session is stopped. n writes a note once it is open."
            )

    def action_back(self) -> None:
        """Leave a search, or go back to the log list."""
        if isinstance(self.stage, SetupStage) and self.stage.clear():
            return
        self.leave()

    def leave(self) -> None:
        """Go back to the log list; everything is saved."""
        self.dismiss(None)
