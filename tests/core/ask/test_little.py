"""The questions on logs with little in them: one session, no attempts, parts never changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.ask import QUESTIONS, ask, season_of, steadiness_of
from core.session import Book
from tests.tui.season import small_season


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of six sessions whose sheets say almost nothing."""
    return small_season(tmp_path_factory.mktemp("little"))


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda q: str(q.number))
@pytest.mark.parametrize("words", ["", "moth", "badger 3", "S05", "( [ \\ ' “"])
def test_every_question_is_answered_in_a_sentence(bare: Path, question: object, words: str) -> None:
    with Book.open(bare, read_only=True, create=False) as book:
        number = QUESTIONS[QUESTIONS.index(question)].number
        answer = ask(book, number, words)
    assert answer.sentence.endswith(".")
    assert "None" not in answer.sentence
    assert "nan" not in answer.sentence
    assert all(len(row) == len(answer.columns) for row in answer.rows)


def test_one_point_says_nothing_of_scatter(bare: Path) -> None:
    with Book.open(bare, read_only=True, create=False) as book:
        moth = book.machine("Kettle Moth").id
        first = (book.session("S01"),)
        told = steadiness_of(season_of(book, first, moth, "0-50"))
    assert told.share is None
    assert told.sentence.startswith("Two days with two results each are needed")
