"""From what a person types to a comparison: finds sessions and builds, and the natural partner."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator, Sequence

from core.attempts import find_test
from core.errors import InputError, LogError, NotFoundError
from core.session import Book, Place, Session, SessionHead
from core.setup import build_letters, changes, main_changes
from core.verdict.allowing.coasted import coasted
from core.verdict.case import Surroundings
from core.verdict.compare import Sides, compare
from core.verdict.looked import count_look, looks_file
from core.verdict.odd import odd_attempts
from core.verdict.pool import Pool, pool_of
from core.verdict.results import Comparison, Odd
from core.verdict.sides import builds_run, sheet_of

__all__ = [
    "compare_documents",
    "compare_sessions",
    "natural_partner",
    "odd_in",
    "place_in",
    "shared_tests",
    "within_session",
]

_NEAREST = 5  # other sessions the road-load model is fitted to
_NUMBER = re.compile(r"^[\d.,]+\s*[a-z/]*$", re.IGNORECASE)


def _session(book: Book, word: str) -> tuple[Session, str]:
    try:
        return book.side(word)
    except NotFoundError:
        if _NUMBER.match(word.strip()) and not word.strip().isdigit():
            raise InputError(
                f"The {word.strip()} has no session behind it, so I can show it as a note "
                "but not compare with it."
            ) from None
        raise


def shared_tests(a: Session, b: Session) -> tuple[str, ...]:
    """Return the names of the tests that both sessions have counted attempts of, main first."""
    run = [
        {t.test or s.test for t in s.attempts if t.kind == "timed" and not t.strike} for s in (a, b)
    ]
    return tuple(sorted(run[0] & run[1], key=lambda name: (name not in (a.test, b.test), name)))


def _shared_test(a: Session, b: Session, wanted: str) -> str:
    """The test both ran: the one asked for, the main test of both, or the only one they share."""
    run = [{t.test or s.test for t in s.attempts if t.kind == "timed"} | {s.test} for s in (a, b)]
    if wanted:
        return find_test(wanted).name
    if a.test == b.test:
        return b.test
    shared = run[0] & run[1]
    if len(shared) == 1:
        return shared.pop()
    raise InputError(
        f"{a.label} ran {a.test} and {b.label} ran {b.test}: different tests cannot be compared."
    )


def _build(session: Session, build: str, other: Session, other_build: str, test: str) -> str:
    """The build meant: as told, the only one, or the one that differs least from the other side."""
    if build:
        sheet_of(session, build)
        return build
    run = builds_run(session, test)
    if len(run) < 2:
        return run[0] if run else ""
    other_run = [other_build] if other_build else list(builds_run(other, test))[-1:]
    other_run = other_run or list(build_letters(other.sheets))[-1:]
    if session.id == other.id or not other_run:
        listed = " and ".join(f"{session.label}:{b}" for b in run)
        raise InputError(f"{session.label} ran several builds: say {listed}.")
    against = sheet_of(other, other_run[0])
    return min(
        reversed(run), key=lambda b: len(main_changes(changes(against, sheet_of(session, b))))
    )


def compare_documents(
    book: Book,
    a: Session,
    b: Session,
    *,
    build_a: str = "",
    build_b: str = "",
    test: str = "",
    gain: float | None = None,
    count: bool = False,
) -> Comparison:
    """Compare two sessions of the log, or two builds of one; B against A.

    Args:
        book: the open log.
        a, b: the sessions.
        build_a, build_b: letters; empty: chosen by itself.
        test: name of a test both ran; empty: chosen by itself.
        gain: smallest gain worth having; None: as the sessions said.
        count: whether this is a person looking, so that it counts as a look.

    Raises:
        InputError: different tests, one and the same build, or a build that must be named.
        NotFoundError: no such build or test.
    """
    name = _shared_test(a, b, test)
    build_a = _build(a, build_a, b, build_b, name)
    build_b = _build(b, build_b, a, build_a, name)
    if a.id == b.id and build_a == build_b:
        raise InputError(f"{a.label} against itself says nothing.")
    heads = book.sessions()
    names = (f"{a.id}:{build_a}", f"{b.id}:{build_b}")
    looked_at = count_look(looks_file(book.log.id), names, book.clock()) if count else 0
    return compare(
        Sides(a, build_a, b, build_b, name),
        heads,
        gain=gain,
        names=book.name_of,
        past=_nearest(book, heads, a, b),
        place_of=lambda id_: place_in(book, id_),
        around=Surroundings(looked_at=looked_at, coasted=coasted(book, b.machine)),
    )


def place_in(book: Book, id_: str) -> Place | None:
    """Return the place of an id, or None when the log does not hold it or cannot read it."""
    with contextlib.suppress(LogError):
        return book.log.get(Place, id_) if id_ in book.log.ids(Place) else None
    return None


def _nearest(book: Book, heads: Sequence[SessionHead], a: Session, b: Session) -> Iterator[Session]:
    """Yield other sessions of B's machine with attempts, those about B's time, newer and older."""
    own = [head for head in heads if head.machine == b.machine and head.attempts]
    at = next((index for index, head in enumerate(own) if head.id == b.id), len(own))
    around = [*own[max(0, at - _NEAREST) : at][::-1], *own[at + 1 : at + 1 + _NEAREST]]
    others = [head.id for head in around if head.id not in (a.id, b.id)]
    for id_ in others[:_NEAREST]:
        with contextlib.suppress(LogError):  # one that cannot be read is told elsewhere
            yield book.log.get(Session, id_)


def compare_sessions(
    book: Book,
    word_a: str,
    word_b: str,
    *,
    test: str = "",
    gain: float | None = None,
    count: bool = False,
) -> Comparison:
    """Compare what two words name: ``S03``, ``S05:B``, an id, or the head of one.

    Raises:
        NotFoundError: no such session, build or test.
        InputError: they cannot be compared; a bare number has no session behind it.
    """
    (a, build_a), (b, build_b) = _session(book, word_a), _session(book, word_b)
    return compare_documents(
        book, a, b, build_a=build_a, build_b=build_b, test=test, gain=gain, count=count
    )


def within_session(book: Book, session: Session) -> Comparison | None:
    """Compare the first two builds that a session ran; None when it ran one only."""
    run = builds_run(session, session.test)
    if len(run) < 2:
        return None
    return compare_documents(book, session, session, build_a=run[0], build_b=run[1])


def _candidates(book: Book, session: Session) -> list[SessionHead]:
    return [
        head
        for head in reversed(book.sessions())
        if head.machine == session.machine
        and head.test == session.test
        and head.id != session.id
        and head.started <= session.started
        and any(t.value is not None and t.kind == "timed" and not t.strike for t in head.attempts)
    ]


def natural_partner(book: Book, session: Session) -> Session | None:
    """Return the session this one is naturally held against, or None.

    The one its prediction names; else the newest earlier one of the same machine and test that
    differs in one change at most; else simply the newest earlier one.
    """
    named = session.prediction.against if session.prediction else ""
    heads = _candidates(book, session)
    if named and any(h.id == named for h in book.sessions()):
        return book.log.get(Session, named)
    if not heads or not session.sheets:
        return book.log.get(Session, heads[0].id) if heads else None
    for head in heads[:20]:
        found = book.log.get(Session, head.id)
        if found.sheets and len(main_changes(changes(found.sheets[-1], session.sheets[-1]))) <= 1:
            return found
    return book.log.get(Session, heads[0].id)


def odd_in(book: Book, session: Session) -> tuple[Odd, ...]:
    """Return the attempts of a session that stand apart, seen from the machine's other sessions."""
    pool: Pool = pool_of(
        book.sessions(), session.machine, session.test, session.timing, leave_out=session.id
    )
    return odd_attempts(session, pool)
