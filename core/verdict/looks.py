"""The same comparison looked at otherwise: without what stands apart, or with what was struck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.attempts import find_test
from core.session import Session
from core.stats import Difference, Verdict
from core.verdict.compare import Sides
from core.verdict.results import BuildSide, Comparison
from core.verdict.sentences import otherwise, word_for

__all__ = ["Look", "LookId", "looks"]

LookId = Literal["as it counts", "without odd", "with struck"]


@dataclass(frozen=True)
class Look:
    """One way to look at a comparison; the verdict is always that of the first, as it counts."""

    id: LookId
    words: str  # what is left out or put in: ``without attempt 5 of S08``
    a: BuildSide
    b: BuildSide
    difference: Difference | None  # None: nothing is left to compare
    verdict: Verdict  # what the answer would be
    sentence: str  # one line; for the first look the comparison's own


def looks(made: Comparison, session_a: Session, session_b: Session) -> tuple[Look, ...]:
    """Return the ways to look at a comparison, as it counts first; others only where they differ.

    Args:
        made: the comparison.
        session_a: the session of its side A.
        session_b: the session of its side B.
    """
    sides = Sides(session_a, made.a.build, session_b, made.b.build, made.b.test)
    first = Look(
        "as it counts", "as it counts", made.a, made.b, made.difference, made.verdict, made.sentence
    )
    return (first, *_others(made, sides))


def _others(made: Comparison, sides: Sides) -> Iterator[Look]:
    if made.without_odd is not None:
        out_a, out_b = (
            frozenset(odd.n for odd in made.odd if odd.session == side.session)
            for side in (made.a, made.b)
        )
        seen = sides.observed(without=(out_a, out_b))
        words = f"without {_attempts((made.a, out_a), (made.b, out_b))}"
        yield _look("without odd", words, seen, made.without_odd, made)
    if made.with_struck is not None:
        seen = sides.observed(with_struck=True)
        in_a, in_b = _added(seen[0], made.a), _added(seen[1], made.b)
        words = f"with {_attempts((made.a, in_a), (made.b, in_b)) or 'struck attempts'} counted"
        if in_a <= {*seen[0].left_over} and in_b <= {*seen[1].left_over}:
            words = f"{words}, which find{'s' if len(in_a | in_b) == 1 else ''} no partner"
        yield _look("with struck", words, seen, made.with_struck, made)


def _added(after: BuildSide, before: BuildSide) -> frozenset[int]:
    """Numbers of the attempts that one side has and the other has not, paired or not."""
    new, old = ({*s.left_over, *(n for g in s.attempts for n in g)} for s in (after, before))
    return frozenset(new - old)


def _attempts(*parts: tuple[BuildSide, frozenset[int]]) -> str:
    """Name attempts with their side: ``attempt 5 of S08``; a session against itself once."""
    told: dict[str, set[int]] = {}
    for side, numbers in parts:
        if numbers:
            told.setdefault(side.label.partition(":")[0], set()).update(numbers)
    said = []
    for label, found in told.items():
        listed = ", ".join(str(n) for n in sorted(found))
        said.append(f"attempt{'s' if len(found) > 1 else ''} {listed} of {label}")
    return " and ".join(said)


def _look(
    id_: LookId, words: str, seen: tuple[BuildSide, BuildSide], found: Difference, made: Comparison
) -> Look:
    test = find_test(made.b.test)
    sentence = otherwise(f"{words[:1].upper()}{words[1:]}", found, made, test)
    return Look(id_, words, *seen, found, word_for(found, made, test), sentence)
