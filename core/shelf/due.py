"""What is worn or due on a machine: by hours, attempts, days and uses since it was last seen to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from core.clock import day_words
from core.session import Book, Session
from core.setup import IntervalRow, intervals_from
from core.shelf.history import PartHistory, histories, own_hours, read_here, sessions_of
from core.units import format_number

__all__ = ["Due", "DueState", "due_of", "last_seen_to"]

DueState = Literal["due", "soon", "fine", "not known"]

_SOON = 0.8  # share of an interval from which it is said ahead


@dataclass(frozen=True)
class SeenTo:
    """When something was last seen to."""

    session: str  # id
    label: str
    day: date
    words: str  # what was done
    hours: float | None  # engine hours then; None: not read
    attempts_before: int  # of that session, made before it
    as_found: bool = False  # it was only written down so when the machine came into the log


@dataclass(frozen=True)
class Due:
    """One line of what is worn or due."""

    row: IntervalRow
    machine: str  # id
    state: DueState
    counted: tuple[tuple[str, float, float], ...]  # what, how much is gone, of how much
    since: SeenTo | None  # None: the log does not say
    sentence: str

    @property
    def share(self) -> float:
        """How much of the interval is gone; 1 or more: due."""
        return max((gone / limit for _, gone, limit in self.counted), default=0.0)


def last_seen_to(row: IntervalRow, sessions: Sequence[Session]) -> SeenTo | None:
    """Return when something was last seen to on a machine; None where the log does not say.

    Args:
        row: tells the slots and checks that count.
        sessions: of one machine, oldest first.
    """
    for session in reversed(sessions):
        for record in reversed(session.checks):
            if record.rule in row.rules and record.answer == "cleared" and record.at is not None:
                before = sum(1 for a in session.attempts if a.at and a.at < record.at)
                words = f"{record.rule.replace('_', ' ')}: {record.result}".rstrip(": ")
                return SeenTo(session.id, session.label, record.at.date(), words,
                              _hours_at(sessions, session), before)  # fmt: skip
        for index in range(len(session.sheets) - 1, -1, -1):
            found = _entered(row, session, index)
            if found:
                before = sum(1 for a in session.attempts if a.sheet < index)
                return SeenTo(session.id, session.label, session.started.date(), found,
                              _hours_at(sessions, session), before,
                              as_found=session is sessions[0] and index == 0)  # fmt: skip
    return None


def _entered(row: IntervalRow, session: Session, index: int) -> str:
    """Say what of the row's slots was entered on a sheet, not carried over from the one before."""
    sheet = session.sheets[index]
    before = session.sheets[index - 1].readings if index else {}
    for slot in row.slots:
        reading = sheet.readings.get(slot)
        if reading is None or reading.carried or reading == before.get(slot):
            continue
        if reading.state in ("fitted", "set", "measured", "stated"):
            return f"{slot.replace('_', ' ')}: {reading.text}".rstrip(": ")
    return ""


def _hours_at(sessions: Sequence[Session], at: Session) -> float | None:
    """Return the engine hours at a session: its own reading, else the newest one before it."""
    known = None
    for session in sessions:
        known = own_hours(session) if own_hours(session) is not None else known
        if session.id == at.id:
            break
    return known


def due_of(book: Book, machine: str, today: date | None = None) -> tuple[Due, ...]:
    """Return what is worn or due on a machine, the most pressing first.

    Args:
        book: the open log.
        machine: id.
        today: local date; None: the clock's.
    """
    sessions = [s for s in sessions_of(book) if s.machine == machine]
    day = today if today is not None else book.clock().date()
    rows = intervals_from(book.intervals())
    past = histories(book) if any(row.uses for row in rows) else {}
    found = [_due(row, machine, sessions, day, past) for row in rows]
    order: dict[DueState, int] = {"due": 0, "soon": 1, "fine": 2, "not known": 3}
    return tuple(sorted(found, key=lambda due: (order[due.state], -due.share)))


def _due(
    row: IntervalRow,
    machine: str,
    sessions: Sequence[Session],
    today: date,
    past: dict[str, PartHistory],
) -> Due:
    since = last_seen_to(row, sessions)
    counted = [*_metered(row, sessions, today)]
    metered = {what for what, _, _ in counted}
    if since is not None:
        counted += [c for c in _counted(row, since, sessions, today) if c[0] not in metered]
    counted += _uses(row, sessions, past)
    share = max((gone / limit for _, gone, limit in counted), default=None)
    state: DueState = "not known"
    if share is not None:
        over = any(
            gone > limit if what == "uses" else gone >= limit for what, gone, limit in counted
        )
        state = "due" if over else "soon" if share >= _SOON and not row.uses else "fine"
    return Due(row, machine, state, tuple(counted), since, _sentence(row, counted, since, state))


def _metered(
    row: IntervalRow, sessions: Sequence[Session], today: date
) -> list[tuple[str, float, float]]:
    """What the row's own meter on the newest sheet says, with what was run or waited since."""
    if not row.meter:
        return []
    for session in reversed(sessions):
        for sheet in reversed(session.sheets):
            value = read_here(sheet, row.meter)
            if value is None:
                continue
            if row.meter == "fuel_age" and row.days:
                waited = max(0, (today - session.started.date()).days)
                return [("days", value + waited, row.days)]
            if row.hours:
                start, now = _hours_at(sessions, session), _hours_at(sessions, sessions[-1])
                run = now - start if start is not None and now is not None else 0.0
                return [("hours", value + max(0.0, run), row.hours)]
    return []


def _counted(
    row: IntervalRow, since: SeenTo, sessions: Sequence[Session], today: date
) -> list[tuple[str, float, float]]:
    counted: list[tuple[str, float, float]] = []
    now = _hours_at(sessions, sessions[-1])
    if row.hours and since.hours is not None and now is not None and now >= since.hours:
        start = 0.0 if since.as_found else since.hours  # before the log: all the engine has run
        counted.append(("hours", now - start, row.hours))
    if row.attempts:
        index = next(i for i, s in enumerate(sessions) if s.id == since.session)
        made = sum(len(s.attempts) for s in sessions[index:]) - since.attempts_before
        counted.append(("attempts", made, row.attempts))
    if row.days:
        counted.append(("days", max(0, (today - since.day).days), row.days))
    return counted


def _uses(
    row: IntervalRow, sessions: Sequence[Session], past: dict[str, PartHistory]
) -> list[tuple[str, float, float]]:
    if not row.uses or not sessions or not sessions[-1].sheets:
        return []
    for slot in row.slots:
        reading = sessions[-1].sheets[-1].readings.get(slot)
        if reading is not None and reading.part in past:
            return [("uses", past[reading.part].times_fitted, row.uses)]
    return []


_STATE_WORDS: dict[DueState, str] = {"due": "due", "soon": "soon due", "fine": "not due"}


def _sentence(
    row: IntervalRow,
    counted: Sequence[tuple[str, float, float]],
    since: SeenTo | None,
    state: DueState,
) -> str:
    if state == "not known":
        seen = f"seen to on {day_words(since.day)}" if since else "the log does not say since when"
        return f"{_capital(row.words)}: cannot be counted; {seen}."
    gone = ", ".join(f"{_number(a, what)} of {b:g} {what}" for what, a, b in counted)
    seen = f" since {day_words(since.day)} ({since.label}, {since.words})" if since else ""
    if since is not None and since.as_found and row.hours and not row.meter:
        seen = f"; on it when the log began ({since.label}), hours counted from the engine's first"
    return f"{_capital(row.words)}: {_STATE_WORDS[state]}, {gone}{seen}."


def _number(value: float, what: str) -> str:
    return format_number(value, 1 if what == "hours" else 0)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
