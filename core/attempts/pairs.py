"""Which attempts count, how they form pairs, and the observations a verdict rests on."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from datetime import datetime
from statistics import fmean
from typing import Literal

import msgspec

from core.attempts.documents import Attempt

__all__ = [
    "Centred",
    "Observations",
    "Pair",
    "counted",
    "couples",
    "direction_centred",
    "observations",
    "pairs",
]


class Pair(msgspec.Struct, frozen=True):
    """One attempt each way, one right after the other, on one setup sheet."""

    first: Attempt
    second: Attempt
    mean: float  # in the unit of the test


class Observations(msgspec.Struct, frozen=True):
    """The units of evidence of a series: pair means, or single attempts where none form."""

    kind: Literal["pair", "attempt"]
    values: tuple[float, ...]  # in the unit of the test, sheet by sheet, in the order they ran
    attempts: tuple[tuple[int, ...], ...]  # numbers of the attempts behind each value
    sheets: tuple[int, ...]  # index of the setup sheet (block) of each value
    times: tuple[datetime | None, ...]  # when, half way between the two of a pair; None: not known
    left_over: tuple[int, ...] = ()  # numbers of counted attempts that found no partner
    direction_unknown: bool = False  # two-way place, no pair, and some directions were not noted
    one_direction: str = ""  # two-way place, but all ran this way
    unpaired: bool = False  # both ways occur but never one after the other: no way to even them out

    def block(self, sheet: int) -> tuple[float, ...]:
        """Return the values that ran on one setup sheet."""
        return tuple(v for v, s in zip(self.values, self.sheets, strict=True) if s == sheet)


class Centred(msgspec.Struct, frozen=True):
    """Values with the mean of their own direction and sheet taken off, to look for odd ones."""

    values: tuple[float, ...]  # raw, in the unit of the test
    centred: tuple[float, ...]  # value less the mean of its group
    groups: tuple[Hashable, ...]  # sheet index and direction of each value
    attempts: tuple[int, ...]  # number of the attempt behind each value


def counted(attempts: Iterable[Attempt], test_name: str, session_test: str) -> tuple[Attempt, ...]:
    """Return the attempts that count for a test: timed, not struck, with a value, of that test.

    Args:
        attempts: of one session.
        test_name: short name of the test asked about.
        session_test: the session's main test, which attempts without a name of their own ran.
    """
    return tuple(
        a
        for a in attempts
        if a.kind == "timed"
        and a.strike is None
        and a.value is not None
        and (a.test or session_test) == test_name
    )


def _usable(attempts: Iterable[Attempt]) -> list[Attempt]:
    """Leave out what never counts; sheet by sheet, otherwise in the order given."""
    usable = (a for a in attempts if a.kind == "timed" and a.strike is None and a.value is not None)
    return sorted(usable, key=lambda a: a.sheet)


def pairs(attempts: Iterable[Attempt]) -> tuple[tuple[Pair, ...], tuple[Attempt, ...]]:
    """Form pairs of neighbours that ran opposite ways on the same sheet, from the first one on.

    Struck, aborted and warm-up attempts are left out first, so that the two around a struck one
    can be a pair. Each attempt is in one pair at most.

    Returns:
        The pairs, and the counted attempts that found no partner.
    """
    sheets: dict[int, list[Attempt]] = {}
    for a in _usable(attempts):
        sheets.setdefault(a.sheet, []).append(a)
    found: list[Pair] = []
    alone: list[Attempt] = []
    for ran in sheets.values():
        starts = couples([a.direction for a in ran])
        found += (_pair(ran[at], ran[at + 1]) for at in starts)
        taken = {*starts, *(at + 1 for at in starts)}
        alone += (a for at, a in enumerate(ran) if at not in taken)
    return tuple(found), tuple(alone)


def couples(ways: Sequence[str]) -> list[int]:
    """Return where each pair of neighbours begins that ran opposite ways, from the first one on.

    Args:
        ways: directions of attempts on one sheet, in the order they ran; empty: not known.

    >>> couples(["W", "E", "E", "W", "W", "", "E"])
    [0, 2]
    """
    starts: list[int] = []
    at, last = 0, len(ways) - 1
    while at < last:
        first, second = ways[at], ways[at + 1]
        if first and second and first != second:
            starts.append(at)
            at += 1
        at += 1
    return starts


def _pair(first: Attempt, second: Attempt) -> Pair:
    return Pair(first, second, fmean((_value(first), _value(second))))


def _value(attempt: Attempt) -> float:
    if attempt.value is None:
        raise ValueError(f"Attempt {attempt.n} has no value.")
    return attempt.value


def _half_way(first: datetime | None, second: datetime | None) -> datetime | None:
    return None if first is None or second is None else first + (second - first) / 2


def observations(attempts: Iterable[Attempt], two_way: bool) -> Observations:
    """Return the units of evidence of a series of attempts of one test.

    On a two-way place they are pair means, so that slope and steady wind even out. Where no pair
    can be formed they are single attempts, with the reason why: direction not known, all one way,
    or never one after the other. At a place that is run one way they are single attempts.

    Args:
        attempts: of one test; what never counts is left out here.
        two_way: whether the place has two directions.
    """
    usable = _usable(attempts)
    found, alone = pairs(usable)
    if two_way and found:
        return Observations(
            kind="pair",
            values=tuple(p.mean for p in found),
            attempts=tuple((p.first.n, p.second.n) for p in found),
            sheets=tuple(p.first.sheet for p in found),
            times=tuple(_half_way(p.first.at, p.second.at) for p in found),
            left_over=tuple(a.n for a in alone),
        )
    ways = {a.direction for a in usable} if two_way else set()
    return Observations(
        kind="attempt",
        values=tuple(_value(a) for a in usable),
        attempts=tuple((a.n,) for a in usable),
        sheets=tuple(a.sheet for a in usable),
        times=tuple(a.at for a in usable),
        direction_unknown="" in ways,
        one_direction=next(iter(ways)) if len(ways) == 1 and "" not in ways else "",
        unpaired=len(ways) > 1 and "" not in ways,
    )


def direction_centred(attempts: Sequence[Attempt]) -> Centred:
    """Return counted attempts with the mean of their direction and sheet taken off.

    Args:
        attempts: of one test; what never counts is left out here.
    """
    usable = _usable(attempts)
    groups: dict[Hashable, list[float]] = {}
    for a in usable:
        groups.setdefault((a.sheet, a.direction), []).append(_value(a))
    means = {group: fmean(values) for group, values in groups.items()}
    return Centred(
        values=tuple(_value(a) for a in usable),
        centred=tuple(_value(a) - means[a.sheet, a.direction] for a in usable),
        groups=tuple((a.sheet, a.direction) for a in usable),
        attempts=tuple(a.n for a in usable),
    )
