"""What a session can say that no session of the tool would: checked before it is trusted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator

from core.attempts import Attempt, find_strike, find_tag, find_test, find_timing
from core.attempts.decimals import from_number
from core.errors import InputError, NotFoundError
from core.session import Session

__all__ = ["faults"]


def faults(session: Session) -> tuple[str, ...]:
    """Return what contradicts itself in a session, one sentence each; nothing when it is sound.

    The types of the fields are right already, and what no session can say was turned down with its
    file; this looks at what the words mean: tests, gear, tags and reasons that no table has,
    numbers given twice, values that no test of that name has.
    """
    return tuple(_of_session(session)) + tuple(
        f"attempt {attempt.n}: {said}"
        for attempt in session.attempts
        for said in _of_attempt(attempt, session)
    )


def _of_session(session: Session) -> Iterator[str]:
    if not session.label.strip():
        yield "it has no label"
    yield from _unknown(find_test, session.test)
    if session.timing:
        yield from _unknown(find_timing, session.timing)
    if len(session.directions) not in (0, 2) or len(set(session.directions)) == 1:
        yield "a place has two directions or none"
    twice = [n for n, count in Counter(a.n for a in session.attempts).items() if count > 1]
    if twice:
        yield f"attempt number {twice[0]} is there twice"


def _of_attempt(attempt: Attempt, session: Session) -> Iterator[str]:
    if attempt.test:
        yield from _unknown(find_test, attempt.test)
    if attempt.timing:
        yield from _unknown(find_timing, attempt.timing)
    for tag in attempt.tags:
        yield from _unknown(find_tag, tag)
    if attempt.strike is not None:
        yield from _unknown(find_strike, attempt.strike.code)
    if attempt.kind == "aborted" and attempt.value is not None:
        yield "it was aborted and has a value"
    yield from _out_of_range(attempt, session)
    if attempt.direction and session.directions and attempt.direction not in session.directions:
        yield f"its direction is not one of {' and '.join(session.directions)}"


def _out_of_range(attempt: Attempt, session: Session) -> Iterator[str]:
    """Yield that the value is one that nobody could have entered."""
    if attempt.value is None:
        return
    try:
        test = find_test(attempt.test or session.test)
        if test.unit:
            from_number(attempt.value, test)
    except NotFoundError:
        return  # that is said already
    except InputError as error:
        yield error.message.rstrip(".")


def _unknown(find: Callable[[str], object], name: str) -> Iterator[str]:
    try:
        find(name)
    except (NotFoundError, InputError) as error:
        yield error.message.rstrip(".")
