"""What two builds say about each other, in numbers and in one sentence."""

from core.verdict.allowing import Allowances
from core.verdict.caps import CAPS
from core.verdict.case import Surroundings
from core.verdict.clocks import Offset, offset_between
from core.verdict.compare import Sides, compare
from core.verdict.day_by_day import DayMean, days_of
from core.verdict.looks import Look, LookId, looks
from core.verdict.lookup import (
    compare_documents,
    compare_sessions,
    natural_partner,
    odd_in,
    shared_tests,
    within_session,
)
from core.verdict.odd import ENOUGH_DOF, odd_attempts
from core.verdict.planning import DayPlan, plan_day
from core.verdict.pool import DAY_PRIOR_DOF, DAY_PRIOR_SHARE, PRIOR_DOF, Pool, pool_of
from core.verdict.predictions import Outcome, SignOutcome, outcome_of
from core.verdict.results import BuildSide, Cap, Comparison, Odd, Settle, Situation
from core.verdict.sentences import better_worse, difference_words, range_words, verdict_words
from core.verdict.sides import builds_run, sheet_of, side_of
from core.verdict.situations import SITUATIONS

__all__ = [
    "CAPS",
    "DAY_PRIOR_DOF",
    "DAY_PRIOR_SHARE",
    "ENOUGH_DOF",
    "PRIOR_DOF",
    "SITUATIONS",
    "Allowances",
    "BuildSide",
    "Cap",
    "Comparison",
    "DayMean",
    "DayPlan",
    "Look",
    "LookId",
    "Odd",
    "Offset",
    "Outcome",
    "Pool",
    "Settle",
    "Sides",
    "SignOutcome",
    "Situation",
    "Surroundings",
    "better_worse",
    "builds_run",
    "compare",
    "compare_documents",
    "compare_sessions",
    "days_of",
    "difference_words",
    "looks",
    "natural_partner",
    "odd_attempts",
    "odd_in",
    "offset_between",
    "outcome_of",
    "plan_day",
    "pool_of",
    "range_words",
    "shared_tests",
    "sheet_of",
    "side_of",
    "verdict_words",
    "within_session",
]
