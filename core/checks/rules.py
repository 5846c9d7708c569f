"""What a check is: one frozen row of the table, and the small shapes such a row is made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["COMMON", "LEVEL_WORDS", "Alert", "AnswerKind", "Level", "Rule", "Span", "index_rules"]

Level = Literal["start", "run", "advice"]
"""``start``: stop before the first start; ``run``: stop before the first attempt; ``advice``."""

AnswerKind = Literal["done", "value", "two values", "text", "clay"]
"""How a check is cleared: a word, one number, two numbers, own words, or the states of clay."""

LEVEL_WORDS: dict[Level, str] = {
    "start": "stop before the first start",
    "run": "stop before the first attempt",
    "advice": "advice",
}

COMMON = "common practice, no source"


@dataclass(frozen=True)
class Span:
    """The values that a typed number may have at all, ends included, in the rule's unit.

    It catches slips of the decimal point and of the unit; it says nothing about the machine.
    """

    low: float
    high: float


@dataclass(frozen=True)
class Alert:
    """A value worth a second look, with the sentence that says so."""

    words: str  # one sentence
    below: float | None = None  # in the rule's unit
    above: float | None = None  # in the rule's unit

    def hits(self, value: float) -> bool:
        """Tell whether this value (in the rule's unit) is one to look at again."""
        too_low = self.below is not None and value < self.below
        return too_low or (self.above is not None and value > self.above)


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One check: what is asked, why, what happens otherwise, and what counts as an answer."""

    id: str
    short: str  # a few words for lists and sentences
    level: Level
    group: str  # heading it stands under
    question: str  # what to look at or measure
    because: str  # reason
    otherwise: str  # consequence
    answer: AnswerKind = "done"
    unit: str = ""  # of the number or numbers
    sides: tuple[str, str] = ("intake", "exhaust")  # what two numbers are, in the order typed
    hard: Span | None = None  # outside: refused until retyped
    alerts: tuple[Alert, ...] = ()  # first that hits is said; the value is taken all the same
    clears_above: float | None = None  # a value not above it is kept but does not clear
    source: str = ""  # where the figures of ``alerts`` and ``clears_above`` come from
    unknown: str = ""  # sentence said when ``unknown`` is an answer here; empty: it is none
    geometry: bool = False  # a result stays valid for the same combination of ``slots``
    may_not_apply: bool = False  # 'does not apply' is an answer here, with a reason
    slots: tuple[str, ...] = ()  # geometry: the combination; else: slots whose swap re-asks it
    fills: tuple[str, ...] = ()  # sheet slots that the numbers are readings of, in the order typed
    prompt_after: int | None = None  # asked only after so many attempts on the new build
    cold: bool = False  # the result holds for a cold engine only

    @property
    def is_stop(self) -> bool:
        """Whether it keeps attempts from being entered while it is not cleared."""
        return self.level != "advice"


def index_rules(*tables: tuple[Rule, ...]) -> dict[str, Rule]:
    """Return all rows by id, in table order.

    Raises:
        ValueError: two rows have the same id.
    """
    rules: dict[str, Rule] = {}
    for rule in (row for table in tables for row in table):
        if rule.id in rules:
            raise ValueError(f"Two check rules are called {rule.id}.")
        rules[rule.id] = rule
    return rules
