"""Keeping a reading: saved at once, put on the sheet of the open session, clearing a check."""

from __future__ import annotations

from typing import Any

import msgspec
from textual.app import App

from core.bench import BenchReading, answer_text
from core.checks import CheckRecord, find_rule, rule_for
from core.session import Book, Kept, Session, keep_reading
from core.setup import slot_of
from tui.dialogs import Option, ask_choice
from tui.screens.bench.rows import asking_checks

__all__ = ["keep", "kept_words"]


async def keep(
    app: App[Any], book: Book, reading: BenchReading, session: Session | None, *, rule: str = ""
) -> Kept | None:
    """Keep a reading; where it could answer a check that is due, it is asked which.

    Args:
        app: the app.
        book: the open log.
        reading: as it was taken.
        session: the machine's open session; None: there is none.
        rule: the check that it was taken for; empty: it was taken by itself.

    Returns:
        What became of it, or None after esc: it is not kept then.

    Raises:
        LogError: it cannot be saved.
    """
    if not rule and session is not None:
        asked = await _which(app, reading, session)
        if asked is None:
            return None
        rule = asked
    elif session is None:
        rule = ""
    if rule:
        reading = msgspec.structs.replace(reading, rule=rule)
    return keep_reading(book, reading, answer=bool(rule))


def _could_answer(reading: BenchReading, session: Session) -> tuple[CheckRecord, ...]:
    return tuple(one for one in asking_checks(session) if answer_text(reading, one.rule))


async def _which(app: App[Any], reading: BenchReading, session: Session) -> str | None:
    """Ask which check a reading answers; there is no default, and none is an answer as well."""
    fitting = _could_answer(reading, session)
    if not fitting:
        return ""
    options = [Option(str(i), rule_for(one).short) for i, one in enumerate(fitting, 1)]
    options.append(Option("n", "none: only keep it"))
    answer = await ask_choice(
        app,
        f"Which check of {session.label} does it answer?",
        options,
        sentence=" ".join(f"{i} {rule_for(one).question}" for i, one in enumerate(fitting, 1)),
        at=len(options) - 1,
    )
    if answer is None:
        return None
    return "" if answer.key == "n" else fitting[int(answer.key) - 1].rule


def kept_words(kept: Kept) -> str:
    """Return what became of a reading, for the status line."""
    said = ["Saved."]
    if kept.slots and kept.session is not None:
        names = ", ".join(slot_of(slot).label for slot in kept.slots)
        said.append(f"On the sheet of {kept.session.label}: {names}.")
    said += [f"Cleared: {find_rule(rule).short}." for rule in kept.cleared]
    return " ".join((*said, kept.warning)).strip()
