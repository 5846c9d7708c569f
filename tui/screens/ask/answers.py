"""One answer of the log, and the season over time: pages that are asked of a machine."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from core.ask import ask, question_numbered, search, tests_run
from core.report import Report
from core.report.asking import answer_page, hits_page
from core.report.season_pages import season_page, season_told
from core.session import Book
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking
from tui.screens.report_page import ReportScreen

__all__ = ["AnswerScreen", "SeasonScreen"]


class AskedScreen(ReportScreen):
    """A page about a machine that can be changed for the next one.

    Args:
        machine: id; empty: that of the newest session.
    """

    def __init__(self, machine: str = "") -> None:
        super().__init__()
        self._machine = machine

    def action_machine(self) -> None:
        """Take the next machine that has sessions."""
        ran = list(dict.fromkeys(head.machine for head in reversed(self.house.book.sessions())))
        if len(ran) < 2:
            self.say("The log has sessions of one machine only.")
            return
        at = ran.index(self._machine) if self._machine in ran else 0
        self._machine = ran[(at + 1) % len(ran)]
        self.forget()
        self.ask_again()
        self.say(self.house.book.name_of(self._machine))

    def forget(self) -> None:
        """Forget what was asked about the machine before."""


class AnswerScreen(AskedScreen):
    """The answer to one question, or what a search found.

    Args:
        machine: id; empty: that of the newest session.
        number: of the question; 0: a search.
        words: what it is about, or what is looked for.
    """

    SCENE = "answer"
    NAME = "answer"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("answer")

    def __init__(self, machine: str, number: int, words: str = "") -> None:
        super().__init__(machine)
        self._asked = number
        self._words = words

    def make_report(self, book: Book) -> Report:
        """Return the answer."""
        if not self._asked:
            page = hits_page(self._words, search(book, self._words))
            return Report(f"Search: {self._words}", page.blocks)
        question = question_numbered(self._asked)
        return answer_page(
            question, ask(book, self._asked, self._words, self._machine), self._words
        )

    def forget(self) -> None:
        """Ask a question of the next machine as a whole; a search stays."""
        self._words = self._words if not self._asked else ""

    @asking
    async def action_words(self) -> None:
        """Say what it is about."""
        about = question_numbered(self._asked).about if self._asked else "words to look for"
        words = await ask_text(
            self.app,
            "What about?",
            sentence=f"{about[:1].upper()}{about[1:]}; empty for all.",
            value=self._words,
        )
        if words is not None and (words.strip() or self._asked):
            self._words = words
            self.ask_again()


class SeasonScreen(AskedScreen):
    """A machine's results on one test over time.

    Args:
        machine: id; empty: that of the newest session.
    """

    SCENE = "season"
    NAME = "season"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("season")

    def __init__(self, machine: str = "") -> None:
        super().__init__(machine)
        self._test = ""
        self._tests: tuple[str, ...] = ()

    def make_report(self, book: Book) -> Report:
        """Return the season."""
        asker, season = season_told(book, self._test, self._machine)
        self._tests = tests_run(asker.sessions, asker.machine)
        self._test = season.test
        return season_page(book, self._test, self._machine)

    def forget(self) -> None:
        """Take the test that the next machine ran most."""
        self._test = ""

    def action_test(self) -> None:
        """Take the next test that the machine ran."""
        if len(self._tests) < 2:
            self.say("It ran one test only.")
            return
        at = self._tests.index(self._test) if self._test in self._tests else -1
        self._test = self._tests[(at + 1) % len(self._tests)]
        self.ask_again()
