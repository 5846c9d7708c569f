"""Logs and sessions for tests: real files in a given folder, a clock that is moved by hand."""

from __future__ import annotations

import random
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec

from core.attempts import Attempt
from core.checks import CheckRecord, current_checks, is_settled, rule_for
from core.clock import ManualClock
from core.session import Book, Plan, Session, answer_check, enter
from core.setup import Reading, Sheet

__all__ = ["START", "answered", "attempts", "bare_session", "new_book", "ready_session", "typed"]

START = datetime(2026, 4, 12, 8, 0, tzinfo=UTC)
_SAMPLE = {
    "done": "done",
    "value": "200",
    "two values": "0.1 0.1",
    "text": "told",
    "clay": "3 3 of 4",
}


def new_book(folder: Path, *, start: datetime = START) -> tuple[Book, ManualClock]:
    """Open a new log in a folder, with a clock and ids that are the same every time."""
    clock = ManualClock(start)
    return Book.open(folder / "log", clock=clock, rng=random.Random(7)), clock


def answered(session: Session, at: datetime) -> Session:
    """Clear every check that is due now, one by one."""
    for record in current_checks(session.checks, len(session.sheets) - 1):
        if is_settled(record) or record.due_after > len(session.attempts):
            continue
        session = answer_check(session, record.rule, _sample(record), at).session
    return session


def _sample(record: CheckRecord) -> str:
    rule = rule_for(record)
    if (
        rule.answer == "value"
        and rule.hard is not None
        and not _fits(rule.hard.low, rule.hard.high)
    ):
        return str((rule.hard.low + rule.hard.high) / 2)
    return _SAMPLE[rule.answer]


def _fits(low: float, high: float) -> bool:
    return low <= 200 <= high


def ready_session(book: Book, clock: ManualClock, *, test: str = "0-50") -> Session:
    """Start a session at a two-way place with every check cleared."""
    machine = book.add_machine("Kettle Moth", "minibike")
    place = book.add_place("Vennimoor strip", ("W", "E"))
    session = book.start(
        Plan(machine=machine.id, test=test, timing="logger-10hz", place=place.id, gain=0.15)
    )
    session = answered(session, clock())
    book.save(session)
    return session


def typed(session: Session, clock: ManualClock, values: Iterable[float]) -> Session:
    """Enter these values one after the other, four minutes apart."""
    for value in values:
        at = clock.advance(minutes=4)
        session = answered(session, at)
        session = enter(session, at, value=value, text=f"{value:.2f}")
    return session


def attempts(
    text: str, *, sheet: int = 0, first: int = 1, start: datetime = START
) -> tuple[Attempt, ...]:
    """Return attempts from words such as ``W8.81 E8.33``; no letter: no direction."""
    made = []
    for i, word in enumerate(text.split()):
        digits = word.lstrip("WE")
        made.append(
            Attempt(
                n=first + i,
                sheet=sheet,
                value=float(digits),
                text=digits,
                direction=word[: len(word) - len(digits)],
                at=start + timedelta(minutes=4 * (first + i)),
            )
        )
    return tuple(made)


def bare_session(
    label: str,
    blocks: Iterable[str],
    *,
    day: int = 0,
    machine: str = "m1",
    place: str = "p1",
    test: str = "0-50",
    timing: str = "logger-10hz",
    directions: tuple[str, ...] = ("W", "E"),
    sheets: tuple[dict[str, float], ...] = (),
    **more: object,
) -> Session:
    """Return a session that is not in any log: its attempts by sheet, and what differs."""
    start = START + timedelta(days=day)
    tries: list[Attempt] = []
    texts = list(blocks)
    for index, text in enumerate(texts):
        tries.extend(attempts(text, sheet=index, first=len(tries) + 1, start=start))
    made = tuple(
        Sheet(readings={k: Reading(state="set", value=v, text=f"{v:g}") for k, v in sheet.items()})
        for sheet in (sheets or tuple({} for _ in texts) or ({},))
    )
    session = Session(
        id=f"20260412-0000{day:02d}-{label.lower()}aaaa"[:24],
        label=label,
        machine=machine,
        place=place,
        started=start,
        test=test,
        timing=timing,
        directions=directions,
        sheets=made,
        attempts=tuple(tries),
    )
    return msgspec.structs.replace(session, **more)
