"""How a session ends, and what may be said about it at any time."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

import msgspec

from core.errors import BlockedError, InputError
from core.session.documents import CloseOut, Session
from core.session.trail import recorded

__all__ = [
    "NOTHING_ENTERED",
    "close",
    "conclude",
    "end_left_open",
    "is_empty",
    "last_entry",
    "mark_accident",
    "note",
    "open_again",
    "say",
    "stop",
]

NOTHING_ENTERED = "nothing was entered"
"""Why a session was stopped that was started and left."""


def note(session: Session, words: str, at: datetime) -> Session:
    """Add a note, kept as typed.

    Raises:
        InputError: nothing was typed.
    """
    if not words.strip():
        raise InputError("An empty note says nothing.")
    after = msgspec.structs.replace(session, notes=(*session.notes, words))
    return recorded(session, after, "note", f"note: {words.strip()[:60]}", at)


def say(
    session: Session,
    at: datetime,
    *,
    question: str | None = None,
    gain: float | None = None,
    rider: str | None = None,
    helper: str | None = None,
    label: str | None = None,
) -> Session:
    """Set what the session asks and who is there; what is None stays.

    Raises:
        InputError: the smallest gain is not above zero.
    """
    if gain is not None and gain <= 0:
        raise InputError("The smallest gain worth having must be above zero.")
    wanted = {
        "question": question,
        "gain": gain,
        "rider": rider,
        "helper": helper,
        "label": label,
    }
    new = {name: value for name, value in wanted.items() if value is not None}
    words = ", ".join(f"{name}: {value}" for name, value in new.items())
    return recorded(session, msgspec.structs.replace(session, **new), "say", words, at)


def _need_open(session: Session) -> None:
    if session.state != "open":
        raise BlockedError(f"{session.label} is not open.", "Open it again with a note first.")


def stop(session: Session, because: str, at: datetime) -> Session:
    """End the session before its time, with the reason; it stays a full record.

    Raises:
        BlockedError: it is not open.
        InputError: no reason.
    """
    _need_open(session)
    if not because.strip():
        raise InputError("Say why it was stopped, so that it can be read next winter.")
    after = msgspec.structs.replace(
        session, state="stopped", stopped_because=because.strip(), closed=at
    )
    return recorded(session, after, "stop", f"stopped: {because.strip()}", at)


def conclude(
    session: Session,
    at: datetime,
    *,
    learnt: str | None = None,
    decision: Literal["keep", "revert", "repeat"] | None = None,
    because: str | None = None,
    following: str | None = None,
    compared_with: str | None = None,
) -> Session:
    """Set parts of the close-out while the session is still open; what is None stays.

    Args:
        session: an open session.
        at: the time now.
        learnt: what was learnt.
        decision: about what is bolted on.
        because: the reason of it.
        following: what comes next.
        compared_with: id of the session that the decision rests on.

    Raises:
        BlockedError: it is not open.
    """
    _need_open(session)
    wanted = {
        "learnt": learnt,
        "decision": decision,
        "because": because,
        "next": following,
        "compared_with": compared_with,
    }
    new = {name: value for name, value in wanted.items() if value is not None}
    made = msgspec.structs.replace(session.close_out or CloseOut(), **new)
    words = ", ".join(f"{name}: {value}" for name, value in new.items() if name != "compared_with")
    after = msgspec.structs.replace(session, close_out=made)
    return recorded(session, after, "conclude", words, at)


def close(session: Session, close_out: CloseOut, at: datetime) -> Session:
    """Close the session with what was learnt, the decision and what comes next.

    Raises:
        BlockedError: it is not open.
    """
    _need_open(session)
    made = msgspec.structs.replace(close_out, at=at)
    after = msgspec.structs.replace(session, state="closed", close_out=made, closed=at)
    words = "closed" + (f": {made.decision}" if made.decision else "")
    return recorded(session, after, "close", words, at)


def is_empty(session: Session) -> bool:
    """Tell whether a session was started, and nothing was entered in it since."""
    return not session.attempts and all(line.action == "start" for line in session.trail)


def last_entry(session: Session) -> datetime:
    """Return when something was last entered, or when it started."""
    return session.trail[-1].at if session.trail else session.started


def end_left_open(session: Session) -> Session:
    """End a session that was left open, as of its last entry; an empty one is put away as such.

    Nothing is deleted: an empty one stays in the log as stopped, with that as its reason.

    Raises:
        BlockedError: it is not open.
    """
    at = last_entry(session)
    if is_empty(session):
        return stop(session, NOTHING_ENTERED, at)
    return close(session, session.close_out or CloseOut(), at)


def open_again(session: Session, because: str, at: datetime) -> Session:
    """Open a closed or stopped session again, with a note why.

    Raises:
        BlockedError: it is open already.
        InputError: no note.
    """
    if session.state == "open":
        raise BlockedError(f"{session.label} is open already.")
    if not because.strip():
        raise InputError("Say why it is opened again.")
    after = msgspec.structs.replace(
        session,
        state="open",
        closed=None,
        stopped_because="",
        notes=(*session.notes, f"opened again: {because.strip()}"),
    )
    return recorded(session, after, "open again", f"opened again: {because.strip()}", at)


def mark_accident(session: Session, at: datetime) -> Session:
    """Set a time mark for an accident and end the running; notes come later.

    Raises:
        BlockedError: the session is not open.
    """
    _need_open(session)
    mark = f"accident at {at:%H:%M:%S}"
    after = msgspec.structs.replace(
        session,
        state="stopped",
        stopped_because="accident",
        closed=at,
        notes=(*session.notes, mark),
    )
    return recorded(session, after, "accident", mark, at)
