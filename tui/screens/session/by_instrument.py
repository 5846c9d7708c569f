"""What the attempts stage takes from instruments: the stopwatch, and recordings."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import ClassVar

from textual.binding import BindingType

from tui.commands import bindings_for
from tui.dialogs import asking
from tui.screens.session.desk import Desk
from tui.screens.session.recordings import go_through
from tui.screens.session.stage import Stage
from tui.screens.session.stopwatch import TIMING, need_watch, time_by_hand

__all__ = ["ByInstrument"]


class ByInstrument(Stage):
    """A stage that can be told times by a stopwatch or a recording."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("recording")

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.watch_clock: Callable[[], float] = time.monotonic

    def take_line(self, line: str, timing: str = "") -> None:
        """Take a line as if it had been typed; the stage says how."""

    def action_stopwatch(self) -> None:
        """Start the stopwatch; what follows waits for its end."""
        began = self.watch_clock()
        need_watch(self.desk)
        self._time_by_hand(began)

    @asking
    async def _time_by_hand(self, began: float) -> None:
        """Take the time of the stopwatch down, and what a second watch said beside it."""
        watch = (began, self.watch_clock)
        said = await time_by_hand(
            self.app, self.desk, watch, lambda line: self.take_line(line, TIMING)
        )
        self.room.took(said)

    @asking
    async def action_recording(self) -> None:
        """Read a recording and take its runs over."""
        self.room.took(await go_through(self.app, self.desk))
