"""The season over time: best, mean and scatter of a test day by day, with what changed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import sqrt

from core.ask.steps import Step, steps_of
from core.attempts import counted, find_test
from core.errors import BackToBackError
from core.session import Book, Session
from core.setup import slot_of
from core.stats import Spread, half_width
from core.units import format_number
from core.verdict import (
    Pool,
    builds_run,
    pool_of,
    side_of,
)

__all__ = [
    "Season",
    "SeasonPoint",
    "Steadiness",
    "season_of",
    "steadiness_of",
    "tests_run",
]


@dataclass(frozen=True)
class SeasonPoint:
    """One build of one session on the way through a season."""

    session: str  # id
    label: str  # S05, or S05:A
    day: datetime
    n: int  # observations
    kind: str  # ``pair`` or ``attempt``
    best: float  # best single attempt, in the test's unit
    mean: float
    half: float  # the mean's range either way, by the pooled spread
    sd: float | None  # scatter of its own observations; None: one only
    timing: str
    changed: tuple[str, ...] = ()  # labels of the causes between it and the point before
    changed_words: tuple[str, ...] = ()  # the same with both values


@dataclass(frozen=True)
class Season:
    """A machine's results on one test over time."""

    machine: str  # id
    test: str
    unit: str
    decimals: int
    lower_is_better: bool
    points: tuple[SeasonPoint, ...]


def tests_run(sessions: Iterable[Session], machine: str) -> tuple[str, ...]:
    """Return the names of the tests a machine ran, the one of most sessions first."""
    names = [s.test for s in sessions if s.machine == machine and s.attempts]
    return tuple(sorted(dict.fromkeys(names), key=lambda name: -names.count(name)))


def season_of(book: Book, sessions: Sequence[Session], machine: str, test: str) -> Season:
    """Return a machine's results on one test, oldest first; raw, with struck attempts left out.

    Args:
        book: the open log.
        sessions: every session that can be read, oldest first.
        machine: id.
        test: name of the test.

    Raises:
        NotFoundError: no such test.
    """
    row = find_test(test)
    mine = [s for s in sessions if s.machine == machine and s.test == row.name]
    steps = {(s.b.id, s.build_b): s for s in steps_of(mine)}
    spreads = _Spreads(book, machine, row.name)
    points = []
    for session in mine:
        for build in _run(session):
            point = _point(spreads, session, build, steps.get((session.id, build)))
            points += [point] if point is not None else []
    return Season(machine, row.name, row.unit, row.decimals, row.lower_is_better, tuple(points))


def _run(session: Session) -> tuple[str, ...]:
    try:
        return builds_run(session, session.test) if session.sheets else ()
    except BackToBackError:
        return ()


class _Spreads:
    """The pooled spread of a machine's results, worked out once for each timing gear."""

    def __init__(self, book: Book, machine: str, test: str) -> None:
        self._heads, self._machine, self._test = book.sessions(), machine, test
        self._pools: dict[str, Pool] = {}

    def of(self, timing: str, kind: str) -> Spread:
        """Return the spread of one observation, ``pair`` or ``attempt``."""
        if timing not in self._pools:
            self._pools[timing] = pool_of(self._heads, self._machine, self._test, timing)
        return self._pools[timing].spread(kind)


def _point(
    spreads: _Spreads, session: Session, build: str, step: Step | None
) -> SeasonPoint | None:
    test = find_test(session.test)
    try:
        side = side_of(session, build)
    except BackToBackError:
        return None
    numbers = {n for group in side.attempts for n in group}
    values = [a.value for a in counted(session.attempts, test.name, session.test)
              if a.n in numbers and a.value is not None]  # fmt: skip
    if not side.values or not values:
        return None
    mean = sum(side.values) / side.n
    timing = side.timing if side.timing != "mixed" else session.timing
    spread = spreads.of(timing, side.kind)
    sd = None
    if side.n > 1:
        sd = sqrt(sum((v - mean) ** 2 for v in side.values) / (side.n - 1))
    causes = step.causes if step is not None else ()
    return SeasonPoint(
        session=session.id,
        label=side.label,
        day=session.started,
        n=side.n,
        kind=side.kind,
        best=min(values) if test.lower_is_better else max(values),
        mean=mean,
        half=half_width(1.0 / side.n, spread),
        sd=sd,
        timing=timing,
        changed=tuple(slot_of(c.slot).label for c in causes),
        changed_words=tuple(c.words for c in causes),
    )


@dataclass(frozen=True)
class Steadiness:
    """How the scatter within a day went over time."""

    early: float | None  # pooled standard deviation of the earlier half; None: too little
    late: float | None
    early_points: int
    late_points: int
    share: float | None  # how often chance alone brings a ratio as far from one; None: too little
    sentence: str


def steadiness_of(season: Season) -> Steadiness:
    """Tell whether results scatter less than they did: the earlier half against the later.

    The two pooled variances are held against each other by their ratio, two-sided.

    **Source:** F ratio of two variances; closed form, any statistics text.
    """
    able = [p for p in season.points if p.sd is not None]
    unit, decimals = season.unit, season.decimals
    if len(able) < 2:
        said = "Two days with two results each are needed to see whether they scatter less."
        return Steadiness(None, None, len(able), 0, None, said)
    half = len(able) // 2
    (sd_a, dof_a), (sd_b, dof_b) = _pooled(able[:half]), _pooled(able[half:])
    told = (
        f"{format_number(sd_a, decimals)} {unit} in the first {half} and "
        f"{format_number(sd_b, decimals)} {unit} in the last {len(able) - half} results"
    )
    if min(sd_a, sd_b) == 0.0:
        said = f"They scatter by {told}; one of them is nothing but the timer's step."
        return Steadiness(sd_a, sd_b, half, len(able) - half, None, said)
    from scipy.special import fdtr  # lazy: 0.2 s

    below = float(fdtr(dof_b, dof_a, (sd_b / sd_a) ** 2))
    share = 2.0 * min(below, 1.0 - below)
    word = "less" if sd_b < sd_a else "more"
    verdict = f"you scatter {word} than you did"
    if share >= 0.05:
        verdict = "no change that chance alone would not bring as well"
    return Steadiness(
        sd_a, sd_b, half, len(able) - half, share, f"{told[:1].upper()}{told[1:]}: {verdict}."
    )


def _pooled(points: Sequence[SeasonPoint]) -> tuple[float, int]:
    """The pooled standard deviation of some points and its degrees of freedom."""
    dof = sum(p.n - 1 for p in points)
    squares = sum((p.n - 1) * p.sd**2 for p in points if p.sd is not None)
    return sqrt(squares / dof), dof
