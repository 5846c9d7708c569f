"""Refusals of a number, one plain sentence each, for the formula rooms.

The formulas take SI floats; the sentence shows the number in the unit a person typed it in.
"""

from __future__ import annotations

import math

from core.errors import InputError, OutOfRangeError, UnknownInputError

__all__ = ["above_zero", "between", "finite", "not_negative", "shown"]

_SCALES: dict[str, tuple[float, float]] = {
    # symbol: (SI units in one of it, SI reading of its zero)
    "": (1.0, 0.0),
    "m": (1.0, 0.0),
    "mm": (1e-3, 0.0),
    "cm³": (1e-6, 0.0),
    "°": (1.0, 0.0),
    "°C": (1.0, 273.15),
    "hPa": (100.0, 0.0),
    "kPa": (1000.0, 0.0),
    "%": (0.01, 0.0),
    "rpm": (1.0, 0.0),
    "km/h": (1 / 3.6, 0.0),
    "m/s": (1.0, 0.0),
    "m/s²": (1.0, 0.0),
    "s": (1.0, 0.0),
    "kg": (1.0, 0.0),
    "kg/m³": (1.0, 0.0),
    "kg·m²": (1.0, 0.0),
    "m²": (1.0, 0.0),
    "N": (1.0, 0.0),
    "N·m": (1.0, 0.0),
    "kW": (1000.0, 0.0),
}


def shown(value: float, unit: str = "") -> str:
    """Return an SI value as it is written in a sentence, in the unit of that symbol.

    >>> shown(0.068, "mm"), shown(0.5, "%"), shown(293.15, "°C")
    ('68 mm', '50 %', '20 °C')
    """
    scale, zero = _SCALES[unit]
    return f"{(value - zero) / scale:.6g} {unit}".rstrip()


def _article(name: str) -> str:
    return f"{'an' if name[0].lower() in 'aeiou' else 'a'} {name}"


def _start(name: str) -> str:
    return name[0].upper() + name[1:]


def finite(name: str, value: float | None) -> float:
    """Return the value, if it is one.

    Raises:
        UnknownInputError: it is None; ``missing`` holds its name.
        InputError: it is not a finite number.
    """
    if value is None:
        raise UnknownInputError(f"Unknown: {name} is not known.", (name,))
    if not math.isfinite(value):
        raise InputError(f"{_start(name)} is not a number.")
    return value


def above_zero(name: str, value: float | None, unit: str = "") -> float:
    """Return the value, if it is above zero.

    Raises:
        InputError: it is zero or less, or no finite number.
        UnknownInputError: it is None.
    """
    number = finite(name, value)
    if number <= 0:
        raise InputError(
            f"{_start(name)} is {shown(number, unit)}: {_article(name)} must be above zero."
        )
    return number


def not_negative(name: str, value: float | None, unit: str = "") -> float:
    """Return the value, if it is zero or more.

    Raises:
        InputError: it is below zero, or no finite number.
        UnknownInputError: it is None.
    """
    number = finite(name, value)
    if number < 0:
        raise InputError(
            f"{_start(name)} is {shown(number, unit)}: {_article(name)} cannot be below zero."
        )
    return number


def between(name: str, value: float | None, low: float, high: float, unit: str = "") -> float:
    """Return the value, if it lies in a range, ends included (all SI).

    Raises:
        OutOfRangeError: it lies outside.
        InputError: it is no finite number.
        UnknownInputError: it is None.
    """
    number = finite(name, value)
    if not low <= number <= high:
        ends = f"{shown(low, unit).split(' ')[0]} and {shown(high, unit)}"
        raise OutOfRangeError(
            f"{_start(name)} is {shown(number, unit)}: it must lie between {ends}."
        )
    return number
