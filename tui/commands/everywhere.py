"""The commands that are open on every screen, in every list and in every dialog."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["APP", "DIALOG", "LIST", "MESSAGE"]

APP: Final = (
    Command(
        "app.help",
        ("question_mark", "f1"),
        "Help",
        "Show every key of this screen, and what it does.",
        foot=True,
    ),
    Command(
        "app.palette",
        ("ctrl+p",),
        "All commands",
        "Find any command by typing a few letters of it.",
        action="command_palette",
    ),
    Command(
        "app.theme",
        ("ctrl+t",),
        "Sun or dusk",
        "Change between black on white for the sun and light on black for the dusk.",
        also="theme light dark colours bright night day",
    ),
    Command(
        "app.units",
        ("ctrl+u",),
        "Units",
        "Choose the units that values are shown in.",
    ),
    Command(
        "app.quit",
        ("ctrl+q",),
        "Quit",
        "Leave; everything that was entered is saved already.",
    ),
    Command(
        "app.interrupt",
        ("ctrl+c",),
        "How to leave",
        "Say which key leaves; ctrl+c alone ends nothing.",
    ),
)

LIST: Final = (
    Command("list.up", ("up", "k"), "Up", "Move one line up."),
    Command("list.down", ("down", "j"), "Down", "Move one line down."),
    Command("list.page-up", ("pageup",), "Page up", "Move one screen up."),
    Command("list.page-down", ("pagedown",), "Page down", "Move one screen down."),
    Command("list.first", ("home",), "First", "Go to the first line."),
    Command("list.last", ("end",), "Last", "Go to the last line."),
)

DIALOG: Final = (
    Command("dialog.accept", ("enter",), "Take it", "Take what is typed or marked.", foot=True),
    Command("dialog.back", ("escape",), "Back", "Go back without changing anything.", foot=True),
)

MESSAGE: Final = (
    Command("message.close", ("enter", "space", "escape"), "Close", "Go on.", foot=True),
)
