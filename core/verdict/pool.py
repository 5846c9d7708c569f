"""What the whole log says about repeatability: within sessions, and from day to day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import sqrt

from core.attempts import find_test, resolution_of, usual_sd
from core.session import Session, SessionHead
from core.stats import (
    Spread,
    SumOfSquares,
    day_spread,
    posterior_spread,
    resolution_floor,
)
from core.verdict.day_air import DayAir
from core.verdict.shares import Shares, gather

__all__ = ["DAY_PRIOR_DOF", "DAY_PRIOR_SHARE", "PRIOR_DOF", "Pool", "pool_of"]

PRIOR_DOF = 4.0  # what the usual sd of a test counts for beside the log's own attempts
DAY_PRIOR_DOF = 3.0  # the same for the usual day spread
DAY_PRIOR_SHARE = 0.02  # usual day spread as a share of the typical value; common practice


@dataclass(frozen=True)
class Pool:
    """Repeatability of one machine on one test with one timing gear."""

    test: str
    timing: str
    single: SumOfSquares  # attempts about their direction's mean, every session
    pair: SumOfSquares  # pair means about their sheet's mean, every session
    one_way: SumOfSquares  # attempts of one-way sessions about their sheet's mean
    step: float  # smallest step of the timing gear, or the coarser one the values show
    typical: float | None  # mean of all observations, in the test's unit
    shares: Shares = field(repr=False, compare=False)  # what each session added

    @property
    def sessions(self) -> int:
        """How many sessions added to it."""
        return self.shares.sessions

    def _prior(self) -> float:
        test = find_test(self.test)
        return usual_sd(test, self.timing, self.typical)

    def attempt_spread(self) -> Spread:
        """Return the spread of a single attempt once its direction's mean is taken out."""
        return posterior_spread(self._prior(), PRIOR_DOF, self.single, self._floor())

    def spread(self, kind: str) -> Spread:
        """Return the spread of one observation, ``pair`` or ``attempt``.

        A pair's prior is that of an attempt over sqrt(2); one-way sessions add to a pair's sum
        with half their variance, and pairs to an attempt's with twice theirs.
        """
        root = sqrt(2.0)
        if kind == "pair":
            own = self.pair + self.one_way.scaled(1 / root)
            return posterior_spread(self._prior() / root, PRIOR_DOF, own, self._floor())
        own = self.one_way + self.pair.scaled(root)
        return posterior_spread(self._prior(), PRIOR_DOF, own, self._floor())

    def _floor(self) -> float:
        """The least spread: what rounding to the timer's resolution alone brings."""
        return resolution_floor(self.step)

    def day(self, kind: str, air: DayAir | None = None) -> Spread:
        """Return the spread of a whole day about the build's own mean.

        Args:
            kind: of the observations, ``pair`` or ``attempt``.
            air: brings repeats to one air first; None: as they were clocked.
        """
        guess = DAY_PRIOR_SHARE * abs(self.typical or find_test(self.test).typical)
        noise = self.spread(kind).sd ** 2
        return day_spread(self.shares.repeats(air), noise, guess, DAY_PRIOR_DOF)

    def without(self, session: str) -> Pool:
        """Return what the other sessions say, for looking at this one (its id)."""
        return _pool(self.shares.without(session), self.test, self.timing)

    def with_session(self, session: Session) -> Pool:
        """Return the pool with a session as it stands now, also while it runs."""
        own = gather((session,), session.machine, self.test, self.timing)
        return _pool(self.shares.without(session.id).with_all(own), self.test, self.timing)


def pool_of(
    heads: Iterable[SessionHead], machine: str, test: str, timing: str, *, leave_out: str = ""
) -> Pool:
    """Return the pooled repeatability of a machine on a test with one timing gear.

    Args:
        heads: every session of the log.
        machine: id.
        test: name of the test.
        timing: name of the timing gear; attempts timed otherwise do not count.
        leave_out: id of a session that must not add to it (it is being looked at).

    Struck, aborted and warm-up attempts never count; tagged ones do.

    Raises:
        InputError: a value in the log is not a finite number.
    """
    others = (head for head in heads if head.id != leave_out) if leave_out else heads
    return _pool(gather(others, machine, test, timing), test, timing)


def _pool(shares: Shares, test: str, timing: str) -> Pool:
    everything = shares.observations()
    return Pool(
        test=test,
        timing=timing,
        single=shares.squares(of_pairs=None),
        pair=shares.squares(of_pairs=True),
        one_way=shares.squares(of_pairs=False),
        step=resolution_of(timing, find_test(test).unit, shares.attempts()),
        typical=float(everything.mean()) if len(everything) else None,
        shares=shares,
    )
