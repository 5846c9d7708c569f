"""Reading rows of two numbers: a torque curve, a speed trace."""

from __future__ import annotations

import re

from core.errors import InputError
from core.reckon.si import to_si
from core.units import read_number

__all__ = ["read_curve", "read_trace"]

_MOST_CHARACTERS = 2_000_000
_BETWEEN = re.compile(r"[;\t]|,\s+|\s+|[:=]|,")
Columns = tuple[tuple[float, ...], tuple[float, ...]]


def read_curve(text: str) -> Columns:
    """Return engine speeds (1/min) and torques (N·m) of a torque curve.

    Args:
        text: one row a line, or ``1800:11.0 2200:11.8`` on one.

    Raises:
        InputError: a row is not two numbers.

    >>> read_curve("1800:11.0, 2200:11.8")
    ((1800.0, 2200.0), (11.0, 11.8))
    """
    lines = text.splitlines()
    one_line = len(lines) == 1 and ":" in text
    return _columns(re.split(r"[;,]?\s+", text.strip()) if one_line else lines, "rpm and N·m")


def read_trace(text: str) -> Columns:
    """Return times (s) and speeds (m/s) of rows of seconds and km/h.

    Raises:
        InputError: a row is not two numbers.
    """
    times, speeds = _columns(text.splitlines(), "seconds and km/h")
    return times, tuple(to_si(speed, "km/h") for speed in speeds)


def _columns(lines: list[str], what: str) -> Columns:
    rows: list[tuple[float, float]] = []
    if sum(map(len, lines)) > _MOST_CHARACTERS:
        raise InputError("the text is too long.")
    for number, line in enumerate(lines, start=1):
        word = line.strip().lstrip("\ufeff")
        if not word or word.startswith("#"):
            continue
        row = _row(word)
        if row is not None:
            rows.append(row)
        elif rows or not re.search(r"[A-Za-z]", word):  # words before the rows are a heading
            raise InputError(
                f"line {number} is no row of {what}.",
                "Put it right, or begin it with # to leave it out.",
            )
    if not rows:
        raise InputError(f"there is no row of {what} in it.")
    first, second = zip(*rows, strict=True)
    return tuple(first), tuple(second)


def _row(line: str) -> tuple[float, float] | None:
    cells = [cell.strip() for cell in _BETWEEN.split(line) if cell.strip()]
    if ";" in line or "\t" in line:  # the comma is then a decimal one
        cells = [cell.strip() for cell in re.split(r"[;\t]", line)]
    if len(cells) != 2:
        return None
    try:
        return read_number(cells[0]), read_number(cells[1])
    except InputError:
        return None
