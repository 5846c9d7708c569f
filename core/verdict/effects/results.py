"""What each part did: frozen results that screens, reports and scripts read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.stats import Column, Difference, Verdict

__all__ = ["How", "PartEffect", "PartEffects", "Together", "TogetherLine"]

How = Literal["alone, on one day", "alone, on different days", "by subtraction"]
"""How a difference came to be known: whether the two were ever run with all else the same."""


@dataclass(frozen=True)
class PartEffect:
    """One level of a slot (a part, a setting) against another, or of who, where and how."""

    factor: str  # id of the slot, or a circumstance
    label: str  # of the factor
    before: Column
    after: Column
    before_words: str
    after_words: str
    known: Difference | None  # after less before; None: never tested apart, so no number
    verdict: Verdict
    below_gain: bool
    how: How  # how it is known, where it is
    sessions: tuple[int, int]  # how many had the one and the other
    sentence: str

    @property
    def words(self) -> str:
        """``final sprocket: 60T -> 66T``"""
        return f"{self.label}: {self.before_words} -> {self.after_words}"


@dataclass(frozen=True)
class TogetherLine:
    """What a group came to as it was run, as a whole."""

    words: str  # ``Soft + 60T -> Stiff + 66T``
    known: Difference
    sentence: str


@dataclass(frozen=True)
class Together:
    """Factors that were never tested apart."""

    factors: tuple[str, ...]
    labels: tuple[str, ...]
    lines: tuple[TogetherLine, ...]
    sentence: str  # ``Never tested apart: clutch with final sprocket.``


@dataclass(frozen=True)
class PartEffects:
    """All effects on one test."""

    machine: str  # id; empty: several machines, each with a level of its own
    machine_name: str
    test: str
    unit: str
    decimals: int
    lower_is_better: bool
    gain: float | None  # smallest gain worth having
    sessions: int
    days: int
    effects: tuple[PartEffect, ...]  # of slots, in the order of the sheet
    around: tuple[PartEffect, ...]  # of rider, place, timing gear, direction
    together: tuple[Together, ...]
    spread: float | None  # of one pair's mean with the finest gear, in the test's unit
    day_spread: float | None
    left_out: tuple[str, ...]  # one sentence for each reason
    sentence: str  # what there is to say first
    notes: tuple[str, ...]  # what the numbers rest on
