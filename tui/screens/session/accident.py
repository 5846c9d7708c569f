"""Stop and help: who to call and where one is, and a time mark by one key; nothing else."""

from __future__ import annotations

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from core.checks import CheckRecord, rule_for
from core.session import mark_accident
from tui.commands import bindings_for
from tui.screens.base import HouseScreen
from tui.screens.session.desk import Desk
from tui.text import plain, safe, safe_lines

__all__ = ["AccidentScreen"]

_FIRST: Final = (
    "Engine off, fuel tap shut. Nobody on the strip.",
    "See to the people first. Call for help.",
)
_PLAN: Final = (
    "plan_number",
    "plan_access",
    "plan_gate",
    "plan_hospital",
    "plan_driver",
    "plan_first_aid",
    "plan_contact",
    "plan_phone",
)


class AccidentScreen(HouseScreen[bool]):
    """What was entered for an emergency; no times and no statistics.

    Args:
        desk: the session.
    """

    SCENE = "accident"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("accident")

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._typing = False

    def compose_body(self) -> ComposeResult:
        """Yield the words."""
        with VerticalScroll(classes="page-words"):
            yield Static(safe("STOP AND HELP", "bold"))
            yield Static(safe_lines("\n".join(_FIRST)), classes="page-text")
            yield Static(safe_lines("\n".join(self._plan())), classes="page-text")

    def _plan(self) -> list[str]:
        answers = {r.rule: r for r in self._desk.checks}
        lines = [self._line(answers[rule]) for rule in _PLAN if rule in answers]
        return lines or ["No emergency plan was entered for this session."]

    def _line(self, record: CheckRecord) -> str:
        label = rule_for(record).short
        said = plain(record.result)
        if not said and (before := self._desk.words_before(record.rule)):
            said = f"{plain(before)} (as entered last time)"
        return f"{label[:1].upper()}{label[1:]}: {said or 'not entered'}"

    def on_mount(self) -> None:
        """Set the title and say what the keys do."""
        self.entitle(self._desk.place_name or "Stop and help", f"{self._desk.now():%H:%M}")
        self.usually_say("enter sets a time mark and ends the session. Notes can come later.")
        self.query_one(VerticalScroll).focus()

    def on_key(self, event: events.Key) -> None:
        """Notice letters: they say that the key which led here was part of a word."""
        self._typing = self._typing or (event.character or "").isalpha()

    def action_mark(self) -> None:
        """Set a time mark and end the session; not from within a word that is being typed."""
        typing, self._typing = self._typing, False
        if typing:
            self.say("You were typing: enter once more sets the time mark, esc goes back.")
            return
        self._desk.need_writing()
        self._desk.act(mark_accident)
        self.dismiss(True)

    def action_back(self) -> None:
        """Go back without a mark."""
        self.dismiss(False)
