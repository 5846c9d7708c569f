"""Runs of a recording and the attempts that were typed: which is which, and how far clocks differ.

An attempt is stamped when it is typed, some seconds after its run ended.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import timedelta
from statistics import median
from typing import Final

import msgspec

from core.attempts import Attempt, find_test, opposite
from core.clock import to_utc
from core.session.documents import Session
from core.session.tracing import run_moment
from core.trace import FoundRun
from core.trace.runs import Bearings
from core.trace.traces import Trace

__all__ = ["Matching", "RunMatch", "learned_bearings", "match_runs"]

_BEFORE: Final = -5.0  # s that an attempt may be stamped before its run ended, by clocks that agree
_AFTER: Final = 240.0  # s until which it is typed
_USUAL: Final = 20.0  # s after which it usually is
_TOGETHER: Final = 45.0  # s within which the delays of one session lie together
_HALF_HOUR: Final = 1800.0
_FARTHEST_ZONE: Final = 14 * 3600.0  # s between two clocks of one place, one of them in UTC
_NEAR_ZONE: Final = 200.0  # s from whole half hours that still are a difference of time zones
_CLOSE: Final = 0.25  # s of a hand's own error, when values are compared
_APART: Final = 60.0  # degrees; courses farther from each other than this are different ways


class RunMatch(msgspec.Struct, frozen=True):
    """A run and the attempt it is."""

    run: int  # place among the runs
    attempt: int  # number in the session
    delay: float  # s from the end of the run to the stamp of the attempt
    apart: float | None  # value of the run less that of the attempt, in the unit of the test


class Matching(msgspec.Struct, frozen=True):
    """What belongs together."""

    shift: float  # s to add to the clock of the recording
    reason: str  # why, in one sentence; empty: no shift
    pairs: tuple[RunMatch, ...]
    only_runs: tuple[int, ...]  # places of runs without an attempt
    only_attempts: tuple[int, ...]  # numbers of attempts without a run


def match_runs(
    trace: Trace, runs: Sequence[FoundRun], session: Session, shift: float | None = None
) -> Matching:
    """Return which runs are which attempts of a session, by clock time.

    Args:
        trace: the recording.
        runs: found in it, of one test.
        session: with its typed attempts.
        shift: s to add to the clock of the recording; None: proposed, with its reason.
    """
    ends = _ends(trace, runs, session)
    tries = [a for a in session.attempts if a.at is not None and a.kind != "aborted"]
    tries = [a for a in tries if a.entered in ("live", "later") and _is_same(a, session, runs)]
    stamps = [to_utc(a.at).timestamp() for a in tries if a.at is not None]
    reason = ""
    if shift is None:
        shift, reason = _proposed(ends, stamps, runs, tries, told=trace.clock.second is not None)
    pairs = _pairs([end + shift for end in ends], stamps, runs, tries)
    used = {pair.run for pair in pairs}, {pair.attempt for pair in pairs}
    return Matching(
        shift,
        reason,
        tuple(pairs),
        tuple(place for place in range(len(runs)) if place not in used[0]),
        tuple(a.n for a in tries if a.n not in used[1]),
    )


def _is_same(attempt: Attempt, session: Session, runs: Sequence[FoundRun]) -> bool:
    """Whether an attempt is of the test that the runs are of."""
    test = find_test(attempt.test or session.test).name
    return not runs or find_test(runs[0].test).name == test


def _ends(trace: Trace, runs: Sequence[FoundRun], session: Session) -> list[float]:
    """When each run ended, s since 1970; by the start of the session where no clock is told."""
    found = []
    for run in runs:
        moment = run_moment(trace, run, session)
        if moment is None:
            moment = to_utc(session.started) + timedelta(seconds=run.end)
        found.append(moment.timestamp())
    return found


def _proposed(
    ends: Sequence[float],
    stamps: Sequence[float],
    runs: Sequence[FoundRun],
    tries: Sequence[Attempt],
    *,
    told: bool,
) -> tuple[float, str]:
    """The shift under which most runs and attempts fall together, and its reason."""
    if not ends or not stamps:
        return 0.0, ""
    best = max(
        _candidates(ends, stamps), key=lambda delay: _score(delay, ends, stamps, runs, tries)
    )
    delays = [
        min((s - e for e in ends), key=lambda d: abs(d - best)) for s in stamps
    ]  # of each attempt, to the run that is nearest under this delay
    typical = median([d for d in delays if abs(d - best) <= _TOGETHER] or [best])
    if _BEFORE <= typical <= _AFTER and told:
        return 0.0, ""
    fits = sum(abs(d - typical) <= _TOGETHER for d in delays)
    if fits < min(2, len(stamps), len(ends)):
        return 0.0, ""
    zone = round((typical - _USUAL) / _HALF_HOUR) * _HALF_HOUR
    if zone and abs(zone) <= _FARTHEST_ZONE and told and abs(typical - _USUAL - zone) <= _NEAR_ZONE:
        return zone, f"The clock of the recording is {_long(zone)}, as another time zone is."
    shift = typical - _USUAL
    if not told:
        return shift, "The recording tells no time of day: placed by the pattern of its runs."
    return shift, f"The clock of the recording is {_long(shift)}, by the pattern of its runs."


def _long(seconds: float) -> str:
    """How far a clock is off, in words.

    >>> _long(7200.0), _long(-90.0)
    ('2:00 h slow', '1:30 min fast')
    """
    way = "slow" if seconds > 0 else "fast"
    size = abs(round(seconds))
    if size >= 86400:
        return f"{size / 86400:,.1f} days {way}"
    if size >= 3600:
        return f"{size // 3600}:{size % 3600 // 60:02d} h {way}"
    return f"{size // 60}:{size % 60:02d} min {way}"


def _candidates(ends: Sequence[float], stamps: Sequence[float]) -> list[float]:
    """Every delay that would put an attempt right behind a run."""
    return [stamp - end for stamp in stamps for end in ends]


def _score(
    delay: float,
    ends: Sequence[float],
    stamps: Sequence[float],
    runs: Sequence[FoundRun],
    tries: Sequence[Attempt],
) -> tuple[float, float]:
    """How well a delay fits: attempts with a run, those of the same value twice; then nearness."""
    total = spread = 0.0
    for stamp, attempt in zip(stamps, tries, strict=True):
        place = min(range(len(ends)), key=lambda i: abs(stamp - ends[i] - delay))
        off = abs(stamp - ends[place] - delay)
        if off <= _TOGETHER:
            total += 2.0 if _agree(runs[place], attempt) else 1.0
            spread += off
    usual = 0.0 if _BEFORE <= delay <= _AFTER else 1.0
    return total, -usual - spread / (1 + spread)


def _agree(run: FoundRun, attempt: Attempt) -> bool:
    """Whether two values can be of the same run."""
    if attempt.value is None:
        return False
    return abs(run.value - attempt.value) <= 3 * math.hypot(run.sd, _CLOSE) + 0.02 * run.value


def _pairs(
    ends: Sequence[float],
    stamps: Sequence[float],
    runs: Sequence[FoundRun],
    tries: Sequence[Attempt],
) -> list[RunMatch]:
    """Runs and attempts in pairs, both in the order of time: as many as fit, then the nearest.

    Source: alignment of two sequences by dynamic programming.
    """
    order = sorted(range(len(stamps)), key=lambda j: stamps[j])
    best = [[0.0] * (len(order) + 1) for _ in range(len(ends) + 1)]
    for i, end in enumerate(ends, start=1):
        for j, place in enumerate(order, start=1):
            gain = _gain(stamps[place] - end, runs[i - 1], tries[place])
            paired = best[i - 1][j - 1] + gain if gain > 0 else 0.0
            best[i][j] = max(best[i - 1][j], best[i][j - 1], paired)
    found: list[RunMatch] = []
    i, j = len(ends), len(order)
    while i and j:
        if best[i][j] == best[i - 1][j]:
            i -= 1
        elif best[i][j] == best[i][j - 1]:
            j -= 1
        else:
            i, j = i - 1, j - 1
            attempt, stamp = tries[order[j]], stamps[order[j]]
            apart = None if attempt.value is None else runs[i].value - attempt.value
            found.append(RunMatch(i, attempt.n, stamp - ends[i], apart))
    return found[::-1]


def _gain(delay: float, run: FoundRun, attempt: Attempt) -> float:
    """What a pair is worth: nothing where the clock forbids it, more where the values agree."""
    if not _BEFORE <= delay <= _AFTER:
        return 0.0
    return 1.0 + 0.5 * _agree(run, attempt) - abs(delay - _USUAL) / (2 * _AFTER)


def learned_bearings(matching: Matching, runs: Sequence[FoundRun], session: Session) -> Bearings:
    """Return the bearings of a place's directions, as the matched attempts show them.

    Args:
        matching: of the runs with the session.
        runs: the same runs.
        session: whose attempts say which way they went.

    Returns:
        Empty where they contradict each other or nothing tells.
    """
    attempts = {a.n: a for a in session.attempts}
    courses: dict[str, list[float]] = {}
    for pair in matching.pairs:
        way, heading = attempts[pair.attempt].direction, runs[pair.run].heading
        if way and heading is not None:
            courses.setdefault(way, []).append(heading)
    means = {way: _mean_course(found) for way, found in courses.items()}
    known = {way: mean for way, mean in means.items() if mean is not None}
    if len(known) < len(means) or len(known) > 2:
        return {}
    return _both(known, session.directions)


def _mean_course(courses: Sequence[float]) -> float | None:
    """Mean of courses that lie together; None where they do not."""
    north = sum(math.cos(math.radians(course)) for course in courses)
    east = sum(math.sin(math.radians(course)) for course in courses)
    mean = math.degrees(math.atan2(east, north)) % 360
    far = any(abs((course - mean + 180) % 360 - 180) > _APART for course in courses)
    return None if far else mean


def _both(known: Mapping[str, float], directions: Sequence[str]) -> Bearings:
    if len(known) == 1:
        (way, course), = known.items()  # fmt: skip
        other = opposite(way, directions)
        return {**known, other: (course + 180) % 360} if other else known
    if len(known) == 2:
        first, second = known.values()
        return known if abs((first - second + 180) % 360 - 180) > 180 - _APART else {}
    return known
