"""The app: one open log, its screens, and what holds on all of them."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, cast

from textual.app import App
from textual.binding import BindingType
from textual.command import CommandPalette
from textual.dom import DOMNode
from textual.screen import Screen
from textual.theme import Theme

from core.clock import Clock, local_now
from core.errors import BackToBackError, BlockedError
from tui.commands import SCENES, bindings_for, checked_keys
from tui.commands.palette import CommandProvider, Palette
from tui.dialogs import MessageDrawer, asking
from tui.faults import last_words
from tui.leaving import leave_on_signals
from tui.messages import LogRead, LogRefused
from tui.preferences import PreferencesFile
from tui.screens.base import HouseScreen
from tui.screens.log_list import LogListScreen
from tui.screens.routes import load_all, make_screen
from tui.themes import THEMES, other_theme

if TYPE_CHECKING:
    from textual.driver import Driver

    from core.session.book import Book
    from tui.drafts import Draft

__all__ = ["BackToBackApp", "BookOpener"]

BookOpener = Callable[[], "Book"]
"""Opens the log; called once in a thread after first paint, may raise BackToBackError."""


class BackToBackApp(App[None], inherit_bindings=False):
    """The app over one log.

    Args:
        book_opener: opens the log; called in a thread after first paint.
        preferences: units, theme, keys, and what was used last.
        clock: tells the time now.
        demo: whether the log is a copy of the demo season.
    """

    TITLE = "Back to Back"
    CSS_PATH = Path(__file__).with_name("app.tcss")
    COMMANDS: ClassVar[set[Any]] = {CommandProvider}
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("app")

    def __init__(
        self,
        book_opener: BookOpener,
        preferences: PreferencesFile,
        clock: Clock = local_now,
        *,
        demo: bool = False,
    ) -> None:
        self.set_reactive(App.theme, preferences.now.theme)  # the style sheet is made for it
        super().__init__()
        self.preferences = preferences
        self.clock = clock
        self.demo = demo
        self.key_complaints: tuple[str, ...] = ()
        """One sentence for each entry of the user's key map that is not used."""
        self.kept_plan: Draft | None = None
        """What was typed for a new session before esc; offered when it is planned again."""
        self._book_opener = book_opener
        self._book: Book | None = None
        self.plans: dict[str, Any] = {}
        """What was changed on paper so far, by machine; it is never saved."""
        self.animation_level = "none"

    @property
    def available_themes(self) -> dict[str, Theme]:
        """The two looks of our own, and no others."""
        return {theme.name: theme for theme in THEMES}

    # -- the log -------------------------------------------------------------------------------

    @property
    def book(self) -> Book:
        """The open log.

        Raises:
            BlockedError: it is not read yet, or could not be opened.
        """
        if self._book is None:
            raise BlockedError("The log is not open yet.", "Wait a moment, or press r.")
        return self._book

    @property
    def has_book(self) -> bool:
        """Whether the log is open."""
        return self._book is not None

    def read_log(self) -> None:
        """Open and read the log in a thread; the log list is told when it is done."""
        self.run_worker(self._read, name="read the log", group="log", thread=True, exclusive=True)

    def _read(self) -> None:
        from tui.log_rows import read_state  # lazy: 45 ms with what it needs of the core

        try:
            if self._book is None:
                self._book = self._book_opener()
            if not self.is_running:  # left while it was being opened
                self._book.close()
                return
            self._book.log.refresh()
            message: LogRead | LogRefused = LogRead(
                read_state(self._book, doubt_clock=not self.demo)
            )
        except BackToBackError as error:
            message = LogRefused(error)
        self.post_message(message)

    def on_log_read(self, message: LogRead) -> None:
        """Show the log, then load what the other screens need."""
        self._log_list.show_log(message.state)
        self.run_worker(load_all, name="load the rest", group="loading", thread=True)

    def on_log_refused(self, message: LogRefused) -> None:
        """Say why there is no log."""
        self._log_list.show_refusal(message.error)

    @property
    def _log_list(self) -> LogListScreen:
        return next(s for s in self.screen_stack if isinstance(s, LogListScreen))

    def get_driver_class(self) -> type[Driver]:
        """Return what drives the terminal here."""
        usual = super().get_driver_class()
        if sys.platform == "win32":
            return usual
        from tui.driver import TerminalDriver  # not on Windows, which ends a program by itself

        return TerminalDriver if issubclass(TerminalDriver, usual) else usual

    def get_default_screen(self) -> Screen[Any]:
        """Return the screen that is under all others."""
        return LogListScreen()

    # -- starting and leaving ------------------------------------------------------------------

    def on_mount(self) -> None:
        """Take over keys and signals, and greet who is new."""
        checked = checked_keys(self.preferences.now.keys)
        self.key_complaints = checked.complaints
        if checked.keys:
            self.set_keymap(checked.keys)
        leave_on_signals(self.exit)
        if not self.preferences.now.cautions_seen:
            self._greet()

    @asking
    async def _greet(self) -> None:
        """Ask for units and show the cautions; both are remembered once they are accepted."""
        units = await self.push_screen_wait(make_screen("units", self.preferences.now.units))
        await self.push_screen_wait(make_screen("caution"))
        kept = self.preferences.now.units if units is None else units
        self.preferences.change(units=kept, cautions_seen=True)

    def on_unmount(self) -> None:
        """Give the log back."""
        if self._book is not None:
            self._book.close()

    def _fatal_error(self) -> None:
        """End on a fault of the program with plain words; the details go to a file."""
        self._exit_renderables.append(last_words())
        self._close_messages_no_wait()

    # -- going to screens ----------------------------------------------------------------------

    def open_session(self, session_id: str) -> None:
        """Go on with an open session, or read one that is closed or stopped."""
        state = self.book.session(session_id).state
        self.push_screen(make_screen("session" if state == "open" else "review", session_id))

    def compare_sessions(self, older_id: str, newer_id: str) -> None:
        """Compare two sessions."""
        self.push_screen(make_screen("compare", older_id, newer_id))

    # -- refusals ------------------------------------------------------------------------------

    def show_error(self, error: BackToBackError) -> None:
        """Show a refusal with title, sentence and hint; nothing waits for it to be closed."""
        self.push_screen(MessageDrawer.of(error))

    @contextmanager
    def telling(self) -> Iterator[None]:
        """Show a refusal of the core that is raised within, and go on."""
        try:
            yield
        except BackToBackError as error:
            self.show_error(error)

    async def run_action(
        self,
        action: Any,
        default_namespace: DOMNode | None = None,
        namespaces: Any = None,
    ) -> bool:
        """Run the action of a key or of the palette; a refusal of the core is shown."""
        with self.telling():
            return await super().run_action(action, default_namespace, namespaces)
        return True

    # -- commands open everywhere --------------------------------------------------------------

    def action_help(self) -> None:
        """Show every key of the present screen."""
        scene = self.screen.scene if isinstance(self.screen, HouseScreen) else ""
        if scene in SCENES:
            own = checked_keys(self.preferences.now.keys).keys
            self.push_screen(make_screen("help", scene, own))

    def action_theme(self) -> None:
        """Change between the two looks and remember it."""
        self.theme = other_theme(self.theme)
        self.preferences.change(theme=self.theme)

    @asking
    async def action_units(self) -> None:
        """Choose the units again."""
        units = await self.push_screen_wait(make_screen("units", self.preferences.now.units))
        if units is not None:
            self.preferences.change(units=units)

    def action_command_palette(self) -> None:
        """Find a command by typing."""
        if not CommandPalette.is_open(cast("App[object]", self)):
            self.push_screen(Palette())

    def action_interrupt(self) -> None:
        """Say how to leave."""
        if isinstance(self.screen, HouseScreen):
            self.screen.say("ctrl+q leaves. Everything that was entered is saved.")
