"""What keeps attempts from being entered, how far each group is, and the sentences for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.checks.documents import CheckRecord
from core.checks.rulebook import group_of, rule_for, rule_order
from core.errors import BlockedError

__all__ = [
    "Progress",
    "current_checks",
    "is_settled",
    "may_attempt",
    "open_before_start",
    "open_stops",
    "progress",
    "stop_reason",
]

_LEVELS = ("start", "run", "advice")
_MOST_NAMED = 3  # open checks named in a reason


@dataclass(frozen=True)
class Progress:
    """How far one group of checks is."""

    group: str
    settled: int  # cleared, or not applying with a reason
    total: int  # asked for so far
    open_stops: int  # stop checks that are not settled
    waiting: int  # asked only after some more attempts


def current_checks(records: Sequence[CheckRecord], sheet_index: int) -> tuple[CheckRecord, ...]:
    """Return the record that counts for each rule on this sheet: the newest up to it.

    A result of an earlier sheet goes on counting while nothing asks for it again.
    """
    newest: dict[str, CheckRecord] = {}
    for record in records:
        if record.sheet > sheet_index:
            continue
        known = newest.get(record.rule)
        if known is None or record.sheet >= known.sheet:
            newest[record.rule] = record
    return tuple(newest.values())


def is_settled(record: CheckRecord) -> bool:
    """Tell whether nothing more is asked of it: cleared, or not applying for a reason."""
    return record.answer in ("cleared", "does not apply")


def open_stops(
    records: Sequence[CheckRecord], sheet_index: int, attempts: int = 0
) -> tuple[CheckRecord, ...]:
    """Return the stop checks that are not settled, those before the first start first.

    Args:
        records: all records of the session.
        sheet_index: the sheet it runs on.
        attempts: attempts made so far in the session; a check that waits counts from its number.
    """
    found = [
        record
        for record in current_checks(records, sheet_index)
        if rule_for(record).is_stop and not is_settled(record) and record.due_after <= attempts
    ]
    return tuple(sorted(found, key=_urgency))


def _urgency(record: CheckRecord) -> tuple[int, bool, int]:
    level = _LEVELS.index(rule_for(record).level)
    return (level, record.answer != "not done", rule_order(record.rule))


def open_before_start(records: Sequence[CheckRecord], sheet_index: int) -> tuple[CheckRecord, ...]:
    """Return the open stop checks that come before the engine is started at all."""
    return tuple(r for r in open_stops(records, sheet_index) if rule_for(r).level == "start")


def may_attempt(records: Sequence[CheckRecord], sheet_index: int, attempts: int = 0) -> None:
    """Return if no stop check is open.

    Raises:
        BlockedError: how many are, and the first of them.
    """
    stops = open_stops(records, sheet_index, attempts)
    if not stops:
        return
    count = "1 stop check is" if len(stops) == 1 else f"{len(stops)} stop checks are"
    raise BlockedError(
        f"{count} open, first: {rule_for(stops[0]).short}.",
        "Enter its result, or save the session as stopped by check: that is a full record too.",
    )


def stop_reason(records: Sequence[CheckRecord], sheet_index: int, attempts: int = 0) -> str:
    """Return the reason for a session that ends at its checks; empty if no stop is open.

    Those found not done are named before those not looked at.
    """
    stops = open_stops(records, sheet_index, attempts)
    if not stops:
        return ""
    failed = [r for r in stops if r.answer == "not done" or r.result]
    named = failed or list(stops)
    names = ", ".join(rule_for(record).short for record in named[:_MOST_NAMED])
    more = len(named) - _MOST_NAMED
    return f"Stopped by check: {names}" + (f" and {more} more." if more > 0 else ".")


def progress(
    records: Sequence[CheckRecord], sheet_index: int, attempts: int = 0
) -> tuple[Progress, ...]:
    """Return how far each group is, in the order the groups first stand in."""
    groups: dict[str, list[CheckRecord]] = {}
    for record in current_checks(records, sheet_index):
        groups.setdefault(group_of(record), []).append(record)
    stops = set(open_stops(records, sheet_index, attempts))
    return tuple(
        Progress(
            group=group,
            settled=sum(is_settled(r) for r in members),
            total=sum(r.due_after <= attempts or is_settled(r) for r in members),
            open_stops=sum(r in stops for r in members),
            waiting=sum(r.due_after > attempts and not is_settled(r) for r in members),
        )
        for group, members in groups.items()
    )
