"""Predictions held against what came of them, and how often they were right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from core.attempts import find_test
from core.errors import BackToBackError
from core.session import Book, Session
from core.verdict import (
    Comparison,
    Outcome,
    compare_documents,
    difference_words,
    outcome_of,
    range_words,
    within_session,
)

__all__ = ["Score", "ScoreRow", "score_of"]


@dataclass(frozen=True)
class ScoreRow:
    """One prediction and what it came to."""

    session: str  # id
    label: str
    day: datetime
    predicted: str
    got: str
    range: str
    sign: str  # right, wrong, open
    inside: bool  # the size lies in the range that was found


@dataclass(frozen=True)
class Score:
    """How predictions turned out."""

    rows: tuple[ScoreRow, ...] = ()
    waiting: int = 0  # predictions that cannot be held against anything yet
    right: int = field(default=0)
    wrong: int = 0
    open: int = 0
    inside: int = 0

    @property
    def sentence(self) -> str:
        """The score in one line."""
        made = len(self.rows)
        if not made:
            return "Nothing was predicted that can be held against a result yet."
        inside = [row.label for row in self.rows if row.inside]
        named = f" ({', '.join(inside)})" if inside else ""
        waiting = f"; {self.waiting} cannot be held against anything yet" if self.waiting else ""
        return (
            f"{made} predicted: the sign was right in {self.right}, wrong in {self.wrong}, open in "
            f"{self.open}; the size lay inside the range in {self.inside}{named}{waiting}."
        )


def score_of(book: Book, sessions: Iterable[Session]) -> Score:
    """Return how the predictions of some sessions turned out.

    Args:
        book: the open log.
        sessions: those whose predictions count.
    """
    rows, waiting = [], 0
    for session in sessions:
        if session.prediction is None:
            continue
        held = _held_against(book, session)
        if held is None:
            waiting += 1
            continue
        made, outcome = held
        test, found = find_test(made.b.test), made.difference
        if found is None:
            continue
        rows.append(
            ScoreRow(
                session=session.id,
                label=session.label,
                day=session.started,
                predicted=difference_words(session.prediction.value, test),
                got=difference_words(found.value, test),
                range=range_words(found, test),
                sign=outcome.sign,
                inside=outcome.size_inside,
            )
        )
    signs = [row.sign for row in rows]
    return Score(
        rows=tuple(rows),
        waiting=waiting,
        right=signs.count("right"),
        wrong=signs.count("wrong"),
        open=signs.count("open"),
        inside=sum(row.inside for row in rows),
    )


def _held_against(book: Book, session: Session) -> tuple[Comparison, Outcome] | None:
    predicted = session.prediction
    if predicted is None:
        return None
    try:
        if predicted.against:
            before = book.log.get(Session, predicted.against)
            made: Comparison | None = compare_documents(book, before, session)
        else:
            made = within_session(book, session)
        outcome = outcome_of(predicted, made) if made is not None else None
    except BackToBackError:
        return None
    return (made, outcome) if made is not None and outcome is not None else None
