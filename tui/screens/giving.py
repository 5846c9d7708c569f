"""What the log gives back, reached from the log list: questions, shelf, season."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from tui.screens.routes import make_screen

if TYPE_CHECKING:
    from tui.log_rows import LogRow
    from tui.screens.log_list import LogListScreen

__all__ = ["GivingBack"]


class GivingBack:
    """Actions of the log list that open what the log gives back."""

    def _current_row(self) -> LogRow | None:
        """Return the session under the cursor, or None."""
        raise NotImplementedError

    def _open_page(self, route: str) -> None:
        """Open a screen about the machine of the session under the cursor, if there is one."""
        row = self._current_row()
        screen = make_screen(route, row.head.machine if row is not None else "")
        cast("LogListScreen", self).app.push_screen(screen)

    def action_ask(self) -> None:
        """Show the questions that the log answers."""
        self._open_page("ask")

    def action_shelf(self) -> None:
        """Show the parts."""
        self._open_page("shelf")

    def action_season(self) -> None:
        """Show results over time."""
        self._open_page("season")

    def action_merge(self) -> None:
        """Show what another log, or copies in this one, would bring."""
        cast("LogListScreen", self).app.push_screen(make_screen("merge"))
