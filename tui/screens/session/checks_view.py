"""The lines of the checks stage: stops before advice, and the reason of one of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from core.checks import (
    CAUTION,
    CheckRecord,
    Rule,
    group_of,
    is_settled,
    level_words,
    progress,
    reason_lines,
    result_words,
    rule_for,
    rule_order,
    state_words,
)
from tui.screens.session.desk import Desk
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned

__all__ = [
    "CHECK_COLUMNS",
    "caution_words",
    "check_lines",
    "detail_of",
    "following",
    "how_to_answer",
    "no_answers",
    "progress_words",
]

CHECK_COLUMNS: Final = (
    Column("", 1, 1),
    Column("", 9, 15, rank=1),
    Column("Check", 20, 36),
    Column("Kind", 6, 6, rank=2),
    Column("Result", 14, 60),
)

_GROUPS: Final = {
    "Bottom end": "Bottom",
    "Valve train": "Valves",
    "Throttle and kill": "Throttle",
    "Wheels and steering": "Wheels",
    "Frame and mounts": "Frame",
    "Rider and load": "Load",
    "After a long stand, transport or a knock": "Look over",
    "Chain and sprockets": "Chain",
    "Flywheel and ignition": "Ignition",
    "Fuel and intake": "Intake",
    "Governor and rpm": "Governor",
    "Fuel and fire": "Fire",
    "Emergency plan": "Emergency",
}
"""Headings that are too long to stand beside the lines, and what stands there."""


_SIGNS: Final = {"cleared": "●", "does not apply": "-", "not done": "×", "open": "○"}
_WAITING: Final = "…"
_ASKED: Final = {
    "done": "d done   n not done",
    "value": "type the number   n not done",
    "two values": "type both numbers   n not done",
    "text": "enter, then words   n not done",
    "clay": "type 3.1 2.6, or enter for other answers   n not done",
}


def _order(record: CheckRecord) -> tuple[int, int, int]:
    """Stops before advice; what a change or an event asks for before what is asked every time."""
    usual = not record.slots and not record.event
    return (not rule_for(record).is_stop, usual, rule_order(record.rule))


def _is_waiting(record: CheckRecord, attempts: int) -> bool:
    return record.due_after > attempts and not is_settled(record)


def _ordered(desk: Desk) -> list[CheckRecord]:
    done = len(desk.session.attempts)
    by_group: dict[tuple[bool, str], int] = {}
    records = sorted(desk.checks, key=_order)
    for record in records:
        by_group.setdefault((rule_for(record).is_stop, group_of(record)), len(by_group))
    return sorted(
        records,
        key=lambda r: (
            _is_waiting(r, done),
            not rule_for(r).is_stop,
            by_group[rule_for(r).is_stop, group_of(r)],
        ),
    )


def check_lines(desk: Desk) -> tuple[Line, ...]:
    """Return one line for each check, in the order they are gone through."""
    done = len(desk.session.attempts)
    lines, last = [], ""
    for record in _ordered(desk):
        group = group_of(record)
        shown = _GROUPS.get(group, group) if group != last else ""
        lines.append(_line(desk, record, shown, done))
        last = group
    return tuple(lines)


def _line(desk: Desk, record: CheckRecord, group: str, attempts: int) -> Line:
    rule = rule_for(record)
    waiting = _is_waiting(record, attempts)
    open_yet = not is_settled(record)
    tone = "bad" if record.answer == "not done" else "strong" if open_yet else "quiet"
    tone = "quiet" if waiting else tone
    state = level_words(record) if waiting else _state(desk, record)
    return Line(
        record.rule,
        (
            Toned(_WAITING if waiting else _SIGNS[record.answer], tone),
            Toned(group, "quiet"),
            Toned(plain(rule.short), tone),
            Toned("stop" if rule.is_stop else "advice", "quiet"),
            Toned(plain(state), tone),
        ),
    )


def _state(desk: Desk, record: CheckRecord) -> str:
    """Return the state in words, with the session that a result is taken over from."""
    if record.answer == "cleared" and record.by_reference:
        return f"as in {desk.label_of(record.by_reference)}: {result_words(record)}"
    return result_words(record) if record.answer == "cleared" else state_words(record)


def how_to_answer(rule: Rule) -> str:
    """Return how a check is answered, in a few words: ``type the number``."""
    return _ASKED[rule.answer].partition("   ")[0]


def no_answers(desk: Desk, record: CheckRecord) -> frozenset[str]:
    """Return the ids of the commands that are no answer to a check."""
    rule = rule_for(record)
    fits = {
        "checks.done": rule.answer == "done",
        "checks.value": rule.answer != "done",
        "checks.same": rule.answer == "text" and bool(desk.words_before(rule.id)),
        "checks.not-applying": rule.may_not_apply,
    }
    return frozenset(name for name, takes in fits.items() if not takes)


def following(desk: Desk, after: str = "") -> str:
    """Return the rule of the next open check, or nothing when none is open.

    Args:
        desk: the session.
        after: rule of the check to look on from; empty: from the top.
    """
    done = len(desk.session.attempts)
    rules = [r.rule for r in _ordered(desk)]
    unanswered = {r.rule for r in desk.checks if r.answer == "open" and not _is_waiting(r, done)}
    start = rules.index(after) + 1 if after in rules else 0
    for rule in (*rules[start:], *rules[:start]):
        if rule in unanswered:
            return rule
    return ""


def progress_words(desk: Desk) -> str:
    """Return how far the checks are, in one line."""
    groups = progress(desk.session.checks, desk.sheet_index, len(desk.session.attempts))
    settled, total = sum(g.settled for g in groups), sum(g.total for g in groups)
    stops = len(desk.stops)
    state = (
        f"▲ {stops} stop check{'' if stops == 1 else 's'} open"
        if stops
        else ("● no stop check is open")
    )
    waiting = sum(g.waiting for g in groups)
    later = f"   {waiting} asked later" if waiting else ""
    return f"{state}   {settled} of {total} answered{later}"


def detail_of(desk: Desk, record: CheckRecord, beside: str = "") -> tuple[str, str]:
    """Return what is asked, and the lines under it: how to answer, why, what happens otherwise.

    Args:
        desk: the session.
        record: the check.
        beside: what the sums say about it; empty: nothing.
    """
    rule = rule_for(record)
    unit = f" ({rule.unit})" if rule.unit else ""
    lines = (plain(line) for line in _detail(desk, record, rule, beside))
    return f"{rule.question}{unit}", "\n".join(lines)


def _detail(desk: Desk, record: CheckRecord, rule: Rule, beside: str) -> Iterator[str]:
    other = "   a does not apply" if rule.may_not_apply else ""
    last = desk.last_words.of(rule.id) if rule.answer == "text" and not is_settled(record) else None
    yield f"{'s as last time   ' if last else ''}{_ASKED[rule.answer]}{other}"
    if last:
        yield f"Last time ({last.label}): {last.words}"
    if beside:
        yield beside
    yield from reason_lines(record)
    if record.own is not None:
        yield f"Your own requirement: {record.own:g} {rule.unit}."
    yield f"{level_words(record)}; {_state(desk, record)}"


def caution_words() -> str:
    """Return the shortest of the caution: what this tool cannot do, and what to do in doubt."""
    sentences = CAUTION.split(". ")
    return f"{sentences[1]}. {sentences[-1]}"
