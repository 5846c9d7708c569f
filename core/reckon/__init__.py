"""Formulas worked out for a person: the register, why a value is what it is, and what if."""

from core.reckon.answer import Answer, Result, number_words, ranged_words, reckon
from core.reckon.beside import beside_check
from core.reckon.curves import GapCurves, gap_curves
from core.reckon.formula import FILE_KINDS, Formula, Input, Outcome, Output
from core.reckon.gaps import UPRIGHT, Gap, gaps_on
from core.reckon.prefill import prefilled
from core.reckon.reading import GAUGES, Given
from core.reckon.register import FORMULAS, LEFT_OUT, PAGES, find_formula
from core.reckon.sides import BuildSide, Margin
from core.reckon.sprockets import SprocketChoice, choices_for
from core.reckon.what_if import WhatIf, WhatIfRow, own_minimums, what_if
from core.reckon.why import Why, WhyInput, why

__all__ = [
    "FILE_KINDS",
    "FORMULAS",
    "GAUGES",
    "LEFT_OUT",
    "PAGES",
    "UPRIGHT",
    "Answer",
    "BuildSide",
    "Formula",
    "Gap",
    "GapCurves",
    "Given",
    "Input",
    "Margin",
    "Outcome",
    "Output",
    "Result",
    "SprocketChoice",
    "WhatIf",
    "WhatIfRow",
    "Why",
    "WhyInput",
    "beside_check",
    "choices_for",
    "find_formula",
    "gap_curves",
    "gaps_on",
    "number_words",
    "own_minimums",
    "prefilled",
    "ranged_words",
    "reckon",
    "what_if",
    "why",
]
