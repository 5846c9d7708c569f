"""Differences, ranges and counts in words, for sentences that are read aloud."""

from __future__ import annotations

from collections.abc import Sequence

from core.attempts import Test
from core.stats import Difference, Verdict
from core.units import format_number
from core.verdict.results import BuildSide

__all__ = [
    "amount",
    "better_worse",
    "difference_words",
    "joined",
    "n_words",
    "range_words",
    "verdict_words",
]

_WORDS = {"top": ("faster", "slower"), "coast": ("longer", "shorter")}
_TIMED = ("quicker", "slower")


def better_worse(test: Test) -> tuple[str, str]:
    """Return the words for better and worse of a test: quicker/slower, faster/slower ..."""
    return _WORDS.get(test.shape, _TIMED)


def amount(value: float, test: Test) -> str:
    """Return a size without its sign, with the test's decimals: ``0.96``."""
    return format_number(abs(value), test.decimals)


def _word(value: float, test: Test) -> str:
    better, worse = better_worse(test)
    return better if (value < 0) == test.lower_is_better else worse


def difference_words(value: float, test: Test) -> str:
    """Return a difference with its word: ``0.96 s quicker``; ``no difference`` when it rounds to 0.

    Args:
        value: B minus A in the test's unit.
        test: the test it was made in.
    """
    if float(amount(value, test)) == 0:
        return "no difference"
    return f"{amount(value, test)} {test.unit} {_word(value, test)}"


def range_words(difference: Difference, test: Test) -> str:
    """Return the range the true difference lies in: ``0.76 to 1.17`` or ``0.11 quicker to ...``."""
    low, high = difference.low, difference.high
    if low < 0 < high:
        near, far = (low, high) if test.lower_is_better else (high, low)
        return f"{amount(near, test)} {_word(near, test)} to {amount(far, test)} {_word(far, test)}"
    small, large = sorted((abs(low), abs(high)))
    return f"{amount(small, test)} to {amount(large, test)}"


def n_words(side: BuildSide) -> str:
    """Return how much a side rests on: ``4 pairs``, ``1 attempt``."""
    return f"{side.n} {side.kind}{'' if side.n == 1 else 's'}"


def joined(words: Sequence[str]) -> str:
    """Return words as a list is read out: ``air, wind and rider``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def verdict_words(verdict: Verdict, test: Test) -> str:
    """Return the answer in the words of the test: ``quicker``, or ``faster`` for a top speed.

    >>> from core.attempts import find_test
    >>> verdict_words(Verdict.QUICKER, find_test("top"))
    'faster'
    """
    better, worse = better_worse(test)
    return {Verdict.QUICKER: better, Verdict.SLOWER: worse}.get(verdict, str(verdict))
