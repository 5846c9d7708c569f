"""The commands of the log list, the first-run pages and the help page."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["CAUTION", "HELP", "LOG", "PLAN", "UNITS"]

LOG: Final = (
    Command(
        "log.open",
        ("enter",),
        "Open",
        "Open the session under the cursor: go on with an open one, read a closed one.",
        foot=True,
    ),
    Command(
        "log.new",
        ("n",),
        "New",
        "Start a session on a copy of the machine's last setup sheet.",
        foot=True,
    ),
    Command(
        "log.filter",
        ("slash",),
        "Filter",
        "Type a few letters or digits of a label, machine, place, test, date or question.",
        foot=True,
    ),
    Command(
        "log.mark",
        ("space",),
        "Mark",
        "Mark the session under the cursor for comparing, or take its mark off.",
        foot=True,
    ),
    Command(
        "log.compare",
        ("c",),
        "Compare",
        "Compare the marked sessions, several side by side, or one with the one under the cursor.",
    ),
    Command(
        "log.effects",
        ("e",),
        "Effects",
        "Show what each part did, over all sessions of the machine under the cursor.",
    ),
    Command(
        "log.next",
        ("w",),
        "What next",
        "Say which swap would tell most on the machine under the cursor, with a plan.",
    ),
    Command(
        "log.ask",
        ("a",),
        "Ask",
        "Ask the log: twenty questions by number, or words to look for.",
    ),
    Command(
        "log.season",
        ("t",),
        "Season",
        "Show results over time on the machine under the cursor.",
    ),
    Command(
        "log.shelf",
        ("s",),
        "Shelf",
        "Show the parts: where each is, what it has done, what is due.",
    ),
    Command(
        "log.bench",
        ("b",),
        "Bench",
        "Take readings of a machine or a loose engine, and see what was read.",
    ),
    Command(
        "log.what-if",
        ("i",),
        "What if",
        "Change slots of a machine on paper and see what follows, before and after.",
    ),
    Command(
        "log.merge",
        ("m",),
        "Merge",
        "Bring another log into this one, or decide about conflict copies in it.",
    ),
    Command(
        "log.close-old",
        ("x",),
        "Close old",
        "Close the session under the cursor as of its last entry, when it was left open.",
    ),
    Command(
        "log.problems",
        ("p",),
        "Problems",
        "Show what was found wrong in the log folder; nothing was deleted.",
    ),
    Command("log.read", ("r",), "Read again", "Read the log folder again."),
    Command(
        "log.clear",
        ("escape",),
        "Show all",
        "Clear the filter, then the marks.",
        foot=True,
    ),
    Command("log.quit", ("q",), "Quit", "Leave; everything that was entered is saved already."),
)

UNITS: Final = (
    Command("units.accept", ("enter",), "Go on", "Take these units.", foot=True),
    Command("units.change", ("space",), "Change", "Change the line under the cursor.", foot=True),
    Command("units.back", ("escape",), "Back", "Leave the units as they were."),
)

CAUTION: Final = (
    Command(
        "caution.accept",
        ("enter",),
        "I have read this",
        "Go on; the text is also on every printed sheet.",
        foot=True,
    ),
)

HELP: Final = (
    Command("help.close", ("escape", "q"), "Back", "Go back to the screen below.", foot=True),
)

PLAN: Final = (
    Command("plan.start", ("enter",), "Start", "Start the session as it stands.", foot=True),
    Command("plan.change", ("space",), "Change", "Change the line under the cursor.", foot=True),
    Command(
        "plan.fresh",
        ("x",),
        "Clear",
        "Forget what was typed: everything is as it was last time; once more brings it back.",
        foot=True,
    ),
    Command(
        "plan.back",
        ("escape",),
        "Back",
        "Go back without a new session; what was typed is kept for the next time.",
        foot=True,
    ),
)
