"""The twenty questions, one row each, and asking one of them."""

from __future__ import annotations

from core.ask import on_it, on_results, on_shelf, on_visits
from core.ask.asker import Asker
from core.ask.documents import Answer, Question
from core.errors import NotFoundError
from core.session import Book

__all__ = ["QUESTIONS", "ask", "question_numbered"]

QUESTIONS: tuple[Question, ...] = (
    Question(1, "What exactly was on it when it ran 7.2?", "machine, number or session",
             on_it.what_was_on),
    Question(2, "Which jet did I end up with in cold air?", "machine, warmest °C that is cold",
             on_it.jets_by_air),
    Question(3, "When did I last check the lash, at what hours, hot or cold?", "machine",
             on_shelf.lash_last),
    Question(4, "Where is the 63-tooth sprocket now?", "part", on_shelf.where_is),
    Question(5, "What did the stiffer clutch springs do, on their own?", "part or slot",
             on_results.on_its_own),
    Question(6, "Show every session with these rockers, on any machine.", "part or slot",
             on_it.with_part),
    Question(7, "How many attempts has this rod done, over what rpm?", "part or slot",
             on_shelf.rod_life),
    Question(8, "What broke, and what was changed just before?", "machine or month",
             on_visits.what_broke),
    Question(9, "Is my timing getting more repeatable?", "machine, test", on_visits.repeatability),
    Question(10, "Same build, three days: how far apart?", "machine", on_it.same_build_days),
    Question(11, "Which changes were never tested alone?", "machine", on_results.never_alone),
    Question(12, "What did I predict, and how wrong was I?", "machine or month",
             on_results.predicted),
    Question(13, "Why did I strike attempt 4 in July?", "attempt, month or session",
             on_visits.why_struck),
    Question(14, "What was the clay reading before the head was milled?", "machine",
             on_shelf.clay_before_milling),
    Question(15, "Oil, fuel and plug age today?", "machine", on_shelf.ages_today),
    Question(16, "Which results rest on fewer than 4 pairs?", "machine, another number",
             on_results.rests_on_little),
    Question(17, "What differs between the two machines, line by line?", "two machines",
             on_it.two_machines),
    Question(18, "Who was riding, what mass, which helper timed?", "session, machine or month",
             on_visits.who_was_there),
    Question(19, "Did we have permission, and which checks failed that day?",
             "session or month", on_visits.permission_and_checks),
    Question(20, "What did I decide, why, and did I ever go back on it?", "machine or month",
             on_visits.decided),
)  # fmt: skip
"""In the order of their numbers."""


def question_numbered(number: int) -> Question:
    """Return the question of that number.

    Raises:
        NotFoundError: there is none.
    """
    for question in QUESTIONS:
        if question.number == number:
            return question
    raise NotFoundError(f"There is no question {number}.", f"They go from 1 to {len(QUESTIONS)}.")


def ask(book: Book, number: int, words: str = "", machine: str = "") -> Answer:
    """Ask the log one of its questions.

    Args:
        book: the open log.
        number: of the question.
        words: what it is about: a machine, part, slot, session, month or number; may be empty.
        machine: id of the machine to take where the words name none.

    Raises:
        NotFoundError: there is no question of that number.
    """
    question = question_numbered(number)
    asker = Asker(book, words, machine)
    if not asker.sessions and not asker.parts:
        return Answer("The log is empty: there is nothing yet to ask it.")
    return question.answer(asker)
