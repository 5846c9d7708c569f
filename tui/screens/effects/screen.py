"""The screen of effects: worked out in a thread, laid out when they come."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.verdict.effects import PartEffects, effects_of, tests_of
from tui.commands import bindings_for
from tui.screens.base import HouseScreen
from tui.screens.effects.page import effects_page, refusal_page, waiting_page
from tui.screens.routes import make_screen
from tui.widgets.page import Page, PageView
from tui.widgets.picture import ascii_wanted

__all__ = ["EffectsScreen"]


class EffectsScreen(HouseScreen[None]):
    """What each part did.

    Args:
        machine: id; empty: that of the newest session.
        test: name; empty: the one the machine ran most.
    """

    SCENE = "effects"
    AUTO_FOCUS = "PageView"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("effects")

    @dataclass
    class WorkedOut(Message):
        """Effects were worked out, or refused."""

        number: int
        found: PartEffects | None
        error: BackToBackError | None

    def __init__(self, machine: str = "", test: str = "") -> None:
        super().__init__()
        self._machine, self._test, self._is_raw = machine, test, False
        self._number = 0  # of the newest request; answers to older ones are not shown
        self._found: PartEffects | None = None

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the sums come from a thread."""
        self.entitle("What each part did")
        self._ask()

    @property
    def found(self) -> PartEffects | None:
        """What is shown now; None before the first answer and after a refusal."""
        return self._found

    # -- asking and showing --------------------------------------------------------------------

    def _ask(self) -> None:
        self._number += 1
        self.query_one(PageView).show(lambda width, _: waiting_page("Working it out …", width))
        work = partial(self._work_out, self._number, self._machine, self._test, not self._is_raw)
        self.run_worker(work, name="effects", group="effects", thread=True, exclusive=True)

    def _work_out(self, number: int, machine: str, test: str, allow: bool) -> None:
        try:
            found = effects_of(self.house.book, machine, test, allow=allow)
            answer = self.WorkedOut(number, found, None)
        except BackToBackError as error:
            answer = self.WorkedOut(number, None, error)
        self.post_message(answer)

    def on_effects_screen_worked_out(self, message: WorkedOut) -> None:
        """Show the answer, unless something else was asked meanwhile."""
        if message.number != self._number:
            return
        self._found = message.found
        found, error = message.found, message.error
        if found is not None:
            self._machine, self._test = found.machine, found.test
            self.entitle("What each part did", f"{found.machine_name}  {found.test}")
            self.query_one(PageView).show(partial(self._page, found))
        elif error is not None:
            self.query_one(PageView).show(lambda width, _: refusal_page(error, width))

    def _page(self, found: PartEffects, width: int, height: int) -> Page:
        return effects_page(found, width, ascii_only=ascii_wanted())

    def _need_found(self) -> PartEffects:
        if self._found is None:
            raise BlockedError("There is nothing to look at yet.")
        return self._found

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    def action_test(self) -> None:
        """Take the next test that the machine ran."""
        found = self._need_found()
        tests = tests_of(self.house.book.sessions(), found.machine)
        if len(tests) < 2:
            self.say(f"{found.machine_name} ran one test only.")
            return
        at = tests.index(found.test) if found.test in tests else -1
        self._test = tests[(at + 1) % len(tests)]
        self._ask()

    def action_machine(self) -> None:
        """Take the next machine that ran something."""
        found = self._need_found()
        ran = list(dict.fromkeys(head.machine for head in self.house.book.sessions()))
        if len(ran) < 2:
            self.say("The log has sessions of one machine only.")
            return
        at = ran.index(found.machine) if found.machine in ran else -1
        self._machine, self._test = ran[(at + 1) % len(ran)], ""
        self._ask()

    def action_raw(self) -> None:
        """Leave out what is allowed for air and rider, or put it in again."""
        self._need_found()
        self._is_raw = not self._is_raw
        self._ask()
        self.say("Raw." if self._is_raw else "Air and rider are allowed for, where they were read.")

    def action_next(self) -> None:
        """Ask what to test next."""
        found = self._need_found()
        self.app.push_screen(make_screen("next", found.machine, found.test))
