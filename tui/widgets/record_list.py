"""A list of records, one line each, that stays quick with thousands of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tui.commands import bindings_for
from tui.text import fit
from tui.widgets.columns import GAP, Column, share_width, widths_needed
from tui.widgets.records import Record, Toned, text_of

__all__ = ["CURSOR_SIGN", "MARK_SIGN", "RecordList"]

CURSOR_SIGN: Final = "▸"
MARK_SIGN: Final = "✓"
_GUTTER: Final = 3  # cursor sign, mark sign, blank
_MARGIN: Final = 1  # blank on the right


class RecordList(ScrollView, can_focus=True, inherit_bindings=False):
    """Records under fixed column titles, with a cursor, marks and a changing selection of them.

    The list draws only the lines in view. Records are frozen values that were made elsewhere; the
    list computes nothing of them.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("list")
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "record-list--titles",
        "record-list--cursor",
        "record-list--quiet",
        "record-list--strong",
        "record-list--good",
        "record-list--warn",
        "record-list--bad",
    }

    cursor: reactive[int] = reactive(0, repaint=False)
    """Index, within the records that are shown, of the one under the cursor."""

    @dataclass
    class Moved(Message):
        """The cursor came to another record."""

        source: RecordList
        record: Record | None

    @dataclass
    class Chosen(Message):
        """A record was clicked on while the cursor was there already."""

        source: RecordList
        record: Record

    def __init__(self, columns: Sequence[Column], *, titles: bool = True) -> None:
        super().__init__()
        self._columns = tuple(columns)
        self._titles = titles
        self._records: tuple[Record, ...] = ()
        self._shown: Sequence[int] = ()
        self._marked: frozenset[str] = frozenset()
        self._wishes: tuple[tuple[int, ...], ...] = ()
        self._given: tuple[int, ...] = ()
        self._shared_for = -1  # the width that these were given for
        self._styles: dict[str, Style] = {}

    # -- what it shows -------------------------------------------------------------------------

    @property
    def records(self) -> tuple[Record, ...]:
        """All records, whether shown or not."""
        return self._records

    @property
    def shown_count(self) -> int:
        """How many of them are shown."""
        return len(self._shown)

    @property
    def current(self) -> Record | None:
        """The record under the cursor, or None when nothing is shown."""
        return self._records[self._shown[self.cursor]] if self._shown else None

    @property
    def marked(self) -> frozenset[str]:
        """Ids of the marked records."""
        return self._marked

    def set_records(self, records: Sequence[Record], *, at: str | None = None) -> None:
        """Show these records, all of them, with the cursor at that id or where it was."""
        keep = at if at is not None else (self.current.id if self.current else "")
        self._records = tuple(records)
        short = ([text_of(cell, short=True) for cell in record.cells] for record in records)
        whole = ([text_of(cell) for cell in record.cells] for record in records)
        self._wishes = tuple(widths_needed(self._columns, texts) for texts in (short, whole))
        self._marked &= {record.id for record in records}
        self._show(range(len(self._records)), keep)

    def narrow(self, shown: Sequence[int]) -> None:
        """Show only the records of these indexes; the cursor stays on its record if it can."""
        self._show(shown, self.current.id if self.current else "")

    def go_to(self, record_id: str) -> bool:
        """Put the cursor on a record; return whether it is shown."""
        for index, record in enumerate(self._shown):
            if self._records[record].id == record_id:
                self.cursor = index
                return True
        return False

    def set_marked(self, ids: frozenset[str]) -> None:
        """Mark exactly these records."""
        self._marked = ids
        self.refresh()

    def _show(self, shown: Sequence[int], keep: str) -> None:
        self._shown = shown
        self._shared_for = -1
        self.virtual_size = Size(0, len(shown) + self._above)
        place = next((i for i, r in enumerate(shown) if self._records[r].id == keep), 0)
        if place == self.cursor:
            self._moved()
        else:
            self.cursor = place
        self.refresh()

    # -- moving --------------------------------------------------------------------------------

    def validate_cursor(self, cursor: int) -> int:
        """Keep the cursor on a record."""
        return max(0, min(cursor, len(self._shown) - 1))

    def watch_cursor(self, before: int, after: int) -> None:
        """Draw the two lines anew and bring the cursor into view."""
        if not self.is_mounted:
            return
        for index in (before, after):
            self.refresh(Region(0, self._line_of(index), self.size.width, 1))
        self._moved()

    def _moved(self) -> None:
        self._bring_into_view()
        self.post_message(self.Moved(self, self.current))

    def _bring_into_view(self) -> None:
        room = self._room
        now = round(self.scroll_y)
        top = min(now, max(0, len(self._shown) - room))  # no blank lines below after a resize
        top = max(min(top, self.cursor), self.cursor - room + 1)
        if top != now:
            self.scroll_to(y=top, animate=False, force=True)

    @property
    def _above(self) -> int:
        return 1 if self._titles else 0

    @property
    def _room(self) -> int:
        return max(1, self.size.height - self._above)

    def _line_of(self, index: int) -> int:
        return index - round(self.scroll_y) + self._above

    def action_up(self) -> None:
        """Move one line up."""
        self.cursor -= 1

    def action_down(self) -> None:
        """Move one line down."""
        self.cursor += 1

    def action_page_up(self) -> None:
        """Move one screen up."""
        self.cursor -= self._room

    def action_page_down(self) -> None:
        """Move one screen down."""
        self.cursor += self._room

    def action_first(self) -> None:
        """Go to the first line."""
        self.cursor = 0

    def action_last(self) -> None:
        """Go to the last line."""
        self.cursor = len(self._shown) - 1

    def on_resize(self, event: events.Resize) -> None:
        """Keep the cursor in view."""
        self._bring_into_view()

    def on_click(self, event: events.Click) -> None:
        """Move to the line that was clicked; a click on the cursor's own line chooses it."""
        index = event.y - self._above + round(self.scroll_y)
        if event.y < self._above or not 0 <= index < len(self._shown):
            return
        if index == self.cursor and self.current is not None:
            self.post_message(self.Chosen(self, self.current))
        self.cursor = index

    # -- drawing -------------------------------------------------------------------------------

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the lines it needs to show everything."""
        return max(1 + self._above, self.virtual_size.height)

    def notify_style_update(self) -> None:
        """Forget styles when theme or focus change them."""
        self._styles.clear()
        super().notify_style_update()

    def _style(self, name: str) -> Style:
        if name not in self._styles:
            part = f"record-list--{name}"
            self._styles[name] = (
                self.get_component_rich_style(part) if name != "plain" else self.rich_style
            )
        return self._styles[name]

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        width = self.size.width
        if self._shared_for != width:
            self._given = share_width(self._columns, self._wishes, width - _GUTTER - _MARGIN)
            self._shared_for = width
        if y < self._above:
            return self._title_line(width)
        index = y - self._above + round(self.scroll_y)
        if index >= len(self._shown):
            return Strip.blank(width, self._style("plain"))
        return self._record_line(index, width)

    def _title_line(self, width: int) -> Strip:
        style = self._style("titles")
        cells = [(fit(c.title, w, right=c.right), style) for c, w in self._kept()]
        return _joined("   ", style, cells, width, style)

    def _record_line(self, index: int, width: int) -> Strip:
        record = self._records[self._shown[index]]
        here = index == self.cursor
        row = self._style("cursor") if here else self._style("plain")
        mark = MARK_SIGN if record.id in self._marked else " "
        gutter = f"{CURSOR_SIGN if here else ' '}{mark} "
        cells: list[tuple[str, Style]] = []
        for cell, column, size in zip(record.cells, self._columns, self._given, strict=True):
            if not size:
                continue
            toned = cell if isinstance(cell, Toned) else Toned(cell)
            style = row if here or toned.tone == "plain" else self._style(toned.tone)
            cells.append((toned.fitted(size, column.right), style))
        return _joined(gutter, row, cells, width, row)

    def _kept(self) -> list[tuple[Column, int]]:
        return [(c, w) for c, w in zip(self._columns, self._given, strict=True) if w]


def _joined(
    gutter: str, gutter_style: Style, cells: Sequence[tuple[str, Style]], width: int, fill: Style
) -> Strip:
    segments = [Segment(gutter, gutter_style)]
    for number, (text, style) in enumerate(cells):
        if number:
            segments.append(Segment(" " * GAP, fill))
        segments.append(Segment(text, style))
    return Strip(segments).adjust_cell_length(width, fill)
