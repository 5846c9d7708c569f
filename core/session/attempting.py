"""What is done with attempts: enter, strike, tag, turn round, move to the right build."""

from __future__ import annotations

from datetime import datetime

import msgspec

from core.attempts import (
    Attempt,
    AttemptKind,
    EnteredHow,
    Strike,
    find_strike,
    find_tag,
    find_test,
    next_direction,
    opposite,
    write_value,
)
from core.checks import may_attempt, reopen_after_strike
from core.errors import BlockedError, InputError, NotFoundError
from core.session.documents import Session
from core.session.trail import recorded

__all__ = [
    "attempt_numbered",
    "change_attempt",
    "coming_direction",
    "enter",
    "last_attempt",
    "move_attempts",
    "set_next_kind",
    "strike",
    "tag",
    "turn_round",
    "unstrike",
]


def _need_open(session: Session) -> None:
    if session.state == "open":
        return
    word = "closed" if session.state == "closed" else "stopped"
    raise BlockedError(f"{session.label} is {word}.", "Open it again with a note to go on.")


def attempt_numbered(session: Session, n: int) -> Attempt:
    """Return the attempt of that number.

    Raises:
        NotFoundError: the session has no such attempt.
    """
    for attempt in session.attempts:
        if attempt.n == n:
            return attempt
    raise NotFoundError(f"{session.label} has no attempt {n}.")


def last_attempt(session: Session) -> Attempt:
    """Return the newest attempt.

    Raises:
        NotFoundError: none was entered yet.
    """
    if not session.attempts:
        raise NotFoundError(f"{session.label} has no attempt yet.")
    return session.attempts[-1]


def coming_direction(session: Session) -> str:
    """Return the direction the next attempt will be noted with."""
    return next_direction(session.attempts, session.directions, override=session.next_direction)


def enter(
    session: Session,
    at: datetime,
    *,
    value: float | None,
    text: str = "",
    kind: AttemptKind | None = None,
    direction: str | None = None,
    tags: tuple[str, ...] = (),
    unsure: bool = False,
    entered: EnteredHow = "live",
    timing: str = "",
    second: float | None = None,
) -> Session:
    """Add one attempt on the newest sheet; direction and number come by themselves.

    Args:
        session: an open session without open stop checks.
        at: when it ran, or the time now.
        value: in the unit of the main test; None only for an aborted one.
        text: as typed.
        kind: None takes what is set for the next one.
        direction: None takes the coming one.
        tags: codes of machine behaviour.
        unsure: the timer is only suspected of an error.
        entered: live, later, imported, or from a trace.
        timing: name of the timing gear; empty: the session's.
        second: what a second timer said.

    Raises:
        BlockedError: a stop check is open, or the session is not open.
        InputError: a timed attempt without a value.
    """
    _need_open(session)
    sheet = len(session.sheets) - 1
    may_attempt(session.checks, sheet, len(session.attempts))
    kind = kind or session.next_kind
    if kind != "aborted" and value is None:
        raise InputError("A timed attempt needs a time.")
    attempt = Attempt(
        n=max((a.n for a in session.attempts), default=0) + 1,
        sheet=sheet,
        kind=kind,
        value=None if kind == "aborted" else value,
        text=text,
        direction=coming_direction(session) if direction is None else direction,
        at=at,
        tags=tuple(find_tag(t).code for t in tags),
        unsure=unsure,
        entered=entered,
        timing="" if timing == session.timing else timing,
        second=second,
    )
    after = msgspec.structs.replace(
        session, attempts=(*session.attempts, attempt), next_direction=""
    )
    return recorded(session, after, "enter", _entered_words(session, attempt), at)


def _entered_words(session: Session, attempt: Attempt) -> str:
    shown: str = attempt.kind
    if attempt.value is not None:
        test = find_test(attempt.test or session.test)
        shown = f"{write_value(attempt.value, test)} {test.unit}"
    return " ".join(filter(None, (f"attempt {attempt.n}", attempt.direction, shown)))


def _with_attempt(session: Session, changed: Attempt) -> Session:
    attempts = tuple(changed if a.n == changed.n else a for a in session.attempts)
    return msgspec.structs.replace(session, attempts=attempts)


def change_attempt(
    session: Session,
    n: int,
    at: datetime,
    *,
    direction: str | None = None,
    kind: AttemptKind | None = None,
    unsure: bool | None = None,
    note: str | None = None,
    second: float | None = None,
    second_timing: str | None = None,
) -> Session:
    """Correct what was noted beside an attempt; its time stays as it was typed.

    Raises:
        NotFoundError: no such attempt.
        InputError: an aborted attempt has no time, so it cannot become a timed one; or a
            direction that the place does not have.
    """
    attempt = attempt_numbered(session, n)
    if kind in ("timed", "warm-up") and attempt.value is None:
        raise InputError(f"Attempt {n} has no time: it stays aborted.")
    if direction and session.directions and direction not in session.directions:
        raise InputError(f"{direction} is not one of {' and '.join(session.directions)}.")
    wanted = {
        "direction": direction,
        "kind": kind,
        "unsure": unsure,
        "note": note,
        "second": second,
        "second_timing": second_timing,
    }
    new = {name: value for name, value in wanted.items() if value is not None}
    after = _with_attempt(session, msgspec.structs.replace(attempt, **new))
    words = f"attempt {n}: " + ", ".join(f"{name} {value}" for name, value in new.items())
    return recorded(session, after, "change", words, at)


def strike(
    session: Session, n: int, code: str, at: datetime, *, note: str = "", late: bool = True
) -> Session:
    """Strike an attempt for a fault of the test; its time stays visible.

    Args:
        session: the session.
        n: number of the attempt.
        code: letter, code or word of the strike table.
        at: the time now.
        note: more words.
        late: True when the time was already seen, which is labelled.

    Raises:
        NotFoundError: no such attempt or code.
        InputError: it is struck already.
    """
    attempt = attempt_numbered(session, n)
    row = find_strike(code)
    if attempt.strike is not None:
        raise InputError(f"Attempt {n} is struck already ({attempt.strike.code}).")
    struck = Strike(code=row.code, note=note, at=at, late=late)
    after = _with_attempt(session, msgspec.structs.replace(attempt, strike=struck))
    sheet = len(session.sheets) - 1
    after = msgspec.structs.replace(
        after, checks=reopen_after_strike(after.checks, sheet, row.code, len(session.attempts))
    )
    return recorded(session, after, "strike", f"struck attempt {n}: {row.code} {note}".strip(), at)


def unstrike(session: Session, n: int, at: datetime) -> Session:
    """Let a struck attempt count again.

    Raises:
        InputError: it is not struck.
    """
    attempt = attempt_numbered(session, n)
    if attempt.strike is None:
        raise InputError(f"Attempt {n} is not struck.")
    after = _with_attempt(session, msgspec.structs.replace(attempt, strike=None))
    return recorded(session, after, "unstrike", f"attempt {n} counts again", at)


def tag(session: Session, n: int, code: str, at: datetime) -> Session:
    """Put a tag of machine behaviour on an attempt, or take it off if it is there.

    Raises:
        NotFoundError: no such attempt or tag.
    """
    attempt = attempt_numbered(session, n)
    row = find_tag(code)
    there = row.code in attempt.tags
    tags = tuple(t for t in attempt.tags if t != row.code) if there else (*attempt.tags, row.code)
    after = _with_attempt(session, msgspec.structs.replace(attempt, tags=tags))
    words = f"attempt {n}: {'not ' if there else ''}{row.code}"
    return recorded(session, after, "tag", words, at)


def turn_round(session: Session, at: datetime) -> Session:
    """Make the next attempt run the other way than it would.

    Raises:
        InputError: the place is run one way.
    """
    if len(session.directions) != 2:
        raise InputError("This place has no two directions.")
    turned = opposite(coming_direction(session), session.directions)
    after = msgspec.structs.replace(session, next_direction=turned)
    return recorded(session, after, "turn", f"next attempt: {turned}", at)


def set_next_kind(session: Session, kind: AttemptKind, at: datetime) -> Session:
    """Say that the coming attempts are warm-up runs, or timed ones."""
    after = msgspec.structs.replace(session, next_kind=kind)
    return recorded(session, after, "kind", f"coming attempts: {kind}", at)


def move_attempts(session: Session, first: int, sheet: int, at: datetime) -> Session:
    """Move the attempts from this number on to another build (the swap was forgotten).

    Args:
        session: the session.
        first: number of the first attempt that ran on the other sheet.
        sheet: index of that sheet.
        at: the time now.

    Raises:
        NotFoundError: no such attempt or sheet.
    """
    attempt_numbered(session, first)
    if not 0 <= sheet < len(session.sheets):
        raise NotFoundError(f"{session.label} has no setup sheet number {sheet + 1}.")
    attempts = tuple(
        msgspec.structs.replace(a, sheet=sheet) if a.n >= first else a for a in session.attempts
    )
    after = msgspec.structs.replace(session, attempts=attempts)
    words = f"attempts from {first} on moved to sheet {sheet + 1}"
    return recorded(session, after, "move", words, at)
