"""What is expected before running, as it is typed and as it is shown: ``0.3 quicker +/- 0.1``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from core.errors import InputError
from core.units import format_number, read_number

if TYPE_CHECKING:
    from core.attempts import Test

__all__ = ["EXPECT", "Prediction", "prediction_words", "read_prediction", "way_words"]


EXPECT: Final = (
    "Such as 0.3 {below}, 0.3 {above} or no change."
    " A second number says how sure: 0.3 {below} +/- 0.1."
)
"""How a prediction can be typed, with the words of `way_words`."""


@dataclass(frozen=True)
class Prediction:
    """What is expected, in the test's unit, with its sign."""

    value: float
    give_or_take: float | None = None


_LESS: Final = frozenset({"less", "lower", "shorter", "down"})
_MORE: Final = frozenset({"more", "higher", "longer", "up"})
_QUICKER: Final = frozenset({"quicker", "faster"})
_BETTER: Final = frozenset({"better"})
_WORSE: Final = frozenset({"worse"})
_SLOWER: Final = frozenset({"slower"})
_WAYS: Final = _LESS | _MORE | _QUICKER | _SLOWER | _BETTER | _WORSE
_BESIDES: Final = frozenset({"by", "about"})
_NOTHING: Final = re.compile(r"no (change|difference)|(the )?same|nothing|none")
_GIVE_OR_TAKE: Final = re.compile(r"\+/[-−]|±")


def way_words(test: Test) -> tuple[str, str]:
    """Return what a value below and one above that of before are called: quicker and slower."""
    if test.unit != "s":
        return "slower", "quicker"
    return ("quicker", "slower") if test.lower_is_better else ("shorter", "longer")


def read_prediction(text: str, test: Test) -> Prediction | None:
    """Return what was predicted; None when nothing was typed.

    Args:
        text: ``.3 quicker``, ``0.3 slower``, ``no change`` or ``-0.10``; behind it, also with
            +/- between them, how sure.
        test: that the prediction is about.

    Raises:
        InputError: not one or two numbers, a width below zero, or no way to tell better from worse.

    >>> from core.attempts import find_test
    >>> read_prediction(".3 quicker +/- 0,05", find_test("0-50"))
    Prediction(value=-0.3, give_or_take=0.05)
    """
    line = _GIVE_OR_TAKE.sub(" ", text.casefold()).strip()
    if not line:
        return None
    line, nothing = _NOTHING.subn("0", line, count=1)
    words = [word for word in line.split() if word not in _BESIDES and word != test.unit.casefold()]
    ways = [word for word in words if word in _WAYS]
    numbers = [
        read_number(word.removesuffix(test.unit.casefold())) for word in words if word not in _WAYS
    ]
    if not numbers and ways:
        raise InputError(f"How much {ways[0]}? Put a number before it, such as 0.3 {ways[0]}.")
    if not 1 <= len(numbers) <= 2 or len(ways) > 1 or (nothing and ways):
        raise InputError("One number, or two with +/- between them, such as 0.3 quicker +/- 0.1.")
    value, *width = numbers
    if width and width[0] < 0:
        raise InputError("What stands behind +/- cannot be below zero.")
    signed = line.lstrip()[0] in "+-−"
    return Prediction(_turned(value, ways, test, signed=signed), width[0] if width else None)


def _turned(value: float, ways: list[str], test: Test, *, signed: bool) -> float:
    """Give a number the sign of the word beside it; one with neither is asked about."""
    below, above = way_words(test)
    if not ways:
        if value and not signed:
            raise InputError(f"{value:g} {below} or {value:g} {above}? Put the word behind it.")
        return value
    turned = abs(value) * _sign(ways[0], test)
    if signed and turned != value:
        raise InputError(f"{value:+g} and “{ways[0]}” do not go together: type one of the two.")
    return turned


def _sign(way: str, test: Test) -> int:
    below, above = way_words(test)
    if way in _LESS | _MORE:
        return -1 if way in _LESS else 1
    if way in _BETTER | _WORSE:
        return -1 if (way in _BETTER) == test.lower_is_better else 1
    if "quicker" not in (below, above):
        raise InputError(f"{test.title}: say {above} or {below}.")
    quicker = -1 if below == "quicker" else 1
    return quicker if way in _QUICKER else -quicker


def prediction_words(prediction: Prediction, test: Test) -> str:
    """Return a prediction as it is shown.

    >>> from core.attempts import find_test
    >>> prediction_words(Prediction(-0.3, 0.05), find_test("0-50"))
    '0.3 s quicker +/- 0.05'
    """
    width = prediction.give_or_take
    more = f" +/- {format_number(width)}" if width is not None else ""
    if not prediction.value:
        return f"no change{more}"
    way = way_words(test)[prediction.value > 0]
    return f"{format_number(abs(prediction.value))} {test.unit} {way}{more}"
