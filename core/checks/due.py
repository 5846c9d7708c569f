"""Which checks are due: for changes, in every session, and again after something happened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from core.attempts.codes import find_strike
from core.checks.conditions import Touch
from core.checks.documents import CheckRecord
from core.checks.events import EVENTS, Event
from core.checks.reuse import Cleared, own_requirement, reused
from core.checks.rulebook import RULES, rule_order, triggers_of
from core.checks.standing import STANDING
from core.setup.changes import Change
from core.setup.readings import same_reading
from core.setup.sheets import Sheet

__all__ = [
    "Why",
    "due_for_changes",
    "merge_due",
    "reopen_after",
    "reopen_after_strike",
    "reopen_after_swap",
    "settled_by_return",
    "standing_checks",
    "why_due",
]

_STANDING_RULES = tuple(rule for rules in STANDING.values() for rule in rules)


@dataclass(frozen=True)
class Why:
    """Why one changed slot asks for a check."""

    row: str  # what was done
    because: str
    otherwise: str


def due_for_changes(
    changes: Sequence[Change],
    sheet_index: int,
    sheet: Sheet,
    history: Sequence[Cleared] = (),
    attempts: int = 0,
) -> tuple[CheckRecord, ...]:
    """Return the checks that these changes make due, one record per rule, in table order.

    A geometry check whose combination of parts was cleared before comes back cleared, with the
    session it is taken from; all others are asked afresh.

    Args:
        changes: what differs between the sheet before and this one.
        sheet_index: index of this sheet in its session.
        sheet: this sheet.
        history: checks answered earlier on this machine, oldest first.
        attempts: attempts made so far in the session; checks that wait count from there.
    """
    asked = _asked(changes, sheet)
    past: dict[str, list[Cleared]] = {rule: [] for rule in asked}
    for cleared in history:
        if cleared.record.rule in past:
            past[cleared.record.rule].append(cleared)
    records = []
    for rule in sorted(asked, key=rule_order):
        fresh = _fresh(rule, sheet_index, attempts, slots=asked[rule])
        fresh = msgspec.structs.replace(fresh, own=own_requirement(past[rule]))
        records.append(reused(fresh, sheet, past[rule]) or fresh)
    return tuple(records)


def _asked(changes: Sequence[Change], sheet: Sheet) -> dict[str, tuple[str, ...]]:
    """Return the changed slots that ask for each rule, by rule id."""
    beside = {change.slot: change for change in changes}
    asked: dict[str, dict[str, None]] = {}
    for change in changes:
        touch = Touch(change, beside, sheet)
        for trigger in triggers_of(change.slot):
            if trigger.when(touch):
                for rule in trigger.rules:
                    asked.setdefault(rule, {})[change.slot] = None
    return {rule: tuple(slots) for rule, slots in asked.items()}


def _fresh(
    rule: str, sheet_index: int, attempts: int, *, slots: tuple[str, ...] = (), event: str = ""
) -> CheckRecord:
    wait = RULES[rule].prompt_after
    return CheckRecord(
        rule=rule,
        sheet=sheet_index,
        slots=slots,
        event=event,
        due_after=0 if wait is None else attempts + wait,
    )


def standing_checks(sheet_index: int) -> tuple[CheckRecord, ...]:
    """Return the checks of every session, list by list, all open."""
    return tuple(_fresh(rule, sheet_index, 0) for rule in _STANDING_RULES)


def merge_due(
    records: Sequence[CheckRecord],
    due: Sequence[CheckRecord],
    sheet_index: int,
    touched: Sequence[str] = (),
) -> tuple[CheckRecord, ...]:
    """Return the records of a session with those of one sheet brought up to date.

    There is one record for each rule and sheet. A result stays while its slots do; a slot that
    is touched again opens its checks again. A check whose change was taken back is dropped, or
    kept as not applying if something was entered for it; a standing one goes back to standing.

    Args:
        records: all records so far.
        due: what is due on this sheet now, from `due_for_changes`.
        sheet_index: the sheet.
        touched: slots entered just now.
    """
    wanted = {record.rule: record for record in due}
    kept: list[CheckRecord] = []
    for record in records:
        if record.sheet != sheet_index:
            kept.append(record)
        elif record.rule in wanted:
            fresh = wanted.pop(record.rule)
            again = not set(touched).isdisjoint(fresh.slots)
            kept.append(record if record.slots == fresh.slots and not again else fresh)
        else:
            kept.extend(_without_change(record))
    return (*kept, *wanted.values())


def _without_change(record: CheckRecord) -> tuple[CheckRecord, ...]:
    """What stays of a record when no change asks for it any more."""
    if not record.slots or record.answer in ("cleared", "does not apply"):
        return (record,)
    if record.rule in _STANDING_RULES:
        return (_fresh(record.rule, record.sheet, 0),)
    return (_taken_back(record),) if record.result else ()


def _taken_back(record: CheckRecord) -> CheckRecord:
    return msgspec.structs.replace(
        record, answer="does not apply", note="The change was taken back before it was cleared."
    )


def settled_by_return(
    records: Sequence[CheckRecord], sheets: Sequence[Sheet]
) -> tuple[CheckRecord, ...]:
    """Return records that settle open checks of earlier sheets whose change is undone by now.

    A rev limiter set higher and set back before its checks were done leaves nothing to check.

    Args:
        records: all records so far, those that the newest sheet makes due among them.
        sheets: the sheets of the session in order; the newest is the one it runs on.
    """
    newest = len(sheets) - 1
    asked_now = {record.rule for record in records if record.sheet == newest}
    settled: dict[str, CheckRecord] = {}
    for record in records:
        if not 0 < record.sheet < newest or not record.slots or record.rule in asked_now:
            continue
        before, now = sheets[record.sheet - 1].readings, sheets[newest].readings
        is_back = all(same_reading(before.get(s), now.get(s)) for s in record.slots)
        if record.answer in ("open", "not done") and is_back:
            settled[record.rule] = msgspec.structs.replace(_taken_back(record), sheet=newest)
        else:
            settled.pop(record.rule, None)
    return tuple(settled.values())


def reopen_after_swap(
    records: Sequence[CheckRecord], sheet_index: int, changes: Sequence[Change]
) -> tuple[CheckRecord, ...]:
    """Return the standing checks that a swap touches, open again, to add to the records.

    Those that the swap makes due by itself (`due_for_changes`) are left out.

    Args:
        records: all records of the session before the swap.
        sheet_index: index of the new sheet.
        changes: what the swap changed.
    """
    changed = {change.slot for change in changes}
    by_itself = {r for slot in changed for t in triggers_of(slot) for r in t.rules}
    asked = {record.rule for record in records} & set(_STANDING_RULES)
    return tuple(
        _fresh(rule, sheet_index, 0, event="swap")
        for rule in _STANDING_RULES
        if rule in asked - by_itself and not changed.isdisjoint(RULES[rule].slots)
    )


def reopen_after(
    event: Event, records: Sequence[CheckRecord], sheet_index: int, attempts: int = 0
) -> tuple[CheckRecord, ...]:
    """Return all records, with the checks of this event open (again) on this sheet.

    Args:
        event: what happened.
        records: all records of the session.
        sheet_index: the sheet it runs on.
        attempts: attempts made so far; checks that wait count from there.
    """
    rules = EVENTS[event]
    kept = [r for r in records if r.sheet != sheet_index or r.rule not in rules]
    slots = {r.rule: r.slots for r in records if r.sheet == sheet_index}
    opened = (
        _fresh(rule, sheet_index, attempts, slots=slots.get(rule, ()), event=event)
        for rule in rules
    )
    return (*kept, *opened)


def reopen_after_strike(
    records: Sequence[CheckRecord], sheet_index: int, code: str, attempts: int = 0
) -> tuple[CheckRecord, ...]:
    """Return all records; a strike because the chain came off opens the chain checks again.

    Args:
        records: all records of the session.
        sheet_index: the sheet it runs on.
        code: code of the strike reason.
        attempts: attempts made so far.

    Raises:
        NotFoundError: no such strike reason.
    """
    if "chain" not in find_strike(code).reopens:
        return tuple(records)
    return reopen_after("chain off", records, sheet_index, attempts)


def why_due(record: CheckRecord) -> tuple[Why, ...]:
    """Return what was changed that asks for this check, row by row; none for a standing one."""
    found = (
        Why(trigger.row, trigger.because, trigger.otherwise)
        for slot in record.slots
        for trigger in triggers_of(slot)
        if record.rule in trigger.rules
    )
    return tuple(dict.fromkeys(found))
