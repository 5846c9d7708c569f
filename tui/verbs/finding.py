"""What words on the command line name: a session, a gain."""

from __future__ import annotations

from core.errors import BrokenDocumentError, InputError, UsageError
from core.exchange import faults
from core.session import Book, Session
from core.units import read_number
from core.verdict import sheet_of

__all__ = ["read_gain", "the_session"]


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


def read_gain(text: str) -> float | None:
    """Return the smallest gain worth having that ``--gain`` says; None where it was not said.

    Raises:
        UsageError: it is no number above zero.
    """
    if not text:
        return None
    try:
        gain = read_number(text)
    except InputError as error:
        raise UsageError(f"--gain: {error.message}", error.hint) from None
    if gain <= 0:
        raise UsageError("--gain: the smallest gain worth having must be above zero.")
    return gain
