"""What the whole log says about repeatability: within sessions, and from day to day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import sqrt

from core.attempts import (
    Attempt,
    counted,
    direction_centred,
    find_test,
    observations,
    resolution_of,
    usual_sd,
)
from core.session import SessionHead
from core.stats import (
    SessionMean,
    Spread,
    SumOfSquares,
    day_spread,
    posterior_spread,
    resolution_floor,
    summarize,
    two_way_within,
    within,
)

__all__ = ["DAY_PRIOR_DOF", "DAY_PRIOR_SHARE", "PRIOR_DOF", "Pool", "pool_of"]

Repeats = dict[tuple[str, str, str], dict[str, list[float]]]
"""Observations by build, place and kind, then by local date."""

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
    sessions: int  # sessions that added to it
    repeats: tuple[tuple[SessionMean, ...], ...]  # days of the same build at the same place

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

    def day(self, kind: str) -> Spread:
        """Return the spread of a whole day about the build's own mean."""
        guess = DAY_PRIOR_SHARE * abs(self.typical or find_test(self.test).typical)
        noise = self.spread(kind).sd ** 2
        return day_spread(self.repeats, noise, guess, DAY_PRIOR_DOF)


def _mine(head: SessionHead, test: str, timing: str) -> dict[int, list[Attempt]]:
    """Counted attempts of one session by sheet."""
    blocks: defaultdict[int, list[Attempt]] = defaultdict(list)
    for attempt in counted(head.attempts, test, head.test):
        if (attempt.timing or head.timing) == timing:
            blocks[attempt.sheet].append(attempt)
    return blocks


def _groups(repeats: Repeats) -> Iterator[tuple[SessionMean, ...]]:
    for days in repeats.values():
        if len(days) > 1:
            yield tuple(SessionMean(sum(v) / len(v), len(v)) for v in days.values())


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
    """
    single = pair = one_way = SumOfSquares()
    everything: list[float] = []
    raw: list[float] = []
    repeats: Repeats = defaultdict(dict)
    sessions = 0
    for head in heads:
        if head.machine != machine or head.id == leave_out:
            continue
        blocks = _mine(head, test, timing)
        sessions += bool(blocks)
        for sheet, attempts in blocks.items():
            seen = observations(attempts, two_way=len(head.directions) == 2)
            if seen.direction_unknown:
                continue
            centred = direction_centred(attempts)
            about_direction = two_way_within(centred.values, centred.groups)
            single += about_direction
            if seen.kind == "pair":
                pair += within([seen.values])
            else:
                one_way += about_direction
            everything.extend(seen.values)
            raw.extend(centred.values)
            if seen.values and sheet < len(head.builds):
                key = (head.builds[sheet], head.place, seen.kind)
                repeats[key].setdefault(head.started.date().isoformat(), []).extend(seen.values)
    return Pool(
        test=test,
        timing=timing,
        single=single,
        pair=pair,
        one_way=one_way,
        step=resolution_of(timing, find_test(test).unit, raw),
        typical=summarize(everything).mean,
        sessions=sessions,
        repeats=tuple(_groups(repeats)),
    )
