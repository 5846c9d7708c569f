"""Comparing two builds: the difference, its range, the verdict and everything that limits it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from core.attempts import Test, find_test
from core.session import Session, SessionHead
from core.setup import Sheet, build_letters, changes, main_changes
from core.stats import Spread, Verdict, judge
from core.verdict.allowing import Allowances, PlaceOf, Ran, allowances_of
from core.verdict.allowing.coasted import Measured
from core.verdict.caps import caps_of
from core.verdict.case import Case, Surroundings
from core.verdict.clocks import Offset, offset_between
from core.verdict.measuring import Measure, is_same_day, measure
from core.verdict.odd import odd_attempts
from core.verdict.pool import Pool, pool_of
from core.verdict.results import BuildSide, Comparison, Odd
from core.verdict.sentences import headline
from core.verdict.settling import settle
from core.verdict.sides import as_one_way, sheet_of, side_of
from core.verdict.situations import ON_TOP, situations_of
from core.verdict.trends import Moved, moved

__all__ = ["Sides", "compare"]

_ALONE = Surroundings()


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


def _gain(given: float | None, sides: Sides) -> float | None:
    """The smallest gain worth having: as given, else as the newer session said, else the older."""
    for gain in (given, sides.session_b.gain, sides.session_a.gain):
        if gain is not None:
            return gain
    return None


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


@dataclass(frozen=True)
class _Work:
    """What every way of counting the same comparison shares."""

    sides: Sides
    pool: Pool
    spread: Spread  # of one observation
    day: Spread | None
    allowances: Allowances
    clock: Offset | None

    def measured(self, a: BuildSide, b: BuildSide) -> Measure:
        """Return the difference of two sides, counted in some way."""
        known = (self.clock.value, self.clock.known) if self.clock else (0.0, 0.0)
        return measure(a, b, self.spread, self.day, self.allowances.explained, known)


def compare(
    sides: Sides,
    heads: Sequence[SessionHead],
    *,
    gain: float | None = None,
    names: Callable[[str], str] = lambda _: "",
    past: Iterable[Session] = (),
    place_of: PlaceOf = lambda _: None,
    around: Surroundings = _ALONE,
) -> Comparison:
    """Compare two builds, B against A: as clocked, and net of what the conditions explain.

    Args:
        sides: the two builds and the test.
        heads: every session of the log, for the pooled spread.
        gain: smallest gain worth having in the test's unit; None: as the sessions said.
        names: gives the name of a machine or place id.
        past: other sessions of B's machine, the nearest ones first, for the road-load model.
        place_of: gives the place of an id, for slope and elevation.
        around: what stands around the comparison.

    Struck attempts are left out, tagged ones stay. The raw difference is never replaced; the
    verdict is that of the net difference where something is allowed for.
    """
    test = find_test(sides.test)
    a, b = sides.observed()
    work = _work(sides, a, b, heads, past, place_of, around.coasted)
    made = work.measured(a, b)
    changed = changes(
        *(_sheet(session, side) for session, side in ((sides.session_a, a), (sides.session_b, b)))
    )
    bare = Comparison(
        a=a,
        b=b,
        unit=test.unit,
        decimals=test.decimals,
        lower_is_better=test.lower_is_better,
        difference=made.raw,
        verdict=Verdict.CANT_TELL,
        below_gain=False,
        gain=_gain(gain, sides),
        same_day=is_same_day(a, b),
        drift=made.drift,
        spread=made.spread.sd,
        spread_dof=made.spread.dof,
        day_spread=made.day.sd if made.day else None,
        changed=changed,
        causes=main_changes(changed),
        caps=(),
        odd=_odd(sides, a, b, work.pool, heads),
        without_odd=None,
        with_struck=None,
        settle=None,
        sentence=_nothing(sides, a, b),
        more=(),
        net=made.net,
        allowances=work.allowances,
        clock=work.clock,
        moved=_moved(sides, a, b, work.pool),
    )
    case = Case(bare, sides.session_a, sides.session_b, made.spread.own_dof, names, around)
    capped = replace(bare, caps=tuple(caps_of(case)))
    if made.raw is None:
        return replace(capped, more=tuple(cap.sentence for cap in capped.caps))
    return _told(_judged(capped, work, made, test), case)


def _work(
    sides: Sides,
    a: BuildSide,
    b: BuildSide,
    heads: Sequence[SessionHead],
    past: Iterable[Session],
    place_of: PlaceOf,
    coasted: Sequence[Measured],
) -> _Work:
    """Spreads, allowances and the offset of the clocks."""
    timing = next((s.timing for s in (b, a) if s.timing != "mixed"), "")
    pool = pool_of(heads, b.machine, sides.test, timing)
    kind = "pair" if a.kind == b.kind == "pair" else "attempt"
    same = is_same_day(a, b)
    clock = offset_between(heads, sides.test, a.timing, b.timing)
    spread = pool.spread(kind)
    if clock is not None:
        other = pool_of(heads, a.machine, sides.test, a.timing).spread(kind)
        spread = max(spread, other, key=lambda one: one.sd)
    allowances = allowances_of(
        _ran(sides.session_a, a, place_of),
        _ran(sides.session_b, b, place_of),
        past,
        place_of,
        spread.sd,
        same_day=same,
        measured=coasted,
    )
    day = None if same else pool.day(kind, allowances.day_air)
    return _Work(sides, pool, spread, day, allowances, clock)


def _ran(session: Session, side: BuildSide, place_of: PlaceOf) -> Ran:
    return Ran(session, side, _sheet(session, side), place_of(side.place) if side.place else None)


def _moved(
    sides: Sides, a: BuildSide, b: BuildSide, pool: Pool
) -> tuple[Moved | None, Moved | None]:
    spread = pool.attempt_spread()
    return moved(sides.session_a, a, spread), moved(sides.session_b, b, spread)


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


def _judged(bare: Comparison, work: _Work, made: Measure, test: Test) -> Comparison:
    """The comparison with its verdict, other ways of counting it, and what would settle it."""
    assert made.raw is not None  # noqa: S101  narrows the type; the caller looked
    held_back = any(cap.holds_back for cap in bare.caps)
    raw, deciding = (
        judge(found, bare.gain, test.lower_is_better)
        for found in (made.raw, made.deciding or made.raw)
    )
    word = Verdict.CANT_TELL if held_back else deciding.word
    open_yet = word is Verdict.CANT_TELL and not held_back
    sides = work.sides
    odd = sides.observed(without=_numbers_by_session(bare)) if bare.odd else None
    struck = sides.observed(with_struck=True) if _has_struck(sides, bare) else None
    judged = replace(
        bare,
        verdict=word,
        raw_verdict=Verdict.CANT_TELL if held_back else raw.word,
        below_gain=deciding.below_gain and not held_back,
        settle=settle(made, bare.gain, bare.a, bare.b, test) if open_yet else None,
        without_odd=work.measured(*odd).raw if odd else None,
        with_struck=work.measured(*struck).raw if struck else None,
    )
    return replace(judged, sentence=headline(judged, test))


def _told(judged: Comparison, case: Case) -> Comparison:
    """The comparison with what else has to be said, the weightiest first."""
    found = situations_of(replace(case, made=judged))
    more = tuple(one.sentence for one in found if one.id not in ON_TOP)
    return replace(judged, situations=found, more=more)


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
