"""The attempts stage: an entry that is always armed, with the times and their numbers over it."""

from __future__ import annotations

from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from core.attempts import AttemptKind
from core.session import coming_direction, set_next_kind, turn_round
from core.session.live import leave_as_it_is
from tui.commands import bindings_for
from tui.dialogs import asking
from tui.screens.session.airing import ask_air
from tui.screens.session.attempts_view import (
    attempt_columns,
    attempt_lines,
    board_of,
    number_lines,
    picture_of,
)
from tui.screens.session.by_instrument import ByInstrument
from tui.screens.session.legend import air_words, banner_lines, legend_words, packed
from tui.screens.session.lines import Asked, Lines, Outcome
from tui.screens.session.putting_right import ask_correction, ask_other_build
from tui.screens.session.swapping import ask_swap
from tui.text import fitting, safe_lines
from tui.widgets.entry_line import EntryLine
from tui.widgets.picture import PictureView
from tui.widgets.record_list import RecordList
from tui.widgets.time_board import TimeBoard

__all__ = ["AttemptsStage"]

_HINT: Final = "digits, then enter   x strike   t tag   u undo   ? all keys"
_BACK: Final = ("esc", "back")
_BANNERS: Final = 4  # rows over the entry at most


class AttemptsStage(ByInstrument):
    """Attempts of one session as they are made."""

    SCENE = "attempts"
    NAME = "Attempts"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_for("attempts"), *bindings_for("noting")]

    def compose(self) -> ComposeResult:
        """Put board, list with its numbers, banners, legend and entry under each other."""
        yield TimeBoard()
        with Horizontal(id="attempts-body"):
            records = RecordList(attempt_columns(self.desk))
            records.can_focus = False
            yield records
            with Vertical(id="attempts-side"):
                yield PictureView()
                yield Static(id="numbers")
        yield Static(id="air")
        yield Static(id="banner")
        yield Static(id="legend")
        yield EntryLine(self._take, starters="xt", hint=_HINT)

    def on_mount(self) -> None:
        """Start the clock of the board."""
        self._lines = Lines(self.desk, lambda: self._marked)
        self._pinned: int | None = None  # number of the attempt that was gone to; None: the last
        self._asked: Asked | None = None
        self._kept = ""  # the line that was refused or left and still stands in the field
        self._unfinished = ""  # what was said about it
        self._ticking = self.set_interval(1.0, self._tick, pause=True)

    # -- showing -------------------------------------------------------------------------------

    def progress(self) -> str:
        """Return how many attempts there are."""
        return str(len(self.desk.session.attempts))

    def arrive(self) -> None:
        """Arm the entry."""
        self.query_one(EntryLine).focus()
        self._ticking.resume()

    def leave(self) -> None:
        """Stop the clock of the board while nobody sees it."""
        self._ticking.pause()

    def show(self) -> None:
        """Draw everything anew."""
        lines = attempt_lines(self.desk)
        at = self._marked or (self.desk.session.attempts[-1].n if lines else None)
        self.query_one(RecordList).set_records(lines, at=str(at) if at else None)
        self.query_one(PictureView).show(picture_of(self.desk))
        self._say("#numbers", "\n".join(number_lines(self.desk)))
        self._legend()
        self._tick()

    def on_resize(self, event: events.Resize) -> None:
        """Break what is said anew, for the width there is now."""
        self.call_after_refresh(self._legend)

    def _tick(self) -> None:
        """Draw what changes with time alone; what did not change is not drawn."""
        self.query_one(TimeBoard).show(board_of(self.desk))
        self._say("#air", air_words(self.desk))
        self._banners()

    def _banners(self) -> None:
        """Show what should be known, unless the room is needed for what is being typed."""
        free, width = not self.query_one("#legend").display, self.content_size.width - 2
        self._say("#banner", fitting(banner_lines(self.desk), width, _BANNERS) if free else "")

    def _say(self, selector: str, words: str) -> None:
        part = self.query_one(selector, Static)
        content = safe_lines(words)
        if part.content != content:
            part.update(content)
            part.display = bool(words)

    def _legend(self) -> None:
        width = max(20, self.content_size.width - 2)
        if self._asked is not None:
            keys = packed((f"{key} {words}" for key, words in self.keys_asked()), width)
            words = f"{self._asked.text}\n{keys}"
        else:
            typed = self.query_one(EntryLine).value
            words = legend_words(self.desk, typed, self._marked, width)
        self._say("#legend", words)
        self._banners()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what may be typed on; what was refused is not said any more once it is mended."""
        event.stop()
        if event.value != self._kept:
            self._kept = ""
            self.room.unsay(self._unfinished)
        self._legend()

    def keys_asked(self) -> tuple[tuple[str, str], ...]:
        """Return the answers to the question that is open."""
        return (*self._asked.choices, _BACK) if self._asked is not None else ()

    # -- the entry -----------------------------------------------------------------------------

    def _take(self, line: str) -> None:
        """Take a line from the entry."""
        self.take_line(line)

    def take_line(self, line: str, timing: str = "") -> None:
        """Take a line; what it says of an attempt was timed by this gear."""
        self._came_to(self._lines.take(line, timing))

    def _came_to(self, outcome: Outcome) -> None:
        self._asked = outcome.asked
        entry = self.query_one(EntryLine)
        self._kept = outcome.keep
        entry.put(outcome.keep, waiting=outcome.refused or outcome.waiting)
        if outcome.asked is not None:
            keys = (*(key for key, _ in outcome.asked.choices), "escape")
            entry.ask(keys, self._answer)
        if not outcome.refused and outcome.asked is None and not outcome.keep:
            self._pinned = outcome.n
        words = f"▲ {outcome.words}" if outcome.refused else outcome.words
        if words:
            self.room.say(words)
        else:
            self.room.unsay(self._unfinished)
        self._unfinished = words if outcome.keep or outcome.asked else ""
        self.room.refresh_stages()

    def _answer(self, key: str) -> None:
        """Take the answer to a question; no key means that none of its keys was pressed."""
        asked = self._asked
        if asked is None:
            return
        if not key:
            keys = ", ".join(key for key, _ in asked.choices)
            self._unfinished = f"▲ Nothing is taken yet. The question first: {keys}, or esc."
            self.room.say(self._unfinished)
            return
        self._came_to(asked.answer(key))

    # -- the marked attempt --------------------------------------------------------------------

    @property
    def _marked(self) -> int | None:
        """Number of the attempt that was gone to; None: the last one."""
        return self._pinned

    def _number(self) -> int | None:
        """Number of the attempt under the mark, or None without any."""
        current = self.query_one(RecordList).current
        return int(current.id) if current else None

    def action_earlier(self) -> None:
        """Mark the attempt before."""
        self._move(-1)

    def action_later(self) -> None:
        """Mark the attempt after."""
        self._move(1)

    def _move(self, step: int) -> None:
        records = self.query_one(RecordList)
        records.cursor += step
        at_end = records.cursor == len(records.records) - 1
        self._pinned = None if at_end else self._number()
        self._legend()

    # -- commands of one key -------------------------------------------------------------------

    def action_strike(self) -> None:
        """Begin a line that strikes."""
        self.query_one(EntryLine).put("x ")

    def action_tag(self) -> None:
        """Begin a line that tags."""
        self.query_one(EntryLine).put("t ")

    def action_read_back(self) -> None:
        """Say the marked attempt in words."""
        self._take(".")

    def action_turn(self) -> None:
        """Turn the next attempt round."""
        self.desk.need_writing()
        self.desk.act(turn_round)
        self.room.say(f"Next: {coming_direction(self.desk.session)}.")
        self.room.refresh_stages()

    def action_warm_up(self) -> None:
        """Make the coming attempts warm-up runs, or timed ones again."""
        self.desk.need_writing()
        kind: AttemptKind = "timed" if self.desk.session.next_kind == "warm-up" else "warm-up"
        self.desk.act(lambda session, at: set_next_kind(session, kind, at))
        how = "count" if kind == "timed" else "are noted but never averaged"
        self.room.say(f"Coming attempts: {kind}; they {how}.")
        self.room.refresh_stages()

    def action_broken_off(self) -> None:
        """Note an attempt that was broken off."""
        self._take("abort")

    def action_odd(self) -> None:
        """Ask what happened in the attempt that stands apart."""
        odd = self.desk.odd_unasked()
        if odd is None:
            self.room.say("No attempt stands apart unexplained.")
            return
        choices = (
            ("t", "tag what the machine did"),
            ("x", "strike it for a fault of the test"),
            ("l", "leave it: no reason known, it stays"),
        )
        n = odd.n

        def answer(key: str) -> Outcome:
            if key in ("t", "x"):
                return Outcome(keep=f"{key}{n} ")
            if key == "l":
                self.desk.act(lambda session, at: leave_as_it_is(session, n, at))
                return Outcome(f"Attempt {n} stays in the numbers as it is.")
            return Outcome()

        self._came_to(Outcome(asked=Asked(odd.sentence, choices, answer)))

    # -- commands that ask more ----------------------------------------------------------------

    @asking
    async def action_air(self) -> None:
        """Take air and wind down."""
        said = await ask_air(self.app, self.desk)
        self.room.took(said)

    @asking
    async def action_swap(self) -> None:
        """Take a swap: what was changed, the new sheet, then its checks."""
        said = await ask_swap(self.app, self.desk)
        self.room.took(said)
        if said:
            self.room.go_to_next_check()

    @asking
    async def action_put_right(self) -> None:
        """Correct what is noted beside the marked attempt."""
        number = self._number()
        self.room.took(await ask_correction(self.app, self.desk, number))

    @asking
    async def action_move(self) -> None:
        """Move the attempts from the marked one on to another build."""
        number = self._number()
        self.room.took(await ask_other_build(self.app, self.desk, number))
