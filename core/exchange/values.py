"""The value of one attempt in a CSV: number and unit as written, and how they are read back."""

from __future__ import annotations

import re
from dataclasses import dataclass

from core.attempts import Attempt, Test
from core.attempts.asking import quoted
from core.attempts.decimals import from_number, shift_question
from core.errors import InputError
from core.units import convert, find_unit, read_number

__all__ = ["ReadValue", "read_value", "value_cells"]

_PARTS = re.compile(r"^([+\-−]?[\d.,' ]*\d[.,]?(?:[eE][+\-]?\d+)?)\s*([^\d\s].*)?$", re.DOTALL)
_CLOCK = re.compile(r"^(\d{1,3}):([0-5]\d(?:[.,]\d*)?)$")
_PLAIN = re.compile(r"^\d+([.,]\d+)?$")
_KEPT_DIGITS = 10  # of a converted number; beyond them it is noise of the arithmetic


@dataclass(frozen=True, slots=True)
class ReadValue:
    """What the two cells say."""

    value: float | None  # in the unit of the test; None for a test in words
    text: str  # as written, with its unit where that is not the test's
    question: str = ""  # why it is unusual; it went in as written


def read_value(cell: str, unit_cell: str, test: Test) -> ReadValue:
    """Read value and unit of an attempt; digits are taken as they stand, no decimals are implied.

    Args:
        cell: a number with decimal point or comma, perhaps with its unit, or minutes (``1:02.4``).
        unit_cell: the unit; blank: that in the cell, or else the test's.
        test: the test.

    Raises:
        InputError: no number, a unit of another kind, zero, or outside what the test can be.
        AmbiguousInputError: a thousands separator that may be a decimal comma.

    >>> from core.attempts import find_test
    >>> read_value("47", "mph", find_test("top")).value
    75.639168
    """
    word = cell.strip()
    if not test.unit:
        return ReadValue(None, word)
    clock = _CLOCK.match(word)
    if clock and test.unit == "s" and not unit_cell.strip():
        value = from_number(60 * int(clock[1]) + read_number(clock[2]), test)
        return ReadValue(value, word, _question(value, word, test))
    parts = _PARTS.match(word)
    if parts is None:
        raise InputError(f"the value {quoted(word)} is not a number.")
    unit = _unit(parts[2] or "", unit_cell, test)
    number = read_number(parts[1])
    value = number
    if unit != test.unit:
        value = float(f"{convert(number, unit, test.unit):.{_KEPT_DIGITS}g}")
    text = parts[1].strip() if unit == test.unit else f"{parts[1].strip()} {unit}"
    return ReadValue(from_number(value, test), text, _question(value, word, test))


def _unit(suffix: str, cell: str, test: Test) -> str:
    """Return the symbol of the unit that holds."""
    told = {find_unit(word).symbol for word in (suffix, cell) if word.strip()}
    if len(told) > 1:
        raise InputError(f"the value is in {' and in '.join(sorted(told))}: which?")
    return told.pop() if told else test.unit


def _question(value: float, typed: str, test: Test) -> str:
    asked = shift_question(value, typed, test)
    return asked.text if asked else ""


def value_cells(attempt: Attempt, test: Test) -> tuple[str, str]:
    """Return the cells of value and unit: as they were typed, if that still says the same.

    >>> from core.attempts import find_test
    >>> value_cells(Attempt(n=1, value=75.639168, text="47 mph b"), find_test("top"))
    ('47', 'mph')
    """
    if attempt.value is None:
        return ("" if attempt.kind == "aborted" else attempt.text, test.unit)
    for number, unit in (_as_typed(attempt.text, test), (_digits(attempt.value, test), test.unit)):
        if number and _says(number, unit, test, attempt.value):
            return number.replace(",", "."), unit
    return repr(attempt.value), test.unit


def _as_typed(text: str, test: Test) -> tuple[str, str]:
    parts = _PARTS.match(text.strip())
    if parts is None or not _PLAIN.match(parts[1].strip()):
        return "", ""
    unit, *_ = (parts[2] or "").split() or [""]  # tags may stand behind it
    try:
        return parts[1].strip(), find_unit(unit).symbol if unit else test.unit
    except InputError:
        return "", ""


def _digits(value: float, test: Test) -> str:
    short = f"{value:.{test.decimals}f}"
    return short if float(short) == value else repr(value)


def _says(number: str, unit: str, test: Test, value: float) -> bool:
    try:
        return read_value(number, unit, test).value == value
    except InputError:
        return False
