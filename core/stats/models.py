"""What each part did: linear models, and which contrasts the data can tell at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import sqrt
from typing import TYPE_CHECKING

from core.errors import InputError, UnknownInputError
from core.stats.guard import above_zero, at_least, finite_values

if TYPE_CHECKING:
    import numpy as np

__all__ = [
    "Belief",
    "Estimate",
    "Fit",
    "least_squares",
    "never_apart",
    "normal_prior",
    "through_origin",
]

_TINY = 1e-10  # a singular value below this share of the largest counts as zero (unit columns)
_NOT_ESTIMABLE = 1e-7  # share of a contrast in the null space above which it cannot be told


@dataclass(frozen=True, slots=True)
class Estimate:
    """One number with its standard error."""

    value: float
    """In the unit of the observations."""
    se: float
    """Standard error, same unit."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A linear model fitted by least squares; what cannot be told apart is None."""

    coefficients: tuple[float | None, ...]
    """One for each column; None where the data cannot tell it alone."""
    standard_errors: tuple[float | None, ...]
    """One for each column; None as above, or without a degree of freedom."""
    residual_sd: float | None
    """Standard deviation of the residuals; None without a degree of freedom."""
    dof: int
    """Observations less rank."""
    rank: int
    """How many independent effects the data hold."""
    n_null: int
    """How many combinations of columns they cannot tell."""
    r_squared: float | None
    """Share of the scatter explained, about the mean if the model holds a constant."""
    _solution: np.ndarray = field(repr=False, compare=False)
    _inverse: np.ndarray = field(repr=False, compare=False)
    _scale: np.ndarray = field(repr=False, compare=False)
    _null: np.ndarray = field(repr=False, compare=False)

    def is_estimable(self, contrast: Sequence[float]) -> bool:
        """Tell whether the data can tell this combination of effects apart from all others.

        A contrast c is estimable if and only if it is orthogonal to the null space of the columns.

        **Source:** Searle, Linear Models (1971), section 5.4 (from memory).
        """
        weights = _contrast(contrast, len(self.coefficients)) / self._scale
        lost = self._null.T @ weights
        return bool(lost @ lost <= _NOT_ESTIMABLE**2 * (weights @ weights))

    def contrast(self, contrast: Sequence[float]) -> Estimate:
        """Return the value of a combination of effects with its standard error.

        Raises:
            UnknownInputError: it is not estimable, or no degree of freedom is left.
        """
        weights = _contrast(contrast, len(self.coefficients))
        if not self.is_estimable(contrast):
            raise UnknownInputError("These effects were never tested apart.", ("a test apart",))
        if self.residual_sd is None:
            raise UnknownInputError("No repeat is left to judge the scatter by.", ("repeats",))
        rows = self._inverse.T @ weights
        return Estimate(
            value=float(weights @ self._solution), se=self.residual_sd * sqrt(float(rows @ rows))
        )


@dataclass(frozen=True, slots=True)
class Belief:
    """Effects after a normal prior has met the data."""

    mean: tuple[float, ...]
    """Middle of the belief for each effect."""
    sd: tuple[float, ...]
    """Its standard deviation."""
    covariance: tuple[tuple[float, ...], ...]
    """Covariances of the effects."""

    def contrast(self, contrast: Sequence[float]) -> Estimate:
        """Return a combination of effects with its standard deviation (as ``se``)."""
        weights = _contrast(contrast, len(self.mean)).tolist()
        value = sum(w * m for w, m in zip(weights, self.mean, strict=True))
        variance = sum(
            u * v * cell
            for u, row in zip(weights, self.covariance, strict=True)
            for v, cell in zip(weights, row, strict=True)
        )
        return Estimate(value=value, se=sqrt(max(0.0, variance)))


def least_squares(x: Sequence[Sequence[float]], y: Sequence[float]) -> Fit:
    """Return the least-squares fit of ``y`` on the columns of ``x``, rank-deficient or not.

    Args:
        x: one row for each observation; add the column of ones for a constant yourself.
        y: observations, as many as rows.

    Columns are brought to unit length and the problem is solved by singular values, then once
    refined by its own residual; good for the certified digits of ill-conditioned sets.

    Raises:
        InputError: ragged or empty rows, unequal lengths, numbers that are not finite.

    **Source:** Golub and Van Loan, Matrix Computations, ch. 5 (from memory).
    """
    import numpy as np  # lazy: 0.1 s

    design, observed = _checked(x, y)
    scale = np.sqrt((design * design).sum(axis=0))
    scale[scale == 0.0] = 1.0
    left, sizes, right = np.linalg.svd(design / scale, full_matrices=True)
    rank = int((sizes > _TINY * max(sizes[0], _TINY)).sum())
    left = left[:, :rank]
    inverse = (right[:rank].T / sizes[:rank]) @ left.T / scale[:, None]
    solution = inverse @ observed
    solution = solution + inverse @ (observed - design @ solution)
    residual = observed - design @ solution
    dof = len(observed) - rank
    sd = sqrt(float(residual @ residual) / dof) if dof else None
    null = right[rank:].T
    apart = np.abs(null).max(axis=1, initial=0.0) <= _NOT_ESTIMABLE
    errors = np.sqrt((inverse * inverse).sum(axis=1))
    return Fit(
        coefficients=tuple(float(b) if ok else None for b, ok in zip(solution, apart, strict=True)),
        standard_errors=tuple(
            float(e) * sd if ok and sd is not None else None
            for e, ok in zip(errors, apart, strict=True)
        ),
        residual_sd=sd,
        dof=dof,
        rank=rank,
        n_null=design.shape[1] - rank,
        r_squared=_r_squared(observed, residual, left),
        _solution=solution,
        _inverse=inverse,
        _scale=scale,
        _null=null,
    )


def through_origin(x: Sequence[float], y: Sequence[float]) -> Fit:
    """Return the fit of ``y = b x`` without a constant; arguments as for :func:`least_squares`."""
    return least_squares([[value] for value in x], y)


def never_apart(x: Sequence[Sequence[float]]) -> tuple[tuple[int, ...], ...]:
    """Return the sets of columns that the data cannot tell apart, each in column order.

    Args:
        x: one row for each observation, as for :func:`least_squares`.

    Two columns belong to one set when the projection on the null space ties them. Parts always
    changed together come back as one set; parts told apart come back in none.

    **Source:** own derivation from the singular value decomposition.

    >>> never_apart([[1, 0, 0, 0], [1, 1, 1, 0], [1, 1, 1, 1]])
    ((1, 2),)
    """
    import numpy as np  # lazy: 0.1 s

    null = least_squares(x, [0.0] * len(x))._null
    tied = np.abs(null @ null.T) > _NOT_ESTIMABLE
    left = {index for index in range(len(tied)) if tied[index, index]}
    sets = []
    while left:
        members, edge = set[int](), {min(left)}
        while edge:
            members |= edge
            edge = {int(i) for m in edge for i in np.flatnonzero(tied[m])} - members
        sets.append(tuple(sorted(members)))
        left -= members
    return tuple(sets)


def normal_prior(
    x: Sequence[Sequence[float]],
    y: Sequence[float],
    sigma: float | Sequence[float],
    prior_sd: Sequence[float],
) -> Belief:
    """Return the effects after independent normal priors about zero have met the data.

    Args:
        x: one row for each observation, as for :func:`least_squares`.
        y: observations.
        sigma: their standard deviation, above zero: one for all, or one for each.
        prior_sd: standard deviation of the prior on each column's effect, above zero (large for
            the constant).

    ``(X'X/s^2 + diag(1/tau^2))^-1 X'y/s^2``, solved by QR of the data rows with one row more for
    each prior. Effects that were never tested apart share what was seen: show their sum.

    **Source:** Hoerl and Kennard, Technometrics 12 (1970) 55 (from memory); Gelman et al.,
    Bayesian Data Analysis, ch. 14 (from memory).
    """
    import numpy as np  # lazy: 0.1 s

    design, observed = _checked(x, y)
    each = [sigma] * len(observed) if isinstance(sigma, int | float) else list(sigma)
    if len(each) != len(observed) or len(prior_sd) != design.shape[1]:
        raise InputError("Give one spread for each observation and one prior for each column.")
    noise = np.array([above_zero(value, "Spread") for value in each])
    prior = np.array([above_zero(value, "Prior") for value in prior_sd])
    rows = np.vstack([design / noise[:, None], np.diag(1.0 / prior)])
    goal = np.concatenate([observed / noise, np.zeros(len(prior))])
    q, r = np.linalg.qr(rows)
    inverse = np.linalg.inv(r)
    covariance = inverse @ inverse.T
    return Belief(
        mean=tuple((inverse @ (q.T @ goal)).tolist()),
        sd=tuple(np.sqrt(np.diag(covariance)).tolist()),
        covariance=tuple(map(tuple, covariance.tolist())),
    )


def _checked(x: Sequence[Sequence[float]], y: Sequence[float]) -> tuple[np.ndarray, np.ndarray]:
    import numpy as np  # lazy: 0.1 s

    rows = [finite_values(row) for row in x]
    width = at_least(1, rows[0] if rows else 0, "The number of columns")
    if any(len(row) != width for row in rows) or len(rows) != len(y):
        raise InputError("Each observation needs one row, and all rows the same columns.")
    return np.array(rows), np.array(finite_values(y))


def _contrast(contrast: Sequence[float], width: int) -> np.ndarray:
    import numpy as np  # lazy: 0.1 s

    if len(contrast) != width:
        raise InputError(f"The contrast has {len(contrast)} weights for {width} columns.")
    return np.array(finite_values(contrast))


def _r_squared(observed: np.ndarray, residual: np.ndarray, basis: np.ndarray) -> float | None:
    """Share of the scatter explained; about the mean when the columns can make a constant."""
    ones = observed * 0.0 + 1.0
    missed = ones - basis @ (basis.T @ ones)
    about = observed - observed.mean() if float(missed @ missed) < 1e-12 * len(ones) else observed
    whole = float(about @ about)
    return 1.0 - float(residual @ residual) / whole if whole > 0.0 else None
