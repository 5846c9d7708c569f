"""The sums a linear model over sessions is worked out from; those of several logs are added."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.errors import InputError
from core.stats.blocks import Column, Layout

if TYPE_CHECKING:
    import numpy as np

__all__ = ["SumMaker", "Sums", "added"]

_MOST_KINDS = 48  # day weights that are told apart before each ratio gets its own product


@dataclass(frozen=True, slots=True, eq=False)
class Sums:
    """Weighted products of columns and values at each of several day ratios; they add.

    A day ratio is the variance between days over the variance of one observation. Each machine's
    constant and each taken-out drift is already projected away, so sums of logs that hold
    different machines may be added in any order.
    """

    columns: tuple[Column, ...]
    ratios: tuple[float, ...]
    gram: np.ndarray  # ratio x column x column
    product: np.ndarray  # ratio x column: columns times values
    square: np.ndarray  # ratio: values times values
    log_det: np.ndarray  # ratio: logarithm of the determinant of the rows' covariance
    size: np.ndarray  # column: weighted square of it, before anything is projected away
    rows: int  # blocks less machines and drifts
    ss: float  # within the blocks, with its degrees of freedom
    dof: float
    weighted: float  # sum of weight times value, and of weight
    total: float

    def __add__(self, other: Sums) -> Sums:
        """Add the sums of another log; columns are matched by name."""
        return added((self, other))


def added(parts: Sequence[Sums]) -> Sums:
    """Return the sums of all logs together.

    Args:
        parts: one or more, formed at the same ratios, of logs without a machine in common.

    Raises:
        InputError: there is none, or the ratios differ.
    """
    import numpy as np  # lazy: 0.1 s

    if not parts:
        raise InputError("There are no sums to add.")
    ratios = parts[0].ratios
    if any(part.ratios != ratios for part in parts):
        raise InputError("The sums were formed at different day ratios: they cannot be added.")
    columns = tuple(sorted({column for part in parts for column in part.columns}))
    at = {column: index for index, column in enumerate(columns)}
    width, count = len(columns), len(ratios)
    gram, product = np.zeros((count, width, width)), np.zeros((count, width))
    size = np.zeros(width)
    for part in parts:
        where = np.array([at[column] for column in part.columns], dtype=int)
        gram[:, where[:, None], where] += part.gram
        product[:, where] += part.product
        size[where] += part.size
    return Sums(
        columns=columns,
        ratios=ratios,
        gram=gram,
        product=product,
        square=np.sum([part.square for part in parts], axis=0),
        log_det=np.sum([part.log_det for part in parts], axis=0),
        size=size,
        rows=sum(part.rows for part in parts),
        ss=sum(part.ss for part in parts),
        dof=sum(part.dof for part in parts),
        weighted=sum(part.weighted for part in parts),
        total=sum(part.total for part in parts),
    )


@dataclass(frozen=True, slots=True, eq=False)
class SumMaker:
    """Blocks of one log, added up as far as that goes without knowing the day ratio."""

    layout: Layout
    noise: float  # variance of one observation, to put the doubt of allowances beside it
    whole: np.ndarray  # products of columns and values, as if all days were alike
    day_weight: np.ndarray  # by day
    day_z: np.ndarray  # by day: weighted columns and value
    owner: np.ndarray  # by day: index of its machine
    tilt: np.ndarray  # by drifting day: columns and value times weighted moments, to unit size
    kinds: _Kinds | None

    @classmethod
    def of(cls, layout: Layout, noise: float = 1.0) -> SumMaker:
        """Return the maker for a log's blocks.

        Args:
            layout: of the log's blocks.
            noise: variance of one observation of weight 1, in the values' unit squared.
        """
        import numpy as np  # lazy: 0.1 s

        z, weight, drifting = layout.z, layout.weight, layout.has_drift
        weighted = z * weight[:, None]
        one_each = len(layout.first) == len(z)
        add = np.add.reduceat
        day_weight = weight if one_each else add(weight, layout.first)
        day_z = weighted if one_each else add(weighted, layout.first, axis=0)
        tilt = np.zeros((0, z.shape[1]))
        if drifting.any():
            by_moment = layout.drift * weight
            tilt = add(by_moment[:, None] * z, layout.first, axis=0)[drifting]
            tilt /= np.sqrt(add(by_moment * layout.drift, layout.first)[drifting])[:, None]
        sizes = np.diff([*layout.first_day, len(layout.first)])
        owner = np.repeat(np.arange(len(layout.first_day)), sizes)
        kinds = _Kinds.of(day_weight, layout.doubt, day_z, owner)
        if kinds is not None and one_each:  # the kinds' products are weighted once more
            whole = np.tensordot(1.0 / kinds.weight, kinds.product, axes=1)
        else:
            whole = weighted.T @ z
        return cls(
            layout=layout,
            noise=noise,
            whole=whole,
            day_weight=day_weight,
            day_z=day_z,
            owner=owner,
            tilt=tilt,
            kinds=kinds,
        )

    def at(self, ratios: Sequence[float]) -> Sums:
        """Return the sums at each of these day ratios.

        Args:
            ratios: variance between days over variance of one observation, above zero.

        With weights D of a day's blocks the inverse covariance is ``D - k D11'D``,
        ``k = r / (1 + r 1'D1)``; a drift t about its day's middle is projected away by
        subtracting ``Dtt'D / t'Dt``, a machine's constant likewise.

        **Source:** Sherman and Morrison (1950) for the inverse; restricted likelihood for what
        is projected away (Searle, Casella and McCulloch, Variance Components, 1992, from memory).
        """
        import numpy as np  # lazy: 0.1 s

        layout = self.layout
        products = np.empty((len(ratios), *self.whole.shape))
        log_dets = [self._at(ratio, into) for ratio, into in zip(ratios, products, strict=True)]
        log_weight = float(np.log(layout.weight).sum())
        return Sums(
            columns=layout.columns,
            ratios=tuple(float(ratio) for ratio in ratios),
            gram=products[:, :-1, :-1],
            product=products[:, :-1, -1],
            square=products[:, -1, -1],
            log_det=np.array(log_dets) - log_weight,
            size=np.diag(self.whole)[:-1].copy(),
            rows=len(layout.z) - len(layout.first_day) - len(self.tilt),
            ss=layout.ss,
            dof=layout.dof,
            weighted=layout.level * layout.total,
            total=layout.total,
        )

    def _at(self, ratio: float, into: np.ndarray) -> float:
        """Put products of columns and values at one ratio in; return the log determinant."""
        import numpy as np  # lazy: 0.1 s

        first_day, kinds = self.layout.first_day, self.kinds
        between = ratio + self.layout.doubt / self.noise
        share = between / (1.0 + between * self.day_weight)  # k of each day
        left = 1.0 - share * self.day_weight
        constant = np.add.reduceat(self.day_weight * left, first_day)
        if kinds is None:
            taken = (self.day_z * share[:, None]).T @ self.day_z
            sides = np.add.reduceat(self.day_z * left[:, None], first_day, axis=0)
        else:
            spread = ratio + kinds.doubt / self.noise
            k = spread / (1.0 + spread * kinds.weight)
            taken = np.tensordot(k, kinds.product, axes=1)
            sides = np.tensordot(1.0 - k * kinds.weight, kinds.total, axes=(0, 1))
        np.subtract(self.whole, taken, out=into)
        into -= (sides / constant[:, None]).T @ sides
        if len(self.tilt):  # moments are about their day's middle: nothing else is touched
            into -= self.tilt.T @ self.tilt
        return float(np.log1p(between * self.day_weight).sum() + np.log(constant).sum())


@dataclass(frozen=True, slots=True, eq=False)
class _Kinds:
    """Days of the same weight and doubt added up once, because there are thousands of days."""

    weight: np.ndarray  # by kind
    doubt: np.ndarray
    product: np.ndarray  # by kind: products of the days' totals
    total: np.ndarray  # by machine and kind: sum of the days' totals

    @classmethod
    def of(
        cls, weight: np.ndarray, doubt: np.ndarray, day_z: np.ndarray, owner: np.ndarray
    ) -> _Kinds | None:
        """Return them; None where there are too many kinds or machines to gain anything."""
        import numpy as np  # lazy: 0.1 s

        pairs, kind = np.unique(np.column_stack([weight, doubt]), axis=0, return_inverse=True)
        machines = int(owner[-1]) + 1
        if len(pairs) > _MOST_KINDS or machines * len(pairs) > len(weight):
            return None
        kind = kind.reshape(-1)
        product, total = [], np.zeros((machines, len(pairs), day_z.shape[1]))
        for k in range(len(pairs)):
            mine = np.flatnonzero(kind == k)
            rows, owners = day_z[mine], owner[mine]
            product.append(rows.T @ rows)
            starts = np.flatnonzero(np.diff(owners, prepend=-1))
            total[owners[starts], k] = np.add.reduceat(rows, starts, axis=0)
        return cls(pairs[:, 0], pairs[:, 1], np.array(product), total)
