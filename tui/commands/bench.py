"""The commands of the bench, of a lift table, of a plan on paper, of a why and of the curves."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["BENCH", "CURVES", "LIFT", "TAKING", "WHAT_IF", "WHY"]

BENCH: Final = (
    Command(
        "bench.take",
        ("enter",),
        "Take",
        "Take a reading for the line under the cursor; it is saved before anything else.",
        foot=True,
    ),
    Command(
        "bench.find",
        ("f", "slash"),
        "Find",
        "Find anything that can be read by two or three letters.",
        foot=True,
    ),
    Command(
        "bench.why",
        ("y",),
        "Why",
        "Show formula, inputs and source of the value under the cursor, or of any other.",
        foot=True,
    ),
    Command(
        "bench.what-if",
        ("i",),
        "What if",
        "Change slots on paper and see what follows, before and after.",
        foot=True,
    ),
    Command(
        "bench.history",
        ("h",),
        "History",
        "Show everything that was read at the line under the cursor, newest first.",
    ),
    Command(
        "bench.curves",
        ("v",),
        "Curves",
        "Show lift, piston and gap over the crank angle.",
    ),
    Command(
        "bench.gauge",
        ("g",),
        "Instruments",
        "Put the resolution and repeatability of an instrument right.",
    ),
    Command(
        "bench.other",
        ("m",),
        "Other",
        "Go to another machine, or to a loose engine or part.",
    ),
    Command("bench.back", ("escape",), "Back", "Leave a search, or go back to the screen below."),
)

TAKING: Final = (
    Command("taking.keep", ("enter",), "Keep", "Save the reading as it stands.", foot=True),
    Command("taking.change", ("space",), "Change", "Change the line under the cursor.", foot=True),
    Command("taking.back", ("escape",), "Back", "Go back without a reading.", foot=True),
)

LIFT: Final = (
    Command(
        "lift.keep",
        ("k",),
        "Keep",
        "Keep the rows as the lift table of this side.",
        foot=True,
    ),
    Command(
        "lift.file",
        ("o",),
        "File",
        "Read the rows of a CSV or text file: crank degrees and lift, a row a line.",
        foot=True,
    ),
    Command(
        "lift.drop",
        ("x",),
        "Drop row",
        "Take the row under the cursor out.",
        foot=True,
    ),
    Command(
        "lift.at",
        ("a",),
        "Lobe or valve",
        "Say whether the dial gauge stood at the lobe or at the valve, and in which unit it reads.",
        foot=True,
    ),
    Command("lift.clear", ("c",), "Clear", "Take all rows out, after a question."),
    Command("lift.earlier", ("up",), "Row above", "Go one row up."),
    Command("lift.later", ("down",), "Row below", "Go one row down."),
    Command("lift.back", ("escape",), "Back", "Go back; the rows typed so far are kept."),
)

WHAT_IF: Final = (
    Command(
        "what-if.pick",
        ("f", "slash"),
        "Change a slot",
        "Pick any slot by a few letters and change it on paper.",
        foot=True,
    ),
    Command(
        "what-if.change",
        ("enter",),
        "Change again",
        "On a change, type another value; on any other line, pick a slot.",
    ),
    Command(
        "what-if.drop",
        ("x",),
        "Take off",
        "Take the change under the cursor off the plan.",
        foot=True,
    ),
    Command(
        "what-if.why",
        ("y",),
        "Why",
        "Show formula, inputs and source of the value under the cursor, after the change.",
        foot=True,
    ),
    Command(
        "what-if.curves",
        ("v",),
        "Curves",
        "Show lift, piston and gap over the crank angle, after the change.",
        foot=True,
    ),
    Command(
        "what-if.other-way",
        ("d",),
        "Deck kept",
        "Show the plan with the deck as it was, or with nothing done about it again.",
    ),
    Command(
        "what-if.top-speed",
        ("t",),
        "Top speed",
        "Type the top speed expected at the place, for the rpm there.",
    ),
    Command(
        "what-if.plan",
        ("p",),
        "Plan this",
        "Put these changes on the setup sheet of a new session, or of the one that is open.",
    ),
    Command("what-if.back", ("escape",), "Back", "Go back; the plan stays until the app is left."),
)

WHY: Final = (
    Command("why.back", ("escape", "q"), "Back", "Go back to the screen below.", foot=True),
    Command("why.next", ("n", "right"), "Next value", "Explain the next value.", foot=True),
    Command("why.previous", ("b", "left"), "Value before", "Explain the value before.", foot=True),
    Command(
        "why.which", ("f", "slash"), "Which", "Pick another value by a few letters.", foot=True
    ),
)

CURVES: Final = (
    Command("curves.back", ("escape", "q"), "Back", "Go back to the screen below.", foot=True),
    Command(
        "curves.side",
        ("s",),
        "Other valve",
        "Show the curves of the other valve.",
        foot=True,
    ),
    Command(
        "curves.right",
        ("right", "l"),
        "Later",
        "Read the values off one crank degree later.",
        foot=True,
    ),
    Command(
        "curves.left",
        ("left", "h"),
        "Earlier",
        "Read the values off one crank degree earlier.",
        foot=True,
    ),
    Command("curves.closest", ("c",), "Closest", "Go to where valve and piston come closest."),
)
