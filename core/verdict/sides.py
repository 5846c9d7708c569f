"""The sides of a comparison: which attempts of a session stand for which build."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from core.attempts import Attempt, Observations, counted, observations
from core.errors import InputError, NotFoundError
from core.session import Session
from core.setup import Sheet, build_letters
from core.verdict.results import BuildSide

__all__ = ["as_one_way", "builds_run", "sheet_of", "side_of"]


def builds_run(session: Session, test: str) -> tuple[str, ...]:
    """Return the letters of the builds that have counted attempts, in the order they ran."""
    letters = build_letters(session.sheets)
    seen: list[str] = []
    for attempt in counted(session.attempts, test, session.test):
        letter = letters[attempt.sheet]
        if letter not in seen:
            seen.append(letter)
    return tuple(seen)


def sheet_of(session: Session, build: str) -> Sheet:
    """Return the first setup sheet of a build.

    Raises:
        NotFoundError: no such build.
    """
    letters = build_letters(session.sheets)
    if build not in letters:
        have = ", ".join(dict.fromkeys(letters)) or "none"
        raise NotFoundError(f"{session.label} has no build {build}; it has {have}.")
    return session.sheets[letters.index(build)]


def _timing(session: Session, attempts: list[Attempt]) -> str:
    names = {a.timing or session.timing for a in attempts}
    return names.pop() if len(names) == 1 else "mixed" if names else session.timing


def _label(session: Session, build: str) -> str:
    several = len(set(build_letters(session.sheets))) > 1
    return f"{session.label}:{build}" if several else session.label


def side_of(
    session: Session,
    build: str = "",
    test: str = "",
    *,
    with_struck: bool = False,
    without: frozenset[int] = frozenset(),
) -> BuildSide:
    """Return the observations of one build of a session.

    Args:
        session: any session, also an empty one.
        build: letter; empty: the only build there is.
        test: name of the test; empty: the session's main test.
        with_struck: count struck attempts that have a time as well.
        without: numbers of attempts to leave out.

    Raises:
        NotFoundError: no such build.
        InputError: the session ran several builds and none was named.
    """
    name = test or session.test
    if not build:
        run = builds_run(session, name) or build_letters(session.sheets)[:1]
        if len(run) > 1:
            listed = ", ".join(f"{session.label}:{b}" for b in run)
            raise InputError(f"{session.label} ran several builds: say {listed}.")
        build = run[0] if run else ""
    else:
        sheet_of(session, build)
    return _observed(session, build, name, _of_build(session, build, name, with_struck, without))


def _of_build(
    session: Session, build: str, test: str, with_struck: bool, without: frozenset[int]
) -> list[Attempt]:
    """The attempts that count for a build, with struck ones put in and others left out as told."""
    letters = build_letters(session.sheets)
    attempts = session.attempts
    if with_struck:
        attempts = tuple(_unstruck(a) for a in attempts)
    return [
        a
        for a in counted(attempts, test, session.test)
        if a.n not in without and (not letters or letters[a.sheet] == build)
    ]


def _unstruck(attempt: Attempt) -> Attempt:
    return msgspec.structs.replace(attempt, strike=None)


def _observed(session: Session, build: str, test: str, mine: list[Attempt]) -> BuildSide:
    seen = observations(mine, two_way=len(session.directions) == 2)
    return BuildSide(
        session=session.id,
        label=_label(session, build),
        machine=session.machine,
        place=session.place,
        build=build,
        test=test,
        timing=_timing(session, mine),
        kind=seen.kind,
        values=seen.values,
        attempts=seen.attempts,
        blocks=seen.sheets,
        moments=_moments(seen),
        day=session.started.date().isoformat(),
        left_over=seen.left_over,
        one_direction=seen.one_direction,
        direction_unknown=seen.direction_unknown,
        unpaired=seen.unpaired,
        directions=tuple(sorted({a.direction for a in mine if a.direction})),
    )


def _moments(seen: Observations) -> tuple[float, ...]:
    """When each observation ran, in seconds; the attempts' numbers where times are not known."""
    times = [t for t in seen.times if t is not None]
    if len(times) < len(seen.times) or len(set(times)) < len(times):
        return tuple(sum(numbers) / len(numbers) for numbers in seen.attempts)
    return tuple(t.timestamp() for t in times)


def as_one_way(
    session: Session,
    side: BuildSide,
    direction: str,
    with_struck: bool = False,
    without: frozenset[int] = frozenset(),
) -> BuildSide:
    """Return the same side with only the attempts of one direction, each standing for itself.

    Args:
        session: the one of the side.
        side: observed both ways.
        direction: the one to keep.
        with_struck: as for :func:`side_of`.
        without: as for :func:`side_of`.
    """
    ran = _of_build(session, side.build, side.test, with_struck, without)
    mine = [a for a in ran if a.direction == direction]
    seen = _observed(session, side.build, side.test, mine)
    return replace(seen, one_direction=direction, from_two_ways=True)
