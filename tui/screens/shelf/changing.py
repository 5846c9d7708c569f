"""What can happen to a part: a list of answers, what each needs to be told, and doing it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from textual.app import App

from core.session import Book
from core.setup import Part
from core.shelf import (
    find_part,
    has_come,
    join_parts,
    link_to,
    move_part,
    name_part,
    order_part,
    retire_part,
    split_part,
    want_part,
)
from tui.dialogs import ask_choice, ask_text

__all__ = ["CHANGES", "change_part"]


@dataclass(frozen=True)
class Happened:
    """One thing that can happen to a part."""

    key: str
    words: str
    asks: str  # what has to be typed for it; empty: nothing
    act: Callable[[Book, Part, str], str]


def _split(book: Book, part: Part, typed: str) -> str:
    """Split by what was typed: ``name, machine`` or ``name, day``."""
    name, _, which = (word.strip() for word in typed.partition(","))
    by_day = which[:4].isdigit()
    return split_part(book, part, name, "" if by_day else which, which if by_day else "")


CHANGES: Final = (
    Happened("r", "has another name", "Its name from now on", name_part),
    Happened("m", "is on another machine", "Which machine?", move_part),
    Happened("h", "is here, on the shelf", "", lambda book, part, _: has_come(book, part)),
    Happened("o", "was ordered", "", lambda book, part, _: order_part(book, part)),
    Happened("w", "is wanted", "", lambda book, part, _: want_part(book, part)),
    Happened("l", "has a photo or file", "Path of the file", link_to),
    Happened("x", "is retired", "Why?", retire_part),
    Happened(
        "s",
        "is the same as another part",
        "Which part was it all along?",
        lambda book, part, other: join_parts(book, find_part(book, other), part),
    ),
    Happened(
        "d",
        "was two different parts",
        "Name of the other one, and its machine or first day: second, 2026-06-02",
        _split,
    ),
)


async def change_part(app: App[Any], book: Book, part: Part) -> str:
    """Ask what happened to a part and do it; return what to say, empty when nothing was done.

    Args:
        app: the app.
        book: open to write.
        part: as the log has it.
    """
    happened = await ask_choice(app, f"{part.name} …", CHANGES)
    if happened is None:
        return ""
    typed: str | None = ""
    if happened.asks:
        typed = await ask_text(app, f"{part.name} {happened.words}", sentence=happened.asks)
    return "" if typed is None else happened.act(book, part, typed)
