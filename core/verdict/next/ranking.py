"""Which swap tells most: each one's test weighed by what it sharpens and what it costs."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.attempts import Test
from core.stats import Column, Parted, sharpened
from core.verdict.effects import CIRCUMSTANCES
from core.verdict.next.efforts import ATTEMPT_MINUTES, HALF_DAY, SET_UP_MINUTES
from core.verdict.next.results import Swap

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Ranked", "Running", "rank"]

_USUAL_SHARE = 0.05  # usual size of what one part does, as a share of the typical value
_ENOUGH_SHARE = 0.01  # an answer sharper than this share needs no more, where no gain is said
_NORMAL = 1.959963984540054
_NOTHING = 0.05  # sharpening below which a swap tells nothing: a range narrower by 5 in 100


@dataclass(frozen=True)
class Running:
    """How the next test would be run, and what is known before it."""

    test: Test
    parted: Parted | None  # None: nothing ever varied
    noise_sd: float  # of one observation with the gear used last
    day_sd: float
    effect_sd: float  # prior of a difference never tested
    level: float  # typical value
    gain: float | None
    two_way: bool
    last_pairs: int  # observations of the present build on its last day; 0: it never ran the test


@dataclass(frozen=True)
class Ranked:
    """A swap with what its test would do."""

    swap: Swap
    pairs: int
    minutes: float
    rate: float  # sharpening per half-day
    about: str  # label-giving factor of the question it sharpens most
    toward: Column  # the level of it that is asked about
    width_before: float  # 95 % half range
    width_after: float

    @property
    def half_days(self) -> float:
        """Length of the test in half-days."""
        return self.minutes / HALF_DAY


def rank(
    swaps: Sequence[Swap], running: Running, about: Collection[str] = ()
) -> tuple[Ranked, ...]:
    """Return swaps, those that can be undone at the strip first, then by what they tell.

    Args:
        swaps: that could be made.
        running: how the next test would be run.
        about: slots whose effect is wanted; none: every slot that may be swapped.

    A swap at the strip is run A-B-A, so that day and steady drift fall out: variance
    ``1.5 s^2 / n``. One at the bench is run on another day, against the last day of the present
    build: ``2 day^2 + s^2 (1/n + 1/m)``. The answer to a question is as sharp as its standard
    deviation is small; a swap's worth is the sum over slots (the mean over a slot's levels) of the
    logarithm of before over after, for each half-day it takes. What tells nothing is left out.

    **Source:** own derivation; see :func:`core.stats.sharpened`.
    """
    belief = _Belief.of(swaps, running)
    questions = belief.questions(about)
    ranked = [_ranked(swap, running, belief, questions) for swap in swaps] if questions else []
    ranked = [one for one in ranked if one.rate * one.half_days > _NOTHING]
    return tuple(sorted(ranked, key=lambda r: (not r.swap.at_strip, -r.rate, r.minutes)))


@dataclass(frozen=True)
class _Belief:
    """What is believed of all levels that are known or could be run."""

    columns: tuple[Column, ...]
    covariance: np.ndarray
    now: dict[str, Column]  # present level of each slot

    @classmethod
    def of(cls, swaps: Sequence[Swap], running: Running) -> _Belief:
        """Return the belief after all sessions, with levels that never ran at their prior."""
        import numpy as np  # lazy: 0.1 s

        parted = running.parted
        known = parted.columns if parted else ()
        asked = dict.fromkeys(c for swap in swaps for c in (swap.before, swap.after))
        fresh = tuple(column for column in asked if column not in known)
        covariance = np.diag(np.full(len(known) + len(fresh), running.effect_sd**2 / 2.0))
        if parted is not None:
            covariance[: len(known), : len(known)] = parted.belief_covariance()
        return cls((*known, *fresh), covariance, {swap.slot: swap.before for swap in swaps})

    def questions(self, about: Collection[str]) -> list[tuple[Column, Column]]:
        """Return what is wanted: each other level of a slot against the present one."""
        return [
            (self.now[column[0]], column)
            for column in self.columns
            if column[0] in self.now
            and column[0] not in CIRCUMSTANCES
            and column != self.now[column[0]]
            and (not about or column[0] in about)
        ]

    def contrast(self, before: Column, after: Column) -> list[float]:
        """Return the weights of one level less another."""
        row = [0.0] * len(self.columns)
        row[self.columns.index(after)] += 1.0
        row[self.columns.index(before)] -= 1.0
        return row


def _ranked(
    swap: Swap, running: Running, belief: _Belief, questions: Sequence[tuple[Column, Column]]
) -> Ranked:
    pairs = running.test.minimum
    minutes, variance = _cost(swap, running, pairs), _variance(swap, running, pairs)
    slots = [after[0] for _, after in questions]
    enough = running.gain / _NORMAL if running.gain else _ENOUGH_SHARE * running.level
    found = sharpened(
        belief.covariance,
        belief.contrast(swap.before, swap.after),
        variance,
        [belief.contrast(*question) for question in questions],
        [1.0 / slots.count(after[0]) for _, after in questions],
        _USUAL_SHARE * running.level,
        enough,
    )
    best = max(range(len(questions)), key=lambda i: found.before[i] / found.after[i])
    return Ranked(
        swap=swap,
        pairs=pairs,
        minutes=minutes,
        rate=found.total / (minutes / HALF_DAY),
        about=questions[best][1][0],
        toward=questions[best][1],
        width_before=_NORMAL * found.before[best],
        width_after=_NORMAL * found.after[best],
    )


def _cost(swap: Swap, running: Running, pairs: int) -> float:
    """Minutes of the whole test: setting up, every attempt, every swap with its checks."""
    attempts = pairs * (2 if running.two_way else 1) * ATTEMPT_MINUTES
    one_swap = swap.swap_minutes + swap.check_minutes + swap.cool_minutes
    if swap.at_strip:
        return SET_UP_MINUTES + 3 * attempts + 2 * one_swap
    days = 1 if running.last_pairs else 2  # the present build has to be run as well
    return days * (SET_UP_MINUTES + attempts) + one_swap


def _variance(swap: Swap, running: Running, pairs: int) -> float:
    noise = running.noise_sd**2
    if swap.at_strip:
        return 1.5 * noise / pairs
    return 2.0 * running.day_sd**2 + noise * (1.0 / pairs + 1.0 / (running.last_pairs or pairs))
