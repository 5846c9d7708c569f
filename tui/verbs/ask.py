"""``ask``: the log answers one of its twenty questions, or says where some words stand in it."""

from __future__ import annotations

from argparse import Namespace

from core.ask import QUESTIONS, ask, question_numbered, search
from core.report.asking import (
    answer_data,
    answer_page,
    hits_data,
    hits_page,
    questions_data,
    questions_page,
)
from tui.output import Result
from tui.verbs.opening import open_to_read, unread

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return the list of questions, an answer, or what a search found.

    Raises:
        NotFoundError: there is no question of that number.
        LogError: the log cannot be opened.
    """
    if not arguments.words:
        return Result(questions_page(), questions_data())
    first, *rest = arguments.words
    if not first.isdigit():
        words = " ".join(arguments.words)
        with open_to_read(arguments) as book:
            hits = search(book, words)
            return Result(hits_page(words, hits), hits_data(hits), remarks=unread(book))
    number = int(first) if len(first) <= len(str(len(QUESTIONS))) + 1 else 0
    question, words = question_numbered(number), " ".join(rest)
    with open_to_read(arguments) as book:
        answer = ask(book, question.number, words)
        remarks = unread(book)
    return Result(
        answer_page(question, answer, words), answer_data(question, answer, words), remarks=remarks
    )
