"""Before the day: in what order to run, how many pairs, what that takes, and what it can see."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from core.attempts import Test
from core.setup import Sheet
from core.stats import Spread, half_width, pairs_to_settle
from core.verdict.acting import cannot_see
from core.verdict.pool import Pool
from core.verdict.wording import amount

__all__ = ["DayPlan", "plan_day"]

_MINUTES = 4.0  # from one attempt to the next, cooling included; common practice, no source
_SWAP = 20.0  # minutes for a swap at the strip; common practice, no source
_WARM_UP, _BEFORE = 2, 15.0  # attempts, and minutes for walking the strip; common practice
_FUEL = 0.03  # l for one attempt and the way back; common practice, no source
_FEWEST = 2  # pairs in a block of A-B-A
_MOST = 20  # attempts that fit a half-day at a borrowed strip; common practice, no source
_BLOCKS = ("A", "B", "A")


@dataclass(frozen=True)
class DayPlan:
    """A day of A-B-A that would settle the smallest gain worth having."""

    order: tuple[str, ...]  # builds in the order they run
    per_block: int  # observations in each block
    kind: str  # what one is: ``pair`` or ``attempt``
    attempts: int  # without warm-ups
    minutes: float  # with warm-ups, swaps and walking the strip
    fuel: float  # l
    half: float  # half width of the range it would leave, in the test's unit
    two_days: int | None  # observations a side on two days instead; None: no number would do
    too_long: bool  # more than a half-day holds
    blind: str  # why this test cannot see the change; empty: nothing is known against it
    sentences: tuple[str, ...]  # for a person, the weightiest first


def plan_day(
    test: Test,
    pool: Pool,
    gain: float,
    *,
    two_way: bool = True,
    sheet: Sheet | None = None,
    changed: Iterable[str] = (),
    swap_minutes: float = _SWAP,
) -> DayPlan:
    """Return the day that would settle a gain: A-B-A, because days differ.

    Args:
        test: what is to be run.
        pool: repeatability of the machine on it.
        gain: smallest gain worth having, above zero, in the test's unit.
        two_way: whether the place is run both ways.
        sheet: the setup it will run on; None: not known, then nothing is said about its range.
        changed: ids of the slots that will be changed.
        swap_minutes: for one swap with its checks.

    With n observations in each block the variance is ``spread^2 1.5/n`` (A-B-A with the drift taken
    out), and n is the smallest whose half width is below the gain.

    Source: :func:`core.stats.aba`; minutes, fuel and half-day: common practice, no source.
    """
    kind = "pair" if two_way else "attempt"
    spread, day = pool.spread(kind), pool.day(kind)
    n = _per_block(gain, spread)
    attempts = len(_BLOCKS) * n * (2 if two_way else 1)
    minutes = _BEFORE + (attempts + _WARM_UP) * _MINUTES + (len(_BLOCKS) - 1) * swap_minutes
    bare = DayPlan(
        order=_BLOCKS,
        per_block=n,
        kind=kind,
        attempts=attempts,
        minutes=minutes,
        fuel=(attempts + _WARM_UP) * _FUEL,
        half=half_width(1.5 / n, _after(spread, n)),
        two_days=pairs_to_settle(gain, spread, 0, 0, day_spread=day, both_sides=True),
        too_long=attempts > _MOST,
        blind=(cannot_see(test, sheet, changed) or "") if sheet is not None else "",
        sentences=(),
    )
    return _told(bare, test, gain, day)


def _after(spread: Spread, n: int) -> Spread:
    """The spread as well as it will be known after a day of n in each block."""
    added = len(_BLOCKS) * (n - 1)
    return Spread(spread.sd, spread.dof + added, spread.own_dof + added)


def _per_block(gain: float, spread: Spread) -> int:
    n = _FEWEST
    while half_width(1.5 / n, _after(spread, n)) >= gain and n < 10_000:
        n = n + 1 if n < 100 else 2 * n
    return n


def _told(plan: DayPlan, test: Test, gain: float, day: Spread) -> DayPlan:
    wanted = f"{amount(gain, test)} {test.unit}"
    said = [plan.blind] if plan.blind else []
    things = f"{plan.per_block} {plan.kind}{'' if plan.per_block == 1 else 's'}"
    said.append(
        f"Run {'-'.join(plan.order)} on one day, {things} in each: {plan.attempts} attempts, about "
        f"{plan.minutes:.0f} min with two swaps, {plan.fuel:.1f} l of fuel. It would tell "
        f"{amount(plan.half, test)} {test.unit} from nothing; you asked for {wanted}."
    )
    if plan.too_long:
        said.append(
            f"That is more than the {_MOST} attempts or so of a half-day: ask for less, find a "
            "test that repeats better, or spread A-B-A over two visits."
        )
    days = f"days as clocked differ by about {amount(day.sd, test)} {test.unit} here"
    if plan.two_days is None:
        said.append(f"A on one day and B on another would not do, however many: {days}.")
    else:
        said.append(
            f"A on one day and B on another would take {plan.two_days} {plan.kind}s each, and "
            f"{days}."
        )
    return replace(plan, sentences=tuple(said))
