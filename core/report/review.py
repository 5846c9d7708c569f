"""One session to be read months later: its sections in order, each as blocks of a report."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Literal

from core.attempts import find_test
from core.errors import BackToBackError
from core.report import review_parts as own
from core.report import session_parts as parts
from core.report.attempt_pictures import attempts_picture
from core.report.document import Block, Heading, Paragraph
from core.report.pictures import Picture
from core.report.verdicts import own_verdict
from core.session import Book, Session
from core.setup import FACTORY_RPM, Machine
from core.verdict import (
    Comparison,
    Odd,
    Pool,
    compare_documents,
    odd_attempts,
    outcome_of,
    pool_of,
)

__all__ = ["SECTIONS", "Found", "Section", "SectionId", "found_by", "review_sections"]

SectionId = Literal["result", "setup", "checks", "air", "attempts", "closing", "trail"]

SECTIONS: tuple[tuple[SectionId, str], ...] = (
    ("result", "Result"),
    ("setup", "Setup"),
    ("checks", "Checks"),
    ("air", "Air"),
    ("attempts", "Attempts"),
    ("closing", "Close-out"),
    ("trail", "Trail"),
)
"""Every section in the order of the page, with its title."""


@dataclass(frozen=True)
class Section:
    """One part of the page."""

    id: SectionId
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Found:
    """What the rest of the log says about a session; slow enough to be worked out in a thread."""

    made: Comparison | None  # with itself or its natural partner; None: nothing to hold against
    prediction: str  # what was predicted against what it came to; empty: nothing predicted
    odd: frozenset[int]  # numbers of the attempts that stand apart
    picture: Picture  # of the attempts, with the ranges of their means


def found_by(book: Book, session: Session) -> Found:
    """Return what the rest of the log says about a session."""
    made = own_verdict(book, session)
    others = pool_of(
        book.sessions(), session.machine, session.test, session.timing, leave_out=session.id
    )
    odd = frozenset(found.n for found in _odd(session, others))
    against = made.a if made is not None and made.a.session != session.id else None
    picture = attempts_picture(session, pool=others, odd=odd, against=against)
    return Found(made, _prediction(book, session, made), odd, picture)


def _odd(session: Session, others: Pool) -> tuple[Odd, ...]:
    return odd_attempts(session, others) if find_test(session.test).unit else ()


def _prediction(book: Book, session: Session, made: Comparison | None) -> str:
    predicted = session.prediction
    if predicted is None:
        return ""
    try:
        if predicted.against and not (made and made.a.session == predicted.against):
            before = book.log.get(Session, predicted.against)
            made = compare_documents(book, before, session)
        outcome = outcome_of(predicted, made) if made is not None else None
    except BackToBackError as error:
        return f"What was predicted cannot be held against anything: {error.message}"
    return outcome.sentence if outcome is not None else ""


def review_sections(
    book: Book, session: Session, *, odd: Collection[int] = ()
) -> tuple[Section, ...]:
    """Return the sections of a session's page, without the verdict and without pictures.

    Args:
        book: the open log.
        session: any session, also an empty one.
        odd: numbers of the attempts that stand apart.
    """
    blocks: dict[SectionId, Iterator[Block]] = {
        "result": parts.about(book, session),
        "setup": own.setups(book, session, _factory_rpm(book, session)),
        "checks": own.checks_by_urgency(session),
        "air": _untitled(parts.air(session)),
        "attempts": own.attempts_with_odd(session, odd),
        "closing": _closing(book, session),
        "trail": own.trail(session),
    }
    return tuple(Section(id_, title, tuple(blocks[id_])) for id_, title in SECTIONS)


def _untitled(blocks: Iterator[Block]) -> Iterator[Block]:
    """Leave out the headings of a part that has a section of its own."""
    return (block for block in blocks if not isinstance(block, Heading))


def _closing(book: Book, session: Session) -> Iterator[Block]:
    found = [*parts.notes(session), *parts.close_out(book, session)]
    yield from found or [Paragraph("Nothing was noted, and it was not closed out.")]


def _factory_rpm(book: Book, session: Session) -> float:
    try:
        told = book.log.get(Machine, session.machine).rpm_factory
    except BackToBackError:
        return FACTORY_RPM
    return FACTORY_RPM if told is None else told
