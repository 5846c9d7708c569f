"""The commands of the two screens that are read: a comparison, and one session looked back on."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["COMPARE", "LAID", "REVIEW"]

COMPARE: Final = (
    Command(
        "compare.back",
        ("escape",),
        "Back",
        "Go back to the screen below.",
        foot=True,
    ),
    Command(
        "compare.swap",
        ("s",),
        "Swap sides",
        "Hold the first against the second instead.",
        foot=True,
    ),
    Command(
        "compare.gain",
        ("g",),
        "Gain",
        "Type the smallest gain worth having for this look; it is not saved to a session.",
        foot=True,
    ),
    Command(
        "compare.fold",
        ("f",),
        "All changes",
        "Show or fold what follows from the causes, was measured or only noted.",
        foot=True,
    ),
    Command(
        "compare.first-build",
        ("1",),
        "First build",
        "Take the next build that the first session ran.",
    ),
    Command(
        "compare.second-build",
        ("2",),
        "Second build",
        "Take the next build that the second session ran.",
    ),
    Command(
        "compare.test",
        ("t",),
        "Test",
        "Compare on the next test that both sessions ran.",
    ),
    Command(
        "compare.odd",
        ("o",),
        "Without odd",
        "Look at it without the attempts that stand apart, or with them again.",
    ),
    Command(
        "compare.struck",
        ("x",),
        "With struck",
        "Look at it with the struck attempts counted, or without them again.",
    ),
    Command(
        "compare.read",
        ("r", "enter"),
        "Read",
        "Read one of the two sessions.",
    ),
)

LAID: Final = (
    Command(
        "laid.back",
        ("escape",),
        "Back",
        "Go back to the screen below.",
        foot=True,
    ),
    Command(
        "laid.compare",
        ("c", "enter"),
        "Compare one",
        "Compare one of them with the first, with all that belongs to it.",
        foot=True,
    ),
)

REVIEW: Final = (
    Command(
        "review.back",
        ("escape",),
        "Back",
        "Go back to the screen below.",
        foot=True,
    ),
    Command(
        "review.compare",
        ("c",),
        "Compare",
        "Compare it with what it is naturally held against.",
        foot=True,
    ),
    Command(
        "review.open-again",
        ("o",),
        "Open again",
        "Open a closed or stopped session again, with a note why.",
        foot=True,
    ),
    Command(
        "review.resume",
        ("r",),
        "Resume",
        "Go on with the session where it was left, while it is open.",
    ),
    Command(
        "review.print",
        ("p",),
        "Print",
        "Write the printable sheet of the session to a file.",
        foot=True,
    ),
    Command(
        "review.why",
        ("y",),
        "Why",
        "Show formula, inputs and source of a value that follows from the setup sheet.",
    ),
    Command(
        "review.next-section",
        ("n", "tab"),
        "Next part",
        "Go to the next part of the page; its digit goes there as well.",
    ),
    Command(
        "review.previous-section",
        ("b", "shift+tab"),
        "Part before",
        "Go to the part before.",
    ),
    *(
        Command(
            f"review.to-{name}",
            (str(number),),
            words,
            f"Go to {where}.",
            action=f"go('{name}')",
        )
        for number, (name, words, where) in enumerate(
            (
                ("result", "Result", "what it asked and what came of it"),
                ("setup", "Setup", "what was bolted on, and what was changed"),
                ("checks", "Checks", "the checks and their results"),
                ("air", "Air", "the readings of air and wind"),
                ("attempts", "Attempts", "the attempts"),
                ("closing", "Close-out", "the notes and the close-out"),
                ("trail", "Trail", "what was done when, undone lines too"),
            ),
            1,
        )
    ),
)
