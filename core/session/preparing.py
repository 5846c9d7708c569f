"""What is done before and between attempts: slots, swaps, checks, air."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

import msgspec

from core.attempts import AirReading, find_test
from core.checks import (
    EVENT_WORDS,
    Around,
    CheckRecord,
    Cleared,
    Event,
    answer,
    current_checks,
    due_for_changes,
    merge_due,
    reopen_after,
    reopen_after_swap,
    rule_for,
    settled_by_return,
    undo_answer,
)
from core.errors import BlockedError, InputError, NotFoundError
from core.session.documents import Session
from core.session.trail import recorded
from core.setup import Reading, Sheet, changes, mark_stale, slot_of, with_reading
from core.units import format_number

__all__ = [
    "Answering",
    "answer_check",
    "check_record",
    "note_air",
    "open_check_again",
    "something_happened",
    "swap",
    "touch",
]


class Answering(msgspec.Struct, frozen=True, kw_only=True):
    """What an answered check came to."""

    session: Session
    record: CheckRecord
    warning: str = ""  # one sentence when the answer leaves a doubt or does not clear


def _checked(
    session: Session, before: Sheet | None, history: Sequence[Cleared], touched: tuple[str, ...]
) -> tuple[CheckRecord, ...]:
    """Checks after slots of the newest sheet were touched.

    What a cleared check measured and put on the sheet asks for nothing by itself.
    """
    index = len(session.sheets) - 1
    sheet = session.sheets[index]
    base = session.sheets[index - 1] if index else before
    due: tuple[CheckRecord, ...] = ()
    if base is not None:
        measured = _measured_by_checks(session.checks, index) - set(touched)
        asking = [c for c in changes(base, sheet) if c.slot not in measured]
        due = due_for_changes(asking, index, sheet, history, len(session.attempts))
    return merge_due(session.checks, due, index, touched)


def _measured_by_checks(records: Sequence[CheckRecord], index: int) -> set[str]:
    cleared = [r for r in records if r.sheet == index and r.answer == "cleared"]
    return {slot for record in cleared for slot in rule_for(record).fills}


def touch(
    session: Session,
    readings: Mapping[str, Reading | None],
    at: datetime,
    *,
    before: Sheet | None = None,
    history: Sequence[Cleared] = (),
) -> Session:
    """Set slots of the newest sheet; the checks that the change makes due appear.

    Args:
        session: an open session.
        readings: new readings by slot id; None: no longer recorded.
        at: the time now.
        before: last sheet of the session it came from, that changes are counted against.
        history: checks cleared earlier on this machine.

    Raises:
        BlockedError: attempts already ran on this sheet, so it has to be a swap; or not open.
    """
    if session.state != "open":
        raise BlockedError(f"{session.label} is not open.", "Open it again with a note to go on.")
    index = len(session.sheets) - 1
    if any(a.sheet == index for a in session.attempts):
        raise BlockedError(
            "Attempts already ran on this sheet.", "Take it as a swap: a new sheet starts."
        )
    sheet = _with_readings(session.sheets[-1], readings)
    after = msgspec.structs.replace(session, sheets=(*session.sheets[:-1], sheet))
    after = msgspec.structs.replace(after, checks=_checked(after, before, history, tuple(readings)))
    return recorded(session, after, "touch", _words(readings), at)


def swap(
    session: Session,
    readings: Mapping[str, Reading | None],
    at: datetime,
    *,
    label: str = "",
    history: Sequence[Cleared] = (),
) -> Session:
    """Start the next sheet with these slots changed, and make its checks due.

    Raises:
        BlockedError: the session is not open.
        InputError: nothing is changed.
    """
    if session.state != "open":
        raise BlockedError(f"{session.label} is not open.", "Open it again with a note to go on.")
    old = session.sheets[-1]
    sheet = msgspec.structs.replace(_with_readings(old, readings), started=at, label=label)
    differing = changes(old, sheet)
    if not differing:
        raise InputError("Nothing differs from the sheet it runs on now: no swap.")
    index = len(session.sheets)
    sheets = (*session.sheets, sheet)
    due = due_for_changes(differing, index, sheet, history, len(session.attempts))
    checks = (*session.checks, *due, *reopen_after_swap(session.checks, index, differing))
    checks = (*checks, *settled_by_return(checks, sheets))
    after = msgspec.structs.replace(session, sheets=sheets, checks=checks)
    return recorded(session, after, "swap", f"swap: {_words(readings)}", at)


def _with_readings(sheet: Sheet, readings: Mapping[str, Reading | None]) -> Sheet:
    new = sheet
    for slot, reading in readings.items():
        new = with_reading(new, slot, reading)
    return mark_stale(sheet, new)


def _words(readings: Mapping[str, Reading | None]) -> str:
    said = []
    for slot, reading in readings.items():
        label = slot_of(slot).label
        said.append(f"{label} {reading.text or reading.state}" if reading else f"{label} left out")
    return ", ".join(said)


def check_record(session: Session, rule: str) -> CheckRecord:
    """Return the record of a check that counts on the newest sheet.

    Raises:
        NotFoundError: that check is not due.
    """
    for record in current_checks(session.checks, len(session.sheets) - 1):
        if record.rule == rule:
            return record
    raise NotFoundError(f"The check “{rule}” is not due.")


def answer_check(
    session: Session, rule: str, text: str, at: datetime, *, around: Around | None = None
) -> Answering:
    """Enter the result of one check; only a result clears it.

    Args:
        session: an open session.
        rule: id of the check's rule.
        text: ``done``, ``not done``, a value with or without unit, clay as told, a reason.
        at: the time now.
        around: what else is known of the day; None: what the session itself tells.

    Raises:
        NotFoundError: that check is not due.
        InputError: the answer does not fit the check.
    """
    record = check_record(session, rule)
    given = answer(record, text, at, session.sheets[-1], around or _around(session))
    return _with_record(session, record, given.record, text.strip(), at, given.warning)


def _around(session: Session) -> Around:
    """What the session tells of the day: when it last ran, and how fast its test gets."""
    ran = [a.at for a in session.attempts if a.at is not None]
    test = find_test(session.test)
    fastest = max((v for v in (test.from_speed, test.to_speed) if v is not None), default=None)
    return Around(last_ran=max(ran, default=None), top_speed=fastest)


def open_check_again(session: Session, rule: str, at: datetime) -> Answering:
    """Take the answer of a check back: it is open as before.

    Raises:
        NotFoundError: that check is not due.
    """
    record = check_record(session, rule)
    return _with_record(session, record, undo_answer(record), "open again", at, "")


def _with_record(
    session: Session, old: CheckRecord, new: CheckRecord, said: str, at: datetime, warning: str
) -> Answering:
    checks = tuple(new if c is old else c for c in session.checks)
    after = msgspec.structs.replace(session, checks=checks, sheets=_filled_in(session, new, at))
    done = recorded(session, after, "check", f"{rule_for(new).short}: {said}", at)
    return Answering(session=done, record=new, warning=warning)


def _filled_in(session: Session, record: CheckRecord, at: datetime) -> tuple[Sheet, ...]:
    """The sheets with what a cleared check measured on the newest one, if it has not run yet."""
    newest = len(session.sheets) - 1
    if record.answer != "cleared" or any(a.sheet == newest for a in session.attempts):
        return session.sheets
    sheet = session.sheets[newest]
    numbers = ((record.value, record.bound), (record.second, record.second_bound))
    for slot, (value, bound) in zip(rule_for(record).fills, numbers, strict=False):
        if value is not None:
            reading = Reading(
                state="bounded" if bound else "measured",
                value=value,
                text=format_number(value),
                bound=bound,
                at=at,
            )
            sheet = with_reading(sheet, slot, reading)
    return (*session.sheets[:-1], sheet)


def something_happened(session: Session, event: Event, at: datetime) -> Session:
    """Open the checks again that an event asks for: a fall, a long break, transport.

    Args:
        session: an open session.
        event: what happened.
        at: the time now.
    """
    index = len(session.sheets) - 1
    checks = reopen_after(event, session.checks, index, len(session.attempts))
    after = msgspec.structs.replace(session, checks=checks)
    return recorded(session, after, "event", EVENT_WORDS[event], at)


def note_air(session: Session, air: AirReading, at: datetime) -> Session:
    """Add an observation of air and wind."""
    after = msgspec.structs.replace(session, air=(*session.air, air))
    return recorded(session, after, "air", f"air: {air.text}", at)
