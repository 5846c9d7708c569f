"""Where the decimal point belongs: digits with implied decimals, and slips by a factor of ten."""

from __future__ import annotations

import math

from core.attempts.asking import Choice, Question, quoted
from core.attempts.tests_table import Test
from core.errors import AmbiguousInputError, InputError, OutOfRangeError

__all__ = ["from_digits", "from_number", "shift_question", "shown", "written"]

_MOST_DIGITS = 9
_TYPED = 3  # decimals beyond the usual ones that somebody may type
_BEYOND = 2.0  # a value this many times outside the build's own range is asked about


def written(value: float, decimals: int) -> str:
    """Write a value with at least so many decimals, and no more than it has.

    >>> written(4.2, 2), written(42.0, 1), written(7.2635, 2)
    ('4.20', '42.0', '7.2635')
    """
    text = f"{value:.6f}".rstrip("0")
    whole, _, part = text.partition(".")
    return f"{whole}.{part.ljust(decimals, '0')}".rstrip(".")


def shown(value: float, decimals: int) -> str:
    """Write a value for the eye: as `written`, unless it has digits that nobody typed.

    A value that came out of another unit is cut to one decimal more than is usual.

    >>> shown(7.2635, 2), shown(47 * 1.609344, 1)
    ('7.2635', '75.64')
    """
    text = written(value, decimals)
    if len(text.partition(".")[2]) > decimals + _TYPED:
        return f"{value:.{decimals + 1}f}"
    return text


def _band(test: Test, usual: tuple[float, float] | None) -> tuple[float, float] | None:
    """What passes without a question: the build's own range doubled, or the test's first guess."""
    if usual is None:
        return test.band
    low, high = usual
    return low / _BEYOND, high * _BEYOND


def _fits(value: float, band: tuple[float, float] | None) -> bool:
    return band is None or band[0] <= value <= band[1]


def _allowed(value: float, test: Test) -> bool:
    return test.hard[0] <= value <= test.hard[1]


def _show(value: float, test: Test) -> str:
    return f"{shown(value, test.decimals)} {test.unit}"


def _refuse(value: float, test: Test) -> OutOfRangeError:
    low, high = (f"{end:g}" for end in test.hard)
    return OutOfRangeError(
        f"{_show(value, test)} is out of range for {test.name}: {low} to {high} {test.unit}.",
        "Type it again, or with another unit.",
    )


def from_number(value: float, test: Test) -> float:
    """Return a value typed with its decimal point, or refuse it.

    Raises:
        InputError: zero or negative.
        OutOfRangeError: outside the hard range of the test.
    """
    what = "speed" if test.unit == "km/h" else "time"
    if value <= 0:
        raise InputError(f"{value:g} {test.unit}: a {what} must be above zero.")
    if not _allowed(value, test):
        raise _refuse(value, test)
    return value


def from_digits(digits: str, test: Test, usual: tuple[float, float] | None = None) -> float:
    """Return the value that bare digits mean in a test, or ask.

    The test's implied decimals hold when at least one digit stands before them, and there are
    either no more digits than usual or the value is a likely one. Digits whose implied reading is
    impossible mean the only reading that is possible (``47`` as top speed is 47 km/h).

    Args:
        digits: 0 to 9 only.
        test: the test.
        usual: lowest and highest of this build, in the unit of the test.

    Raises:
        AmbiguousInputError: more than one reading could be meant; ``choices`` has them.
        InputError: zero, or more digits than any time has.
        OutOfRangeError: no reading lies in the hard range of the test.
    """
    if len(digits) > _MOST_DIGITS:
        raise InputError(f"{quoted(digits, 20)} has too many digits.")
    number = int(digits)
    implied = number / math.pow(10, test.decimals)
    if number == 0:
        return from_number(0.0, test)
    band = _band(test, usual)
    readings = [number / math.pow(10, k) for k in range(len(digits) + 1)]
    possible = [v for v in readings if _allowed(v, test)]
    likely = [v for v in possible if _fits(v, band)]
    if len(digits) > test.decimals and implied in possible:
        expected = len(digits) in (test.decimals + 1, _usual_digits(test))
        if expected or implied in likely or not likely:
            return implied
    elif not possible:
        raise _refuse(implied, test)
    elif len(digits) > test.decimals and len(possible) == 1:
        return possible[0]
    raise _which(digits, [*likely, *(v for v in possible if v not in likely)], test)


def _usual_digits(test: Test) -> int:
    return len(str(int(test.typical))) + test.decimals


def _which(digits: str, readings: list[float], test: Test) -> AmbiguousInputError:
    choices = tuple(written(v, test.decimals) for v in readings)
    return AmbiguousInputError(
        f"{digits} has no clear decimal point: {' or '.join(choices)} {test.unit}?",
        choices,
        "Type it with its decimal point.",
    )


def shift_question(
    value: float, typed: str, test: Test, usual: tuple[float, float] | None = None
) -> Question | None:
    """Return the question that an unlikely value raises, or None.

    Args:
        value: in the unit of the test.
        typed: the number as typed.
        test: the test.
        usual: lowest and highest of this build; None: judged by what the test typically gives.
    """
    band = _band(test, usual)
    if band is None or _fits(value, band):
        return None
    keep = Choice("k", f"keep {_show(value, test)}", value)
    shifted = [v for v in (value / 10, value * 10) if _fits(v, band) and _allowed(v, test)]
    if shifted and ":" not in typed:
        other = round(shifted[0], 6)
        text = f"{_bare(other)} or {_bare(value)}?"
        return Question(text, (Choice("c", f"change to {_show(other, test)}", other), keep))
    expected = f"{usual[0]:g} to {usual[1]:g}" if usual else f"about {test.typical:.2g}"
    text = f"{quoted(typed)} is {_show(value, test)}, and usual is {expected}: keep it?"
    return Question(text, (keep, Choice("t", "type it again", None)))


def _bare(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")
