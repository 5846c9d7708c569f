"""What a line typed at the strip comes to: saved, refused in one sentence, or a question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from core.attempts import (
    Attempt,
    Command,
    Entered,
    Question,
    find_strike,
    find_tag,
    read_attempt,
    read_back,
    read_command,
    retyped,
    write_value,
)
from core.errors import AmbiguousInputError, BackToBackError, BlockedError
from core.session import Session, attempt_numbered, enter, last_attempt, strike, tag, undo
from core.session.live import repeat_question
from core.session.speed_doubt import need_speed_unit
from core.session.trail import last_undoable
from tui.screens.session.desk import Desk

__all__ = ["Asked", "Lines", "Outcome"]

_NOT_YET: Final = "Nothing is taken yet."
_NOTHING: Final = "Nothing was taken."


@dataclass(frozen=True)
class Asked:
    """A question with a few answers of one key each."""

    text: str
    choices: tuple[tuple[str, str], ...]  # key and words, the likeliest first
    answer: Callable[[str], Outcome]  # called with the key


@dataclass(frozen=True)
class Outcome:
    """What a line came to."""

    words: str = ""  # one line for the person
    keep: str = ""  # what stays in the field
    asked: Asked | None = None  # nothing is kept until this is answered
    refused: bool = False
    n: int | None = None  # number of the attempt that is marked from now on; None: the last
    waiting: bool = False  # what stays in the field was left: the next line takes its place


class Lines:
    """Takes lines for one session.

    Args:
        desk: the session.
        marked: tells the number of the attempt that is marked, which x, t and . are about.
    """

    def __init__(self, desk: Desk, marked: Callable[[], int | None]) -> None:
        self._desk = desk
        self._marked = marked

    def take(self, line: str, timing: str = "") -> Outcome:
        """Take a line as it was typed; whatever it says is saved when this returns.

        Args:
            line: as typed.
            timing: name of the timing gear of an attempt; empty: the session's.
        """
        if not line.strip():
            return Outcome()
        try:
            command = read_command(line)
            return self._attempt(line, timing) if command is None else self._command(command, line)
        except AmbiguousInputError as error:
            return self._which(error, line)
        except BackToBackError as error:
            return _refusal(error, line)

    # -- attempts ------------------------------------------------------------------------------

    def _attempt(self, line: str, timing: str) -> Outcome:
        self._desk.need_writing()
        if self._desk.barred:
            raise BlockedError(self._desk.barred, "c goes to it.")
        entered = read_attempt(line, self._desk.test, self._desk.usual)
        need_speed_unit(entered, self._desk.test, self._desk.sheet, self._desk.usual)
        if entered.question is not None:
            return self._ask(entered.question, line, lambda v: self._fresh(entered, v, timing))
        return self._fresh(entered, entered.value, timing)

    def _fresh(self, entered: Entered, value: float | None, timing: str) -> Outcome:
        """Ask once more when the same value came a moment ago."""
        question = repeat_question(self._desk.session, value, self._desk.now())
        if question is not None:
            return self._ask(question, "", lambda v: self._enter(entered, v, timing))
        return self._enter(entered, value, timing)

    def _enter(self, entered: Entered, value: float | None, timing: str) -> Outcome:
        def action(session: Session, at: datetime) -> Session:
            after = enter(
                session,
                at,
                value=value,
                text=entered.text,
                kind=None if entered.kind == "timed" else entered.kind,
                tags=entered.tags,
                unsure=entered.unsure,
                timing=timing,
            )
            if entered.strike_code is None:
                return after
            return strike(after, last_attempt(after).n, entered.strike_code, at, late=False)

        self._desk.act(action)
        return Outcome(f"{self._named(last_attempt(self._desk.session))} is saved.")

    def _named(self, attempt: Attempt) -> str:
        """Name an attempt: ``Attempt 8 E 7.06 s``."""
        shown = attempt.kind if attempt.value is None else self._value(attempt.value)
        marks = [*attempt.tags, *(["?"] if attempt.unsure else [])]
        marks += [f"struck {attempt.strike.code}"] if attempt.strike else []
        words = (f"Attempt {attempt.n}", attempt.direction, shown, *marks)
        return " ".join(filter(None, words))

    def _value(self, value: float) -> str:
        return f"{write_value(value, self._desk.test)} {self._desk.test.unit}"

    # -- questions -----------------------------------------------------------------------------

    def _ask(self, question: Question, line: str, take: Callable[[float], Outcome]) -> Outcome:
        values = {choice.key: choice.value for choice in question.choices}

        def answer(key: str) -> Outcome:
            value = values.get(key)
            if value is None:
                return Outcome(_NOTHING, keep=line, waiting=True)
            return self._trying(lambda: take(value), line)

        choices = tuple((choice.key, choice.words) for choice in question.choices)
        return Outcome(_NOT_YET, line, Asked(question.text, choices, answer))

    def _which(self, error: AmbiguousInputError, line: str) -> Outcome:
        """Ask which of the readings was meant."""
        if not error.choices:
            return _refusal(error, line)
        readings = {str(index): choice for index, choice in enumerate(error.choices, 1)}

        def answer(key: str) -> Outcome:
            if key not in readings:
                return Outcome(_NOTHING, keep=line, waiting=True)
            return self.take(retyped(line, readings[key]))

        return Outcome(_NOT_YET, line, Asked(error.message, tuple(readings.items()), answer))

    def _trying(self, do: Callable[[], Outcome], line: str = "") -> Outcome:
        try:
            return do()
        except BackToBackError as error:
            return _refusal(error, line)

    # -- commands ------------------------------------------------------------------------------

    def _command(self, command: Command, line: str) -> Outcome:
        if command.verb == "read back":
            return self._read_back(command)
        self._desk.need_writing()
        if command.verb == "undo":
            return self.undo()
        attempt = self._attempt_of(command)
        if not command.code:
            what = "reason" if command.verb == "strike" else "tag"
            return Outcome(f"Which {what}? Type its letter, then enter.", keep=line)
        if command.verb == "tag":
            return self._tag(attempt, command.code)
        return self._strike(attempt, command.code)

    def _attempt_of(self, command: Command) -> Attempt:
        n = command.n or self._marked()
        session = self._desk.session
        return last_attempt(session) if n is None else attempt_numbered(session, n)

    def undo(self) -> Outcome:
        """Take back the newest action."""
        index = last_undoable(self._desk.session)
        words = self._desk.session.trail[index].words if index is not None else ""
        self._desk.act(undo)
        return Outcome(f"Took back: {words}.")

    def _read_back(self, command: Command) -> Outcome:
        attempt = self._attempt_of(command)
        words = f"Read back attempt {attempt.n}: “{read_back(attempt, self._desk.test)}”."
        return Outcome(words, n=attempt.n)

    def _tag(self, attempt: Attempt, code: str) -> Outcome:
        self._desk.act(lambda session, at: tag(session, attempt.n, code, at))
        on = code in attempt_numbered(self._desk.session, attempt.n).tags
        words = find_tag(code).words
        what = f"{code} ({words}); it stays in the numbers" if on else f"not {code} any more"
        return Outcome(f"Attempt {attempt.n}: {what}.")

    def _strike(self, attempt: Attempt, code: str) -> Outcome:
        """Strike, after the one question that a tagged attempt raises."""
        if not attempt.tags or attempt.strike is not None:
            return self._struck(attempt.n, code)
        tags = ", ".join(attempt.tags)
        text = (
            f"Attempt {attempt.n} is tagged {tags}, which is the machine's doing."
            " Would the other build have been let off for this?"
        )
        choices = (("y", "yes, strike it"), ("n", "no, it stays in"))

        def answer(key: str) -> Outcome:
            if key != "y":
                return Outcome(f"Attempt {attempt.n} stays in the numbers.")
            return self._trying(lambda: self._struck(attempt.n, code))

        return Outcome(_NOT_YET, asked=Asked(text, choices, answer))

    def _struck(self, n: int, code: str) -> Outcome:
        stops = len(self._desk.stops)
        self._desk.act(lambda session, at: strike(session, n, code, at))
        words = (
            f"Attempt {n} is struck: {code} ({find_strike(code).words}), after its time was seen."
        )
        if len(self._desk.stops) > stops:
            words += " Its checks are due again: c goes to them."
        return Outcome(words)


def _refusal(error: BackToBackError, line: str) -> Outcome:
    words = " ".join(filter(None, (error.message, error.hint)))
    return Outcome(words, keep=line, refused=True)
