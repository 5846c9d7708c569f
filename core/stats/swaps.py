"""Taking a steady drift out of blocks run in turn: A-B-A, A-B-A-B and longer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from core.errors import InputError, UnknownInputError
from core.stats.guard import at_least, finite_values
from core.stats.intervals import Difference, interval
from core.stats.repeatability import Spread
from core.stats.summary import centre

__all__ = ["DriftRemoved", "aba", "drift_removed"]

_NOT_APART = "The change and the drift of the day cannot be told apart: run the first build again."
_TINY = 1e-9  # singular value over the largest below which build and time cannot be told apart


@dataclass(frozen=True, slots=True)
class DriftRemoved:
    """A difference of two builds with a straight-line drift of the day taken out."""

    difference: Difference
    """B - A at equal time, with its interval."""
    variance_factor: float
    """Variance of the difference over spread squared."""
    drift: float
    """Change of the same build from the first time to the last, in the observations' unit."""
    drift_se: float
    """Standard error of that drift."""


def aba(
    a1: Sequence[float],
    b: Sequence[float],
    a2: Sequence[float],
    block_times: Sequence[float],
    spread: Spread,
    level: float = 0.95,
) -> DriftRemoved:
    """Return B against A interpolated between the A before and the A after.

    Args:
        a1, b, a2: observations of the three blocks, one or more in each.
        block_times: mean time of each block, rising, in any one unit.
        spread: spread of one observation.
        level: chance that the interval covers the true difference.

    ``d = mean(B) - [(1-w) mean(A1) + w mean(A2)]``, ``w = (tB - tA1)/(tA2 - tA1)``;
    ``Var = spread^2 [1/nB + (1-w)^2/nA1 + w^2/nA2]``. Takes out a steady drift only.

    Raises:
        OutOfRangeError: a block holds nothing.
        InputError: the times do not rise.

    **Source:** linear interpolation; equals least squares on build and block time.
    """
    blocks = [finite_values(block) for block in (a1, b, a2)]
    n_a1, n_b, n_a2 = (at_least(1, block, "The number of attempts") for block in blocks)
    times = finite_values(block_times, "A time")
    if len(times) != 3 or not times[0] < times[1] < times[2]:
        raise InputError("The three blocks of A-B-A need three times, each later than the last.")
    w = (times[1] - times[0]) / (times[2] - times[0])
    first, middle, last = (centre(block) for block in blocks)
    factor = 1.0 / n_b + (1.0 - w) ** 2 / n_a1 + w * w / n_a2
    value = middle - ((1.0 - w) * first + w * last)
    return DriftRemoved(
        difference=interval(value, factor, (n_a1 + n_a2, n_b), spread, level=level),
        variance_factor=factor,
        drift=last - first,
        drift_se=spread.sd * sqrt(1.0 / n_a1 + 1.0 / n_a2),
    )


def drift_removed(
    values: Sequence[float],
    build_index: Sequence[int],
    times: Sequence[float],
    spread: Spread,
    level: float = 0.95,
) -> DriftRemoved:
    """Return B - A from any order of runs, by least squares on {1, build, time}.

    Args:
        values: observations in any order.
        build_index: 0 for A and 1 for B, one for each value.
        times: when each was run (or the mean time of its block), in any one unit.
        spread: spread of one observation; the residuals are not used.
        level: chance that the interval covers the true difference.

    Raises:
        InputError: unequal lengths, or a build that is neither 0 nor 1.
        UnknownInputError: the order cannot tell drift from build (A-B without a return to A).

    **Source:** ordinary least squares; with three blocks and block times it is :func:`aba`.
    """
    numbers, moments = finite_values(values), finite_values(times, "A time")
    if not len(numbers) == len(build_index) == len(moments):
        raise InputError("Values, builds and times must be equally many.")
    if set(build_index) - {0, 1}:
        raise InputError("Each build must be 0 (A) or 1 (B).")
    rows = _estimators(build_index, moments)
    value, drift = (fsum(w * x for w, x in zip(row, numbers, strict=True)) for row in rows)
    factor, drift_factor = (fsum(w * w for w in row) for row in rows)
    n_b = sum(build_index)
    sizes = (len(numbers) - n_b, n_b)
    return DriftRemoved(
        difference=interval(value, factor, sizes, spread, level=level),
        variance_factor=factor,
        drift=drift,
        drift_se=spread.sd * sqrt(drift_factor),
    )


def _estimators(
    build_index: Sequence[int], times: Sequence[float]
) -> tuple[list[float], list[float]]:
    """Weights on the values that give the difference of builds, and the drift first to last."""
    import numpy as np  # lazy: 0.1 s

    span = max(times, default=0.0) - min(times, default=0.0)
    if not span > 0.0 or len(set(build_index)) < 2:
        raise UnknownInputError(_NOT_APART, missing=("a return to the first build",))
    clock = np.array([(moment - min(times)) / span for moment in times])
    design = np.column_stack([np.ones(len(times)), np.array(build_index, dtype=float), clock])
    left, sizes, right = np.linalg.svd(design, full_matrices=False)
    if len(sizes) < 3 or sizes[-1] <= _TINY * sizes[0]:
        raise UnknownInputError(_NOT_APART, missing=("a return to the first build",))
    inverse = (right.T / sizes) @ left.T
    return inverse[1].tolist(), inverse[2].tolist()
