"""What is asked once: the units to show, and the caution to read."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar, Final

import msgspec
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from tui.commands import bindings_for
from tui.preferences import Units
from tui.screens.base import HouseScreen
from tui.text import safe
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

__all__ = ["UNIT_CHOICES", "CautionScreen", "UnitsScreen"]

UNIT_CHOICES: Final[Mapping[str, tuple[str, tuple[str, ...]]]] = MappingProxyType(
    {
        "speed": ("Speeds", ("km/h", "mph")),
        "length": ("Small lengths", ("mm", "in")),
        "pressure": ("Tyre pressures", ("kPa", "bar", "psi")),
        "air": ("Air pressure", ("hPa", "inHg")),
        "temperature": ("Temperatures", ("°C", "°F")),
    }
)
"""By field of `Units`: its words, and what it can be."""


class UnitsScreen(HouseScreen[Units | None]):
    """One line for each kind of unit; its digit or space changes it, enter takes them all.

    Args:
        units: what holds now.
    """

    SCENE = "units"
    CSS_PATH = "pages.tcss"
    AUTO_FOCUS = "RecordList"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("units")

    def __init__(self, units: Units) -> None:
        super().__init__()
        self._units = units

    def compose_body(self) -> ComposeResult:
        """Yield a sentence and the lines."""
        words = "Which units should values be shown in? You may type any unit at any time: 48 thou."
        yield Static(safe(words), classes="page-words")
        yield RecordList((Column("", 1, 1), Column("", 14, 16), Column("", 6, 40)), titles=False)

    def on_mount(self) -> None:
        """Show what holds."""
        self.entitle("Back to Back", "units")
        self._show()

    def _show(self) -> None:
        lines = []
        for number, (field, (words, choices)) in enumerate(UNIT_CHOICES.items(), 1):
            now = getattr(self._units, field)
            signs = "".join(f"{'●' if c == now else '○'} {c:<6}" for c in choices)
            lines.append(Line(field, (Toned(str(number), "strong"), words, signs)))
        self.query_one(RecordList).set_records(lines)

    def _change(self, field: str) -> None:
        choices = UNIT_CHOICES[field][1]
        following = choices[(choices.index(getattr(self._units, field)) + 1) % len(choices)]
        self._units = msgspec.structs.replace(self._units, **{field: following})
        self.query_one(RecordList).go_to(field)
        self._show()

    def on_key(self, event: events.Key) -> None:
        """Change the line whose digit was pressed."""
        digit = event.character or ""
        if digit.isdecimal() and 1 <= int(digit) <= len(UNIT_CHOICES):
            event.stop()
            self._change(tuple(UNIT_CHOICES)[int(digit) - 1])

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Change the line that was clicked."""
        self._change(event.record.id)

    def action_change(self) -> None:
        """Change the line under the cursor."""
        current = self.query_one(RecordList).current
        if current is not None:
            self._change(current.id)

    def action_accept(self) -> None:
        """Take these units."""
        self.dismiss(self._units)

    def action_back(self) -> None:
        """Leave the units as they were."""
        self.dismiss(None)


class CautionScreen(HouseScreen[bool]):
    """The usual caution, read once and accepted by a key."""

    SCENE = "caution"
    CSS_PATH = "pages.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("caution")

    def compose_body(self) -> ComposeResult:
        """Yield the text."""
        from core.checks import CAUTION  # lazy: not needed for first paint

        with VerticalScroll(classes="page-words"):
            yield Static(safe("Before the first session", "bold"))
            yield Static(safe(CAUTION), classes="page-text")

    def on_mount(self) -> None:
        """Set the title."""
        self.entitle("Back to Back", "please read this once")
        self.query_one(VerticalScroll).focus()

    def action_accept(self) -> None:
        """Go on."""
        self.dismiss(True)
