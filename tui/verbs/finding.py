"""The session that a word on the command line names."""

from __future__ import annotations

from core.errors import BrokenDocumentError
from core.exchange import faults
from core.session import Book, Session
from core.verdict import sheet_of

__all__ = ["the_session"]


def the_session(book: Book, word: str) -> Session:
    """Return the session of a label, an id, or a head of one, such as ``S05`` or ``S05:B``.

    Raises:
        NotFoundError: no such session or build.
        BrokenDocumentError: it says what cannot be.
    """
    session, build = book.side(word)
    wrong = faults(session)
    if wrong:
        file = f"sessions/{session.id}.json"
        raise BrokenDocumentError(
            f"{session.label} cannot be shown: {wrong[0]}.", file, hint=f"It stands in {file}."
        )
    if build:
        sheet_of(session, build)
    return session
