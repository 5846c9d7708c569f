"""The page of one session: the short one for the screen, the whole one to print."""

from __future__ import annotations

from collections.abc import Iterator

from core.checks import CAUTION
from core.errors import BackToBackError
from core.report import session_parts as parts
from core.report.document import Block, Bullets, Heading, Paragraph, Report
from core.report.verdicts import own_verdict, verdict_sentence
from core.session import Book, Session
from core.setup import Machine, Sheet, build_letters, over_speed_words
from core.verdict import outcome_of

__all__ = ["session_page", "session_sheet"]


def session_page(book: Book, session: Session) -> Report:
    """Return what a session came to: what it asked, what changed, what it says, its attempts."""
    return Report(
        _title(book, session),
        (
            *parts.about(book, session),
            *_verdict(book, session),
            *parts.changed(book, session),
            *_open_checks(session),
            *parts.attempts(session),
            *parts.summary(session),
            *parts.notes(session),
            *parts.close_out(book, session),
        ),
    )


def session_sheet(book: Book, session: Session, *, every_build: bool = True) -> Report:
    """Return everything about a session to be printed, with the cautions.

    Args:
        book: the open log.
        session: any.
        every_build: the whole setup of each build; else of the first, and what each swap changed.
    """
    return Report(
        _title(book, session),
        (
            *parts.about(book, session),
            *_verdict(book, session),
            *_setups(book, session, every_build=every_build),
            *parts.changed(book, session),
            *parts.checks(session),
            *parts.air(session),
            *parts.attempts(session),
            *parts.summary(session),
            *parts.notes(session),
            *parts.close_out(book, session),
            Heading("Caution"),
            Paragraph(CAUTION),
        ),
    )


def _title(book: Book, session: Session) -> str:
    place = book.name_of(session.place)
    machine = book.name_of(session.machine) or session.machine
    return f"{session.label}: {machine}, {session.test}" + (f" at {place}" if place else "")


def _verdict(book: Book, session: Session) -> Iterator[Block]:
    yield Heading("Verdict")
    yield Paragraph(verdict_sentence(book, session))
    made = own_verdict(book, session)
    if made is None or session.state == "stopped":
        return
    expected = outcome_of(session.prediction, made) if session.prediction else None
    said = (*made.more, *([expected.sentence] if expected else []))
    if said:
        yield Bullets(said)


def _open_checks(session: Session) -> Iterator[Block]:
    due = [c for c in session.checks if c.answer in ("open", "not done")]
    if due:
        count = f"{len(due)} check{'' if len(due) == 1 else 's'}"
        yield Paragraph(f"{count} not cleared; “backtoback sheet {session.label}” lists them.")


def _setups(book: Book, session: Session, *, every_build: bool) -> Iterator[Block]:
    """Yield each build once: its setup, what follows from it, and what is said of over-speed."""
    letters = build_letters(session.sheets)
    factory = _factory_rpm(book, session)
    for letter in list(dict.fromkeys(letters))[: None if every_build else 1]:
        sheet = session.sheets[letters.index(letter)]
        named = f" {letter}" if len(set(letters)) > 1 else ""
        yield Heading(f"Setup{named}" + (f" ({sheet.label})" if sheet.label else ""))
        yield from parts.setup(sheet)
        if sheet.readings:
            yield from parts.worked_out(sheet, factory)
            yield Paragraph(_over_speed(sheet, factory))


def _over_speed(sheet: Sheet, factory: float | None) -> str:
    return over_speed_words(sheet) if factory is None else over_speed_words(sheet, factory)


def _factory_rpm(book: Book, session: Session) -> float | None:
    try:
        return book.log.get(Machine, session.machine).rpm_factory
    except BackToBackError:
        return None
