"""The evening before: question, gain, prediction, and the day that would answer it, as a page."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from core.attempts import find_test
from core.errors import InputError
from core.report.document import Block, Bullets, Facts, Heading, Paragraph, Report
from core.report.words import mean_words
from core.session import Book, Session
from core.setup import changes, find_slot, main_changes
from core.verdict import difference_words, natural_partner, pool_of
from core.verdict.planning import DayPlan, plan_day

__all__ = ["before_data", "before_page"]


def before_page(
    book: Book, session: Session, gain: float | None = None, changed: tuple[str, ...] = ()
) -> Report:
    """Return what a day would have to be like to answer the question of a session.

    Args:
        book: the open log.
        session: planned, or run already and to be run again.
        gain: smallest gain worth having; None: as the session said.
        changed: slots that will be changed, as typed; empty: what was changed before the session.

    Raises:
        InputError: no gain was said, or the test has no number.
        NotFoundError: no such slot.
    """
    plan, wanted = _plan(book, session, gain, changed)
    test = find_test(session.test)
    made = session.prediction
    predicted = "none"
    if made is not None:
        when = f"{made.at:%Y-%m-%d %H:%M}" if made.at else "at a time not told"
        predicted = f"{difference_words(made.value, test)}, locked {when}"
    facts = (
        ("question", session.question or "none"),
        ("test", f"{test.title}, {session.timing or 'timing not told'}"),
        ("smallest gain", mean_words(wanted, session.test)),
        ("predicted", predicted),
    )
    blocks: list[Block] = [
        Paragraph(plan.sentences[0]),
        Bullets(plan.sentences[1:]),
        Heading("What it is for"),
        Facts(facts),
    ]
    return Report(f"Before the day: {session.label}, {test.name}", tuple(blocks))


def before_data(
    book: Book, session: Session, gain: float | None = None, changed: tuple[str, ...] = ()
) -> dict[str, Any]:
    """Return the same as plain data; arguments as for :func:`before_page`."""
    plan, wanted = _plan(book, session, gain, changed)
    return {"session": session.label, "test": session.test, "gain": wanted, **asdict(plan)}


def _plan(
    book: Book, session: Session, gain: float | None, changed: tuple[str, ...]
) -> tuple[DayPlan, float]:
    test, wanted = find_test(session.test), gain or session.gain
    if not test.unit:
        raise InputError(f"A {test.title} has no number to plan for.")
    if wanted is None:
        raise InputError(
            f"{session.label} says no smallest gain worth having.", "Say one with --gain 0.15."
        )
    sheet = session.sheets[-1] if session.sheets else None
    slots = [find_slot(name).id for name in changed] or _changed(book, session)
    pool = pool_of(book.sessions(), session.machine, session.test, session.timing)
    two_way = len(session.directions) == 2
    return plan_day(test, pool, wanted, two_way=two_way, sheet=sheet, changed=slots), wanted


def _changed(book: Book, session: Session) -> list[str]:
    """What is changed between its own sheets, else against what it is naturally held against."""
    if not session.sheets:
        return []
    partner = natural_partner(book, session) if len(session.sheets) == 1 else None
    first = partner.sheets[-1] if partner and partner.sheets else session.sheets[0]
    found = [change.slot for s in session.sheets for change in main_changes(changes(first, s))]
    return list(dict.fromkeys(found))
