"""The screen of what to test next: worked out in a thread, one plan shown at a time."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from core.setup import slot_of
from core.verdict.next import NextTest, next_test
from tui.commands import bindings_for
from tui.screens.next.page import next_page
from tui.screens.routes import make_screen
from tui.screens.worked_out import WorkedOutScreen
from tui.widgets.page import Page
from tui.widgets.picture import ascii_wanted

__all__ = ["NextScreen"]


class NextScreen(WorkedOutScreen[NextTest]):
    """Which swap would tell most."""

    SCENE = "next"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("next")
    HEADING = "What to test next"
    WAITING = "Weighing swaps …"

    def __init__(self, machine: str = "", test: str = "") -> None:
        super().__init__(machine, test)
        self._about = ""
        self._slots: tuple[str, ...] = ()  # those that may be asked about
        self._shown = 0

    def question(self, machine: str, test: str) -> Callable[[], NextTest]:
        """Return the ranking to be worked out."""
        return partial(next_test, self.house.book, machine, test, self._about)

    def page(self, found: NextTest, width: int) -> Page:
        """Return the page of swaps, with the plan that is shown."""
        return next_page(found, self._shown, width, ascii_only=ascii_wanted())

    def ask(self) -> None:
        """Work it out anew; the best plan is shown first."""
        self._shown = 0
        super().ask()

    def show(self, found: NextTest) -> None:
        """Show an answer; one about everything tells what may be asked about."""
        if not found.about:
            self._slots = tuple(dict.fromkeys(one.swap.slot for one in found.proposals))
        super().show(found)

    def turn_to(self, machine: str, test: str) -> None:
        """Work it out for another machine or test, about everything."""
        self._about = ""
        super().turn_to(machine, test)

    def action_plan(self) -> None:
        """Show the plan of the next swap down."""
        found = self.need_found()
        if len(found.proposals) < 2:
            self.say("There is one swap." if found.proposals else "There is no swap to plan.")
            return
        self._shown = (self._shown + 1) % len(found.proposals)
        self.show(found)
        self.say(f"Plan {self._shown + 1} of {len(found.proposals)}.")

    def action_about(self) -> None:
        """Ask about the next slot only, after the last one about everything again."""
        self.need_found()
        if not self._slots:
            self.say("There is no swap to ask about.")
            return
        around = ("", *self._slots)
        at = around.index(self._about) if self._about in around else 0
        self._about = around[(at + 1) % len(around)]
        what = slot_of(self._about).label if self._about else "everything that is open"
        self.ask()
        self.say(f"About {what}.")

    def action_effects(self) -> None:
        """Show what each part did."""
        found = self.need_found()
        self.app.push_screen(make_screen("effects", found.machine, found.test))
