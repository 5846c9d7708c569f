"""What the four stages of a session share: the desk, being shown, and being arrived at."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.containers import Vertical

from tui.dialogs import asking
from tui.screens.routes import make_screen
from tui.screens.session.desk import Desk

if TYPE_CHECKING:
    from tui.screens.session.screen import SessionScreen

__all__ = ["Stage"]


class Stage(Vertical):
    """One stage of a session; it is shown by itself and told when it is arrived at.

    Args:
        desk: the session.
    """

    SCENE: ClassVar[str] = ""
    """Row of ``tui.commands.SCENES`` whose keys are open here."""
    NAME: ClassVar[str] = ""
    """What it is called on the stage line."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk

    @property
    def room(self) -> SessionScreen:
        """The screen it is on."""
        return cast("SessionScreen", self.screen)

    def progress(self) -> str:
        """Return how far it is, in two or three words."""
        return ""

    def keys_left_out(self) -> frozenset[str]:
        """Return ids of commands that the key line does not show: what would be no answer."""
        return frozenset()

    def keys_asked(self) -> tuple[tuple[str, str], ...]:
        """Return keys and words of the question that is open; empty: none is."""
        return ()

    def show(self) -> None:
        """Draw everything anew from the desk."""

    def arrive(self) -> None:
        """Take the keys; called when the stage is gone to."""

    def leave(self) -> None:
        """Let go; called when another stage is gone to."""

    def action_note(self) -> None:
        """Write a note."""
        self.room.write_note()

    @asking
    async def go_to_bench(self, rule: str = "") -> None:
        """Take readings at the bench; what they cleared and set is shown when it is left.

        Args:
            rule: check that the cursor starts on; empty: the first line.
        """
        await self.app.push_screen_wait(make_screen("bench", self.desk.session.machine, rule))
        self.desk.read_again()
        self.room.took("Back from the bench.")
