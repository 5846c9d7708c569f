"""The commands of recordings: reading one, its runs taken or refused, its clock and its drag."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["RECORDING", "TRACE"]

RECORDING: Final = (
    Command(
        "recording.read",
        ("r",),
        "Recording",
        "Read what an instrument recorded, and take its runs over as attempts.",
        action="recording",
    ),
)

TRACE: Final = (
    Command(
        "trace.accept",
        ("a", "enter"),
        "Accept",
        "The run under the cursor becomes an attempt, or is put beside the one that was typed.",
        foot=True,
    ),
    Command(
        "trace.adjust",
        ("p",),
        "Adjust",
        "Put the value, way or attempt of the run right, with the reason, and accept it so.",
        foot=True,
    ),
    Command(
        "trace.refuse",
        ("x",),
        "Refuse",
        "The run under the cursor counts for nothing, with the reason.",
        foot=True,
    ),
    Command(
        "trace.facts",
        ("f",),
        "Facts",
        "Show rate, gaps, duplicates, clock jumps and every kind of line that was left out.",
        foot=True,
    ),
    Command(
        "trace.clock",
        ("s",),
        "Clock",
        "Shift the clock of the recording, with the reason; its file stays as it is.",
    ),
    Command(
        "trace.start",
        ("o",),
        "Start",
        "Say when the clock of a standing start runs: first motion, rest, or after a rollout.",
    ),
    Command(
        "trace.test",
        ("t",),
        "Other test",
        "Look for the runs of another test, such as coast-40-15.",
    ),
    Command(
        "trace.drag",
        ("g",),
        "Drag",
        "Work rolling and air drag out of coast-downs, and keep them for the machine.",
    ),
    Command("trace.undo", ("u",), "Undo", "Take back the newest action of the session."),
    Command("trace.back", ("escape",), "Back", "Stop reading, or go back to the session."),
)
