"""The four-way rule that turns an interval into one word; numbers only, no machine."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from core.errors import InputError
from core.stats.guard import not_negative
from core.stats.intervals import Difference

__all__ = ["Judgement", "Verdict", "judge"]


class Verdict(StrEnum):
    """The four answers there are."""

    QUICKER = "quicker"
    SLOWER = "slower"
    NO_DIFFERENCE = "no difference worth having"
    CANT_TELL = "can't tell yet"


@dataclass(frozen=True, slots=True)
class Judgement:
    """The word for a difference, and whether it is less than was said to matter."""

    word: Verdict
    """One of the four."""
    below_gain: bool
    """The interval lies on one side of zero, but the difference is under the gain asked for."""


def judge(difference: Difference, gain: float | None, lower_is_better: bool) -> Judgement:
    """Return the verdict on B against A.

    Args:
        difference: B - A with its interval.
        gain: smallest gain worth having, zero or more, in the difference's unit; None: not said,
            and then 'no difference worth having' is never the answer.
        lower_is_better: True for times, False for speeds and coasting times.

    In this order: the interval wholly on one side of zero (an end at zero is not): quicker or
    slower. Wholly inside plus-minus the gain (an end at the gain is not): no difference worth
    having. Else: can't tell yet.

    Raises:
        OutOfRangeError: the gain is below zero.
        InputError: the interval's ends are not in order, or not numbers.
    """
    low, high = difference.low, difference.high
    if not low <= high:
        raise InputError(f"The range {low:g} to {high:g} is not in order.")
    worth = None if gain is None else not_negative(gain, "The smallest gain worth having")
    if low > 0.0 or high < 0.0:
        better = (high < 0.0) == lower_is_better
        word = Verdict.QUICKER if better else Verdict.SLOWER
        return Judgement(word, below_gain=worth is not None and abs(difference.value) < worth)
    if worth is not None and -worth < low and high < worth:
        return Judgement(Verdict.NO_DIFFERENCE, below_gain=False)
    return Judgement(Verdict.CANT_TELL, below_gain=False)
