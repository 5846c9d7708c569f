"""Results of geometry that hold again when a machine goes back to parts it had before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from core.checks.documents import CheckRecord
from core.checks.rulebook import rule_for
from core.setup.readings import Reading, same_reading
from core.setup.sheets import Sheet
from core.setup.slots import slot_of

__all__ = ["Cleared", "own_requirement", "reused"]


@dataclass(frozen=True, kw_only=True)
class Cleared:
    """A check answered earlier on this machine."""

    session: str  # id
    sheet: Sheet  # that it was answered for
    record: CheckRecord


def reused(fresh: CheckRecord, sheet: Sheet, past: Sequence[Cleared]) -> CheckRecord | None:
    """Return the record cleared by reference, or None when it has to be answered afresh.

    The newest answer on the same combination counts. It is taken over if it cleared the check
    with a result; one that did not clear it is no ground to stand on.

    Args:
        fresh: the open record.
        sheet: the sheet it is due for.
        past: earlier answers to the same rule on this machine, oldest first.
    """
    rule = rule_for(fresh)
    if not rule.geometry:
        return None
    for answered in reversed(past):
        record = answered.record
        if not record.result:
            continue
        if not _same_combination(rule.slots, fresh.slots, answered.sheet, sheet):
            continue
        if record.answer != "cleared" or (rule.answer != "done" and record.value is None):
            return None
        if _below(fresh.own, record):
            return None
        return msgspec.structs.replace(
            record,
            sheet=fresh.sheet,
            slots=fresh.slots,
            event="",
            own=record.own if fresh.own is None else fresh.own,
            by_reference=record.by_reference or answered.session,
        )
    return None


def _below(own: float | None, record: CheckRecord) -> bool:
    numbers = [n for n in (record.value, record.second) if n is not None]
    return own is not None and bool(numbers) and min(numbers) < own


def own_requirement(past: Sequence[Cleared]) -> float | None:
    """Return the user's own requirement as last told, in the rule's unit.

    Args:
        past: earlier answers to one rule, oldest first.
    """
    told = (answered.record.own for answered in reversed(past))
    return next((own for own in told if own is not None), None)


def _same_combination(
    slots: tuple[str, ...], changed: tuple[str, ...], old: Sheet, new: Sheet
) -> bool:
    if not set(changed) <= set(slots):
        return False
    in_order = (*changed, *(slot for slot in slots if slot not in changed))  # likely ones first
    return all(_same(slot, slot in changed, old, new) for slot in in_order)


def _same(slot: str, is_changed: bool, old: Sheet, new: Sheet) -> bool:
    before, after = old.readings.get(slot), new.readings.get(slot)
    owner = slot_of(slot).of
    if owner and not is_changed and _is_told(new.readings.get(owner)):
        # a property goes with its part, unless it is told and told differently
        same_part = same_reading(old.readings.get(owner), new.readings.get(owner))
        both_hold = _holds(before) and _holds(after)
        return same_part and (not both_hold or same_reading(before, after))
    if is_changed and not (_is_told(before) and _is_told(after)):
        return False
    if any(reading is not None and reading.stale for reading in (before, after)):
        return False
    return same_reading(before, after)


def _is_told(reading: Reading | None) -> bool:
    return reading is not None and reading.state != "unknown"


def _holds(reading: Reading | None) -> bool:
    return reading is not None and reading.state != "unknown" and not reading.stale
