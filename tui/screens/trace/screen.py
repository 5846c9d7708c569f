"""The screen of one recording: speed over time, its runs, and what becomes of each of them."""

from __future__ import annotations

import threading
from dataclasses import replace
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from core.errors import BlockedError
from core.session.looking import Looked, standings, start_said
from core.session.taking_runs import As, need_untaken, refuse_run, take_run
from core.session.tracing import keep_trace, with_shift
from core.trace import TraceDocument
from core.trace.traces import Trace
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking, show_error, show_message
from tui.screens.base import HouseScreen
from tui.screens.session.desk import Desk
from tui.screens.trace.adjusting import ask_adjustment
from tui.screens.trace.asking import ask_drag, ask_shift, ask_start, ask_test, ask_undo
from tui.screens.trace.opening import Opening, ask_unit, confirmed
from tui.screens.trace.panel import TracePanel
from tui.screens.trace.view import facts_text, found_words
from tui.screens.trace.work import (
    Looking,
    Progressed,
    ReadDone,
    Refused,
    RunsFound,
    UnitDoubted,
    look,
    read,
)
from tui.text import cut

__all__ = ["TraceScreen"]


class TraceScreen(HouseScreen[str]):
    """A recording and the session it belongs to; answers what came of it in a sentence.

    Args:
        desk: the session.
        opening: what is to be read.
    """

    CSS_PATH = "trace.tcss"
    SCENE = "trace"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("trace")

    def __init__(self, desk: Desk, opening: Opening) -> None:
        super().__init__()
        self.desk = desk
        self.opening = opening
        self.trace: Trace | None = None
        self.looked: Looked | None = None
        self.document: TraceDocument | None = opening.document
        self._looking = Looking(desk.test, start_said(opening.document), None)
        self._stop = threading.Event()
        self._taken = 0
        self._said = ""  # what was done last, to be said again once runs were looked for

    def compose_body(self) -> ComposeResult:
        """Yield what is seen of the recording."""
        yield TracePanel(self.desk)

    def on_mount(self) -> None:
        """Read the file away from the keys."""
        self._entitle()
        self._read()

    def _read(self) -> None:
        self.say("Reading …  esc stops")
        work = partial(read, self, self.opening, self._stop)
        self.run_worker(work, name="read recording", group="trace", thread=True, exclusive=True)

    def _entitle(self) -> None:
        about = f"{self.desk.session.label} · {self._looking.test.name}"
        self.entitle(cut(self.opening.name, 40), about)

    def on_unmount(self) -> None:
        """Let the reading end."""
        self._stop.set()

    @property
    def _panel(self) -> TracePanel:
        return self.query_one(TracePanel)

    # -- reading and looking -------------------------------------------------------------------

    def on_progressed(self, message: Progressed) -> None:
        """Say how far it is."""
        message.stop()
        if self.trace is None:
            self.say(f"Reading: {100 * message.done // max(1, message.total)} %  esc stops")

    def on_read_done(self, message: ReadDone) -> None:
        """Look for runs in what was read."""
        message.stop()
        self.trace = confirmed(message.trace)
        if self.opening.confirmed_now:
            self._kept()  # so that its columns are remembered, whatever becomes of its runs
        self._look()

    def _look(self) -> None:
        assert self.trace is not None  # noqa: S101  asked before
        self.say("Looking for runs …")
        work = partial(look, self, self.desk, self.trace, self._looking, self.document)
        self.run_worker(work, name="look for runs", group="trace", thread=True, exclusive=True)

    @asking
    async def on_unit_doubted(self, message: UnitDoubted) -> None:
        """Ask for the unit, and read again with what was said."""
        message.stop()
        opening = await ask_unit(self.app, self.opening, message.sentence, message.units)
        if opening is None:
            self.dismiss("")
        else:
            self.opening = opening
            self._read()

    @asking
    async def on_refused(self, message: Refused) -> None:
        """Say why; without a recording there is nothing to stay for."""
        message.stop()
        await show_error(self.app, message.error)
        if self.looked is None:
            self.dismiss("")
        else:
            self.say("")

    def on_runs_found(self, message: RunsFound) -> None:
        """Show what was found."""
        message.stop()
        self._panel.show(*self._stand(message.looked))
        assert self.looked is not None  # noqa: S101  just set
        self.say(self._said or found_words(self.looked))
        self._said = ""

    def on_trace_panel_chosen(self) -> None:
        """Accept the run that was clicked twice."""
        with self.house.telling():
            self.action_accept()

    # -- runs ----------------------------------------------------------------------------------

    def _need(self) -> tuple[Trace, Looked]:
        if self.trace is None or self.looked is None:
            raise BlockedError("The recording is still being read.")
        return self.trace, self.looked

    def _stand(self, looked: Looked) -> tuple[Trace, Looked]:
        """Take what was found, with what the session says of it now."""
        assert self.trace is not None  # noqa: S101  asked before
        session, runs = self.desk.session, looked.found.runs
        made = standings(self.trace, runs, session, self.document, looked.shift)
        self.looked = Looked(looked.found, looked.matching, made)
        return self.trace, self.looked

    def _need_run(self) -> int:
        self._need()
        self.desk.need_writing()
        if self._panel.place is None:
            raise BlockedError("There is no run to do that with.", "t looks for another test.")
        return self._panel.place

    def _kept(self) -> TraceDocument:
        """The document of the recording; its file is kept beside the log with it."""
        trace = self.trace
        assert trace is not None  # noqa: S101  asked before
        if self.document is None:
            book, session = self.desk.book, self.desk.session
            self.document = keep_trace(book, self.opening.path, trace, session)
        return self.document

    def action_accept(self) -> None:
        """Accept the run as it was found."""
        place = self._need_run()
        self._take(place, As(self._need()[1].attempt_of(place)))

    @asking
    async def action_adjust(self) -> None:
        """Put something right about the run, and accept it so."""
        place, looked = self._need_run(), self._need()[1]
        how = await ask_adjustment(self.app, self.desk, looked, place)
        if how is not None:
            self._take(place, how)

    def _take(self, place: int, how: As) -> None:
        trace, looked = self._need()
        if how.beside is None and self.desk.barred:
            raise BlockedError(self.desk.barred, "esc leads back to the session, c there to it.")
        now = self.desk.now()
        taken = take_run(self.desk.session, self._kept(), trace, looked, place, now, how)
        self.desk.act(lambda *_: taken.session)
        self._save(taken.document)
        self._taken += 1
        where = "put beside" if taken.beside else "saved as"
        self._done(f"Run {place + 1} is {where} attempt {taken.attempt}.", place)

    @asking
    async def action_refuse(self) -> None:
        """Refuse the run, with its reason."""
        place, looked = self._need_run(), self._need()[1]
        need_untaken(looked, place)
        said = await ask_text(
            self.app,
            f"Run {place + 1} counts for nothing: why?",
            sentence="Enter alone refuses it without a reason.",
        )
        if said is not None:
            self._save(refuse_run(self._kept(), looked, place, self.desk.now(), said))
            self._done(f"Run {place + 1} is refused.", place)

    def _save(self, document: TraceDocument) -> None:
        self.desk.book.save(document)
        self.document = document

    def _done(self, words: str, place: int) -> None:
        """Show what was done, and go on to the next run nothing was said of."""
        trace, looked = self._stand(self._need()[1])
        self._panel.show(trace, looked)
        made = looked.standings
        following = [*range(place + 1, len(made)), *range(place)]
        ahead = next((i for i in following if made[i].state == "open"), None)
        if ahead is not None:
            self._panel.go_to(ahead)
        self._said = words
        self._look()
        self.say(words)

    @asking
    async def action_undo(self) -> None:
        """Ask whether to take the newest action of the session back."""
        self._need()
        self.desk.need_writing()
        words = await ask_undo(self.app, self.desk)
        if words:
            self._done(words, self._panel.place or 0)

    # -- what is looked for --------------------------------------------------------------------

    @asking
    async def action_clock(self) -> None:
        """Shift the clock of the recording, with its reason."""
        place = self._panel.place
        trace, looked = self._need()
        self.desk.need_writing()
        shift = await ask_shift(self.app, self.desk, trace, looked, place)
        if shift is not None:
            self._save(with_shift(self._kept(), *shift))
            self._said = f"The clock is shifted by {shift[0]:+,.0f} s."
            self._look()

    @asking
    async def action_start(self) -> None:
        """Say when the clock of a standing start runs."""
        self._need()
        start = await ask_start(self.app)
        if start is not None:
            self._looking = replace(self._looking, start=start)
            self._look()

    @asking
    async def action_test(self) -> None:
        """Look for the runs of another test."""
        self._need()
        test = await ask_test(self.app, self._looking.test.name)
        if test is not None:
            self._looking = replace(self._looking, test=test)
            self._entitle()
            self._look()

    @asking
    async def action_drag(self) -> None:
        """Work drag out of the coast-downs, and keep it."""
        trace, looked = self._need()
        drag = await ask_drag(self, self.desk, trace, looked)
        if drag is not None:
            self._save(drag(self._kept()))
            self.say(f"Kept: road loads of {self.desk.machine_name} are worked out with it.")

    @asking
    async def action_facts(self) -> None:
        """Show everything that was found odd."""
        trace, looked = self._need()
        text = facts_text(self.opening.name, self.desk, trace, looked, self.size.width)
        await show_message(self.app, f"What is in {self.opening.name}", text)

    def action_back(self) -> None:
        """Stop reading, or go back."""
        self._stop.set()
        count = self._taken
        taken = f"{count} run{'' if count == 1 else 's'} taken over." if count else ""
        self.dismiss("Reading was stopped; nothing was kept." if self.trace is None else taken)
