"""The stopwatch: large digits while it runs, then a second helper's watch beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from core.errors import BlockedError, InputError
from core.session import attempt_numbered, change_attempt, last_attempt
from core.trace import hand_words
from tui.commands import bindings_for
from tui.dialogs import Drawer, TextDrawer
from tui.screens.session.desk import Desk
from tui.screens.session.putting_right import read_second
from tui.text import safe, safe_lines
from tui.widgets.big_text import big_lines, big_style
from tui.widgets.entry_line import BOUNCE
from tui.widgets.line_input import LineInput

__all__ = ["TIMING", "RunningWatch", "SecondWatch", "need_watch", "time_by_hand"]

Clock = Callable[[], float]

TIMING: Final = "hand"
"""Name of the timing gear that its times are taken down with."""

_WAITED: Final = 60  # s for a second helper's watch
_TICK: Final = 0.1  # s
_ROOM: Final = 20  # lines of the terminal from which digits are five rows high
_LOOKS: Final = """
#watch { height: auto; padding: 1 2; text-style: bold; }
.-short #watch { padding: 0 2; }
"""


def need_watch(desk: Desk) -> None:
    """Refuse before the watch runs what could not be taken down after it.

    Raises:
        BackToBackError: nothing can be entered, or the test is not clocked in seconds.
    """
    desk.need_writing()
    if desk.barred:
        raise BlockedError(desk.barred, "c goes to it.")
    if desk.test.unit != "s":
        raise InputError(f"A stopwatch gives seconds, and {desk.test.title} is none.")


def large(seconds: float, decimals: int, *, tall: bool) -> str:
    """Return a time in large digits, with minutes from 60 s on."""
    minutes, rest = divmod(round(seconds, decimals), 60)
    words = f"{int(minutes)}:{rest:0{decimals + 3}.{decimals}f}" if minutes else ""
    return "\n".join(big_lines(words or f"{rest:.{decimals}f}", big_style(tall=tall)))


class RunningWatch(Drawer[float]):
    """Runs until it is stopped; answers the seconds, or None when it was dropped.

    Args:
        began: reading of the clock when it was started.
        clock: seconds that only go up.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("watch")
    DEFAULT_CSS = _LOOKS

    def __init__(self, began: float, clock: Clock) -> None:
        super().__init__("Stopwatch", hand_words())
        self._began = began
        self._clock = clock

    def compose_body(self) -> ComposeResult:
        """Yield the digits."""
        yield Static(id="watch")

    def on_mount(self) -> None:
        """Let the digits run."""
        self._tick()
        self.set_interval(_TICK, self._tick)

    def _tick(self) -> None:
        tall = self.app.size.height >= _ROOM
        shown = large(max(0.0, self._clock() - self._began), 1, tall=tall)
        self.query_one("#watch", Static).update(safe_lines(shown))

    def action_stop(self) -> None:
        """Stop, unless it is the bounce of the key that started it."""
        seconds = self._clock() - self._began
        if seconds >= BOUNCE:
            self.dismiss(seconds)

    def action_drop(self) -> None:
        """Leave without a time."""
        self.dismiss(None)


class SecondWatch(TextDrawer):
    """Shows the time that was taken, and waits a minute for what a second watch said.

    Args:
        desk: the session.
        n: number of the attempt.
        seconds: what the watch showed.
    """

    DEFAULT_CSS = _LOOKS

    def __init__(self, desk: Desk, n: int, seconds: float) -> None:
        way = attempt_numbered(desk.session, n).direction
        super().__init__(
            " ".join(filter(None, (f"Attempt {n}", way, "is saved"))),
            sentence=hand_words(),
            hint="a second watch said: digits, then enter",
            check=lambda text: read_second(desk, text) if text.strip() else None,
        )
        self._seconds = seconds
        self._left = _WAITED

    def compose_body(self) -> ComposeResult:
        """Yield the digits over the field."""
        yield Static(id="watch")
        yield from super().compose_body()
        yield Static(id="watch-left", classes="drawer-hint")

    def on_mount(self) -> None:
        """Show the time, and count down."""
        tall = self.app.size.height >= _ROOM
        shown = large(self._seconds, 2, tall=tall)
        self.query_one("#watch", Static).update(safe_lines(shown))
        self._count()
        self.set_interval(1.0, self._count)

    def _count(self) -> None:
        if self._left < 0 and not self._typed:
            self.dismiss(None)
            return
        words = f"Open for {self._left} s; enter alone goes on." if self._left >= 0 else ""
        self.query_one("#watch-left", Static).update(safe(words))
        self._left -= 1

    @property
    def _typed(self) -> str:
        return self.query_one(LineInput).value


async def time_by_hand(
    app: App[Any], desk: Desk, watch: tuple[float, Clock], take: Callable[[str], None]
) -> str:
    """Run the stopwatch, take its time down, then what a second watch said beside it.

    Args:
        app: the app.
        desk: the session.
        watch: reading of the clock when it was started, and the clock.
        take: called with the time as a line that could have been typed.

    Returns:
        What there is to say at the end; empty: it was said already.
    """
    seconds = await app.push_screen_wait(RunningWatch(*watch))
    if seconds is None:
        return "The stopwatch was dropped; nothing was taken down."
    before = desk.session
    take(f"{seconds:.2f}")
    if desk.session is before:
        return ""  # refused, or a question is open
    n = last_attempt(desk.session).n
    said = await app.push_screen_wait(SecondWatch(desk, n, seconds))
    return _put_beside(desk, n, said) if said and said.strip() else ""


def _put_beside(desk: Desk, n: int, text: str) -> str:
    """Put what a second watch said beside an attempt; return what was done."""
    value = read_second(desk, text)
    desk.act(lambda session, at: change_attempt(session, n, at, second=value, second_timing=TIMING))
    first = attempt_numbered(desk.session, n).value or 0.0
    return f"Attempt {n}: the second watch said {value:.2f} s, {value - first:+.2f} s to the first."
