"""What a running session is held against while it runs: one build, with its attempts."""

from __future__ import annotations

from dataclasses import dataclass

from core.session import Book, Session
from core.setup import build_letters, changes, main_changes, slot_of
from core.verdict.lookup import natural_partner
from core.verdict.results import BuildSide
from core.verdict.sides import builds_run, sheet_of, side_of

__all__ = ["Baseline", "baseline_of"]


@dataclass(frozen=True)
class Baseline:
    """The build to show beside the attempts of a running session."""

    session: str  # id of the session it ran in, perhaps the same one
    side: BuildSide
    span: tuple[float, float] | None  # its lowest and highest single attempt, in the test's unit
    differs: tuple[str, ...]  # labels of the slots that the build on now was changed in


def baseline_of(book: Book, session: Session) -> Baseline | None:
    """Return what the build that is on now is naturally held against, or None.

    After a swap it is the build that ran before it in the same session. Else it is the session's
    natural partner, and of several builds in it the one that differs least.

    Args:
        book: the open log.
        session: a session with at least one sheet.
    """
    if not session.sheets:
        return None
    now = build_letters(session.sheets)[-1]
    before = [build for build in builds_run(session, session.test) if build != now]
    if before:
        return _baseline(session, before[-1], session)
    partner = natural_partner(book, session)
    if partner is None or partner.test != session.test:
        return None
    run = builds_run(partner, session.test)
    if not run:
        return None
    sheet = session.sheets[-1]
    nearest = min(
        reversed(run), key=lambda build: len(main_changes(changes(sheet_of(partner, build), sheet)))
    )
    return _baseline(partner, nearest, session)


def _baseline(other: Session, build: str, session: Session) -> Baseline:
    differing = main_changes(changes(sheet_of(other, build), session.sheets[-1]))
    side = side_of(other, build, session.test)
    numbers = {n for group in (*side.attempts, side.left_over) for n in group}
    values = [a.value for a in other.attempts if a.n in numbers and a.value is not None]
    return Baseline(
        session=other.id,
        side=side,
        span=(min(values), max(values)) if values else None,
        differs=tuple(slot_of(change.slot).label for change in differing),
    )
