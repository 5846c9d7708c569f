"""How well the same thing repeats: within a session, pooled over sessions, and from day to day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from core.errors import InputError, UnknownInputError
from core.stats.days import SessionMean, day_posterior
from core.stats.guard import above_zero, at_least, finite, finite_values, not_negative
from core.stats.student import t_quantile
from core.stats.summary import centre, squares_about_mean

__all__ = [
    "ISO_FACTOR",
    "BetweenSessions",
    "Repeatability",
    "SessionMean",
    "Spread",
    "SumOfSquares",
    "between_sessions",
    "day_spread",
    "pooled_repeatability",
    "posterior_spread",
    "resolution_floor",
    "two_way_within",
    "within",
]

ISO_FACTOR = 2.8
"""Repeatability limit over repeatability sd, 1.96 sqrt(2) rounded. Source: ISO 5725-6:1994, 4.1."""


@dataclass(frozen=True, slots=True)
class SumOfSquares:
    """Squared deviations about their own means, with the degrees of freedom they carry; adds."""

    ss: float = 0.0
    """Sum of squares, in the values' unit squared."""
    dof: float = 0
    """Degrees of freedom: values less means taken out."""

    def __add__(self, other: SumOfSquares) -> SumOfSquares:
        """Pool two sums of squares, as ``sum(sums, SumOfSquares())`` does for many."""
        return SumOfSquares(self.ss + other.ss, self.dof + other.dof)

    def scaled(self, factor: float) -> SumOfSquares:
        """Return the sum of squares of values times ``factor``; the degrees of freedom stay.

        With factor ``1/sqrt(2)`` the scatter of single attempts becomes that of a pair's mean.
        """
        return SumOfSquares(self.ss * factor * factor, self.dof)

    @property
    def sd(self) -> float | None:
        """Pooled standard deviation, in the values' unit; None without a degree of freedom."""
        return sqrt(self.ss / self.dof) if self.dof > 0 else None


@dataclass(frozen=True, slots=True)
class Spread:
    """A standard deviation and how well it is known: a scaled inverse chi-square law."""

    sd: float
    """Standard deviation, in the values' unit."""
    dof: float
    """Degrees of freedom in all, prior included."""
    own_dof: float
    """Degrees of freedom that came from attempts: what is known beyond the prior."""


@dataclass(frozen=True, slots=True)
class Repeatability:
    """Pooled repeatability of sessions without any prior."""

    s_r: float
    """Repeatability standard deviation, in the values' unit."""
    dof: float
    """Its degrees of freedom."""
    limit: float
    """Difference of two single values that 95 % stay under if s_r were known well: 2.8 s_r."""
    limit_t: float
    """The same with s_r only as well known as it is: t sqrt(2) s_r."""


@dataclass(frozen=True, slots=True)
class BetweenSessions:
    """Scatter of sessions beyond what their own attempts explain."""

    s_r: float
    """Repeatability standard deviation within the sessions, in the values' unit."""
    between_sd: float
    """Standard deviation between sessions, in the values' unit; never below 0."""
    negative: bool
    """The variance came out below zero and was set to zero: days add nothing that can be seen."""


def within(groups: Iterable[Sequence[float]]) -> SumOfSquares:
    """Return the pooled sum of squares of ``groups`` about each group's own mean.

    Args:
        groups: values by session (or any group with one true mean). A group of one adds nothing.

    ``ss = sum_i (n_i - 1) s_i^2``, ``dof = sum_i (n_i - 1)``.

    **Source:** ISO 5725-2:1994, 7.4.
    """
    ss, dof = 0.0, 0
    for group in groups:
        numbers = finite_values(group)
        if numbers:
            ss += squares_about_mean(numbers)
            dof += len(numbers) - 1
    return SumOfSquares(ss, dof)


def two_way_within(values: Sequence[float], groups: Sequence[Hashable]) -> SumOfSquares:
    """Return the sum of squares of one session's values about the mean of their own direction.

    Args:
        values: single attempts of one session.
        groups: the direction of each, equally long. Each direction's mean costs a degree of
            freedom, so that the difference of the directions is no part of the scatter.

    Raises:
        InputError: the two are not equally long.
    """
    if len(values) != len(groups):
        raise InputError(f"{len(values)} values but {len(groups)} directions: give one for each.")
    by_direction: defaultdict[Hashable, list[float]] = defaultdict(list)
    for value, group in zip(values, groups, strict=True):
        by_direction[group].append(value)
    return within(by_direction.values())


def resolution_floor(resolution: float) -> float:
    """Return the standard deviation that rounding to ``resolution`` alone brings.

    ``resolution / sqrt(12)``, the sd of a uniform error one step wide, in the resolution's unit.

    **Source:** JCGM 100:2008 (GUM), 4.3.7 (from memory).
    """
    return not_negative(resolution, "Resolution") / sqrt(12.0)


def posterior_spread(
    prior_sd: float, prior_dof: float, ss: SumOfSquares, floor: float = 0.0
) -> Spread:
    """Return the spread after a prior guess has met the pooled scatter of attempts.

    Args:
        prior_sd: the usual standard deviation, above zero, in the values' unit.
        prior_dof: how many degrees of freedom that guess is worth, zero or more.
        ss: pooled sum of squares of attempts; its degrees of freedom may be none.
        floor: the least the answer may be (what the timer's resolution alone brings).

    ``sd^2 = (nu0 s0^2 + ss) / (nu0 + dof)``: a scaled inverse chi-square prior on the variance.

    Raises:
        UnknownInputError: neither the prior nor the attempts carry a degree of freedom.

    **Source:** Gelman et al., Bayesian Data Analysis, section 2.6 (from memory).

    >>> posterior_spread(0.10, 4, SumOfSquares(0.0, 0))
    Spread(sd=0.1, dof=4, own_dof=0)
    """
    guess = above_zero(prior_sd, "Usual spread")
    weight = not_negative(prior_dof, "Weight of the usual spread")
    dof = weight + ss.dof
    if dof <= 0:
        raise UnknownInputError(
            "The spread is unknown: no usual spread and no session with two or more attempts.",
            missing=("spread",),
        )
    variance = (weight * guess * guess + not_negative(ss.ss, "Sum of squares")) / dof
    least = not_negative(floor, "The least spread")
    return Spread(sd=max(sqrt(variance), least), dof=prior_dof + ss.dof, own_dof=ss.dof)


def pooled_repeatability(groups: Iterable[Sequence[float]], level: float = 0.95) -> Repeatability:
    """Return the pooled repeatability of ``groups`` with its limits, without any prior.

    ``s_r^2 = sum (n_i - 1) s_i^2 / sum (n_i - 1)``; limits ``2.8 s_r`` and
    ``t_{(1+level)/2, dof} sqrt(2) s_r``.

    Raises:
        UnknownInputError: no group holds two or more values.

    **Source:** ISO 5725-2:1994, 7.4; ISO 5725-6:1994, 4.1; the t form is plain Student.
    """
    pooled = within(groups)
    s_r = pooled.sd
    if s_r is None:
        raise UnknownInputError(
            "No session with two or more attempts: the repeatability is unknown.",
            missing=("repeats",),
        )
    factor = t_quantile((1.0 + level) / 2.0, pooled.dof) * sqrt(2.0)
    return Repeatability(s_r=s_r, dof=pooled.dof, limit=ISO_FACTOR * s_r, limit_t=factor * s_r)


def between_sessions(groups: Sequence[Sequence[float]]) -> BetweenSessions:
    """Return the between-session standard deviation of equally long sessions of one build.

    ``s_L^2 = (MSB - s_r^2) / n`` (one-way random effects), set to 0 when negative.

    Raises:
        OutOfRangeError: fewer than two sessions, or fewer than two values in one.
        InputError: the sessions are not equally long (``day_spread`` takes those).

    **Source:** ISO 5725-2:1994, 7.4; NIST/SEMATECH e-Handbook 3.2.3.
    """
    at_least(2, groups, "The number of sessions")
    sizes = {len(group) for group in groups}
    if len(sizes) > 1:
        counts = ", ".join(str(size) for size in sorted(sizes))
        raise InputError(f"Sessions of {counts} attempts: this sum needs the same in each.")
    size = at_least(2, sizes.pop(), "The number of attempts in a session")
    pooled = within(groups)
    mean_square = pooled.ss / pooled.dof
    means = [centre(finite_values(group)) for group in groups]
    between_square = size * squares_about_mean(means) / (len(means) - 1)
    excess = (between_square - mean_square) / size
    return BetweenSessions(
        s_r=sqrt(mean_square), between_sd=sqrt(max(0.0, excess)), negative=excess < 0.0
    )


def day_spread(
    groups: Iterable[Sequence[tuple[float, int]]],
    within_variance: float,
    prior_sd: float,
    prior_dof: float = 3,
) -> Spread:
    """Return the standard deviation between sessions of one build, a prior guess included.

    Args:
        groups: for each build (same sheet, place and test) its sessions as :class:`SessionMean`
            or ``(mean, n)``, n may differ. A build run once adds nothing.
        within_variance: spread within a session, squared; taken as known.
        prior_sd: the usual day-to-day standard deviation, above zero, in the means' unit.
        prior_dof: how many degrees of freedom that guess is worth, above zero.

    Returns:
        The spread; ``own_dof`` counts sessions less builds. Without repeats it is the prior.

    **Source:** own derivation (:func:`core.stats.days.day_posterior`); the likelihood is that of
    restricted maximum likelihood for one-way random effects (Searle, Casella and McCulloch,
    Variance Components, 1992, from memory).
    """
    guess = above_zero(prior_sd, "Usual day spread")
    weight = above_zero(prior_dof, "Weight of the usual day spread")
    noise = not_negative(within_variance, "Variance within a session")
    builds = [[_checked(session) for session in group] for group in groups]
    repeats = [build for build in builds if len(build) > 1]
    if not repeats:
        return Spread(sd=guess, dof=prior_dof, own_dof=0)
    sd, dof = day_posterior(repeats, noise, guess, weight)
    return Spread(sd=sd, dof=dof, own_dof=sum(len(build) - 1 for build in repeats))


def _checked(session: tuple[float, int]) -> SessionMean:
    mean, count = session
    at_least(1, count, "The number of attempts in a session")
    return SessionMean(finite(mean, "A session's mean"), count)
