"""The season told as text: each visit with what it says."""

from __future__ import annotations

from core.report.verdicts import own_verdict, verdict_sentence
from core.session import Book, Session

__all__ = ["season_text"]


def season_text(book: Book) -> str:
    """Return every session of the log, oldest first, with its verdict in plain sentences.

    Args:
        book: the open log of the season.
    """
    return "\n\n".join(_told(book, book.log.get(Session, h.id)) for h in book.sessions()) + "\n"


def _told(book: Book, session: Session) -> str:
    where = book.name_of(session.place) or "at the bench"
    started = session.started
    head = (
        f"{session.label}  {started.day} {started:%b %Y}  {book.name_of(session.machine)}, "
        f"{session.test}, {where}"
    )
    lines = [head, f"  {session.question}"]
    if session.prediction is not None:
        lines.append(f"  Expected before running: {session.prediction.value:+.2f}.")
    lines.append(f"  {verdict_sentence(book, session)}")
    made = own_verdict(book, session)
    lines.extend(f"  - {sentence}" for sentence in (made.more if made else ()))
    if session.close_out is not None and session.close_out.learnt:
        lines.append(f"  Learnt: {session.close_out.learnt}")
    if session.close_out is not None and session.close_out.decision:
        because = f": {session.close_out.because}" if session.close_out.because else ""
        lines.append(f"  Decided: {session.close_out.decision}{because}")
    return "\n".join(lines)
