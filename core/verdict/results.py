"""What a comparison comes to: frozen results that screens, reports and scripts read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from core.setup import Change
from core.stats import Difference, Verdict

if TYPE_CHECKING:
    from core.verdict.allowing import Allowances
    from core.verdict.clocks import Offset
    from core.verdict.trends import Moved

__all__ = ["BuildSide", "Cap", "Comparison", "Odd", "Settle", "Situation"]


@dataclass(frozen=True)
class BuildSide:
    """One side of a comparison: the attempts of one build in one session."""

    session: str  # id
    label: str  # S05, or S05:A where the session ran several builds
    machine: str  # id
    place: str  # id; empty: not told
    build: str  # letter within its session
    test: str  # name of the test
    timing: str  # name of the timing gear; "mixed" when attempts differ
    kind: Literal["pair", "attempt"]  # what one observation is
    values: tuple[float, ...]  # the observations, in the test's unit
    attempts: tuple[tuple[int, ...], ...]  # numbers of the attempts behind each observation
    blocks: tuple[int, ...]  # index of the sheet each observation ran on
    moments: tuple[float, ...]  # when each ran, s; or the attempt's number where not known
    day: str  # local date of the session, ISO
    left_over: tuple[int, ...]  # numbers of counted attempts that formed no pair
    one_direction: str = ""  # set when a two-way place was run one way only
    direction_unknown: bool = False
    from_two_ways: bool = False  # only one direction of a two-way session is looked at here
    unpaired: bool = False  # both ways occur, but never one right after the other
    directions: tuple[str, ...] = ()  # those that occur

    @property
    def n(self) -> int:
        """Number of observations."""
        return len(self.values)

    @property
    def mean(self) -> float | None:
        """Mean of the observations, or None when there is none."""
        return sum(self.values) / len(self.values) if self.values else None


@dataclass(frozen=True)
class Cap:
    """Something that limits what a difference may be taken for."""

    id: str  # row of the cap table
    sentence: str  # for a person
    holds_back: bool  # True: the verdict cannot be more than "can't tell yet"


@dataclass(frozen=True)
class Situation:
    """Something about a comparison that a person has to be told, recognised by itself."""

    id: str  # row of the table of situations
    weight: int  # the higher the sooner it is said
    sentence: str  # for a person, from the numbers


@dataclass(frozen=True)
class Settle:
    """What would settle a "can't tell yet"."""

    more: int | None  # more observations on the newer side; None: runs alone will not do it
    kind: Literal["pair", "attempt"]
    another_day: bool  # the day-to-day spread is what keeps it open
    sentence: str
    days: int | None = None  # days more of each build that would do; None: none, or not asked


@dataclass(frozen=True)
class Odd:
    """An attempt that stands apart; a question, never a deletion."""

    session: str  # id of the session it belongs to
    n: int  # number of the attempt
    value: float
    centre: float  # mean of its direction, in the test's unit
    limit: float  # how far from it an attempt may be expected among so many
    second_opinion: bool | None  # Grubbs on the session alone; None: fewer than six attempts
    sentence: str


@dataclass(frozen=True)
class Comparison:
    """Two sides, the difference B minus A with its range, the verdict and what holds it back."""

    a: BuildSide
    b: BuildSide
    unit: str
    decimals: int
    lower_is_better: bool
    difference: Difference | None  # None: nothing to compare
    verdict: Verdict
    below_gain: bool  # quicker or slower, but by less than was said to matter
    gain: float | None  # smallest gain worth having
    same_day: bool
    drift: float | None  # first A to last A, where a build was run again on the same day
    spread: float | None  # standard deviation of one observation
    spread_dof: float | None
    day_spread: float | None  # standard deviation of a day; None on the same day
    changed: tuple[Change, ...]  # everything that differs between the two sheets
    causes: tuple[Change, ...]  # those of it that are changes of their own
    caps: tuple[Cap, ...]
    odd: tuple[Odd, ...]  # flagged attempts on either side
    without_odd: Difference | None  # the same difference with the flagged attempts left out
    with_struck: Difference | None  # the same difference with the struck attempts left in
    settle: Settle | None
    sentence: str  # the verdict in one plain sentence
    more: tuple[str, ...]  # further sentences, the weightiest first
    situations: tuple[Situation, ...] = ()  # what was recognised, the weightiest first
    raw_verdict: Verdict = Verdict.CANT_TELL  # what the answer would be as clocked
    net: Difference | None = None  # with the allowances taken out; None: there are none
    allowances: Allowances | None = None  # None: nothing to compare
    clock: Offset | None = None  # between two kinds of timing gear that ran side by side
    moved: tuple[Moved | None, Moved | None] = (None, None)  # how each side moved over its day

    @property
    def decides(self) -> Literal["raw", "net"]:
        """Which of the two differences the verdict is taken from."""
        return "net" if self.net is not None else "raw"

    @property
    def deciding(self) -> Difference | None:
        """The difference the verdict is taken from; None: nothing to compare."""
        return self.net or self.difference

    def as_decided(self, found: Difference) -> Difference:
        """Return another difference of the same sides with the same allowances taken out.

        Its range is widened in step with that of the comparison itself.
        """
        if self.net is None or self.difference is None:
            return found
        value = found.value + self.net.value - self.difference.value
        half = (found.high - found.low) / 2.0
        half *= (self.net.high - self.net.low) / (self.difference.high - self.difference.low)
        return replace(found, value=value, low=value - half, high=value + half)
