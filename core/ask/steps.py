"""From one build to the next: which changes lie between builds that ran, alone or together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from core.attempts import find_test
from core.errors import BackToBackError
from core.session import Book, Session
from core.setup import Change, Slot, build_letters, changes, main_changes, slot_of
from core.verdict import Comparison, builds_run, compare_documents, sheet_of

__all__ = ["Step", "compared", "is_about", "steps_of"]


@dataclass(frozen=True)
class Step:
    """Two builds that ran one after the other on the same test, and what lies between them."""

    a: Session
    build_a: str
    b: Session
    build_b: str
    test: str
    causes: tuple[Change, ...]

    @property
    def words(self) -> str:
        """Both sides: ``S05:B against S05:A``."""
        return f"{_side(self.b, self.build_b)} against {_side(self.a, self.build_a)}"


def _side(session: Session, build: str) -> str:
    return f"{session.label}:{build}" if len(session.sheets) > 1 and build else session.label


def steps_of(sessions: Iterable[Session]) -> Iterator[Step]:
    """Yield every step of some sessions: within each, and from each to the next of its kind.

    Args:
        sessions: oldest first, of any machines.
    """
    last: dict[tuple[str, str], tuple[Session, str]] = {}
    for session in sessions:
        run = _run(session)
        key = (session.machine, session.test)
        if not run:
            continue
        if key in last:
            yield _step(*last[key], session, run[0])
        for before, after in pairwise(run):
            yield _step(session, before, session, after)
        last[key] = (session, _last_run(session, run))


def _run(session: Session) -> tuple[str, ...]:
    try:
        return builds_run(session, find_test(session.test).name) if session.sheets else ()
    except BackToBackError:
        return ()


def _last_run(session: Session, run: tuple[str, ...]) -> str:
    """The build that ran last: of A-B-A it is A."""
    letters = build_letters(session.sheets)
    ran = [a.sheet for a in session.attempts if a.sheet < len(letters)]
    return letters[ran[-1]] if ran and letters[ran[-1]] in run else run[-1]


def _step(a: Session, build_a: str, b: Session, build_b: str) -> Step:
    causes = main_changes(changes(sheet_of(a, build_a), sheet_of(b, build_b)))
    return Step(a, build_a, b, build_b, b.test, causes)


def is_about(change: Change, words: Iterable[str], slot: Slot | None = None) -> bool:
    """Tell whether a change is what the words ask about.

    Args:
        change: a cause.
        words: folded; a slot's label, what it belongs to, or the name of a part.
        slot: what the words were found to name; None: nothing.
    """
    row = slot_of(change.slot)
    if slot is not None and slot.id in (row.id, row.of, *row.follows):
        return True
    owners = " ".join(slot_of(s).label for s in (row.id, *filter(None, (row.of, *row.follows))))
    texts = " ".join(r.text for r in (change.before, change.after) if r is not None)
    heap = f"{owners} {texts}".casefold()
    sought = tuple(words)
    return bool(sought) and any(word in heap for word in sought)


def compared(book: Book, step: Step) -> Comparison | None:
    """Return the comparison of a step's two builds; None where it cannot be made."""
    try:
        return compare_documents(
            book, step.a, step.b, build_a=step.build_a, build_b=step.build_b, test=step.test
        )
    except BackToBackError:
        return None
