"""What two builds say about each other, in numbers and in one sentence."""

from core.verdict.caps import CAPS
from core.verdict.compare import Sides, compare
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
from core.verdict.pool import DAY_PRIOR_DOF, DAY_PRIOR_SHARE, PRIOR_DOF, Pool, pool_of
from core.verdict.predictions import Outcome, SignOutcome, outcome_of
from core.verdict.results import BuildSide, Cap, Comparison, Odd, Settle
from core.verdict.sentences import better_worse, difference_words, range_words, verdict_words
from core.verdict.sides import builds_run, sheet_of, side_of

__all__ = [
    "CAPS",
    "DAY_PRIOR_DOF",
    "DAY_PRIOR_SHARE",
    "ENOUGH_DOF",
    "PRIOR_DOF",
    "BuildSide",
    "Cap",
    "Comparison",
    "Look",
    "LookId",
    "Odd",
    "Outcome",
    "Pool",
    "Settle",
    "Sides",
    "SignOutcome",
    "better_worse",
    "builds_run",
    "compare",
    "compare_documents",
    "compare_sessions",
    "difference_words",
    "looks",
    "natural_partner",
    "odd_attempts",
    "odd_in",
    "outcome_of",
    "pool_of",
    "range_words",
    "shared_tests",
    "sheet_of",
    "side_of",
    "verdict_words",
    "within_session",
]
