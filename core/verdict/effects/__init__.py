"""What each part did, over all sessions of a test, and what was never tested apart."""

from core.verdict.effects.analysis import Analysis, analyse, factor_label, factor_order
from core.verdict.effects.conditions import allowed_for
from core.verdict.effects.evidence import (
    CIRCUMSTANCES,
    DAY_SHARE,
    Allowance,
    Evidence,
    gather_evidence,
    usual_of,
)
from core.verdict.effects.levels import NOT_RECORDED, Catalogue, catalogue
from core.verdict.effects.log import (
    Looked,
    effects_of,
    evidence_of,
    look,
    pick_machine,
    pick_test,
    results_of,
    sheets_of,
    tests_of,
)
from core.verdict.effects.observed import ran_on
from core.verdict.effects.results import How, PartEffect, PartEffects, Together, TogetherLine

__all__ = [
    "CIRCUMSTANCES",
    "DAY_SHARE",
    "NOT_RECORDED",
    "Allowance",
    "Analysis",
    "Catalogue",
    "Evidence",
    "How",
    "Looked",
    "PartEffect",
    "PartEffects",
    "Together",
    "TogetherLine",
    "allowed_for",
    "analyse",
    "catalogue",
    "effects_of",
    "evidence_of",
    "factor_label",
    "factor_order",
    "gather_evidence",
    "look",
    "pick_machine",
    "pick_test",
    "ran_on",
    "results_of",
    "sheets_of",
    "tests_of",
    "usual_of",
]
