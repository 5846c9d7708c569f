"""What the screens share that work something out over a machine and test, in a thread."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any, ClassVar, Generic, Protocol, TypeVar

from textual.app import ComposeResult
from textual.message import Message

from core.errors import BackToBackError, BlockedError
from core.verdict.effects import tests_of
from tui.screens.base import HouseScreen
from tui.screens.effects.page import refusal_page, waiting_page
from tui.widgets.page import Page, PageView

__all__ = ["WorkedOutScreen"]


class _Answer(Protocol):
    """What is worked out; it says for which machine and test."""

    @property
    def machine(self) -> str: ...

    @property
    def machine_name(self) -> str: ...

    @property
    def test(self) -> str: ...


A = TypeVar("A", bound=_Answer)


class WorkedOutScreen(HouseScreen[None], Generic[A]):
    """A page about one machine and test; keys take the next of either.

    Args:
        machine: id; empty: that of the newest session.
        test: name; empty: the one the machine ran most.
    """

    AUTO_FOCUS = "PageView"
    HEADING: ClassVar[str]  # in the title line
    WAITING: ClassVar[str]  # until the answer comes

    @dataclass
    class WorkedOut(Message):
        """It was worked out, or refused."""

        number: int
        found: Any
        error: BackToBackError | None

    def __init__(self, machine: str = "", test: str = "") -> None:
        super().__init__()
        self._machine, self._test = machine, test
        self._number = 0  # of the newest request; answers to older ones are not shown
        self._found: A | None = None

    @abstractmethod
    def question(self, machine: str, test: str) -> Callable[[], A]:
        """Return what is to be worked out in a thread, with all that it needs."""

    @abstractmethod
    def page(self, found: A, width: int) -> Page:
        """Return the page of an answer."""

    def compose_body(self) -> ComposeResult:
        """Yield the page."""
        yield PageView()

    def on_mount(self) -> None:
        """Show the frame at once; the sums come from a thread."""
        self.entitle(self.HEADING)
        self.ask()

    @property
    def found(self) -> A | None:
        """What is shown now; None before the first answer and after a refusal."""
        return self._found

    def need_found(self) -> A:
        """Return what is shown.

        Raises:
            BlockedError: nothing is.
        """
        if self._found is None:
            raise BlockedError("There is nothing to look at yet.")
        return self._found

    def ask(self) -> None:
        """Work it out anew."""
        self._number += 1
        self.query_one(PageView).show(lambda width, _: waiting_page(self.WAITING, width))
        question = self.question(self._machine, self._test)
        work = partial(self._work_out, self._number, question)
        self.run_worker(work, name=self.SCENE, group=self.SCENE, thread=True, exclusive=True)

    def _work_out(self, number: int, question: Callable[[], A]) -> None:
        try:
            answer = self.WorkedOut(number, question(), None)
        except BackToBackError as error:
            answer = self.WorkedOut(number, None, error)
        self.post_message(answer)

    def on_worked_out_screen_worked_out(self, message: WorkedOut) -> None:
        """Show the answer, unless something else was asked meanwhile."""
        if message.number != self._number:
            return
        self._found = message.found
        found, error = message.found, message.error
        if found is not None:
            self._machine, self._test = found.machine, found.test
            self.show(found)
        elif error is not None:
            self.query_one(PageView).show(lambda width, _: refusal_page(error, width))

    def show(self, found: A) -> None:
        """Show an answer."""
        self.entitle(self.HEADING, f"{found.machine_name}  {found.test}")
        self.query_one(PageView).show(lambda width, _: self.page(found, width))

    # -- commands ------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)

    def action_test(self) -> None:
        """Take the next test that the machine ran."""
        found = self.need_found()
        tests = tests_of(self.house.book.sessions(), found.machine)
        if len(tests) < 2:
            self.say(f"{found.machine_name} ran one test only.")
            return
        at = tests.index(found.test) if found.test in tests else -1
        self.turn_to(found.machine, tests[(at + 1) % len(tests)])

    def action_machine(self) -> None:
        """Take the next machine that ran something."""
        found = self.need_found()
        ran = list(dict.fromkeys(head.machine for head in self.house.book.sessions()))
        if len(ran) < 2:
            self.say("The log has sessions of one machine only.")
            return
        at = ran.index(found.machine) if found.machine in ran else -1
        self.turn_to(ran[(at + 1) % len(ran)], "")

    def turn_to(self, machine: str, test: str) -> None:
        """Work it out for another machine or test."""
        self._machine, self._test = machine, test
        self.ask()
