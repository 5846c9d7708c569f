"""An attempt as words that a helper reads back aloud."""

from __future__ import annotations

from core.attempts.codes import find_tag
from core.attempts.direction import direction_words
from core.attempts.documents import Attempt
from core.attempts.entry import write_value
from core.attempts.tests_table import Test

__all__ = ["digits_aloud", "read_back"]

_ALOUD = {
    "0": "zero",
    "1": "one",
    "2": "two",
    "3": "three",
    "4": "four",
    "5": "five",
    "6": "six",
    "7": "seven",
    "8": "eight",
    "9": "nine",
    ".": "point",
}


def digits_aloud(text: str) -> str:
    """Return digits as single words, so that no teens and tens are misheard.

    >>> digits_aloud("726")
    'seven two six'
    """
    return " ".join(_ALOUD[c] for c in text if c in _ALOUD)


def read_back(attempt: Attempt, test: Test) -> str:
    """Return what to read back for an attempt: its digits as they are typed, direction, tags.

    The decimal point is spoken only when there are other decimals than the test implies.

    >>> from core.attempts.tests_table import find_test
    >>> read_back(Attempt(n=1, value=7.26, direction="W"), find_test("0-50"))
    'seven two six, west'
    """
    parts = [_number(attempt, test)]
    if attempt.direction:
        parts.append(direction_words(attempt.direction))
    parts += [find_tag(tag).counted for tag in attempt.tags]
    if attempt.unsure:
        parts.append("not sure")
    if attempt.kind == "warm-up":
        parts.append("warm-up")
    return ", ".join(parts)


def _number(attempt: Attempt, test: Test) -> str:
    if attempt.kind == "aborted":
        return "aborted"
    if attempt.value is None:
        return "no time"
    shown = write_value(attempt.value, test)
    decimals = len(shown.partition(".")[2])
    return digits_aloud(shown.replace(".", "") if decimals == test.decimals else shown)
