"""What each level of each factor did: a normal prior meets the sums of many sessions."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt
from typing import TYPE_CHECKING

from core.errors import UnknownInputError
from core.stats.blocks import Column
from core.stats.guard import above_zero, not_negative
from core.stats.mixtures import Known, mixed
from core.stats.sums import Sums

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Contrast", "Parted", "Usual", "part"]

Contrast = Mapping[Column, float]
"""Weights of levels; those of each factor sum to zero."""

_SumsAt = Callable[[Sequence[float]], Sums]  # forms the sums of all logs at these day ratios
_NULL = 1e-9  # an eigenvalue below this share of the largest counts as zero (unit columns)
_NOT_ESTIMABLE = 1e-5  # share of a contrast in the null space above which it cannot be told
_TIE = 1e-12  # squared entry of the projection on the null space above which two columns are tied
_POINTS = 11  # day ratios looked at in one go
_REACH = (-8.0, 8.0)  # logarithms of the first ones
_PASSES = 8


@dataclass(frozen=True, slots=True)
class Usual:
    """What is believed before any session, in the unit of the values."""

    sd: float
    """Usual standard deviation of one observation of weight 1."""
    dof: float
    """Degrees of freedom that guess is worth."""
    day_sd: float
    """Usual standard deviation between days."""
    day_dof: float
    """Degrees of freedom that guess is worth."""
    effect_sd: float
    """Standard deviation of the difference that two levels of a factor may make."""
    least_sd: float = 0.0
    """The least one observation scatters: what rounding alone brings."""


@dataclass(frozen=True, slots=True, eq=False)
class Parted:
    """Effects as far as they can be told apart, and what cannot."""

    columns: tuple[Column, ...]
    noise_sd: float
    """Standard deviation of one observation of weight 1."""
    day_sd: float
    """Standard deviation between days."""
    rows: int
    """Blocks less machines and drifts: what the effects share among them."""
    _at: Mapping[Column, int] = field(repr=False)
    _null: np.ndarray = field(repr=False)  # column x direction: what no session can tell
    _scale: np.ndarray = field(repr=False)  # column
    _mean: np.ndarray = field(repr=False)  # ratio x column
    _covariance: np.ndarray = field(repr=False)  # ratio x column x column
    _chance: np.ndarray = field(repr=False)  # ratio
    _dof: float = field(repr=False)

    def estimable(self, contrasts: Sequence[Contrast]) -> tuple[bool, ...]:
        """Tell for each contrast whether the sessions can tell it apart from all others.

        A contrast is estimable if and only if it is orthogonal to the null space of the columns.

        **Source:** Searle, Linear Models (1971), section 5.4 (from memory).
        """
        weights = self._weights(contrasts) / self._scale
        lost = weights @ self._null
        found = (lost * lost).sum(axis=1) <= _NOT_ESTIMABLE**2 * (weights * weights).sum(axis=1)
        return tuple(bool(one) for one in found)

    def known(self, contrasts: Sequence[Contrast]) -> tuple[Known, ...]:
        """Return each contrast with its range, whatever the day spread turns out to be.

        Raises:
            UnknownInputError: one of them is not estimable.
        """
        if not contrasts:
            return ()
        if not all(self.estimable(contrasts)):
            raise UnknownInputError("These were never tested apart.", ("a test apart",))
        weights = self._weights(contrasts)
        means = weights @ self._mean.T  # contrast x ratio
        variances = ((weights @ self._covariance) * weights).sum(axis=2).T
        return mixed(means, variances, self._chance, self._dof)

    def belief_covariance(self) -> np.ndarray:
        """Return the covariance of all levels' effects, whatever the days may do.

        Also where they were never told apart: there the prior alone speaks.
        """
        import numpy as np  # lazy: 0.1 s

        off = self._mean - self._chance @ self._mean
        within = np.tensordot(self._chance, self._covariance, axes=1)
        between = (off * self._chance[:, None]).T @ off
        whole: np.ndarray = within + between
        return whole

    def tied(self) -> tuple[tuple[str, ...], ...]:
        """Return the sets of factors that were never tested apart, each sorted.

        Two factors belong to one set when the projection on the null space ties their levels.
        """
        import numpy as np  # lazy: 0.1 s

        factors = [factor for factor, _ in self.columns]
        names = tuple(dict.fromkeys(factors))
        member = np.array([[name == factor for factor in factors] for name in names], dtype=float)
        projection = self._null @ self._null.T
        strength = member @ (projection * projection) @ member.T
        ties = strength > _TIE
        return _joined(names, ties)

    def _weights(self, contrasts: Sequence[Contrast]) -> np.ndarray:
        import numpy as np  # lazy: 0.1 s

        rows = np.zeros((len(contrasts), len(self.columns)))
        for row, contrast in zip(rows, contrasts, strict=True):
            for column, weight in contrast.items():
                row[self._at[column]] = weight
        return rows


def _joined(names: Sequence[str], ties: np.ndarray) -> tuple[tuple[str, ...], ...]:
    """Names that hang together, from who is tied to whom; one tied to nobody is left out."""
    left = {i for i in range(len(names)) if ties[i, i]}
    sets = []
    while left:
        members, edge = set[int](), {min(left)}
        while edge:
            members |= edge
            edge = {j for i in edge for j in left if ties[i, j]} - members
        sets.append(tuple(sorted(names[i] for i in members)))
        left -= members
    return tuple(sorted(sets))


def part(sums_at: _SumsAt, usual: Usual) -> Parted:
    """Return what each level did.

    Args:
        sums_at: forms the sums at day ratios; it is called again with finer ones.
        usual: what is believed before.

    For each day ratio the model is conjugate: effects normal, the variance of one observation
    scaled inverse chi-square. The ratio itself is integrated over a grid of its logarithm, which
    is narrowed until the belief spans several points.

    **Source:** Gelman et al., Bayesian Data Analysis, ch. 14 and 15 (from memory); Hoerl and
    Kennard, Technometrics 12 (1970) 55, for the prior as a ridge (from memory).

    Raises:
        UnknownInputError: no factor has two levels.
    """
    import numpy as np  # lazy: 0.1 s

    low, high = _REACH
    for _ in range(_PASSES):
        grid = np.linspace(low, high, _POINTS)
        sums = sums_at(tuple(np.exp(grid).tolist()))
        if not sums.columns:
            raise UnknownInputError("Nothing was ever changed.", ("a change",))
        scatter = _scatter(sums, usual)
        chance = _chances(grid, scatter, sums, usual)
        middle = float(chance @ grid)
        width = sqrt(float(chance @ (grid - middle) ** 2))
        step = (high - low) / (_POINTS - 1)
        if width > 0.85 * step and min(middle - low, high - middle) > 3.5 * width:
            break
        reach = 4.0 * width + 0.6 * step
        low, high = middle - reach, middle + reach
    return _parted(sums, grid, chance, scatter)


@dataclass(frozen=True, slots=True, eq=False)
class _Scatter:
    """The variance of one observation before and after the effects were taken out."""

    variance: float  # plug-in for the prior's share
    information: np.ndarray  # ratio x column x column, with the prior's
    log_det: np.ndarray  # ratio: of the information
    after: np.ndarray  # ratio: posterior scale of the variance
    dof: float  # of it


def _scatter(sums: Sums, usual: Usual) -> _Scatter:
    import numpy as np  # lazy: 0.1 s

    guess = above_zero(usual.sd, "Usual spread")
    dof = not_negative(usual.dof, "Weight of the usual spread") + sums.dof
    least = usual.least_sd**2
    variance = max((usual.dof * guess * guess + sums.ss) / dof, least)
    ridge = 2.0 * variance / above_zero(usual.effect_sd, "Usual effect") ** 2
    width = len(sums.columns)
    whole = np.empty((len(sums.ratios), width + 1, width + 1))
    whole[:, :-1, :-1] = sums.gram
    every = np.arange(width)
    whole[:, every, every] += ridge
    whole[:, :-1, -1] = whole[:, -1, :-1] = sums.product
    room = sums.square + variance  # what is added here is taken off below; it keeps all above zero
    whole[:, -1, -1] = sums.square + room
    diagonal = np.diagonal(np.linalg.cholesky(whole), axis1=1, axis2=2)
    rest = np.maximum(0.0, diagonal[:, -1] ** 2 - room)
    after_dof = dof + sums.rows
    return _Scatter(
        variance=variance,
        information=whole[:, :-1, :-1],
        log_det=2.0 * np.log(diagonal[:, :-1]).sum(axis=1),
        after=np.maximum((dof * variance + rest) / after_dof, least),
        dof=after_dof,
    )


def _chances(grid: np.ndarray, scatter: _Scatter, sums: Sums, usual: Usual) -> np.ndarray:
    """Chance of each day ratio, its scaled inverse chi-square prior included."""
    import numpy as np  # lazy: 0.1 s

    guess = above_zero(usual.day_sd, "Usual day spread") ** 2 / scatter.variance
    prior = -0.5 * usual.day_dof * (grid + guess * np.exp(-grid))
    fit = -0.5 * (sums.log_det + scatter.log_det + scatter.dof * np.log(scatter.after))
    density = prior + fit
    chance = np.exp(density - density.max())
    answer: np.ndarray = chance / chance.sum()
    return answer


def _parted(sums: Sums, grid: np.ndarray, chance: np.ndarray, scatter: _Scatter) -> Parted:
    import numpy as np  # lazy: 0.1 s

    scale = np.sqrt(sums.size)
    inverse = np.linalg.inv(scatter.information)
    return Parted(
        columns=sums.columns,
        noise_sd=sqrt(float(chance @ scatter.after)),
        day_sd=sqrt(float(chance @ (scatter.after * np.exp(grid)))),
        rows=sums.rows,
        _at={column: index for index, column in enumerate(sums.columns)},
        _null=_null_space(sums, sums.gram[int(chance.argmax())], scale),
        _scale=scale,
        _mean=(inverse @ sums.product[:, :, None])[:, :, 0],
        _covariance=inverse * scatter.after[:, None, None],
        _chance=chance,
        _dof=scatter.dof,
    )


def _null_space(sums: Sums, gram: np.ndarray, scale: np.ndarray) -> np.ndarray:
    """Directions that no session can tell, over all columns; each factor's first level is zero.

    Singular values of the symmetric information, columns at unit length. The first level of each
    factor is left out, because only differences within a factor mean anything.
    """
    import numpy as np  # lazy: 0.1 s

    seen: set[str] = set()
    kept = []
    for index, (factor, _) in enumerate(sums.columns):
        if factor in seen:
            kept.append(index)
        seen.add(factor)
    null = np.zeros((len(scale), 0))
    if kept:
        unit = gram[np.ix_(kept, kept)] / np.outer(scale[kept], scale[kept])
        vectors, sizes, _ = np.linalg.svd(unit, hermitian=True)
        flat = sizes <= _NULL * max(1.0, float(sizes.max(initial=0.0)))
        null = np.zeros((len(scale), int(flat.sum())))
        null[kept] = vectors[:, flat]
    return null
