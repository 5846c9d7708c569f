"""Choosing what the bench is about, and putting an instrument right."""

from __future__ import annotations

from typing import Any

from textual.app import App

from core.bench import put_right
from core.errors import InputError
from core.session import Book
from core.setup import new_part, slot_of
from tui.dialogs import PickRow, ask_text, pick
from tui.screens.bench.fields import gauge_words
from tui.subject import Subject, loose_parts

__all__ = ["ask_gauge", "ask_subject"]

_NEW_IN = "engine_block"  # part slot of a loose engine


async def ask_subject(app: App[Any], book: Book, at: str = "") -> str:
    """Ask for a machine, a part that is on none, or a new loose engine; empty after esc.

    Args:
        app: the app.
        book: the open log.
        at: id that the cursor starts on.
    """
    rows = [PickRow(head.id, head.name, head.type) for head in book.machines() if not head.archived]
    rows += [
        PickRow(part.id, part.name, f"loose, {slot_of(part.slot).label}")
        for part in loose_parts(book)
    ]

    def check(name: str) -> None:
        if book.log.read_only:
            raise InputError("The log is open to read only: nothing new can be made.")
        new_part(name, _NEW_IN, "new")

    title = "Bench: which machine, loose engine or part?"
    picked = await pick(app, title, rows, at=at, new="a new loose engine", check=check)
    if picked is None:
        return ""
    if picked.id:
        return picked.id
    part = new_part(picked.new, _NEW_IN, book.fresh_id(), book.clock())
    book.save(part)
    return part.id


async def ask_gauge(app: App[Any], book: Book, subject: Subject) -> str:
    """Ask for an instrument and its own figures, and save them; return what was saved.

    Args:
        app: the app.
        book: the open log.
        subject: for the figures as they count now.
    """
    gauges = subject.past.gauges
    rows = [PickRow(one.key, one.words, gauge_words(one)) for one in gauges.values()]
    picked = await pick(app, "Which instrument is to be put right?", rows)
    if picked is None:
        return ""
    gauge, now = gauges[picked.id], book.clock()
    steps = await ask_text(
        app,
        f"Smallest step of the {gauge.words}",
        sentence=f"Now {gauge_words(gauge)}. Blank: as it is.",
        check=lambda text: put_right(gauge, now, resolution=text),
    )
    if steps is None:
        return ""
    spread = await ask_text(
        app,
        "How well does your hand repeat with it?",
        sentence="One standard deviation of doing it again, such as of ten readings. Blank: as is.",
        check=lambda text: put_right(gauge, now, resolution=steps, repeatability=text),
    )
    if spread is None:
        return ""
    made = put_right(gauge, now, resolution=steps, repeatability=spread)
    book.save(made)
    return f"Saved: {made.words}, step {made.resolution:g}, repeats within {made.repeatability:g}."
