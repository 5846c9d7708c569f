"""A value with the range it may lie in, and how such ranges go through a formula."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import product
from typing import Any

import msgspec

from core.errors import InputError, UnknownInputError

__all__ = ["Ranged", "carry", "carry_worst"]

_MOST_RANGES = 12  # 4,096 corners; more would be slow, and a worst case nobody believes


class Ranged(msgspec.Struct, frozen=True):
    """A value that lies somewhere from low to high; all three in the same unit.

    Raises:
        InputError: the value lies outside its own range, or one of the three is no number.
    """

    value: float  # best single number
    low: float  # lower end
    high: float  # upper end

    def __post_init__(self) -> None:
        if not self.low <= self.value <= self.high:
            raise InputError(f"{self.value:g} does not lie from {self.low:g} to {self.high:g}.")

    @classmethod
    def exact(cls, value: float) -> Ranged:
        """Return a value without any doubt."""
        return cls(value, value, value)

    @classmethod
    def within(cls, value: float, half: float) -> Ranged:
        """Return a value give or take ``half`` (zero or more)."""
        return cls(value, value - half, value + half)

    @property
    def is_exact(self) -> bool:
        """Whether the range has no width."""
        return self.low == self.high

    def text(self, digits: int = 2) -> str:
        """Return it as it is read out.

        >>> Ranged(8.47, 8.41, 8.53).text(), Ranged.exact(6.0).text(1)
        ('8.47 (8.41 to 8.53)', '6.0')
        """
        if self.is_exact:
            return f"{self.value:.{digits}f}"
        return f"{self.value:.{digits}f} ({self.low:.{digits}f} to {self.high:.{digits}f})"


def _split(inputs: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Ranged]]:
    missing = tuple(name.replace("_", " ") for name, given in inputs.items() if given is None)
    if missing:
        raise UnknownInputError(f"Unknown: {', '.join(missing)} not known.", missing)
    values = {k: v.value if isinstance(v, Ranged) else v for k, v in inputs.items()}
    doubtful = {k: v for k, v in inputs.items() if isinstance(v, Ranged) and not v.is_exact}
    return values, doubtful


def carry(formula: Callable[..., float], /, **inputs: Any) -> Ranged:
    """Carry ranges through a formula as independent doubts (first order).

    Each doubtful input is moved to both of its ends alone; the moves of the result are added as
    root of the sum of squares, upward and downward apart. Right for readings whose errors have
    nothing to do with each other and for formulas that bend little over a range. For a bound that
    must hold whatever happens use :func:`carry_worst`.

    Args:
        formula: any function of named inputs that returns one float.
        inputs: floats, :class:`Ranged`, anything else that the formula takes, or None for unknown.

    Returns:
        The formula's value at the best inputs, with the carried range.

    Raises:
        UnknownInputError: inputs are None; ``missing`` names all of them.
        InputError: the formula refuses a value, also one at the end of a range.

    Source: ISO/IEC Guide 98-3:2008 (GUM) 5.1.2 and 5.1.3, finite steps in place of derivatives
    (from memory).

    >>> carry(lambda a, b: a * b, a=Ranged.within(2.0, 0.03), b=Ranged.within(3.0, 0.06)).text()
    '6.00 (5.85 to 6.15)'
    """
    values, doubtful = _split(inputs)
    best = formula(**values)
    up = down = 0.0
    for name, given in doubtful.items():
        ends = [formula(**(values | {name: end})) - best for end in (given.low, given.high)]
        up += max(0.0, *ends) ** 2
        down += min(0.0, *ends) ** 2
    return Ranged(best, best - math.sqrt(down), best + math.sqrt(up))


def carry_worst(formula: Callable[..., float], /, **inputs: Any) -> Ranged:
    """Carry ranges through a formula with every doubt at its worst at once (all corners).

    The range is guaranteed when the formula only rises or only falls with each input, which the
    formulas of the bench do; it is wider than :func:`carry` gives.

    Args, returns and raises as :func:`carry`; more than 12 doubtful inputs are refused.

    >>> carry_worst(lambda a, b: a - b, a=Ranged(5, 4, 6), b=Ranged(2, 1, 3)).text(0)
    '3 (1 to 5)'
    """
    values, doubtful = _split(inputs)
    if len(doubtful) > _MOST_RANGES:
        raise InputError(f"{len(doubtful)} uncertain inputs: at most {_MOST_RANGES} at once.")
    best = formula(**values)
    ends = [(given.low, given.high) for given in doubtful.values()]
    results = [
        best,
        *(formula(**(values | dict(zip(doubtful, c, strict=True)))) for c in product(*ends)),
    ]
    return Ranged(best, min(results), max(results))
