"""The shelf screen: parts under a filter; what a card holds is worked out in a thread."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from core.errors import BlockedError, LogReadOnlyError
from core.report.shelf_pages import hours_words, place_words, slot_words
from core.setup import Part
from core.shelf import PartHistory, add_part, histories, set_interval
from tui.commands import bindings_for
from tui.dialogs import ask_text, asking
from tui.screens.base import HouseScreen
from tui.screens.routes import make_screen
from tui.screens.shelf.changing import change_part
from tui.widgets.columns import Column
from tui.widgets.line_input import FilterInput
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

__all__ = ["ShelfScreen"]

_COLUMNS: Final = (
    Column("Part", 8, 30),
    Column("Slot", 8, 24, rank=3),
    Column("Where", 8, 30, rank=1),
    Column("Attempts", 3, 8, right=True, rank=2),
    Column("Hours", 3, 8, right=True, rank=4),
    Column("Rpm", 5, 6, right=True, rank=5),
)
_STATUS: Final = ("here", "ordered", "wanted")


class ShelfScreen(HouseScreen[None]):
    """Every part of the log.

    Args:
        machine: id of the machine that was under the cursor; its parts come first.
    """

    SCENE = "shelf"
    AUTO_FOCUS = "RecordList"
    CSS_PATH = "shelf.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("shelf")

    @dataclass
    class Counted(Message):
        """What every part has done was worked out."""

        past: dict[str, PartHistory]

    def __init__(self, machine: str = "") -> None:
        super().__init__()
        self._machine = machine
        self._list = RecordList(_COLUMNS)
        self._heaps: tuple[str, ...] = ()  # what the filter looks through, by record

    def compose_body(self) -> ComposeResult:
        """Yield filter and list."""
        yield FilterInput(self._list, hint="name, slot, machine, wanted, ordered, retired")
        yield self._list

    def on_mount(self) -> None:
        """Show the frame at once; histories come from a thread."""
        self.entitle("Shelf")
        self._count()

    def on_screen_resume(self) -> None:
        """Count again what may have changed."""
        if self._heaps:
            self._count()

    def _count(self) -> None:
        self.run_worker(self._work, name="shelf", group="shelf", thread=True, exclusive=True)

    def _work(self) -> None:
        self.post_message(self.Counted(histories(self.house.book)))

    def on_shelf_screen_counted(self, message: Counted) -> None:
        """Show the parts."""
        names = {head.id: head.name for head in self.house.book.machines()}
        ordered = sorted(message.past.values(), key=self._rank)
        lines = [Line(h.part.id, _cells(h, names)) for h in ordered]
        self._heaps = tuple(
            " ".join((*(str(c) if isinstance(c, str) else c.text for c in line.cells),
                      *h.part.aliases)).casefold()
            for line, h in zip(lines, ordered, strict=True)
        )  # fmt: skip
        self._list.set_records(lines)
        self._narrow(self.query_one(FilterInput).value)

    def _rank(self, past: PartHistory) -> tuple[bool, bool, str, str]:
        part = past.part
        elsewhere = part.machine != self._machine
        return (part.status == "retired", elsewhere, slot_words(part), part.name)

    # -- filter --------------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list to what fits."""
        self._narrow(event.value)

    def _narrow(self, text: str) -> None:
        words = text.casefold().split()
        shown = [i for i, heap in enumerate(self._heaps) if all(w in heap for w in words)]
        self._list.narrow(shown)
        total = len(self._heaps)
        count = f"{total} part{'' if total == 1 else 's'}"
        self.entitle("Shelf", count if len(shown) == total else f"{len(shown)} of {count}")

    def action_filter(self) -> None:
        """Go to the filter."""
        self.query_one(FilterInput).focus()

    # -- commands ------------------------------------------------------------------------------

    def _need_part(self) -> Part:
        row = self._list.current
        if row is None:
            raise BlockedError("There is no part under the cursor.")
        return self.house.book.log.get(Part, row.id)

    def _need_writing(self) -> None:
        log = self.house.book.log
        if log.read_only:
            raise LogReadOnlyError(f"Nothing can be saved. {log.read_only_reason}")

    def on_record_list_chosen(self) -> None:
        """Show the card of the part that was clicked."""
        self.action_open()

    def action_open(self) -> None:
        """Show the card of the part under the cursor."""
        self.app.push_screen(make_screen("card", "part", self._need_part().id))

    def action_due(self) -> None:
        """Show what is worn or due."""
        self.app.push_screen(make_screen("card", "due"))

    @asking
    async def action_change(self) -> None:
        """Say what happened to the part."""
        self._need_writing()
        said = await change_part(self.app, self.house.book, self._need_part())
        self._told(said)

    @asking
    async def action_new(self) -> None:
        """Put a new part on the shelf."""
        self._need_writing()
        slot = await ask_text(
            self.app, "New part", sentence="For which slot? Such as final sprocket, or clay."
        )
        name = None if slot is None else await ask_text(
            self.app, f"New part for {slot}", sentence="Its name; wanted or ordered before it: "
            "“ordered 58T”."
        )  # fmt: skip
        if slot is None or name is None:
            return
        first, _, rest = name.strip().partition(" ")
        status = first.casefold() if first.casefold() in _STATUS else "here"
        named = rest if first.casefold() in _STATUS else name
        self._told(add_part(self.house.book, named, slot, status=status))  # type: ignore[arg-type]

    @asking
    async def action_shopping(self) -> None:
        """List what a planned change needs."""
        slots = await ask_text(
            self.app, "To buy", sentence="What is to be changed? Slots with commas: rockers, cam."
        )
        if slots is not None and slots.strip():
            self.app.push_screen(make_screen("card", "shopping", slots))

    @asking
    async def action_interval(self) -> None:
        """Set an interval."""
        self._need_writing()
        typed = await ask_text(
            self.app,
            "Interval",
            sentence="Such as oil=8h,365d or lash=40attempts; oil= puts the usual one back.",
        )
        if typed is not None:
            self._told(set_interval(self.house.book, typed))

    def _told(self, said: str) -> None:
        if said:
            self.say(said)
            self._count()

    def action_back(self) -> None:
        """Clear the filter, then go back."""
        field = self.query_one(FilterInput)
        if field.value:
            field.value = ""
            self._list.focus()
            return
        self.dismiss(None)


def _cells(past: PartHistory, names: dict[str, str]) -> tuple[str | Toned, ...]:
    part = past.part
    tone = {"retired": "quiet", "wanted": "warn", "ordered": "warn"}.get(part.status, "plain")
    return (
        Toned(part.name, "strong" if tone == "plain" else tone),
        slot_words(part),
        Toned(place_words(part, names), tone),
        str(past.attempts),
        Toned(hours_words(past), short="-"),
        f"{past.rpm:,.0f}" if past.rpm is not None else "-",
    )
