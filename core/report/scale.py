"""A labelled axis: which values it runs between, its round ticks, and the cell a value falls in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor, isclose, log10

__all__ = ["Scale", "Tick", "round_ticks", "widened"]

_STEPS = (1.0, 2.0, 5.0)  # what looks round, within one power of ten
_ROUNDING = 1e-9  # of a step: a tick at the end of the axis is not lost to it


@dataclass(frozen=True, slots=True)
class Tick:
    """One labelled value of an axis."""

    value: float
    """In the axis' unit."""
    label: str
    """As it is written, with as many decimals as the step needs."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A stretch of values laid out over cells; the first and last cell are centred on its ends."""

    low: float
    """Value at the middle of the first cell."""
    high: float
    """Value at the middle of the last cell, above ``low``."""
    cells: int
    """How many cells, 2 or more."""

    @property
    def step(self) -> float:
        """How much of a value one cell is."""
        return (self.high - self.low) / (self.cells - 1)

    def column(self, value: float) -> int:
        """Return the cell whose middle is nearest, below 0 or from ``cells`` on when off the scale.

        >>> Scale(7.0, 8.0, 11).column(7.26), Scale(7.0, 8.0, 11).column(9.0)
        (3, 20)
        """
        return floor((value - self.low) / self.step + 0.5)

    def holds(self, value: float) -> bool:
        """Tell whether a value falls on one of the cells."""
        return 0 <= self.column(value) < self.cells

    def clipped(self, value: float) -> int:
        """Return the cell of a value; the first or last one when it is off the scale."""
        return min(max(self.column(value), 0), self.cells - 1)


def widened(values: Iterable[float], least: float) -> tuple[float, float]:
    """Return lowest and highest, moved apart evenly until they are ``least`` from each other.

    Args:
        values: one or more.
        least: above zero, in the same unit.

    >>> widened([7.0, 7.5], 0.2), widened([7.0], 0.5)
    ((7.0, 7.5), (6.75, 7.25))
    """
    found = tuple(values)
    low, high = min(found), max(found)
    missing = max(0.0, least - (high - low)) / 2.0
    return low - missing, high + missing


def round_ticks(low: float, high: float, most: int) -> tuple[Tick, ...]:
    """Return round values between two ends: multiples of 1, 2 or 5 times a power of ten.

    Args:
        low: lower end.
        high: upper end, above it.
        most: how many there may be, 1 or more.

    >>> [tick.label for tick in round_ticks(7.04, 7.98, 6)]
    ['7.2', '7.4', '7.6', '7.8']
    """
    for step, decimals in _steps(low, high, most):
        first, last = ceil(low / step - _ROUNDING), floor(high / step + _ROUNDING)
        if last - first + 1 <= most:
            values = [number * step for number in range(first, last + 1)]
            return tuple(Tick(value, _written(value, decimals)) for value in values)
    return ()


def _steps(low: float, high: float, most: int) -> Iterable[tuple[float, int]]:
    """Yield round steps with the decimals they need, from one that may be too fine upwards."""
    power = floor(log10((high - low) / most)) - 1
    for exponent in range(power, power + 5):
        for times in _STEPS:
            yield times * 10.0**exponent, max(0, -exponent)


def _written(value: float, decimals: int) -> str:
    shown = 0.0 if isclose(value, 0.0, abs_tol=10.0 ** -(decimals + 3)) else value
    return f"{shown:.{decimals}f}"
