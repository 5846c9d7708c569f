"""How often an odd attempt is questioned, and a clean one wrongly, by simulation.

The percentages stand in a table of 400,000 simulated samples each (own simulation, no outside
source; the columns of Grubbs and modified z agree with it to a point as a check of method). Here
20,000 samples a cell are judged at once; a sample of them goes through the public functions.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import inf, sqrt

import numpy as np
import numpy.typing as npt
import pytest

from core.stats import MODIFIED_Z_CUT, deviation_limit, flags, grubbs, grubbs_critical, modified_z

Array = npt.NDArray[np.float64]
COUNT = 20_000
SHIFTS = (0, 3, 4, 6, 10)

# n: share questioned, %, for one attempt off by 0 (any questioned), 3, 4, 6, 10 standard deviations
POOLED_10 = {
    3: (4, 36, 62, 95, 100),
    4: (4, 37, 65, 96, 100),
    5: (4, 36, 65, 97, 100),
    6: (4, 35, 64, 97, 100),
    8: (4, 33, 62, 96, 100),
    10: (4, 30, 59, 96, 100),
}
KNOWN = {3: (4, 48, 76, 98, 100), 5: (5, 53, 83, 100, 100), 10: (5, 51, 83, 100, 100)}
GRUBBS = {
    3: (5, 5, 7, 10, 17),
    4: (5, 9, 15, 29, 61),
    6: (5, 17, 33, 69, 99),
    10: (5, 27, 53, 92, 100),
}
MODIFIED_Z = {3: (29, 29, 38, 54, 78), 5: (21, 32, 47, 73, 96), 10: (13, 32, 55, 89, 100)}


def samples(n: int, shift: float) -> tuple[Array, Array]:
    """Samples with the first value off by ``shift`` sds, and a pooled sd with 10 dof for each."""
    rng = np.random.default_rng([12, n, int(shift)])
    values = rng.normal(size=(COUNT, n))
    values[:, 0] += shift
    return values, np.sqrt(rng.chisquare(10, COUNT) / 10)


def share(far: Array, limit: Array | float, shift: float) -> float:
    """Percentage of samples whose furthest value is the one that is off and lies past the limit.

    Where none is off, any value past the limit counts.
    """
    hit = far > limit
    found = hit[:, 0] & (far.argmax(1) == 0) if shift else hit.any(1)
    return 100.0 * float(np.mean(found))


def cells(table: Mapping[int, tuple[int, ...]]) -> list[tuple[int, int, int]]:
    return [(n, s, p) for n, row in table.items() for s, p in zip(SHIFTS, row, strict=True)]


@pytest.mark.parametrize(("n", "shift", "percent"), cells(POOLED_10))
def test_against_a_pooled_spread(n: int, shift: int, percent: int) -> None:
    values, spread = samples(n, shift)
    far = np.abs(values - values.mean(1, keepdims=True))
    limit = deviation_limit(n, 10) * spread[:, None]
    assert share(far, limit, shift) == pytest.approx(percent, abs=1.2)
    for i in range(60):
        found = [flag.index for flag in flags(values[i].tolist(), float(spread[i]), 10)]
        assert bool(found) == bool((far[i] > limit[i]).any())
        assert not found or int(far[i].argmax()) in found


@pytest.mark.parametrize(("n", "shift", "percent"), cells(KNOWN))
def test_against_a_known_spread(n: int, shift: int, percent: int) -> None:
    values, _ = samples(n, shift)
    far = np.abs(values - values.mean(1, keepdims=True))
    assert share(far, deviation_limit(n, inf), shift) == pytest.approx(percent, abs=1.2)


@pytest.mark.parametrize(("n", "shift", "percent"), cells(GRUBBS))
def test_grubbs(n: int, shift: int, percent: int) -> None:
    # The commonest slip divides by the n sd: it would question every clean triple.
    values, _ = samples(n, shift)
    far = np.abs(values - values.mean(1, keepdims=True))
    ratio = far / values.std(1, ddof=1, keepdims=True)
    assert share(ratio, grubbs_critical(n), shift) == pytest.approx(percent, abs=1.2)
    for i in range(40):
        assert grubbs(values[i].tolist()) == pytest.approx(float(ratio[i].max()), rel=1e-9)


@pytest.mark.parametrize(("n", "shift", "percent"), cells(MODIFIED_Z))
def test_modified_z(n: int, shift: int, percent: int) -> None:
    values, _ = samples(n, shift)
    off = values - np.median(values, axis=1, keepdims=True)
    scores = 0.6745 * off / np.median(np.abs(off), axis=1, keepdims=True)
    assert share(np.abs(scores), MODIFIED_Z_CUT, shift) == pytest.approx(percent, abs=1.2)
    for i in range(40):
        assert modified_z(values[i].tolist()) == pytest.approx(scores[i].tolist(), rel=1e-6)


@pytest.mark.parametrize("sizes", [(2, 2), (3, 3), (4, 3), (5, 1)])
def test_clean_sessions_with_two_directions_are_seldom_questioned(sizes: tuple[int, int]) -> None:
    # Both directions' means are taken out, however far apart they are.
    rng = np.random.default_rng([5, *sizes])
    labels = ["W"] * sizes[0] + ["E"] * sizes[1]
    questioned = 0
    for _ in range(2_000):
        values = rng.normal(size=len(labels)) + 40.0 * np.array([label == "W" for label in labels])
        spread = sqrt(float(rng.chisquare(14)) / 14)
        questioned += bool(flags(values.tolist(), spread, 14, labels))
    assert 0.02 <= questioned / 2_000 <= 0.06
