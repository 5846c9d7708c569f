"""Two logs made one, by id: what is new goes in, what contradicts is for the user to decide."""

from core.exchange.merge.applying import Decision, Merged, apply_merge, read_decision
from core.exchange.merge.copies import Copy, copies_in
from core.exchange.merge.differences import FieldDifference, differences
from core.exchange.merge.planning import Clash, MergePlan, plan_merge
from core.exchange.merge.sources import Source, source_of

__all__ = [
    "Clash",
    "Copy",
    "Decision",
    "FieldDifference",
    "MergePlan",
    "Merged",
    "Source",
    "apply_merge",
    "copies_in",
    "differences",
    "plan_merge",
    "read_decision",
    "source_of",
]
