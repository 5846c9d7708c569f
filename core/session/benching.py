"""Bench readings in the log: kept at once, put on the sheet of an open session, read back.

The documents belong to the bench; what they do to a session is done here, by the actions that
screens use as well, so that undo and trail need nothing of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import msgspec

from core.bench import BenchReading, Past, answer_text, gauges_from, rules_filled_by
from core.checks import Around, Cleared, find_rule, is_settled
from core.errors import BackToBackError, BlockedError, NotFoundError
from core.session.book import Book
from core.session.documents import Session
from core.session.preparing import answer_check, check_record, touch
from core.setup import Sheet

__all__ = ["Kept", "keep_reading", "open_session", "part_past", "past_of"]


@dataclass(frozen=True)
class Kept:
    """What became of a bench reading."""

    reading: BenchReading  # as it is kept
    session: Session | None = None  # as it is saved, when the reading went into one
    slots: tuple[str, ...] = ()  # set on its sheet
    cleared: tuple[str, ...] = ()  # checks that it cleared, by rule id
    warning: str = ""  # why it went nowhere else, or leaves a doubt; empty: nothing


def open_session(book: Book, machine: str) -> Session | None:
    """Return the newest open session of a machine, or None."""
    for head in reversed(book.sessions()):
        if head.machine == machine and head.state == "open":
            return book.log.get(Session, head.id)
    return None


def keep_reading(
    book: Book,
    reading: BenchReading,
    *,
    on_sheet: bool = True,
    answer: bool = True,
    around: Around | None = None,
) -> Kept:
    """Save a bench reading; set its slots and clear the check that asked for it.

    The reading is on the disk before anything else is done with it.

    Args:
        book: the open log.
        reading: as it was taken.
        on_sheet: put its values on the sheet of the machine's open session.
        answer: enter it as the answer to the checks of that session that ask for it.
        around: what else is known of the day.

    Raises:
        LogError: it cannot be saved; nothing was done then.
    """
    session = open_session(book, reading.machine) if reading.machine else None
    if session is None or not (on_sheet or answer):
        book.save(reading)
        return Kept(reading, warning=_nowhere(reading) if on_sheet else "")
    kept = msgspec.structs.replace(reading, session=session.id)
    book.save(kept)
    work = Kept(kept, session)
    if answer:
        work = _answered(book, work, around)
    if on_sheet:
        work = _on_sheet(book, work)
    if work.session is not None and work.session != session:
        book.save(work.session)
    return work


def _nowhere(reading: BenchReading) -> str:
    if not reading.machine:
        return ""
    return "Kept; no session of this machine is open, so it is on no setup sheet yet."


def _answered(book: Book, work: Kept, around: Around | None) -> Kept:
    """Enter the reading as the answer to each open check that it is one to."""
    cleared: list[str] = []
    said: list[str] = []
    session = work.session
    for rule in _asking(work.reading):
        text = answer_text(work.reading, rule)
        if session is None or not text or not _is_open(session, rule):
            continue
        if find_rule(rule).cold and work.reading.condition == "hot":
            said.append(f"Taken hot: “{find_rule(rule).short}” asks for a cold engine.")
            continue
        try:
            done = answer_check(session, rule, text, book.clock(), around=around)
        except BackToBackError as error:
            said.append(f"“{find_rule(rule).short}” is not cleared: {error.message}")
            continue
        session = done.session
        said.append(done.warning)
        if done.record.answer == "cleared":
            cleared.append(rule)
    warning = " ".join(filter(None, said))
    return replace(work, session=session, cleared=tuple(cleared), warning=warning)


def _on_sheet(book: Book, work: Kept) -> Kept:
    """Put on the sheet what no cleared check has put there already."""
    session, readings = work.session, work.reading.readings
    if session is None or not readings:
        return work
    now = session.sheets[-1].readings
    filled = {slot for rule in work.cleared for slot in find_rule(rule).fills if slot in readings}
    new = {
        slot: one for slot, one in readings.items() if slot not in filled and now.get(slot) != one
    }
    work = replace(work, slots=tuple(slot for slot in readings if slot in filled))
    if not new:
        return work
    try:
        after = touch(
            session,
            new,
            book.clock(),
            before=book.sheet_before(session),
            history=book.cleared_before(session.machine),
        )
    except BlockedError as error:
        said = f"Kept, not on the sheet: {error.message} {error.hint}"
        return replace(work, warning=f"{work.warning} {said}".strip())
    return replace(work, session=after, slots=tuple(s for s in readings if s in filled or s in new))


def _asking(reading: BenchReading) -> tuple[str, ...]:
    return (reading.rule,) if reading.rule else rules_filled_by(reading.readings)


def _is_open(session: Session, rule: str) -> bool:
    try:
        record = check_record(session, rule)
    except NotFoundError:
        return False
    return not is_settled(record) and record.due_after <= len(session.attempts)


def past_of(book: Book, machine: str, *, sheets: bool = False) -> Past:
    """Return what is on file of a machine's bench work.

    Readings of a loose engine count for the machine that it is on now.

    Args:
        book: the open log.
        machine: id.
        sheets: with every setup sheet as well, for the history of a slot; that takes longer.
    """
    session = open_session(book, machine)
    last = session or book.last_session(machine)
    now = last.sheets[-1].readings if last is not None else {}
    parts = {reading.part for reading in now.values() if reading.part}
    open_one = session.id if session is not None else ""
    answers = [c for c in book.cleared_before(machine) if c.session != open_one]
    return Past(
        tuple(_taken(book, machine, parts)),
        (*answers, *(_answers_of(session) if session is not None else ())),
        gauges_from(book.gauges()),
        tuple(_sheets(book, machine)) if sheets else (),
    )


def part_past(book: Book, part: str) -> Past:
    """Return what is on file of a loose engine or part."""
    return Past(tuple(_taken(book, "", {part})), gauges=gauges_from(book.gauges()))


def _taken(book: Book, machine: str, parts: set[str]) -> Iterator[BenchReading]:
    for head in book.bench_readings():
        if (machine and head.machine == machine) or head.part in parts:
            yield book.log.get(BenchReading, head.id)


def _answers_of(session: Session) -> Iterator[Cleared]:
    """Yield every answer of a session, also those that did not clear."""
    for record in session.checks:
        if record.result:
            yield Cleared(session=session.id, sheet=session.sheets[record.sheet], record=record)


def _sheets(book: Book, machine: str) -> Iterator[tuple[str, Sheet]]:
    for head in book.sessions():
        if head.machine == machine:
            for sheet in book.log.get(Session, head.id).sheets:
                yield head.label, sheet
