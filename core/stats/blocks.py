"""What a linear model over many sessions is fed with: one block for each build of each session."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.errors import InputError
from core.stats.guard import above_zero, finite, not_negative

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Block", "Column", "Layout", "Levels", "lay_out"]

Column = tuple[str, str]
"""A factor, such as a slot, and one level of it, such as a part."""

Levels = tuple[Column, ...]
"""What was on: at most one level of each factor."""


@dataclass(frozen=True, slots=True)
class Block:
    """The mean of what was run in one go on one build, and what was on."""

    machine: str
    """Blocks of one machine share a constant of their own."""
    day: str
    """Blocks of one machine and day share that day's luck."""
    value: float
    """Mean of the observations."""
    weight: float
    """Observations it rests on, above zero; another kind of observation counts by its variance."""
    levels: Levels
    """Levels that were on; blocks of the same build should share one tuple."""
    moment: float | None = None
    """When it ran, in any unit, where the day's steady drift has to be taken out; else None."""
    ss: float = 0.0
    """Sum of squares about its own mean, times the weight of one observation."""
    dof: int = 0
    """Degrees of freedom of it."""
    allowance_sd: float = 0.0
    """Doubt of an allowance that was taken off the value; shared by the day."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Blocks as columns of numbers, those of one day together and days of one machine together."""

    columns: tuple[Column, ...]
    z: np.ndarray  # by block: 1 where a level was on, and in the last column the value
    weight: np.ndarray  # by block
    first: np.ndarray  # by day: index of its first block
    drift: np.ndarray  # by block: moment about its day's middle; 0 where no drift is taken out
    has_drift: np.ndarray  # by day
    doubt: np.ndarray  # by day: variance of the allowance
    first_day: np.ndarray  # by machine: index of its first day
    ss: float  # pooled within the blocks
    dof: float
    level: float  # weighted mean of all values, in their unit
    total: float  # sum of weights


def lay_out(blocks: Iterable[Block]) -> Layout:
    """Return blocks as columns, with every value taken about its machine's mean.

    Args:
        blocks: of one test, any number of machines, in any order.

    Raises:
        InputError: a number is not finite, a weight is not above zero, or there is no block.
    """
    import numpy as np  # lazy: 0.1 s

    rows = sorted(blocks, key=lambda block: (block.machine, block.day))
    if not rows:
        raise InputError("There is nothing to work out effects from.")
    values = np.array([finite(row.value, "A mean") for row in rows])
    weight = np.array([above_zero(row.weight, "A weight") for row in rows])
    columns, x = _design(rows)
    first = _starts([(row.machine, row.day) for row in rows])
    first_block = _starts([row.machine for row in rows])
    machine_mean = np.add.reduceat(values * weight, first_block) / np.add.reduceat(
        weight, first_block
    )
    sizes = np.diff([*first_block, len(rows)])
    drift, has_drift = _drifts(rows, first, weight)
    doubts = np.array([not_negative(row.allowance_sd, "A doubt") ** 2 for row in rows])
    return Layout(
        columns=columns,
        z=np.column_stack([x, values - np.repeat(machine_mean, sizes)]),
        weight=weight,
        first=first,
        drift=drift,
        has_drift=has_drift,
        doubt=np.maximum.reduceat(doubts, first),
        first_day=np.searchsorted(first, first_block),
        ss=sum(not_negative(row.ss, "A sum of squares") for row in rows),
        dof=float(sum(row.dof for row in rows)),
        level=float(values @ weight / weight.sum()),
        total=float(weight.sum()),
    )


def _starts(keys: Sequence[object]) -> np.ndarray:
    """Index of the first row of each run of equal keys."""
    import numpy as np  # lazy: 0.1 s

    return np.array([i for i, key in enumerate(keys) if i == 0 or key != keys[i - 1]], dtype=int)


def _design(rows: Sequence[Block]) -> tuple[tuple[Column, ...], np.ndarray]:
    """Columns in sorted order, and the 0 and 1 of each block; builds are laid out once."""
    import numpy as np  # lazy: 0.1 s

    builds: dict[Levels, int] = {}
    which = [builds.setdefault(row.levels, len(builds)) for row in rows]
    columns = tuple(sorted({column for levels in builds for column in levels}))
    at = {column: index for index, column in enumerate(columns)}
    patterns = np.zeros((len(builds), len(columns)))
    for index, levels in enumerate(builds):
        if len({factor for factor, _ in levels}) < len(levels):
            raise InputError("A build cannot have two levels of one factor.")
        patterns[index, [at[column] for column in levels]] = 1.0
    return columns, patterns[which]


def _drifts(
    rows: Sequence[Block], first: np.ndarray, weight: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Moments about the middle of their day, where they are known for a whole day and differ."""
    import numpy as np  # lazy: 0.1 s

    drift = np.zeros(len(rows))
    has_drift = np.zeros(len(first), dtype=bool)
    ends = [*first[1:].tolist(), len(rows)]
    for day, (start, end) in enumerate(zip(first.tolist(), ends, strict=True)):
        if end - start < 3 or any(row.moment is None for row in rows[start:end]):
            continue
        moments = np.array([finite(row.moment or 0.0, "A moment") for row in rows[start:end]])
        middle = moments @ weight[start:end] / weight[start:end].sum()
        reach = float(np.abs(moments - middle).max())
        if reach > 0.0:
            drift[start:end] = (moments - middle) / reach
            has_drift[day] = True
    return drift, has_drift
