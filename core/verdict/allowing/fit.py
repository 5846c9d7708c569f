"""The machine's own numbers, fitted to what its sessions clocked, with the usual ones as prior."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import log
from typing import TYPE_CHECKING

from core.attempts import Test
from core.verdict.allowing.coasted import Measured
from core.verdict.allowing.model import State, results
from core.verdict.allowing.priors import AIR_EXPONENT, PRIORS, SheetFacts, middles

if TYPE_CHECKING:
    import numpy as np

__all__ = ["MODEL_SHARE", "Clocked", "RoadFit", "fit_road"]

MODEL_SHARE = 0.04  # how far the model itself is off in a time; common practice, no source
_STEPS = 25  # damped Gauss-Newton steps before giving up; 4 to 8 are usual
_STEP = 0.01  # of the forward differences, in prior standard deviations
_SETTLED = 0.02  # a shorter step in prior standard deviations is the end
_TOO_FAR = 3.5  # prior standard deviations no machine is away from the usual
_TOO_POOR = 3.5  # the same for what was clocked against the model


@dataclass(frozen=True)
class Clocked:
    """The mean of one build in one session, and what it was clocked in."""

    test: Test
    facts: SheetFacts
    state: State
    headings: tuple[float, ...]  # both ways, or the one it ran
    value: float  # in the test's unit
    share: float  # standard deviation of its logarithm, without the model's own error


@dataclass(frozen=True)
class RoadFit:
    """The machine's own numbers, as logarithms about their middle, and how well they are known."""

    unknowns: np.ndarray = field(repr=False)  # as in ``priors.middles``
    root: np.ndarray = field(repr=False)  # its columns span the doubt: covariance is root root'
    sessions: int  # how many means it was fitted to
    converged: bool
    sentence: str  # what it rests on, or why the usual numbers are used


def _scales() -> np.ndarray:
    import numpy as np  # lazy: 0.1 s

    return np.array([*(prior.share for prior in PRIORS), AIR_EXPONENT.share])


def usual(sentence: str) -> RoadFit:
    """Return the numbers that are usual, with their whole doubt."""
    import numpy as np  # lazy: 0.1 s

    return RoadFit(np.array(middles()), np.diag(_scales()), 0, False, sentence)


def fit_road(clocked: Sequence[Clocked], measured: Sequence[Measured] = ()) -> RoadFit:
    """Return the numbers that fit what was clocked best, the usual ones held against it.

    Args:
        clocked: means of a machine's sessions, on any tests that are modelled.
        measured: numbers of the model that were measured by themselves, as by coast-downs.

    ``min sum ((ln model - ln clocked)/s)^2 + sum ((ln number - ln measured)/s)^2 + sum z^2`` over
    the prior-scaled unknowns z, by Gauss-Newton with the step held short; the covariance is that of
    the linear model at the end.
    Where it does not settle, or only with numbers no machine has, the usual ones are returned and
    the sentence says so.

    Source: Marquardt, J. SIAM 11 (1963) 431 (from memory); the prior rows as in ridge regression.
    """
    import numpy as np  # lazy: 0.1 s

    if not clocked:
        return usual("Nothing was clocked that the model can be fitted to: usual numbers are used.")
    z, damping = np.zeros(len(PRIORS) + 1), 0.01
    at, slopes = _misses(clocked, measured, z)
    for _ in range(_STEPS if np.isfinite(at).all() else 0):
        left = slopes.T @ slopes + np.eye(len(z)) * (1.0 + damping)
        step = -np.linalg.solve(left, slopes.T @ at + z)
        after, steeper = _misses(clocked, measured, z + step)
        if after @ after + (z + step) @ (z + step) <= at @ at + z @ z:  # false where not reached
            z, at, slopes, damping = z + step, after, steeper, damping / 10.0
            if float(np.abs(step).max()) < _SETTLED:
                return _judged(clocked, measured, z, at, slopes)
        else:
            damping = 10.0 * max(damping, 0.01)
            if damping > 1e8:
                break
    return usual(
        "The road-load model does not settle on what this machine clocked: usual numbers are used, "
        "with a wide range."
    )


def _judged(
    clocked: Sequence[Clocked],
    measured: Sequence[Measured],
    z: np.ndarray,
    at: np.ndarray,
    slopes: np.ndarray,
) -> RoadFit:
    """The fit, unless it needs numbers that no machine has."""
    import numpy as np  # lazy: 0.1 s

    names = [*(prior.name for prior in PRIORS), AIR_EXPONENT.name]
    worst = int(np.abs(z).argmax())
    if abs(float(z[worst])) > _TOO_FAR or float(np.abs(at).max()) > _TOO_POOR:
        return usual(
            "What this machine clocked does not fit its sheet (look at "
            f"{names[worst].replace('_', ' ')}, mass and gearing): usual numbers are used for "
            "what air and wind do, with a wide range."
        )
    scales = _scales()
    covariance = np.linalg.inv(slopes.T @ slopes + np.eye(len(z)))
    root = scales[:, None] * np.linalg.cholesky(covariance)
    n = len(clocked)
    words = f"Fitted to {n} mean{'s' if n > 1 else ''} of this machine"
    words += " and to its coast-downs." if measured else "."
    missing = dict.fromkeys(name for one in clocked for name in one.facts.missing)
    if missing:
        words += f" Not on the sheet, so usual: {', '.join(missing)}."
    return RoadFit(np.array(middles()) + scales * z, root, n, True, words)


def _log_models(clocked: Sequence[Clocked], many: np.ndarray) -> np.ndarray:
    """Logarithm of the model for each mean (rows) and each set of unknowns (columns)."""
    import numpy as np  # lazy: 0.1 s

    found = np.empty((len(clocked), len(many)))
    unknowns = np.array(middles()) + many * _scales()
    by_test: dict[str, list[int]] = {}
    for row, one in enumerate(clocked):
        by_test.setdefault(one.test.name, []).append(row)
    for rows in by_test.values():
        each = [(row, heading) for row in rows for heading in clocked[row].headings]
        plain = results(
            clocked[rows[0]].test,
            [clocked[row].facts for row, _ in each for _ in many],
            np.tile(unknowns, (len(each), 1)),
            [clocked[row].state for row, _ in each for _ in many],
            [heading for _, heading in each for _ in many],
        ).reshape(len(each), len(many))
        for row in rows:
            own = [i for i, (of, _) in enumerate(each) if of == row]
            found[row] = np.log(plain[own].mean(axis=0))
    return found


def _misses(
    clocked: Sequence[Clocked], measured: Sequence[Measured], z: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Model against clock in standard deviations, and its change for one of every unknown.

    What was measured by itself stands below what was clocked.
    """
    import numpy as np  # lazy: 0.1 s

    models = _log_models(clocked, np.vstack([z, z + _STEP * np.eye(len(z))]))
    sds = _sds(clocked)
    misses = (models[:, 0] - [log(one.value) for one in clocked]) / sds
    slopes = np.nan_to_num((models[:, 1:] - models[:, :1]) / _STEP / sds[:, None])
    names = [prior.name for prior in PRIORS]
    rows = [names.index(one.name) for one in measured]
    own = np.zeros((len(rows), len(z)))
    own[range(len(rows)), rows] = [
        PRIORS[row].share / m.share for row, m in zip(rows, measured, strict=True)
    ]
    off = [
        (log(PRIORS[row].middle / one.value) + PRIORS[row].share * z[row]) / one.share
        for row, one in zip(rows, measured, strict=True)
    ]
    return np.append(misses, off), np.vstack([slopes, own])


def _sds(clocked: Sequence[Clocked]) -> np.ndarray:
    import numpy as np  # lazy: 0.1 s

    doubt = [(one.share, MODEL_SHARE, one.facts.doubt) for one in clocked]
    sds: np.ndarray = np.sqrt((np.array(doubt) ** 2).sum(axis=1))
    return sds
