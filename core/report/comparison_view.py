"""Everything that is shown of a comparison, read from the log in one go: one frozen value."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from core.attempts import Test, find_test
from core.report.attempt_pictures import n_words
from core.report.comparison_pictures import days_picture, difference_picture, sides_picture
from core.report.pictures import Picture
from core.report.words import day_words, mean_words
from core.session import Book, Session
from core.setup import Change, build_key
from core.verdict import (
    BuildSide,
    Comparison,
    Look,
    builds_run,
    compare_documents,
    looks,
    shared_tests,
    sheet_of,
)
from core.verdict.day_by_day import days_of

__all__ = ["Asked", "ComparisonView", "view_of"]


@dataclass(frozen=True)
class Asked:
    """What is to be compared; the second against the first."""

    first: str  # id of a session
    second: str  # id of a session, perhaps the same one
    first_build: str = ""  # letter; empty: chosen by itself
    second_build: str = ""
    test: str = ""  # name of a test both ran; empty: chosen by itself
    gain: float | None = None  # smallest gain worth having; None: as the sessions said

    @property
    def swapped(self) -> Asked:
        """The same with the sides changed over."""
        return replace(
            self,
            first=self.second,
            second=self.first,
            first_build=self.second_build,
            second_build=self.first_build,
        )


@dataclass(frozen=True)
class Seen:
    """One look at the comparison, as pictures."""

    look: Look
    sides: Picture
    difference: Picture


@dataclass(frozen=True)
class ComparisonView:
    """A comparison with all that belongs beside it."""

    asked: Asked  # with builds and test filled in
    made: Comparison
    test: Test
    machine: str  # name; of both, where they are two
    seen: tuple[Seen, ...]  # as it counts first; empty: nothing to compare
    facts: tuple[tuple[str, str], ...]  # what it rests on, as names and values
    causes: tuple[str, ...]  # what changed and can be a cause
    rest: tuple[str, ...]  # what follows from it, was measured or only noted
    builds: tuple[tuple[str, ...], tuple[str, ...]]  # letters that ran, of each session
    tests: tuple[str, ...]  # names of the tests both ran
    days: tuple[tuple[str, Picture], ...] = ()  # days of a build that ran on two or more, in words


def view_of(book: Book, asked: Asked) -> ComparisonView:
    """Compare two builds and return all there is to show; meant for a thread.

    Raises:
        InputError: they cannot be compared; the sentence says why.
        NotFoundError: there is no such session, build or test.
        LogError: a document cannot be read.
    """
    first, second = book.log.get(Session, asked.first), book.log.get(Session, asked.second)
    known = _with_builds(asked, first, second)
    made = compare_documents(
        book,
        first,
        second,
        build_a=known.first_build,
        build_b=known.second_build,
        test=known.test,
        gain=known.gain,
        count=True,
    )
    test = find_test(made.b.test)
    found = looks(made, first, second) if made.difference is not None else ()
    return ComparisonView(
        asked=replace(known, first_build=made.a.build, second_build=made.b.build, test=made.b.test),
        made=made,
        test=test,
        machine=_machines(book, made),
        seen=tuple(
            Seen(look, sides_picture(made, look), difference_picture(made, found, look))
            for look in found
        ),
        facts=_facts(made, known, second),
        causes=tuple(change.words for change in made.causes),
        rest=_rest(made.changed, made.causes),
        builds=(builds_run(first, test.name), builds_run(second, test.name)),
        tests=shared_tests(first, second),
        days=tuple(_days(book, made, first, second)),
    )


def _days(
    book: Book, made: Comparison, first: Session, second: Session
) -> Iterator[tuple[str, Picture]]:
    """Yield a picture for each build that ran on two days or more, the newer side's first."""
    if made.difference is None or made.allowances is None:
        return
    seen: set[str] = set()
    for session, side in ((second, made.b), (first, made.a)):
        key = build_key(sheet_of(session, side.build)) if side.build else ""
        days = days_of(book.sessions(), side, key, made.allowances.day_air)
        if key in seen or len({day.day for day in days}) < 2:
            continue
        seen.add(key)
        air = f"bar: in the air of {made.a.label}" if any(d.net for d in days) else "bar: its range"
        words = f"The build of {side.label}, day by day; dot: as clocked, {air}"
        yield words, days_picture(made, days)


def _with_builds(asked: Asked, first: Session, second: Session) -> Asked:
    """Within one session take the first two builds that ran, where none were named."""
    if first.id != second.id or asked.first_build or asked.second_build:
        return asked
    run = builds_run(first, asked.test or first.test)
    return replace(asked, first_build=run[0], second_build=run[1]) if len(run) > 1 else asked


def _machines(book: Book, made: Comparison) -> str:
    names = (book.name_of(side.machine) or side.machine for side in (made.a, made.b))
    return " and ".join(dict.fromkeys(names))


def _rest(changed: tuple[Change, ...], causes: tuple[Change, ...]) -> tuple[str, ...]:
    return tuple(change.words for change in changed if change not in causes)


def _facts(made: Comparison, asked: Asked, second: Session) -> tuple[tuple[str, str], ...]:
    name = made.b.test
    kind = made.b.kind
    rows = [
        (made.a.label, _side_words(made.a)),
        (made.b.label, _side_words(made.b)),
        (f"scatter of one {kind}", mean_words(made.spread, name) if made.difference else ""),
        ("day to day", mean_words(made.day_spread, name) if made.difference else ""),
        ("drift taken out", mean_words(made.drift, name)),
        ("smallest gain", _gain_words(made, asked, second)),
        ("to settle it", made.settle.sentence if made.settle else ""),
    ]
    return tuple((label, value) for label, value in rows if value)


def _side_words(side: BuildSide) -> str:
    """Return what a side rests on: mean, count, day, timing, and what found no partner."""
    left = len(side.left_over)
    said = (
        f"mean {mean_words(side.mean, side.test)}" if side.values else "nothing that counts",
        n_words(side.n, side.kind) if side.values else "",
        day_words(date.fromisoformat(side.day)),
        {"mixed": "mixed timing", "": "timing not told"}.get(side.timing, side.timing),
        f"{left} without a partner" if left else "",
        f"{side.one_direction} only" if side.one_direction else "",
    )
    return ", ".join(filter(None, said))


def _gain_words(made: Comparison, asked: Asked, second: Session) -> str:
    if made.gain is None:
        return "not said"
    shown = f"{made.gain:g} {made.unit}"
    if asked.gain is not None:
        return f"{shown}, typed for this look, not saved"
    return f"{shown}, as said in {(made.b if second.gain is not None else made.a).label}"
