"""Allowances: what air, wind, slope and rider explain of a difference, by the road-load model."""

from core.verdict.allowing.allowances import Allowances, PlaceOf, Ran, allowances_of, model_of
from core.verdict.allowing.conditions import Conditions, Known, conditions_of
from core.verdict.allowing.explained import PARTS, Explained, Part
from core.verdict.allowing.fit import RoadFit
from core.verdict.allowing.priors import AIR_EXPONENT, PRIORS, Prior, facts_of

__all__ = [
    "AIR_EXPONENT",
    "PARTS",
    "PRIORS",
    "Allowances",
    "Conditions",
    "Explained",
    "Known",
    "Part",
    "PlaceOf",
    "Prior",
    "Ran",
    "RoadFit",
    "allowances_of",
    "conditions_of",
    "facts_of",
    "model_of",
]
