"""What to test next: swaps from what is here and free, by how much each tells per half-day."""

from core.verdict.next.efforts import HALF_DAY, Effort, effort_of
from core.verdict.next.log import next_test
from core.verdict.next.planning import proposal_of, time_words
from core.verdict.next.ranking import Ranked, Running, rank
from core.verdict.next.results import NextTest, Proposal, Swap
from core.verdict.next.swaps import Standing, swaps_from

__all__ = [
    "HALF_DAY",
    "Effort",
    "NextTest",
    "Proposal",
    "Ranked",
    "Running",
    "Standing",
    "Swap",
    "effort_of",
    "next_test",
    "proposal_of",
    "rank",
    "swaps_from",
    "time_words",
]
