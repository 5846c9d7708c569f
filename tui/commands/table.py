"""The table of all commands, and which groups of them are open together."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from textual.binding import Binding, BindingType

from tui.commands.bench import BENCH, CURVES, LIFT, TAKING, WHAT_IF, WHY
from tui.commands.command import Command
from tui.commands.everywhere import APP, DIALOG, LIST, MESSAGE
from tui.commands.giving import ANSWER, ASK, CARD, MERGE, SEASON, SHELF
from tui.commands.learning import EFFECTS, NEXT
from tui.commands.log_list import CAUTION, HELP, LOG, PLAN, UNITS
from tui.commands.reading import COMPARE, LAID, REVIEW
from tui.commands.session import ACCIDENT, ATTEMPTS, CHECKS, CLOSING, NOTING, SESSION, SETUP, WATCH
from tui.commands.trace import RECORDING, TRACE

__all__ = ["COMMANDS", "SCENES", "bindings_for", "command", "commands_in"]

COMMANDS: Final[tuple[Command, ...]] = (
    *LOG,
    *PLAN,
    *UNITS,
    *CAUTION,
    *HELP,
    *SETUP,
    *CHECKS,
    *ATTEMPTS,
    *CLOSING,
    *NOTING,
    *SESSION,
    *ACCIDENT,
    *WATCH,
    *RECORDING,
    *TRACE,
    *COMPARE,
    *LAID,
    *REVIEW,
    *BENCH,
    *TAKING,
    *LIFT,
    *WHAT_IF,
    *WHY,
    *CURVES,
    *EFFECTS,
    *NEXT,
    *ASK,
    *ANSWER,
    *SEASON,
    *SHELF,
    *CARD,
    *MERGE,
    *LIST,
    *DIALOG,
    *MESSAGE,
    *APP,
)

SCENES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "log": ("log", "list", "app"),
        "units": ("units", "list", "app"),
        "caution": ("caution", "app"),
        "help": ("help", "app"),
        "plan": ("plan", "list"),
        "setup": ("setup", "noting", "session", "list", "app"),
        "checks": ("checks", "session", "list", "app"),
        "attempts": ("attempts", "noting", "recording", "session", "app"),
        "closing": ("closing", "noting", "session", "list", "app"),
        "accident": ("accident", "app"),
        "watch": ("watch",),
        "trace": ("trace", "list", "app"),
        "compare": ("compare", "list", "app"),
        "laid": ("laid", "list", "app"),
        "review": ("review", "list", "app"),
        "bench": ("bench", "list", "app"),
        "taking": ("taking", "list"),
        "lift": ("lift", "app"),
        "what-if": ("what-if", "list", "app"),
        "why": ("why", "list", "app"),
        "curves": ("curves", "app"),
        "effects": ("effects", "list", "app"),
        "next": ("next", "list", "app"),
        "ask": ("ask", "list", "app"),
        "answer": ("answer", "list", "app"),
        "season": ("season", "list", "app"),
        "shelf": ("shelf", "list", "app"),
        "card": ("card", "list", "app"),
        "merge": ("merge", "list", "app"),
        "dialog": ("dialog", "list"),
        "message": ("message",),
    }
)
"""Groups of commands that can be open at the same time, by the scene that a screen names.

The screen's own group comes first; a key means one thing within a scene.
"""

_BY_ID: Final = {row.id: row for row in COMMANDS}


def command(command_id: str) -> Command:
    """Return the command of that id; raises KeyError if there is none."""
    return _BY_ID[command_id]


def commands_in(scene: str) -> tuple[Command, ...]:
    """Return the commands that are open in a scene, its own group first."""
    return tuple(row for group in SCENES[scene] for row in COMMANDS if row.group == group)


def bindings_for(group: str) -> list[BindingType]:
    """Return the bindings of a group, for ``BINDINGS`` of what has its actions."""
    return [
        Binding(
            ",".join(row.keys),
            row.call,
            row.label,
            show=row.foot,
            tooltip=row.help,
            id=row.id,
            priority=row.id == "app.quit",
        )
        for row in COMMANDS
        if row.group == group
    ]
