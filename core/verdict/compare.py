"""Comparing two builds: the difference, its range, the verdict and everything that limits it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from core.attempts import Test, find_test
from core.session import Session, SessionHead
from core.setup import Sheet, build_letters, changes, main_changes
from core.stats import (
    Difference,
    Spread,
    Verdict,
    difference,
    drift_removed,
    judge,
    pairs_to_settle,
)
from core.verdict.caps import Case, caps_of
from core.verdict.odd import odd_attempts
from core.verdict.pool import Pool, pool_of
from core.verdict.results import BuildSide, Comparison, Odd, Settle
from core.verdict.sentences import amount, further, headline
from core.verdict.sides import as_one_way, sheet_of, side_of

__all__ = ["Sides", "compare"]


@dataclass(frozen=True)
class Sides:
    """The two builds that are compared, A (before) and B (after)."""

    session_a: Session
    build_a: str  # letter; empty: the only one
    session_b: Session
    build_b: str
    test: str  # name of the test both ran

    def observed(
        self,
        *,
        with_struck: bool = False,
        without: tuple[frozenset[int], frozenset[int]] | None = None,
    ) -> tuple[BuildSide, BuildSide]:
        """Return both sides' observations, one-way ones matched to the same direction."""
        out_a, out_b = without or (frozenset[int](), frozenset[int]())
        a = side_of(self.session_a, self.build_a, self.test, with_struck=with_struck, without=out_a)
        b = side_of(self.session_b, self.build_b, self.test, with_struck=with_struck, without=out_b)
        if a.one_direction and b.kind == "pair":
            b = as_one_way(self.session_b, b, a.one_direction, with_struck, out_b)
        elif b.one_direction and a.kind == "pair":
            a = as_one_way(self.session_a, a, b.one_direction, with_struck, out_a)
        return a, b


@dataclass(frozen=True)
class _Measure:
    """The difference of two sides and what it was worked out with."""

    difference: Difference | None
    drift: float | None
    spread: Spread
    day: Spread | None


def _is_same_day(a: BuildSide, b: BuildSide) -> bool:
    return a.machine == b.machine and a.place == b.place and a.day == b.day


def _turn_and_turn_about(a: BuildSide, b: BuildSide) -> bool:
    """Whether a build ran again after the other one, so that drift can be taken out."""
    if a.session != b.session or not a.blocks or not b.blocks:
        return False
    return len(set(a.blocks)) + len(set(b.blocks)) > 2


def _block_times(side: BuildSide) -> list[float]:
    """For each observation the mean time of its block."""
    mean = {
        block: sum(m for m, k in zip(side.moments, side.blocks, strict=True) if k == block)
        / side.blocks.count(block)
        for block in set(side.blocks)
    }
    return [mean[block] for block in side.blocks]


def _measure(a: BuildSide, b: BuildSide, pool: Pool) -> _Measure:
    kind = "pair" if a.kind == b.kind == "pair" else "attempt"
    spread = pool.spread(kind)
    same = _is_same_day(a, b)
    day = None if same else pool.day(kind)
    if not a.values or not b.values:
        return _Measure(None, None, spread, day)
    if _turn_and_turn_about(a, b):
        removed = drift_removed(
            [*a.values, *b.values],
            [0] * a.n + [1] * b.n,
            [*_block_times(a), *_block_times(b)],
            spread,
        )
        return _Measure(removed.difference, removed.drift, spread, None)
    return _Measure(difference(a.values, b.values, spread, day), None, spread, day)


def _gain(given: float | None, sides: Sides) -> float | None:
    """The smallest gain worth having: as given, else as the newer session said, else the older."""
    for gain in (given, sides.session_b.gain, sides.session_a.gain):
        if gain is not None:
            return gain
    return None


def _settle(
    made: _Measure, gain: float | None, a: BuildSide, b: BuildSide, test: Test
) -> Settle | None:
    """What would settle an open verdict; None where no smallest gain was said."""
    if gain is None:
        return None
    wanted = f"{amount(gain, test)} {test.unit}"
    for both in (False, True):
        more = pairs_to_settle(gain, made.spread, a.n, b.n, day_spread=made.day, both_sides=both)
        if more == 0:
            words = f"the range is already under {wanted} either way, so a few more may tip it."
            return Settle(more=0, kind=b.kind, another_day=False, sentence=words)
        if more is not None:
            things = b.kind if more == 1 else f"{b.kind}s"
            where = "on each build" if both else f"on {b.label}"
            words = f"about {more} more {things} {where} would settle {wanted}."
            return Settle(more=more, kind=b.kind, another_day=False, sentence=words)
    words = "your days differ too much for more runs to settle it: swap A-B-A on one day."
    return Settle(more=None, kind=b.kind, another_day=True, sentence=words)


def _odd(
    sides: Sides, a: BuildSide, b: BuildSide, pool: Pool, heads: Sequence[SessionHead]
) -> tuple[Odd, ...]:
    found: list[Odd] = []
    for session, side in ((sides.session_a, a), (sides.session_b, b)):
        if side.timing == "mixed":
            continue
        if (side.machine, side.timing) == (b.machine, pool.timing):
            others = pool.without(session.id)
        else:
            others = pool_of(heads, side.machine, side.test, side.timing, leave_out=session.id)
        numbers = {n for group in side.attempts for n in group}
        found.extend(odd for odd in odd_attempts(session, others, side.test) if odd.n in numbers)
    return tuple(found)


def compare(
    sides: Sides,
    heads: Sequence[SessionHead],
    *,
    gain: float | None = None,
    names: Callable[[str], str] = lambda _: "",
) -> Comparison:
    """Compare two builds, B against A, on raw attempts.

    Args:
        sides: the two builds and the test.
        heads: every session of the log, for the pooled spread.
        gain: smallest gain worth having in the test's unit; None: as the sessions said.
        names: gives the name of a machine or place id.

    Struck attempts are left out, tagged ones stay. Nothing is adjusted for air, wind or mass.
    """
    test = find_test(sides.test)
    a, b = sides.observed()
    timing = next((s.timing for s in (b, a) if s.timing != "mixed"), "")
    pool = pool_of(heads, b.machine, sides.test, timing)
    made = _measure(a, b, pool)
    changed = changes(
        *(_sheet(session, side) for session, side in ((sides.session_a, a), (sides.session_b, b)))
    )
    bare = Comparison(
        a=a,
        b=b,
        unit=test.unit,
        decimals=test.decimals,
        lower_is_better=test.lower_is_better,
        difference=made.difference,
        verdict=Verdict.CANT_TELL,
        below_gain=False,
        gain=_gain(gain, sides),
        same_day=_is_same_day(a, b),
        drift=made.drift,
        spread=made.spread.sd,
        spread_dof=made.spread.dof,
        day_spread=made.day.sd if made.day else None,
        changed=changed,
        causes=main_changes(changed),
        caps=(),
        odd=_odd(sides, a, b, pool, heads),
        without_odd=None,
        with_struck=None,
        settle=None,
        sentence=_nothing(sides, a, b),
        more=(),
    )
    case = Case(bare, sides.session_a, sides.session_b, made.spread.own_dof, names)
    capped = replace(bare, caps=tuple(caps_of(case)))
    return _judged(capped, sides, pool, made, test) if made.difference else capped


def _sheet(session: Session, side: BuildSide) -> Sheet:
    return sheet_of(session, side.build) if side.build else Sheet()


def _nothing(sides: Sides, a: BuildSide, b: BuildSide) -> str:
    """The sentence where a side has nothing to compare."""
    for session, side in ((sides.session_a, a), (sides.session_b, b)):
        if side.values:
            continue
        if any(t.strike and t.kind == "timed" for t in session.attempts):
            return f"All attempts of {side.label} are struck: nothing to compare."
        if session.state == "stopped":
            because = session.stopped_because
            return f"{side.label} was stopped ({because}): no attempts to compare."
        return f"{side.label} has no timed attempts: nothing to compare."
    return ""


def _judged(bare: Comparison, sides: Sides, pool: Pool, made: _Measure, test: Test) -> Comparison:
    """The comparison with its verdict, what would settle it, and its sentences."""
    assert made.difference is not None  # noqa: S101  narrows the type; the caller looked
    verdict = judge(made.difference, bare.gain, test.lower_is_better)
    held_back = any(cap.holds_back for cap in bare.caps)
    word = Verdict.CANT_TELL if held_back else verdict.word
    open_yet = word is Verdict.CANT_TELL and not held_back
    settle = _settle(made, bare.gain, bare.a, bare.b, test) if open_yet else None
    odd_numbers = _numbers_by_session(bare)
    without_odd = (
        _measure(*sides.observed(without=odd_numbers), pool).difference if bare.odd else None
    )
    struck = _has_struck(sides, bare)
    with_struck = _measure(*sides.observed(with_struck=True), pool).difference if struck else None
    judged = replace(
        bare,
        verdict=word,
        below_gain=verdict.below_gain and not held_back,
        settle=settle,
        without_odd=without_odd,
        with_struck=with_struck,
    )
    return replace(judged, sentence=headline(judged, test), more=further(judged, test))


def _numbers_by_session(bare: Comparison) -> tuple[frozenset[int], frozenset[int]]:
    def flagged(side: BuildSide) -> frozenset[int]:
        return frozenset(odd.n for odd in bare.odd if odd.session == side.session)

    return flagged(bare.a), flagged(bare.b)


def _has_struck(sides: Sides, bare: Comparison) -> bool:
    for session, side in ((sides.session_a, bare.a), (sides.session_b, bare.b)):
        letters = build_letters(session.sheets)
        if any(
            t.strike
            and t.value is not None
            and t.kind == "timed"
            and (t.test or session.test) == sides.test
            and letters[t.sheet] == side.build
            for t in session.attempts
        ):
            return True
    return False
