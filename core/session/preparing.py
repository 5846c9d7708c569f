"""What is done before and between attempts: slots, swaps, checks, air."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

import msgspec

from core.attempts import AirReading
from core.checks import (
    CheckRecord,
    Cleared,
    answer,
    due_for_changes,
    reopen_after_swap,
    rule_for,
)
from core.errors import BlockedError, InputError, NotFoundError
from core.session.documents import Session
from core.session.trail import recorded
from core.setup import Reading, Sheet, changes, find_slot, mark_stale, with_reading

__all__ = ["Answering", "answer_check", "check_record", "note_air", "swap", "touch"]


class Answering(msgspec.Struct, frozen=True, kw_only=True):
    """What an answered check came to."""

    session: Session
    record: CheckRecord
    warning: str = ""  # one sentence when the answer leaves a doubt or does not clear


def _base(session: Session, before: Sheet | None) -> Sheet | None:
    """The sheet that the newest one is compared with for its checks."""
    return session.sheets[-2] if len(session.sheets) > 1 else before


def _refreshed(
    session: Session, before: Sheet | None, history: Sequence[Cleared], touched: tuple[str, ...]
) -> tuple[CheckRecord, ...]:
    """Checks after slots were touched: new ones due, those of touched slots open again."""
    index = len(session.sheets) - 1
    base = _base(session, before)
    due = (
        due_for_changes(changes(base, session.sheets[-1]), index, session.sheets[-1], history)
        if base is not None
        else ()
    )
    wanted = {record.rule: record for record in due}
    kept: list[CheckRecord] = []
    for record in session.checks:
        if record.sheet != index or not record.slots:
            kept.append(record)
        elif record.rule in wanted:
            fresh = wanted.pop(record.rule)
            again = any(slot in fresh.slots for slot in touched)
            same = record.slots == fresh.slots and not again
            kept.append(record if same else fresh)
        elif record.answer != "open":
            kept.append(record)
    return (*kept, *wanted.values())


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
    after = msgspec.structs.replace(
        after, checks=_refreshed(after, before, history, tuple(readings))
    )
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
    due = due_for_changes(differing, index, sheet, history)
    checks = (*session.checks, *due, *reopen_after_swap(session.checks, index, differing))
    after = msgspec.structs.replace(session, sheets=(*session.sheets, sheet), checks=checks)
    return recorded(session, after, "swap", f"swap: {_words(readings)}", at)


def _with_readings(sheet: Sheet, readings: Mapping[str, Reading | None]) -> Sheet:
    new = sheet
    for slot, reading in readings.items():
        new = with_reading(new, slot, reading)
    return mark_stale(sheet, new)


def _words(readings: Mapping[str, Reading | None]) -> str:
    said = []
    for slot, reading in readings.items():
        label = find_slot(slot).label
        said.append(f"{label} {reading.text or reading.state}" if reading else f"{label} left out")
    return ", ".join(said)


def check_record(session: Session, rule: str, sheet: int | None = None) -> CheckRecord:
    """Return the record of a check on a sheet, the newest sheet when not told.

    Raises:
        NotFoundError: that check is not due there.
    """
    index = len(session.sheets) - 1 if sheet is None else sheet
    for record in session.checks:
        if record.rule == rule and record.sheet == index:
            return record
    raise NotFoundError(f"The check “{rule}” is not due on sheet {index + 1}.")


def answer_check(
    session: Session, rule: str, text: str, at: datetime, *, sheet: int | None = None
) -> Answering:
    """Enter the result of one check; only a result clears it.

    Args:
        session: an open session.
        rule: id of the check's rule.
        text: ``done``, ``not done``, a value with or without unit, clay as told, a reason.
        at: the time now.
        sheet: index of the sheet; None: the newest.

    Raises:
        NotFoundError: that check is not due.
        InputError: the answer does not fit the check.
    """
    record = check_record(session, rule, sheet)
    given = answer(record, text, at, session.sheets[record.sheet])
    checks = tuple(
        given.record if c.rule == rule and c.sheet == record.sheet else c for c in session.checks
    )
    after = msgspec.structs.replace(session, checks=checks)
    words = f"{rule_for(record).short}: {text.strip()}"
    done = recorded(session, after, "check", words, at)
    return Answering(session=done, record=given.record, warning=given.warning)


def note_air(session: Session, air: AirReading, at: datetime) -> Session:
    """Add an observation of air and wind."""
    after = msgspec.structs.replace(session, air=(*session.air, air))
    return recorded(session, after, "air", f"air: {air.text}", at)
