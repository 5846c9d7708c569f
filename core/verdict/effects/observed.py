"""Which attempts of a session count on a test, and the observations one block of them makes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import fsum

from core.attempts import Attempt, find_timing
from core.attempts.pairs import couples
from core.errors import NotFoundError
from core.session import SessionHead

__all__ = ["Seen", "counting", "ran_on", "seen_in"]


def ran_on(heads: Iterable[SessionHead], test: str, machine: str = "") -> list[SessionHead]:
    """Return the sessions with attempts that count on a test.

    Args:
        heads: of the log.
        test: name of the test.
        machine: id; empty: of any machine.
    """
    return [
        head
        for head in heads
        if (not machine or head.machine == machine) and any(True for _ in counting(head, test))
    ]


def counting(head: SessionHead, test: str) -> Iterator[Attempt]:
    """Yield the attempts of a session that count on a test, in the order they ran."""
    own = head.test == test
    for a in head.attempts:
        if (
            a.kind == "timed"
            and a.strike is None
            and a.value is not None
            and (a.test == test if a.test else own)
        ):
            yield a


@lru_cache(maxsize=64)
def _is_known(timing: str) -> bool:
    """Tell whether timing gear is of this version's table, or was not told at all."""
    try:
        return not timing or bool(find_timing(timing))
    except NotFoundError:
        return False


@dataclass(frozen=True, slots=True)
class Seen:
    """The observations of one block."""

    values: list[float]
    is_pair: bool
    way: str  # empty: as the place is run
    timing: str
    moment: float


def seen_in(head: SessionHead, attempts: Sequence[Attempt]) -> Seen | str:
    """Return the observations of one block, or the reason why it says nothing.

    Args:
        head: of the session.
        attempts: those on one sheet that count, one or more.
    """
    timings = {a.timing or head.timing for a in attempts}
    if len(timings) > 1:
        return "mixed"
    if not _is_known(next(iter(timings))):
        return "gear"
    values = [a.value for a in attempts if a.value is not None]
    moments = [a.at.timestamp() for a in attempts if a.at is not None]
    moment = fsum(moments) / len(moments) if len(moments) == len(attempts) else attempts[0].n
    two_way = len(head.directions) == 2
    ways = [a.direction for a in attempts]
    starts = couples(ways) if two_way else []
    if starts:
        means = [(values[at] + values[at + 1]) / 2.0 for at in starts]
        return Seen(means, True, "", timings.pop(), moment)
    if two_way and "" in ways:
        return "unknown"
    if two_way and len(set(ways)) > 1:
        return "unpaired"
    return Seen(values, False, ways[0] if two_way else "", timings.pop(), moment)
