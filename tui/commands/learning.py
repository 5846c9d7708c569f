"""The commands of the screens that the log gives back on: what each part did, what to test next."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["EFFECTS", "NEXT"]

_TEST: Final = "Take the next test that the machine ran."
_MACHINE: Final = "Take the next machine that has sessions."

EFFECTS: Final = (
    Command("effects.back", ("escape",), "Back", "Go back to the screen below.", foot=True),
    Command("effects.test", ("t",), "Test", _TEST, foot=True),
    Command("effects.machine", ("m",), "Machine", _MACHINE, foot=True),
    Command(
        "effects.raw",
        ("r",),
        "Raw",
        "Show it without anything allowed for air and rider, or with it again.",
    ),
    Command("effects.next", ("w",), "What next", "Say which swap would tell most.", foot=True),
)

NEXT: Final = (
    Command("next.back", ("escape",), "Back", "Go back to the screen below.", foot=True),
    Command("next.test", ("t",), "Test", _TEST, foot=True),
    Command("next.machine", ("m",), "Machine", _MACHINE, foot=True),
    Command(
        "next.about",
        ("a",),
        "About",
        "Ask about the next part or setting only, or about all of them again.",
        foot=True,
    ),
    Command("next.plan", ("p", "enter"), "Next plan", "Show the plan of the next swap down."),
    Command("next.effects", ("e",), "Effects", "Show what each part did.", foot=True),
)
