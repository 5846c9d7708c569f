"""Short words that several reports share: days, times, values, marks of attempts and checks."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.attempts import Attempt, find_test
from core.attempts.entry import write_value
from core.clock import day_words
from core.errors import BackToBackError
from core.units import format_number

__all__ = [
    "ANSWER_MARKS",
    "COUNTS",
    "HOLLOW",
    "attempt_words",
    "clock_words",
    "day_words",
    "mean_words",
    "value_words",
]

COUNTS: Final = "●"
"""Mark of an attempt that counts."""

HOLLOW: Final = "○"
"""Mark of one that does not: struck, warm-up or aborted."""

ANSWER_MARKS: Final = {"cleared": "●", "open": "○", "not done": "×", "does not apply": "-"}


def clock_words(moment: datetime | None) -> str:
    """Return hours and minutes of a moment, as the clock showed them there; empty for None."""
    return f"{moment:%H:%M}" if moment is not None else ""


def value_words(value: float | None, test_name: str) -> str:
    """Return a value with all its decimals and the unit of its test: ``7.26 s``."""
    if value is None:
        return ""
    try:
        test = find_test(test_name)
    except BackToBackError:
        return f"{value:g}"
    return f"{write_value(value, test)} {test.unit}"


def mean_words(value: float | None, test_name: str) -> str:
    """Return a worked-out value, rounded to the decimals of its test: ``7.20 s``."""
    if value is None:
        return ""
    try:
        test = find_test(test_name)
    except BackToBackError:
        return f"{value:.2f}"
    return f"{format_number(value, test.decimals)} {test.unit}"


def attempt_words(attempt: Attempt) -> str:
    """Return what is noted beside an attempt: strike, kind, tags, doubt, second timer, note."""
    said = []
    if attempt.strike is not None:
        seen = ", after its time was seen" if attempt.strike.late else ""
        note = f" ({attempt.strike.note})" if attempt.strike.note else ""
        said.append(f"struck: {attempt.strike.code}{note}{seen}")
    if attempt.kind == "warm-up":
        said.append(attempt.kind)
    said += attempt.tags
    if attempt.unsure:
        said.append("time doubtful")
    if attempt.timing not in ("", "trace"):
        said.append(f"timed by {attempt.timing}")
    if attempt.second is not None:
        said.append(f"second timer {attempt.second:g}")
    if attempt.entered in ("later", "trace"):
        said.append({"later": "entered later", "trace": "from a recording"}[attempt.entered])
    if attempt.note:
        said.append(attempt.note)
    return "; ".join(said)
