"""A series of attempts summed up for display; nothing here is a verdict."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from statistics import fmean, stdev

import msgspec

from core.attempts.codes import TAGS
from core.attempts.decimals import shown
from core.attempts.documents import Attempt
from core.attempts.pairs import counted, direction_centred, pairs
from core.attempts.tests_table import Test
from core.units import format_number

__all__ = [
    "Numbers",
    "Series",
    "TagCount",
    "Trend",
    "TwoTimers",
    "sum_up",
    "trend_of",
    "two_timers",
]

_FEWEST_FOR_TREND = 6  # two attempts in each third


class Numbers(msgspec.Struct, frozen=True):
    """Count, mean, scatter and best of some values, in the unit of the test."""

    n: int  # how many
    mean: float | None  # None: no values
    sd: float | None  # standard deviation; None below two values
    best: float | None  # shown as best, never compared


class TagCount(msgspec.Struct, frozen=True):
    """How often the machine behaved in one way."""

    code: str  # of the tag table
    count: int  # attempts with that tag
    of: int  # attempts that count
    words: str  # such as ``bogged 3 of 8``


class Trend(msgspec.Struct, frozen=True):
    """How a series moved from its first third to its last, each direction by itself."""

    first: float  # mean of the first third less the mean of its direction, in the test's unit
    last: float  # the same of the last third
    per_attempt: float  # slope over all of them, in the test's unit for each attempt

    @property
    def change(self) -> float:
        """Last third less first third."""
        return self.last - self.first


class TwoTimers(msgspec.Struct, frozen=True):
    """What a second timer said of the same attempts."""

    n: int  # attempts timed by both
    bias: float  # mean of second less first, in the test's unit
    sd: float | None  # standard deviation of that difference; None below two


class Series(msgspec.Struct, frozen=True):
    """A series summed up."""

    numbers: Numbers  # attempts that count
    with_struck: Numbers | None  # the same with struck ones put back in; None: none has a value
    by_direction: tuple[tuple[str, Numbers], ...]  # in the order first run; names, or ""
    pairs: Numbers  # pair means
    tags: tuple[TagCount, ...]  # in the order of the tag table, only those that occur
    struck: int  # timed attempts of the test that are struck
    warm_ups: int
    aborted: int
    trend: Trend | None  # None below six attempts
    timers: TwoTimers | None  # None without a second timer
    sentence: str  # the series in one line


def _numbers(values: Sequence[float], lower_is_better: bool) -> Numbers:
    if not values:
        return Numbers(0, None, None, None)
    best = min(values) if lower_is_better else max(values)
    return Numbers(len(values), fmean(values), stdev(values) if len(values) > 1 else None, best)


def _values(attempts: Iterable[Attempt]) -> tuple[float, ...]:
    return tuple(a.value for a in attempts if a.value is not None)


def sum_up(attempts: Iterable[Attempt], test: Test, session_test: str) -> Series:
    """Sum up the attempts of one test.

    Args:
        attempts: of one session, or of one build in it; all kinds, struck ones too.
        test: the test asked about.
        session_test: the session's main test, which attempts without a name of their own ran.
    """
    own = tuple(a for a in attempts if (a.test or session_test) == test.name)
    good = counted(own, test.name, session_test)
    struck = tuple(a for a in own if a.kind == "timed" and a.strike is not None)
    lower = test.lower_is_better
    numbers = _numbers(_values(good), lower)
    ways = tuple(dict.fromkeys(a.direction for a in good))
    struck_values = _values(struck)
    return Series(
        numbers=numbers,
        with_struck=_numbers((*_values(good), *struck_values), lower) if struck_values else None,
        by_direction=tuple(
            (way, _numbers(_values(a for a in good if a.direction == way), lower)) for way in ways
        ),
        pairs=_numbers([pair.mean for pair in pairs(good)[0]], lower),
        tags=_tag_counts(good),
        struck=len(struck),
        warm_ups=sum(a.kind == "warm-up" for a in own),
        aborted=sum(a.kind == "aborted" for a in own),
        trend=trend_of(good),
        timers=two_timers(good),
        sentence=_sentence(numbers, len(struck), len(own), test),
    )


def _tag_counts(good: Sequence[Attempt]) -> tuple[TagCount, ...]:
    found = Counter(tag for a in good for tag in a.tags)
    return tuple(
        TagCount(kind.code, count, len(good), f"{kind.counted} {count} of {len(good)}")
        for kind in TAGS
        if (count := found[kind.code])
    )


def trend_of(attempts: Sequence[Attempt]) -> Trend | None:
    """Return how the attempts moved over the series, their direction and sheet taken off.

    Args:
        attempts: of one test, in the order they ran; what never counts is left out.

    Returns:
        None below six that count.
    """
    centred = direction_centred(attempts).centred
    n = len(centred)
    if n < _FEWEST_FOR_TREND:
        return None
    third = n // 3
    middle = (n - 1) / 2
    slope = sum((i - middle) * v for i, v in enumerate(centred))
    slope /= sum((i - middle) ** 2 for i in range(n))
    return Trend(fmean(centred[:third]), fmean(centred[-third:]), slope)


def two_timers(attempts: Iterable[Attempt]) -> TwoTimers | None:
    """Return how far a second timer differs from the first, over attempts timed by both.

    Args:
        attempts: of one test; those without both values are left out.

    Returns:
        None when there are none.
    """
    apart = [a.second - a.value for a in attempts if a.value is not None and a.second is not None]
    if not apart:
        return None
    return TwoTimers(len(apart), fmean(apart), stdev(apart) if len(apart) > 1 else None)


def _sentence(numbers: Numbers, struck: int, taken: int, test: Test) -> str:
    if numbers.mean is None or numbers.best is None:
        if struck:
            return "All attempts are struck: nothing to compare."
        return "No timed attempt yet." if taken else "No attempts yet."
    if numbers.sd is None:
        return f"One attempt, {shown(numbers.mean, test.decimals)} {test.unit}: no range from one."
    mean, sd, best = (
        format_number(value, test.decimals) for value in (numbers.mean, numbers.sd, numbers.best)
    )
    left_out = f"; {struck} struck and left out" if struck else ""
    return (
        f"{numbers.n} attempts, mean {mean} {test.unit}, single ones scatter {sd} {test.unit},"
        f" best {best} {test.unit}{left_out}."
    )
