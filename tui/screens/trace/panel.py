"""What is seen of a recording: facts, all of it and the run under the cursor, the list of runs."""

from __future__ import annotations

from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Static

from core.report.speed_pictures import span_of_run, speed_picture
from core.session.looking import Looked
from core.trace.traces import Trace
from tui.screens.session.desk import Desk
from tui.screens.trace.view import fact_lines, run_columns, run_lines, value_words
from tui.text import cut, safe_lines
from tui.widgets.record_list import RecordList
from tui.widgets.speed_plot import SpeedPlot

__all__ = ["TracePanel"]


class TracePanel(Vertical):
    """Shows a recording once it is read; nothing before.

    Args:
        desk: the session.
    """

    @dataclass
    class Chosen(Message):
        """A run was clicked on while the cursor was there already."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._trace: Trace | None = None
        self._looked: Looked | None = None
        self.display = False

    def compose(self) -> ComposeResult:
        """Yield facts, both pictures and the list of runs."""
        yield Static(id="trace-facts")
        yield SpeedPlot(id="whole")
        yield SpeedPlot(id="near")
        yield RecordList(run_columns())

    @property
    def _list(self) -> RecordList:
        return self.query_one(RecordList)

    @property
    def place(self) -> int | None:
        """Place of the run under the cursor among the runs, or None without any."""
        current = self._list.current
        return int(current.id) if current is not None else None

    def go_to(self, place: int) -> None:
        """Put the cursor on a run."""
        self._list.go_to(str(place))

    def show(self, trace: Trace, looked: Looked) -> None:
        """Show a recording and what was found in it; the cursor stays where it is."""
        self._trace, self._looked = trace, looked
        if not self.display:
            self.display = True
            self._list.focus()
        self._facts()
        self._list.set_records(run_lines(self._desk, trace, looked))
        self._draw()

    def _facts(self) -> None:
        if self._trace is None or self._looked is None:
            return
        width = max(20, self.app.size.width - 2)
        lines = fact_lines(self._trace, self._looked)
        told = "\n".join(cut(line, width) for line in lines)
        self.query_one("#trace-facts", Static).update(safe_lines(told))

    def on_resize(self) -> None:
        """Cut the facts anew."""
        self._facts()

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Show the run under the cursor."""
        event.stop()
        self._draw()

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Say that a run was clicked twice."""
        event.stop()
        self.post_message(self.Chosen())

    def _draw(self) -> None:
        """Draw the whole recording, and the run under the cursor from near."""
        trace, looked = self._trace, self._looked
        if trace is None or looked is None:
            return
        runs, place = looked.found.runs, self.place
        here = None if place is None else place + 1
        key = (trace.sha256, runs)
        whole, near = self.query_one("#whole", SpeedPlot), self.query_one("#near", SpeedPlot)
        whole.show(key, lambda columns: speed_picture(trace, runs, columns), here)
        near.display = place is not None
        if place is not None:
            span = span_of_run(runs[place])
            first = runs[place].from_index
            part = next(part for part in trace.parts if part[0] <= first < part[1])
            words = value_words(looked.standings[place].run or runs[place])
            near.show(
                (*key, place),
                lambda columns: speed_picture(trace, runs, columns, span, part),
                here,
                words,
            )
