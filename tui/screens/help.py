"""Every key of a screen and what it does, as the command table has it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Final

from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from tui.commands import SCENES, bindings_for, commands_in, key_name, keys_of
from tui.screens.base import HouseScreen

__all__ = ["HelpScreen"]

_HEADINGS: Final = {
    "accident": "Stop and help",
    "app": "Everywhere",
    "attempts": "The attempts",
    "checks": "The checks",
    "closing": "The close-out",
    "compare": "The comparison",
    "help": "This page",
    "list": "In every list",
    "log": "The log list",
    "noting": "The whole session",
    "review": "The session looked back on",
    "session": "The whole session",
    "setup": "The setup sheet",
}
"""What stands over the commands of a group; groups of one heading stand together."""
_KEYS_WIDTH: Final = 10


class HelpScreen(HouseScreen[None]):
    """The commands of a scene by group, with the user's own keys where there are any.

    Args:
        scene: a row of ``tui.commands.SCENES``.
        own: the user's key map, checked.
    """

    SCENE = "help"
    CSS_PATH = "pages.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("help")

    def __init__(self, scene: str, own: Mapping[str, str]) -> None:
        super().__init__()
        self._scene = scene
        self._own = own

    def compose_body(self) -> ComposeResult:
        """Yield the commands group by group."""
        by_heading: dict[str, list[str]] = {}
        for group in SCENES[self._scene]:
            by_heading.setdefault(_HEADINGS.get(group, "On this screen"), []).append(group)
        with VerticalScroll(classes="page-words"):
            for heading, groups in by_heading.items():
                yield Static(heading, classes="help-heading", markup=False)
                yield Static(self._table(groups))

    def on_mount(self) -> None:
        """Set the title."""
        self.entitle("Back to Back", "keys")
        page = self.query_one(VerticalScroll)
        page.focus()
        self.call_after_refresh(
            lambda: self.usually_say("PgDn reads on." if page.max_scroll_y > 0 else "")
        )

    def _table(self, groups: Sequence[str]) -> Table:
        table = Table.grid(padding=(0, 2), pad_edge=False)
        table.add_column(width=_KEYS_WIDTH, no_wrap=True)
        table.add_column()
        for row in commands_in(self._scene):
            if row.group in groups:
                keys = " ".join(key_name(key) for key in keys_of(row, self._own))
                words = Text.assemble((row.label, "bold"), f": {row.help}")
                table.add_row(Text(keys, "bold"), words)
        return table

    def action_close(self) -> None:
        """Go back to the screen below."""
        self.dismiss(None)
