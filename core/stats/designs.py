"""Which runs tell most: the D-optimal choice, by looking at every choice there is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement, islice
from math import comb

from core.errors import InputError, OutOfRangeError
from core.stats.guard import at_least, finite_values

__all__ = ["Design", "d_optimal"]

_MOST_DESIGNS = 2_000_000  # an exhaustive search of this many stays under a minute
_BATCH = 20_000  # designs looked at in one go


@dataclass(frozen=True, slots=True)
class Design:
    """The choice of runs that tells most about all effects at once."""

    determinant: float
    """det(X'X) of the choice, the constant included."""
    rows: tuple[int, ...]
    """Which candidate rows, with repeats."""


def d_optimal(candidates: Sequence[Sequence[float]], runs: int) -> Design:
    """Return the choice of ``runs`` candidate rows, repeats allowed, with the largest det(X'X).

    Args:
        candidates: the runs that can be made, one row each, without the column of ones.
        runs: how many are made, at least one more than the columns.

    Every choice is looked at; the first of equal ones is returned.

    Raises:
        OutOfRangeError: too few runs to tell all effects, or more than 2,000,000 choices.

    **Source:** Atkinson and Donev, Optimum Experimental Designs (1992) (from memory); exhaustive.

    >>> d_optimal([[-1], [0], [1]], 2)
    Design(determinant=4.0, rows=(0, 2))
    """
    import numpy as np  # lazy: 0.1 s

    rows = [[1.0, *finite_values(row)] for row in candidates]
    at_least(1, rows, "The number of candidate runs")
    if any(len(row) != len(rows[0]) for row in rows):
        raise InputError("All candidate runs need the same columns.")
    at_least(len(rows[0]), runs, "The number of runs")
    count = comb(len(rows) + runs - 1, runs)
    if count > _MOST_DESIGNS:
        raise OutOfRangeError(f"{count:,} choices are too many to look at: fewer runs, please.")
    table = np.array(rows)
    choices = combinations_with_replacement(range(len(rows)), runs)
    best = Design(determinant=-1.0, rows=())
    while batch := list(islice(choices, _BATCH)):
        chosen = table[np.array(batch)]
        found = np.linalg.det(chosen.transpose(0, 2, 1) @ chosen)
        top = int(found.argmax())
        if float(found[top]) > best.determinant * (1.0 + 1e-9):
            best = Design(determinant=float(found[top]), rows=batch[top])
    return best
