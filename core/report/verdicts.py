"""The comparison that a session stands for by itself, and its verdict in one sentence."""

from __future__ import annotations

from core.errors import BackToBackError
from core.session import Book, Session
from core.verdict import Comparison, compare_documents, natural_partner, within_session

__all__ = ["own_verdict", "verdict_sentence"]


def own_verdict(book: Book, session: Session) -> Comparison | None:
    """Return what a session says: its own two builds, or it against its natural partner.

    Args:
        book: the open log.
        session: any session.

    Returns:
        None where there is nothing to hold it against, or the two cannot be compared.
    """
    try:
        inside = within_session(book, session)
        if inside is not None:
            return inside
        partner = natural_partner(book, session)
        return None if partner is None else compare_documents(book, partner, session)
    except BackToBackError:
        return None


def verdict_sentence(book: Book, session: Session) -> str:
    """Return the verdict of a session in one sentence, or why there is none."""
    if session.state == "stopped":
        because = f" ({session.stopped_because})" if session.stopped_because else ""
        count = len(session.attempts)
        ran = "no attempts" if not count else f"{count} attempt{'' if count == 1 else 's'} before"
        return f"Stopped{because}: {ran}. It is a full record."
    made = own_verdict(book, session)
    if made is not None and made.sentence:
        return made.sentence
    if not session.attempts:
        return "No attempts yet."
    return "Nothing to hold it against yet: it is the first of its kind."
