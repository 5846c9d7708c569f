"""The screen of effects: worked out in a thread, laid out when they come."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from core.verdict.effects import PartEffects, effects_of
from tui.commands import bindings_for
from tui.screens.effects.page import effects_page
from tui.screens.routes import make_screen
from tui.screens.worked_out import WorkedOutScreen
from tui.widgets.page import Page
from tui.widgets.picture import ascii_wanted

__all__ = ["EffectsScreen"]


class EffectsScreen(WorkedOutScreen[PartEffects]):
    """What each part did."""

    SCENE = "effects"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("effects")
    HEADING = "What each part did"
    WAITING = "Working it out …"

    def __init__(self, machine: str = "", test: str = "") -> None:
        super().__init__(machine, test)
        self._is_raw = False

    def question(self, machine: str, test: str) -> Callable[[], PartEffects]:
        """Return the effects to be worked out, as far as wished after air and rider."""
        return partial(effects_of, self.house.book, machine, test, allow=not self._is_raw)

    def page(self, found: PartEffects, width: int) -> Page:
        """Return the page of effects."""
        return effects_page(found, width, ascii_only=ascii_wanted())

    def action_raw(self) -> None:
        """Leave out what is allowed for air and rider, or put it in again."""
        self.need_found()
        self._is_raw = not self._is_raw
        self.ask()
        self.say("Raw." if self._is_raw else "Air and rider are allowed for, where they were read.")

    def action_next(self) -> None:
        """Ask what to test next."""
        found = self.need_found()
        self.app.push_screen(make_screen("next", found.machine, found.test))
