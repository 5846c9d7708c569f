"""Situations of a comparison: recognised by themselves, answered with a sentence each."""

from core.verdict.situations.table import ON_TOP, SITUATIONS, Row, situations_of

__all__ = ["ON_TOP", "SITUATIONS", "Row", "situations_of"]
