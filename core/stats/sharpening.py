"""How much a test would sharpen what is asked: the belief before it and after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

from core.stats.guard import above_zero

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Sharpened", "after_test", "sharpened"]


@dataclass(frozen=True, slots=True)
class Sharpened:
    """What a test does to the answers that are wanted."""

    total: float
    """Weighted sum over the questions of the logarithm of standard deviation before over after."""
    before: tuple[float, ...]
    """Standard deviation of each answer before the test, in the values' unit."""
    after: tuple[float, ...]
    """The same after it, whatever the test says."""


def after_test(covariance: np.ndarray, contrast: np.ndarray, variance: float) -> np.ndarray:
    """Return the covariance of effects after one of their contrasts was measured.

    Args:
        covariance: of the effects, in the values' unit squared.
        contrast: weights of the effects that the test compares.
        variance: of the test's answer, in the same unit squared, above zero.

    ``S - S c c'S / (v + c'S c)``; the value that is measured does not matter.

    **Source:** Gelman et al., Bayesian Data Analysis, ch. 14 (from memory); Sherman and
    Morrison (1950).
    """
    import numpy as np  # lazy: 0.1 s

    moved = covariance @ contrast
    size = above_zero(variance, "Variance of a test") + float(contrast @ moved)
    answer: np.ndarray = covariance - np.outer(moved, moved) / size
    return answer


def sharpened(
    covariance: np.ndarray,
    contrast: Sequence[float],
    variance: float,
    questions: Sequence[Sequence[float]],
    weights: Sequence[float],
    usual: float,
    enough: float,
) -> Sharpened:
    """Return how much a test sharpens the answers to some questions.

    Args:
        covariance, contrast, variance: as for :func:`after_test`.
        questions: contrasts that are wanted, as rows.
        weights: how much each question counts.
        usual: usual size of an effect, as a standard deviation; nothing is thought less known.
        enough: standard deviation below which an answer needs no more sharpening.

    **Source:** information of a normal belief is the logarithm of its width (Lindley, Ann. Math.
    Stat. 27 (1956) 986, from memory).
    """
    import numpy as np  # lazy: 0.1 s

    rows = np.array(questions, dtype=float).reshape(-1, len(covariance))
    measured = after_test(covariance, np.array(contrast, dtype=float), variance)
    widths = []
    for belief in (covariance, measured):
        own = np.maximum(((rows @ belief) * rows).sum(axis=1), 0.0)
        widths.append(np.sqrt(own * usual**2 / (own + usual**2)).tolist())
    before, after = widths
    gained = [
        weight * log(max(was, enough) / max(now, enough))
        for weight, was, now in zip(weights, before, after, strict=True)
    ]
    return Sharpened(sum(gained), tuple(before), tuple(after))
