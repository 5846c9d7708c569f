"""The questions that fall due because of a change, or every time."""

from core.checks.against import Around
from core.checks.answer import Answered, answer, undo_answer
from core.checks.documents import Answer, CheckRecord
from core.checks.due import (
    Why,
    due_for_changes,
    merge_due,
    reopen_after,
    reopen_after_strike,
    reopen_after_swap,
    settled_by_return,
    standing_checks,
    why_due,
)
from core.checks.events import EVENTS, Event, break_too_long, stood_too_long
from core.checks.gate import (
    Progress,
    current_checks,
    is_settled,
    may_attempt,
    open_before_start,
    open_stops,
    progress,
    stop_reason,
)
from core.checks.reuse import Cleared
from core.checks.rulebook import (
    NO_CHECK,
    RULES,
    TRIGGERS,
    find_rule,
    group_of,
    rule_for,
    rule_order,
    triggers_of,
)
from core.checks.rules import LEVEL_WORDS, Alert, AnswerKind, Level, Rule, Span
from core.checks.standing import CAUTION, STANDING, run_out_needed, stopping_distance
from core.checks.triggers import Trigger
from core.checks.words import (
    EVENT_WORDS,
    level_words,
    reason_lines,
    result_words,
    state_words,
)

__all__ = [
    "CAUTION",
    "EVENTS",
    "EVENT_WORDS",
    "LEVEL_WORDS",
    "NO_CHECK",
    "RULES",
    "STANDING",
    "TRIGGERS",
    "Alert",
    "Answer",
    "AnswerKind",
    "Answered",
    "Around",
    "CheckRecord",
    "Cleared",
    "Event",
    "Level",
    "Progress",
    "Rule",
    "Span",
    "Trigger",
    "Why",
    "answer",
    "break_too_long",
    "current_checks",
    "due_for_changes",
    "find_rule",
    "group_of",
    "is_settled",
    "level_words",
    "may_attempt",
    "merge_due",
    "open_before_start",
    "open_stops",
    "progress",
    "reason_lines",
    "reopen_after",
    "reopen_after_strike",
    "reopen_after_swap",
    "result_words",
    "rule_for",
    "rule_order",
    "run_out_needed",
    "settled_by_return",
    "standing_checks",
    "state_words",
    "stood_too_long",
    "stop_reason",
    "stopping_distance",
    "triggers_of",
    "undo_answer",
    "why_due",
]
