"""The screen of what to test next: worked out in a thread, one plan shown at a time."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.setup import slot_of
from core.verdict.effects import tests_of
from core.verdict.next import NextTest, next_test
from tui.commands import bindings_for
from tui.screens.base import HouseScreen
from tui.screens.effects.page import refusal_page, waiting_page
from tui.screens.next.page import next_page
from tui.screens.routes import make_screen
from tui.widgets.page import Page, PageView
from tui.widgets.picture import ascii_wanted

__all__ = ["NextScreen"]


class NextScreen(HouseScreen[None]):
    """Which swap would tell most.

    Args:
        machine: id; empty: that of the newest session.
        test: name; empty: the one the machine ran most.
    """

    SCENE = "next"
    AUTO_FOCUS = "PageView"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("next")

    @dataclass
    class WorkedOut(Message):
        """The swaps were ranked, or refused."""

        number: int
        found: NextTest | None
        error: BackToBackError | None

    def __init__(self, machine: str = "", test: str = "") -> None:
        super().__init__()
        self._machine, self._test, self._about = machine, test, ""
        self._slots: tuple[str, ...] = ()  # those that may be asked about
        self._shown = 0
        self._number = 0  # of the newest request; answers to older ones are not shown
        self._found: NextTest | None = None

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the sums come from a thread."""
        self.entitle("What to test next")
        self._ask()

    @property
    def found(self) -> NextTest | None:
        """What is shown now; None before the first answer and after a refusal."""
        return self._found

    # -- asking and showing --------------------------------------------------------------------

    def _ask(self) -> None:
        self._number, self._shown = self._number + 1, 0
        self.query_one(PageView).show(lambda width, _: waiting_page("Weighing swaps …", width))
        work = partial(self._work_out, self._number, self._machine, self._test, self._about)
        self.run_worker(work, name="next", group="next", thread=True, exclusive=True)

    def _work_out(self, number: int, machine: str, test: str, about: str) -> None:
        try:
            answer = self.WorkedOut(number, next_test(self.house.book, machine, test, about), None)
        except BackToBackError as error:
            answer = self.WorkedOut(number, None, error)
        self.post_message(answer)

    def on_next_screen_worked_out(self, message: WorkedOut) -> None:
        """Show the answer, unless something else was asked meanwhile."""
        if message.number != self._number:
            return
        self._found = message.found
        found, error = message.found, message.error
        if found is not None:
            self._machine, self._test = found.machine, found.test
            if not found.about:
                self._slots = tuple(dict.fromkeys(one.swap.slot for one in found.proposals))
            self._show(found)
        elif error is not None:
            self.query_one(PageView).show(lambda width, _: refusal_page(error, width))

    def _show(self, found: NextTest) -> None:
        self.entitle("What to test next", f"{found.machine_name}  {found.test}")
        self.query_one(PageView).show(partial(self._page, found, self._shown))

    def _page(self, found: NextTest, shown: int, width: int, height: int) -> Page:
        return next_page(found, shown, width, ascii_only=ascii_wanted())

    def _need_found(self) -> NextTest:
        if self._found is None:
            raise BlockedError("There is nothing to look at yet.")
        return self._found

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    def action_plan(self) -> None:
        """Show the plan of the next swap down."""
        found = self._need_found()
        if len(found.proposals) < 2:
            self.say("There is one swap." if found.proposals else "There is no swap to plan.")
            return
        self._shown = (self._shown + 1) % len(found.proposals)
        self._show(found)
        self.say(f"Plan {self._shown + 1} of {len(found.proposals)}.")

    def action_about(self) -> None:
        """Ask about the next slot only, after the last one about everything again."""
        self._need_found()
        if not self._slots:
            self.say("There is no swap to ask about.")
            return
        around = ("", *self._slots)
        at = around.index(self._about) if self._about in around else 0
        self._about = around[(at + 1) % len(around)]
        what = slot_of(self._about).label if self._about else "everything that is open"
        self._ask()
        self.say(f"About {what}.")

    def action_test(self) -> None:
        """Take the next test that the machine ran."""
        found = self._need_found()
        tests = tests_of(self.house.book.sessions(), found.machine)
        if len(tests) < 2:
            self.say(f"{found.machine_name} ran one test only.")
            return
        at = tests.index(found.test) if found.test in tests else -1
        self._test, self._about = tests[(at + 1) % len(tests)], ""
        self._ask()

    def action_machine(self) -> None:
        """Take the next machine that ran something."""
        found = self._need_found()
        ran = list(dict.fromkeys(head.machine for head in self.house.book.sessions()))
        if len(ran) < 2:
            self.say("The log has sessions of one machine only.")
            return
        at = ran.index(found.machine) if found.machine in ran else -1
        self._machine, self._test, self._about = ran[(at + 1) % len(ran)], "", ""
        self._ask()

    def action_effects(self) -> None:
        """Show what each part did."""
        found = self._need_found()
        self.app.push_screen(make_screen("effects", found.machine, found.test))
