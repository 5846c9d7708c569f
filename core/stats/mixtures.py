"""Middle and range of a belief that is a mixture of Student's t laws of one dof."""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Known", "mixed"]

_STEPS = 60  # of Newton's rule or halving; 3 to 6 are usual
_SETTLED = 1e-12  # share of the chance that an end may be off by
_MATTERS = 1e-7  # of the likeliest part: what is less likely moves no end
_NORMAL = 1.959963984540054  # standard deviations either side for 95 %


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of one contrast."""

    value: float
    """Middle of the belief, in the unit of the values."""
    low: float
    """Lower end of the range that holds the true value with 95 in 100."""
    high: float
    """Upper end of it."""
    sd: float
    """Half the range over that of a normal belief of standard deviation 1."""


def mixed(
    means: np.ndarray, variances: np.ndarray, chance: np.ndarray, dof: float
) -> tuple[Known, ...]:
    """Return middle and 95 % range of mixtures of Student's t.

    Args:
        means: middle of each part, a row for each mixture.
        variances: squared scale of each part, above zero.
        chance: weight of each part, the same in all mixtures; adds to 1.
        dof: degrees of freedom of all parts.
    """
    import numpy as np  # lazy: 0.1 s

    matters = chance > _MATTERS * chance.max()
    means, scales = means[:, matters], np.sqrt(variances[:, matters])
    chance = chance[matters] / chance[matters].sum()
    middle = means @ chance
    ends = [_quantile(share, means, scales, chance, dof) for share in (0.025, 0.975)]
    half = (ends[1] - ends[0]) / 2.0
    return tuple(
        Known(float(m), float(a), float(b), float(h) / _NORMAL)
        for m, a, b, h in zip(middle, *ends, half, strict=True)
    )


def _quantile(
    share: float, means: np.ndarray, scales: np.ndarray, chance: np.ndarray, dof: float
) -> np.ndarray:
    """Where each mixture has so much of its chance below: halved, then by Newton's rule."""
    import numpy as np  # lazy: 0.1 s
    from scipy.special import gammaln, stdtr, stdtrit  # lazy: 0.2 s

    each = means + float(stdtrit(dof, share)) * scales
    low, high = each.min(axis=1), each.max(axis=1)  # the mixture's is between its parts'
    height = float(gammaln((dof + 1.0) / 2.0) - gammaln(dof / 2.0)) - 0.5 * log(dof * pi)
    at = each @ chance
    for _ in range(_STEPS):
        z = (at[:, None] - means) / scales
        over = stdtr(dof, z) @ chance - share
        low, high = np.where(over < 0.0, at, low), np.where(over < 0.0, high, at)
        density = np.exp(height - (dof + 1.0) / 2.0 * np.log1p(z * z / dof)) / scales @ chance
        following = at - over / density
        if float(np.abs(over).max(initial=0.0)) < _SETTLED:
            break
        inside = (following > low) & (following < high)
        at = np.where(inside, following, (low + high) / 2.0)
    answer: np.ndarray = at
    return answer
