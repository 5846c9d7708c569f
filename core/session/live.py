"""What the strip asks of a running session: repeats, looks, breaks, and where it was left."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Final

import msgspec

from core.attempts import Attempt, Choice, Question, counted, find_test, write_value
from core.checks import break_too_long
from core.clock import to_utc
from core.errors import InputError
from core.session.attempting import attempt_numbered
from core.session.documents import Session
from core.session.trail import recorded
from core.setup import build_letters

__all__ = [
    "LOOK_EVERY",
    "REPEAT_WITHIN",
    "attempts_of_build",
    "is_explained",
    "leave_as_it_is",
    "left_off_words",
    "long_break",
    "look_prompt",
    "range_of",
    "read_observed",
    "repeat_question",
    "since_last",
]

REPEAT_WITHIN: Final = timedelta(seconds=2)
"""The same value again within this time is asked about: it may be a second press of Enter."""

LOOK_EVERY: Final = 3
"""Attempts between two looks over the machine; common practice, no source."""

NO_REASON: Final = "stands apart, no reason known"
"""Note of an attempt that was asked about and left as it is."""

_EVENING: Final = timedelta(hours=6)  # so long after it a time of day is of the day before

_OBSERVED = re.compile(r"\s*\bat\s+([01]?\d|2[0-3])[:.]([0-5]\d)\s*$", re.IGNORECASE)


def repeat_question(session: Session, value: float | None, at: datetime) -> Question | None:
    """Return the question that the same value within two seconds raises, or None.

    Args:
        session: with its attempts so far.
        value: the one typed now, in the unit of the main test; None: no value.
        at: when it was typed, aware.
    """
    last = session.attempts[-1] if session.attempts else None
    if value is None or last is None or last.at is None or last.value != value:
        return None
    if not timedelta(0) <= to_utc(at) - to_utc(last.at) < REPEAT_WITHIN:
        return None
    test = find_test(last.test or session.test)
    return Question(
        f"{write_value(value, test)} {test.unit} right after attempt {last.n}: another one?",
        (Choice("y", "yes, another attempt", value), Choice("n", "no, the same one", None)),
    )


def is_explained(attempt: Attempt) -> bool:
    """Tell whether something was said about an attempt: a tag, a strike or a note."""
    return bool(attempt.tags or attempt.strike or attempt.note)


def leave_as_it_is(session: Session, n: int, at: datetime) -> Session:
    """Note that an attempt that stands apart was asked about and stays, without a reason.

    Args:
        session: the session.
        n: number of the attempt.
        at: the time now.

    Raises:
        NotFoundError: no such attempt.
    """
    attempt = attempt_numbered(session, n)
    note = "; ".join(filter(None, (attempt.note, NO_REASON)))
    noted = msgspec.structs.replace(attempt, note=note)
    attempts = tuple(noted if a.n == n else a for a in session.attempts)
    after = msgspec.structs.replace(session, attempts=attempts)
    return recorded(session, after, "leave", f"attempt {n} {NO_REASON}: it stays", at)


def attempts_of_build(session: Session) -> tuple[Attempt, ...]:
    """Return the attempts that ran on the build that is on now, on whichever of its sheets."""
    letters = build_letters(session.sheets)
    return tuple(a for a in session.attempts if letters and letters[a.sheet] == letters[-1])


def range_of(attempts: Iterable[Attempt], test: str) -> tuple[float, float] | None:
    """Return the lowest and highest value that counts, in the test's unit; None without any.

    Args:
        attempts: of one session.
        test: short name of the test, which is the session's main test.
    """
    values = [a.value for a in counted(attempts, test, test) if a.value is not None]
    return (min(values), max(values)) if values else None


def since_last(session: Session, now: datetime) -> timedelta | None:
    """Return how long ago the newest attempt was, never below zero; None without one."""
    times = [to_utc(a.at) for a in session.attempts if a.at is not None]
    return max(to_utc(now) - max(times), timedelta(0)) if times else None


def look_prompt(session: Session) -> str:
    """Return what to look over after every third attempt; empty in between."""
    done = len(session.attempts)
    if not done or done % LOOK_EVERY:
        return ""
    return f"{done} attempts: look at drum, bolts, chain, tyres; leaks, smell."


def long_break(session: Session, now: datetime) -> bool:
    """Tell whether the last attempt was over 30 minutes ago and no check was opened for it since.

    Args:
        session: the session.
        now: aware.
    """
    times = [a.at for a in session.attempts if a.at is not None]
    if not times or not break_too_long(max(times), now):
        return False
    opened = [line.at for line in session.trail if line.action in ("event", "swap")]
    return not opened or to_utc(max(opened)) <= to_utc(max(times))


def left_off_words(session: Session, now: datetime) -> str:
    """Return where the session was left, for whoever resumes it; empty for a fresh one.

    The newest attempt is named, or else the newest thing that was done.

    Args:
        session: the session.
        now: aware.
    """
    if session.attempts:
        last = session.attempts[-1]
        where = " ".join(filter(None, (f"attempt {last.n}", last.direction)))
        ago = f", {_ago(to_utc(now) - to_utc(last.at))}" if last.at is not None else ""
        return f"You left off after {where}{ago}; warm-up state unknown."
    if len(session.trail) < 2:
        return ""
    line = session.trail[-1]
    return f"You left off {_ago(to_utc(now) - to_utc(line.at))}, after: {line.words}."


def _ago(age: timedelta) -> str:
    minutes = int(max(age, timedelta(0)).total_seconds() // 60)
    if minutes < 1:
        return "just now"
    if minutes < 120:
        return f"{minutes} min ago"
    return f"{minutes // 60} h ago" if minutes < 2880 else f"{minutes // 1440} days ago"


def read_observed(text: str, now: datetime) -> tuple[str, datetime]:
    """Split off when something was read, if that is told at the end: ``18C 1012hPa at 14:05``.

    Args:
        text: as typed.
        now: aware; also what is returned when no time is told.

    Returns:
        The text without the time, and the time: today's, in the same offset; shortly after
        midnight that of the evening before.

    Raises:
        InputError: the time is still to come.

    >>> from datetime import UTC
    >>> read_observed("18C at 14:05", datetime(2026, 8, 2, 15, 0, tzinfo=UTC))[1].hour
    14
    """
    match = _OBSERVED.search(text)
    if match is None:
        return text, now
    hour, minute = int(match[1]), int(match[2])
    observed = now.replace(hour=hour, minute=minute, second=0, microsecond=0)
    evening = observed - timedelta(days=1)
    if observed > now and now - evening < _EVENING:
        observed = evening
    if observed > now:
        raise InputError(f"{hour:02d}:{minute:02d} is still to come today.")
    return text[: match.start()], observed
