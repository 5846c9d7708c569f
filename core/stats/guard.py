"""Refuses numbers that no statistic can use, each with one plain sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import isfinite, isnan

from core.errors import InputError, OutOfRangeError

__all__ = ["above_zero", "at_least", "finite", "finite_values", "fraction", "not_negative"]


def finite(value: float, name: str) -> float:
    """Return ``value`` as a float; refuse what is not a finite number.

    Raises:
        InputError: the value is infinite or not a number.
    """
    number = float(value)
    if not isfinite(number):
        raise InputError(f"{name} is {number}: it must be a finite number.")
    return number


def finite_values(values: Iterable[float], name: str = "A value") -> list[float]:
    """Return ``values`` as a list of floats; refuse if one is not a finite number."""
    numbers = list(map(float, values))
    if not all(map(isfinite, numbers)):
        for number in numbers:
            finite(number, name)
    return numbers


def above_zero(value: float, name: str) -> float:
    """Return ``value`` as a finite float above zero, or raise :class:`OutOfRangeError`."""
    number = finite(value, name)
    if number <= 0.0:
        raise OutOfRangeError(f"{name} is {number:g}: it must be above zero.")
    return number


def not_negative(value: float, name: str) -> float:
    """Return ``value`` as a finite float of zero or more, or raise :class:`OutOfRangeError`."""
    number = finite(value, name)
    if number < 0.0:
        raise OutOfRangeError(f"{name} is {number:g}: it cannot be below zero.")
    return number


def fraction(value: float, name: str) -> float:
    """Return ``value`` as a float strictly between 0 and 1, or raise :class:`OutOfRangeError`."""
    number = float(value)
    if isnan(number) or not 0.0 < number < 1.0:
        raise OutOfRangeError(f"{name} is {number:g}: it must lie between 0 and 1.")
    return number


def at_least(least: int, values: Sequence[object] | int, name: str) -> int:
    """Return the count of ``values`` (or the count itself); refuse one below ``least``."""
    count = values if isinstance(values, int) else len(values)
    if count < least:
        raise OutOfRangeError(f"{name} is {count}: at least {least} are needed.")
    return count
