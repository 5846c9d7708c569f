"""The commands of the screens on which the log gives back: questions, answers, season, shelf."""

from __future__ import annotations

from typing import Final

from tui.commands.command import Command

__all__ = ["ANSWER", "ASK", "CARD", "MERGE", "SEASON", "SHELF"]

_BACK: Final = "Go back to the screen below."
_WRITE: Final = "Write this page to a file: text, Markdown, HTML or CSV, by its ending."

ASK: Final = (
    Command("ask.answer", ("enter",), "Answer", "Answer the question under the cursor.", foot=True),
    Command(
        "ask.search",
        ("slash", "f"),
        "Search",
        "Look for words in notes, tags, strikes, checks, parts and places.",
        foot=True,
    ),
    Command("ask.back", ("escape",), "Back", _BACK, foot=True),
)

ANSWER: Final = (
    Command("answer.back", ("escape",), "Back", _BACK, foot=True),
    Command(
        "answer.words",
        ("w", "slash"),
        "About",
        "Say what it is about: a machine, part, slot, session, month or number.",
        foot=True,
    ),
    Command("answer.machine", ("m",), "Machine", "Ask it of the next machine.", foot=True),
    Command("answer.write", ("p",), "Write", _WRITE, foot=True),
)

SEASON: Final = (
    Command("season.back", ("escape",), "Back", _BACK, foot=True),
    Command("season.test", ("t",), "Test", "Take the next test that the machine ran.", foot=True),
    Command("season.machine", ("m",), "Machine", "Take the next machine.", foot=True),
    Command("season.write", ("p",), "Write", _WRITE, foot=True),
)

SHELF: Final = (
    Command("shelf.open", ("enter",), "Card", "Show the card of the part under it.", foot=True),
    Command(
        "shelf.change",
        ("c",),
        "Change",
        "Say what happened to the part: renamed, moved, ordered, retired, split and more.",
        foot=True,
    ),
    Command("shelf.new", ("n",), "New", "Put a new part or supply on the shelf.", foot=True),
    Command("shelf.due", ("d",), "Due", "Show what is worn or due on each machine.", foot=True),
    Command(
        "shelf.shopping",
        ("b",),
        "To buy",
        "List what a planned change of some slots needs, and what of it is here.",
    ),
    Command("shelf.interval", ("i",), "Interval", "Set how long something may go."),
    Command("shelf.filter", ("slash",), "Filter", "Type a few letters of a name, slot or place."),
    Command("shelf.back", ("escape",), "Back", "Clear the filter, then go back.", foot=True),
)

CARD: Final = (
    Command("card.back", ("escape",), "Back", _BACK, foot=True),
    Command("card.write", ("p",), "Write", _WRITE, foot=True),
)

MERGE: Final = (
    Command(
        "merge.here",
        ("h",),
        "This log's",
        "The version of this log stays; the other one is kept aside.",
        foot=True,
    ),
    Command(
        "merge.there",
        ("t",),
        "The other",
        "The other version takes its place; this log's is kept aside.",
        foot=True,
    ),
    Command("merge.both", ("b",), "Both", "Keep both, as two sessions.", foot=True),
    Command("merge.next", ("n",), "Later", "Leave this conflict, show the next.", foot=True),
    Command("merge.take", ("enter",), "Take in", "Take in what is new; conflicts stay."),
    Command("merge.other", ("o",), "Other log", "Name the log folder or file to merge."),
    Command("merge.write", ("p",), "Write", _WRITE),
    Command("merge.back", ("escape",), "Back", _BACK),
)
