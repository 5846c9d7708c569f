"""The lift table screen: rows of degree wheel and dial gauge, drawn as they are typed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from core.bench import Side
from core.errors import BackToBackError, BlockedError
from core.session import keep_reading
from core.setup import known_value
from core.units import format_number, read_quantity
from tui.commands import bindings_for
from tui.dialogs import Option, ask_choice, ask_text, asking, confirm
from tui.screens.base import HouseScreen
from tui.screens.bench.lift_rows import LiftDraft, Row, find_draft, read_row, rows_of_file
from tui.subject import Subject
from tui.text import safe_lines
from tui.widgets.columns import Column
from tui.widgets.curve_drawing import Curve, CurvePlot
from tui.widgets.curve_view import CurveView
from tui.widgets.entry_line import EntryLine
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line

__all__ = ["LiftScreen"]

_HINT: Final = "degrees, a blank, lift, enter   k keep   o file   x drop   ? all keys"
_HOW: Final = (
    "Crank degrees count from the top between exhaust and intake, minus before it; begin and end"
    " where the lift is 0. Every 5 or 10 degrees will do, closer within 60° of that top."
)
_PLACES: Final = (
    (Option("l", "at the lobe, in mm"), False, "mm"),
    (Option("v", "at the valve, in mm"), True, "mm"),
    (Option("t", "at the lobe, in thou"), False, "thou"),
    (Option("w", "at the valve, in thou"), True, "thou"),
)


class LiftScreen(HouseScreen[None]):
    """One lift table; its rows are saved as they are typed, and kept as a table by k.

    Args:
        subject: the machine or loose engine.
        side: whose lobe it is.
    """

    SCENE = "lift"
    AUTO_FOCUS = "EntryLine"
    CSS_PATH = Path(__file__).with_name("bench.tcss")
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("lift")

    def __init__(self, subject: Subject, side: Side) -> None:
        super().__init__()
        self.subject = subject
        self.draft: LiftDraft = find_draft(self.house.book, subject, side)
        self._list = RecordList((Column("°", 8, 8, right=True), Column("lift", 9, 9, right=True)))
        self._list.can_focus = False

    def compose_body(self) -> ComposeResult:
        """Yield how it is read, the rows, their curve and the entry."""
        with Vertical(id="lift"):
            yield Static(id="lift-said")
            with Horizontal(id="lift-body"):
                yield self._list
                yield CurveView()
            yield EntryLine(self._typed, starters="-", hint=_HINT)

    def on_mount(self) -> None:
        """Show the rows that were typed before."""
        self._show()
        if self.draft.rows:
            self.say(f"As it was left: {len(self.draft.rows)} rows. k keeps them as the table.")

    def _show(self, at: float | None = None) -> None:
        draft = self.draft
        self.entitle(f"Lift table  {draft.side} {draft.place}, {draft.unit}", self.subject.words)
        lines = [
            Line(repr(angle), (format_number(angle), format_number(lift)))
            for angle, lift in draft.rows
        ]
        self._list.set_records(lines, at=None if at is None else repr(at))
        self.query_one("#lift-said", Static).update(safe_lines(_said(draft)))
        self.query_one(CurveView).show(_plot(draft))

    def _take(self, draft: LiftDraft, words: str, at: float | None = None) -> None:
        """Save what the rows are now, and show it."""
        self.house.book.save(draft.kept(self.subject))
        self.draft = draft
        self._show(at)
        self.say(words)

    # -- typing --------------------------------------------------------------------------------

    def _typed(self, text: str) -> None:
        """Take a row, ask about an unusual one, or say why it is none."""
        entry = self.query_one(EntryLine)
        if not text.strip():
            return
        try:
            row, question = read_row(text, self.draft.unit)
        except BackToBackError as error:
            entry.put(text, waiting=True)
            self.say(error.message)
            return
        if question:
            self.say(question)
            entry.ask("yn", lambda key: self._answered(key, row))
        else:
            self._row(row)

    def _answered(self, key: str, row: Row) -> None:
        if key == "y":
            self._row(row)
        else:
            self.query_one(EntryLine).stop_asking()
            self.say("Not taken: type it again.")

    def _row(self, row: Row) -> None:
        before = dict(self.draft.rows).get(row[0])
        was = "" if before is None else f", it was {format_number(before)}"
        words = f"{format_number(row[0])}°: {format_number(row[1])} {self.draft.unit}{was}. Saved."
        with self.house.telling():
            self._take(self.draft.with_row(row), words, row[0])
        self.query_one(EntryLine).put("")

    # -- rows ----------------------------------------------------------------------------------

    def action_earlier(self) -> None:
        """Go one row up."""
        self._list.action_up()

    def action_later(self) -> None:
        """Go one row down."""
        self._list.action_down()

    def action_drop(self) -> None:
        """Take the row under the cursor out."""
        current = self._list.current
        if current is None:
            raise BlockedError("There is no row yet.")
        angle = float(current.id)
        self._take(self.draft.without(angle), f"{format_number(angle)}° is out.")

    @asking
    async def action_clear(self) -> None:
        """Take all rows out, after a question."""
        count = len(self.draft.rows)
        if count and await confirm(self.app, f"Take all {count} rows out?", yes="Take them out"):
            self._take(replace(self.draft, rows=()), "No rows.")

    @asking
    async def action_file(self) -> None:
        """Take the rows of a file."""
        typed = await ask_text(
            self.app,
            "Rows of which file?",
            sentence="CSV or text: crank degrees and lift, a row a line; a heading may name mm,"
            " in or thou.",
            check=lambda text: rows_of_file(text, self.draft),
        )
        if typed is None:
            return
        count = len(self.draft.rows)
        title = f"Put the file in the place of the {count} rows that are there?"
        if count and not await confirm(self.app, title, yes="Take the file"):
            return
        draft = rows_of_file(typed, self.draft)
        self._take(draft, f"{len(draft.rows)} rows taken from the file. k keeps them.")

    @asking
    async def action_at(self) -> None:
        """Ask where the dial gauge stands and in which unit it reads."""
        options = [option for option, _, _ in _PLACES]
        answer = await ask_choice(self.app, "Where does the dial gauge stand?", options)
        if answer is None:
            return
        _, at_valve, unit = _PLACES[options.index(answer)]
        if self.draft.rows and unit != self.draft.unit:
            raise BlockedError(
                f"The rows there are typed in {self.draft.unit}.", "c takes them out first."
            )
        self._take(replace(self.draft, at_valve=at_valve, unit=unit), f"Read {answer.words}.")

    # -- keeping -------------------------------------------------------------------------------

    @asking
    async def action_keep(self) -> None:
        """Keep the rows as the table of this side."""
        read_with: tuple[float | None, float | None] = (None, None)
        if self.draft.at_valve:
            found = await self._ask_read_with()
            if found is None:
                return
            read_with = found
        book, draft = self.house.book, self.draft
        took = draft.finished(book, self.subject, *read_with)
        keep_reading(book, took.reading, on_sheet=False, answer=False)
        self.dismiss(None)

    async def _ask_read_with(self) -> tuple[float, float] | None:
        """Ask for rocker ratio and lash that a table at the valve was read with."""
        sheet = self.subject.sheet
        ratio = known_value(sheet.readings.get("rocker_ratio"))
        said = await ask_text(
            self.app,
            "Rocker ratio that it was read with",
            value="" if ratio is None else format_number(ratio),
            hint=":1",
            check=_read_ratio,
        )
        if said is None:
            return None
        lash = await ask_text(
            self.app,
            "Lash that it was read with, mm",
            sentence="0 when it was taken up.",
            value="0",
            check=_read_lash,
        )
        return None if lash is None else (_read_ratio(said), _read_lash(lash))

    def action_back(self) -> None:
        """Go back; the rows typed so far are kept."""
        self.dismiss(None)


def _read_ratio(text: str) -> float:
    ratio = read_quantity(text, ":1").value
    if not 0.7 <= ratio <= 2.0:
        raise BackToBackError(f"A rocker ratio of {format_number(ratio)} cannot be: 0.7 to 2.")
    return ratio


def _read_lash(text: str) -> float:
    lash = read_quantity(text, "mm").value
    if not 0 <= lash <= 0.6:
        raise BackToBackError(f"A lash of {format_number(lash)} mm cannot be: 0 to 0.6 mm.")
    return lash


def _said(draft: LiftDraft) -> str:
    if not draft.rows:
        return _HOW
    angle, lift = max(draft.rows, key=lambda row: row[1])
    count = f"{len(draft.rows)} row{'' if len(draft.rows) == 1 else 's'}"
    return (
        f"{count}, highest {format_number(lift)} {draft.unit} at {format_number(angle)}°, read at"
        f" the {draft.place}. {_HOW}"
    )


def _plot(draft: LiftDraft) -> CurvePlot | None:
    if len(draft.rows) < 2:
        return None
    angles, lifts = zip(*draft.rows, strict=True)
    high = max(1.1 * max(lifts), 1.0)
    curve = Curve("l", f"lift at the {draft.place}", angles, lifts, "solid", "strong")
    return CurvePlot((curve,), 0.0, high, draft.unit, "° after top")
