"""The commands of a session: those of every stage, and those of each of the four."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["ACCIDENT", "ATTEMPTS", "CHECKS", "CLOSING", "NOTING", "SESSION", "SETUP", "WATCH"]

SETUP: Final = (
    Command(
        "setup.change",
        ("enter",),
        "Change",
        "Type another value for the line under the cursor, or pick another part.",
        foot=True,
    ),
    Command(
        "setup.find",
        ("slash", "f"),
        "Find",
        "Find any slot by two or three letters; a letter that is no key here begins it by itself.",
        foot=True,
    ),
    Command(
        "setup.values",
        ("v",),
        "Values",
        "Show everything that follows from the sheet, with the sum behind it.",
        foot=True,
    ),
    Command(
        "setup.why",
        ("y",),
        "Why",
        "Show formula, inputs and source of a value that follows from the sheet.",
    ),
    Command(
        "setup.bench",
        ("b",),
        "Bench",
        "Take readings of this machine, each kept with instrument and conditions.",
    ),
    Command(
        "setup.what-if",
        ("i",),
        "What if",
        "Change slots on paper and see what follows, before and after.",
    ),
)

CHECKS: Final = (
    Command(
        "checks.done",
        ("d",),
        "Done",
        "The check under the cursor was looked at and is done.",
        foot=True,
    ),
    Command(
        "checks.value",
        ("enter",),
        "Result",
        "Type a value or words as the result; a digit starts it by itself.",
        foot=True,
    ),
    Command(
        "checks.same",
        ("s",),
        "As last time",
        "Take over, for this one check, the words that were entered last time here.",
        foot=True,
    ),
    Command(
        "checks.not-done",
        ("n",),
        "Not done",
        "The check under the cursor is not done; a stop check keeps attempts from being entered.",
        foot=True,
    ),
    Command(
        "checks.not-applying",
        ("a",),
        "Not here",
        "The check under the cursor does not apply, with the reason, where that is an answer.",
        foot=True,
    ),
    Command(
        "checks.bench",
        ("b",),
        "Bench",
        "Take the reading of the check under the cursor at the bench, with instrument and note.",
    ),
    Command(
        "checks.again",
        ("o",),
        "Open again",
        "Take the answer of the check under the cursor back.",
    ),
)

ATTEMPTS: Final = (
    Command(
        "attempts.strike",
        ("x",),
        "Strike",
        "Strike an attempt for a fault of the test: x l enter for a late watch, x4 l for the 4th.",
        foot=True,
    ),
    Command(
        "attempts.turn",
        ("d",),
        "Turn round",
        "The next attempt goes the other way than shown.",
        foot=True,
    ),
    Command(
        "attempts.swap",
        ("s",),
        "Swap",
        "Something was changed: a new sheet starts, with its checks first.",
        foot=True,
    ),
    Command(
        "attempts.tag",
        ("t",),
        "Tag",
        "Say what the machine did: t b enter for bogged; the attempt stays in the numbers.",
    ),
    Command(
        "attempts.odd",
        ("o",),
        "Odd one",
        "Say what happened in an attempt that stands apart.",
    ),
    Command(
        "attempts.warm-up",
        ("w",),
        "Warm-up",
        "The coming attempts are warm-up runs, or timed ones again.",
    ),
    Command(
        "attempts.air",
        ("a",),
        "Air",
        "Enter temperature, pressure, humidity and wind, or paste an airfield report.",
    ),
    Command(
        "attempts.broken-off",
        ("b",),
        "Broken off",
        "An attempt was broken off: it has no time, and counts for heat and reliability.",
    ),
    Command(
        "attempts.read-back",
        ("full_stop",),
        "Read back",
        "Say the marked attempt in words again, for the helper.",
    ),
    Command(
        "attempts.put-right",
        ("p",),
        "Put right",
        "Direction, kind, doubt, second timer or a note of the marked attempt.",
    ),
    Command(
        "attempts.move",
        ("m",),
        "Other build",
        "The attempts from the marked one on ran on another build: the swap was forgotten.",
    ),
    Command(
        "attempts.stopwatch",
        ("space",),
        "Stopwatch",
        "Start a stopwatch; space stops it and takes the time down as timed by hand, esc drops it.",
    ),
    Command("attempts.earlier", ("up",), "Earlier", "Mark the attempt before."),
    Command("attempts.later", ("down",), "Later", "Mark the attempt after."),
)

CLOSING: Final = (
    Command(
        "closing.change",
        ("enter",),
        "Write",
        "Write the line under the cursor.",
        foot=True,
    ),
    Command("closing.keep", ("1",), "Keep", "What is bolted on stays.", action="decide('keep')"),
    Command(
        "closing.revert",
        ("2",),
        "Revert",
        "What was changed goes back.",
        action="decide('revert')",
    ),
    Command(
        "closing.repeat",
        ("3",),
        "Repeat",
        "It is run again before anything is decided.",
        action="decide('repeat')",
    ),
    Command(
        "closing.finish",
        ("f",),
        "Close",
        "Close the session; it can be opened again with a note.",
        foot=True,
    ),
    Command(
        "closing.reopen",
        ("o",),
        "Open again",
        "Open a closed or stopped session again, with a note why.",
        foot=True,
    ),
)

NOTING: Final = (Command("noting.note", ("n",), "Note", "Write a note; it is kept as typed."),)

SESSION: Final = (
    Command("session.next", ("tab",), "Stage", "Go to the next of the four stages.", foot=True),
    Command("session.previous", ("shift+tab",), "Stage back", "Go to the stage before."),
    Command(
        "session.check",
        ("c",),
        "Open check",
        "Go to the next open check, stops first.",
    ),
    Command(
        "session.undo",
        ("u",),
        "Undo",
        "Take back the newest action: u shows it, u or enter does it; the trail keeps both.",
    ),
    Command(
        "session.event",
        ("e",),
        "It happened",
        "A fall, a long break, transport: the checks that follow are due again.",
    ),
    Command(
        "session.stop",
        ("z",),
        "End early",
        "Stop the session with its reason; it stays a full record.",
    ),
    Command(
        "session.accident",
        ("h",),
        "Stop and help",
        "Show who to call and where you are, and set a time mark.",
    ),
    Command("session.back", ("escape",), "Log", "Go back to the log list; all of it is saved."),
)

ACCIDENT: Final = (
    Command(
        "accident.mark",
        ("enter", "space"),
        "Time mark",
        "Set a time mark and end the session; notes can come later.",
        foot=True,
    ),
    Command("accident.back", ("escape",), "Back", "Go back without a mark.", foot=True),
)

WATCH: Final = (
    Command(
        "watch.stop",
        ("space",),
        "Stop",
        "Stop the watch; the time is saved at once.",
        foot=True,
    ),
    Command("watch.drop", ("escape",), "Drop it", "Nothing is taken down.", foot=True),
)
