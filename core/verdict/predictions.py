"""What was predicted against what it came to: the sign, and whether the size lies in the range."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.attempts import find_test
from core.session import Prediction
from core.units import format_number
from core.verdict.results import Comparison
from core.verdict.sentences import difference_words, range_words

__all__ = ["Outcome", "SignOutcome", "outcome_of"]

SignOutcome = Literal["right", "wrong", "open"]


@dataclass(frozen=True)
class Outcome:
    """How a prediction turned out."""

    sign: SignOutcome  # open: the range reaches over zero, so no sign is settled
    size_inside: bool  # the value predicted lies within the range that was found
    sentence: str  # one line


def outcome_of(prediction: Prediction, made: Comparison) -> Outcome | None:
    """Hold a prediction against the comparison it was made for.

    Args:
        prediction: what was expected of B less A, in the test's unit.
        made: the comparison with the session that the prediction names.

    Returns:
        None when there is nothing to compare.
    """
    found = made.difference
    if found is None:
        return None
    sign: SignOutcome = "open"
    if found.low > 0.0 or found.high < 0.0:
        sign = "right" if found.value * prediction.value > 0.0 else "wrong"
    inside = found.low <= prediction.value <= found.high
    return Outcome(sign, inside, _sentence(prediction, made, sign, inside))


def _sentence(prediction: Prediction, made: Comparison, sign: SignOutcome, inside: bool) -> str:
    test = find_test(made.b.test)
    assert made.difference is not None  # noqa: S101  narrows the type; the caller looked
    width = prediction.give_or_take
    more = f", give or take {format_number(width, made.decimals)}" if width is not None else ""
    if sign == "open":
        held = "still open"
    elif sign == "wrong":
        held = "it went the other way"
    elif inside:
        held = "right, and the size lies in the range"
    else:
        held = "right, though the size lies outside the range"
    return (
        f"Predicted {difference_words(prediction.value, test)}{more}; got "
        f"{difference_words(made.difference.value, test)} "
        f"({range_words(made.difference, test)}): {held}."
    )
