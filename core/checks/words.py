"""A check in words: its state, its result, and why it is asked."""

from __future__ import annotations

from core.checks.documents import CheckRecord
from core.checks.due import why_due
from core.checks.events import Event
from core.checks.rulebook import rule_for
from core.checks.rules import LEVEL_WORDS
from core.units import format_number

__all__ = ["EVENT_WORDS", "level_words", "reason_lines", "result_words", "state_words"]

EVENT_WORDS: dict[Event | str, str] = {
    "stood": "stood for more than 60 days",
    "transported": "transported",
    "dropped": "dropped",
    "crashed": "crashed",
    "fall": "after the fall",
    "break": "after a break of more than 30 minutes",
    "chain off": "the chain came off",
    "swap": "after the swap",
}
"""What made a check due, by event, as it stands behind a check."""


_REASONS: dict[Event | str, str] = {
    "stood": "It stood for more than 60 days: fuel goes stale, and what moved may stick.",
    "transported": "It was transported: straps and jolts bend things and shake them loose.",
    "dropped": "It was dropped: what bent is often hidden.",
    "crashed": "It crashed: what bent or cracked is often hidden.",
    "fall": "There was a fall: machine and rider are looked over before the next run.",
    "break": "There was a break of more than 30 minutes: strip, people and weather may be others.",
    "chain off": "The chain came off: what threw it has to be found before the next run.",
    "swap": "Something was swapped: hands were on the machine.",
}
"""Why a check is asked again, by event."""


def result_words(record: CheckRecord) -> str:
    """Return the result with its unit and the user's own requirement, or what was typed.

    >>> from core.checks.documents import CheckRecord
    >>> result_words(CheckRecord(rule="valve_to_piston", value=3.1, second=2.6, own=1.5))
    '3.1 / 2.6 mm (own requirement 1.5)'
    """
    rule = rule_for(record)
    numbers = ((record.bound, record.value), (record.second_bound, record.second))
    said = [f"{bound} {format_number(n)}".strip() for bound, n in numbers if n is not None]
    if not said:
        return record.result
    own = f" (own requirement {format_number(record.own)})" if record.own is not None else ""
    return f"{' / '.join(said)} {rule.unit}".rstrip() + own


def state_words(record: CheckRecord) -> str:
    """Return the state as words: open, not cleared with what was found, cleared with its result."""
    result = result_words(record)
    if record.answer == "cleared":
        if record.by_reference:
            return f"cleared before on the same parts: {result}"
        return f"cleared: {result}"
    if record.answer == "does not apply":
        return f"does not apply: {record.note}"
    if record.answer == "not done":
        return "not done"
    return f"not cleared: {result}" if result else "open"


def level_words(record: CheckRecord) -> str:
    """Return how much hangs on it: a stop before the start or the first attempt, or advice.

    A check that waits says after which attempt it is asked.
    """
    words = LEVEL_WORDS[rule_for(record).level]
    if record.due_after:
        return f"asked after attempt {record.due_after}"
    return words


def reason_lines(record: CheckRecord) -> tuple[str, ...]:
    """Return why it is asked: what was changed or happened, the reason, the consequence."""
    rule = rule_for(record)
    lines = [_REASONS.get(record.event, record.event)] if record.event else []
    lines += [f"{why.row}: {why.because} Otherwise: {why.otherwise}" for why in why_due(record)]
    if rule.because:
        lines.append(f"{rule.because} Otherwise: {rule.otherwise}")
    return tuple(lines)
