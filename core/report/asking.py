"""Questions to the log: the list of them, an answer, and what a search found, as pages and data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.ask import QUESTIONS, Answer, Hit, Question
from core.report.document import Block, Bullets, Column, Paragraph, Report, Table

__all__ = ["answer_data", "answer_page", "hits_data", "hits_page", "questions_data",
           "questions_page"]  # fmt: skip

_NUMBERS = ("°C", "attempts", "attempt", "n", "hours")  # columns that are flush right
_NARROW = ("session", "day", "n", "attempt", "attempts", "°C", "hours", "state", "result")


def questions_page() -> Report:
    """Return the list of questions."""
    columns = (Column("no", right=True), Column("question", flexible=True),
               Column("about", flexible=True))  # fmt: skip
    rows = tuple((str(q.number), q.words, q.about) for q in QUESTIONS)
    more = "backtoback ask 5 clutch answers one of them; other words are looked for everywhere."
    return Report("", (Table(columns, rows, wraps=True), Paragraph(more)))


def questions_data() -> list[dict[str, Any]]:
    """Return the list of questions as plain data."""
    return [{"number": q.number, "question": q.words, "about": q.about} for q in QUESTIONS]


def answer_page(question: Question, answer: Answer, words: str = "") -> Report:
    """Return an answer: the sentence first, then the rows it rests on.

    Args:
        question: as asked.
        answer: to it.
        words: what was typed behind it.
    """
    title = f"{question.number}. {question.words}" + (f"  [{words}]" if words else "")
    return Report(title, answer_blocks(answer))


def answer_blocks(answer: Answer) -> tuple[Block, ...]:
    """Return the blocks of an answer, without the question."""
    blocks: list[Block] = [Paragraph(answer.sentence)]
    if answer.more:
        blocks.append(Bullets(answer.more))
    if answer.rows:
        columns = tuple(
            Column(name, right=name in _NUMBERS, flexible=name not in _NARROW)
            for name in answer.columns
        )
        blocks.append(Table(columns, answer.rows, wraps=True))
    return tuple(blocks)


def answer_data(question: Question, answer: Answer, words: str = "") -> dict[str, Any]:
    """Return an answer as plain data; each row by the names of the columns."""
    return {
        "number": question.number,
        "question": question.words,
        "about": words,
        "answer": answer.sentence,
        "more": list(answer.more),
        "rows": [dict(zip(answer.columns, row, strict=True)) for row in answer.rows],
        "sessions": list(answer.sessions),
    }


def hits_page(words: str, hits: Sequence[Hit]) -> Report:
    """Return what a search found."""
    if not hits:
        return Report("", (Paragraph(f"Nothing in the log holds “{words}”."),))
    columns = (Column("where", flexible=True), Column("what"), Column("text", flexible=True))
    rows = tuple((hit.where, hit.kind, hit.text) for hit in hits)
    return Report("", (Table(columns, rows, wraps=True),))


def hits_data(hits: Sequence[Hit]) -> list[dict[str, Any]]:
    """Return what a search found as plain data."""
    return [
        {"kind": h.kind, "where": h.where, "text": h.text, "session": h.session or None,
         "id": h.id or None}
        for h in hits
    ]  # fmt: skip
