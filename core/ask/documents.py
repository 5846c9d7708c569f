"""What a question to the log comes to: one sentence, and the rows it rests on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.ask.asker import Asker

__all__ = ["Answer", "Question"]


@dataclass(frozen=True)
class Answer:
    """An answer for a person and for scripts."""

    sentence: str  # the answer in one line
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    more: tuple[str, ...] = ()  # further sentences
    sessions: tuple[str, ...] = ()  # ids of the sessions it rests on, newest first where it matters


@dataclass(frozen=True)
class Question:
    """One question that the log answers."""

    number: int
    words: str  # as a person asks it
    about: str  # what may be typed behind the number, in a few words; empty: nothing
    answer: Callable[[Asker], Answer]
