"""What is typed for one attempt: digits with implied decimals, units, tags, doubt; and commands."""

from __future__ import annotations

import re
from typing import Literal

import msgspec

from core.attempts.asking import Question, quoted
from core.attempts.codes import find_strike, find_tag
from core.attempts.decimals import from_digits, from_number, shift_question, shown
from core.attempts.documents import AttemptKind
from core.attempts.tests_table import Test
from core.errors import InputError, NotFoundError, OutOfRangeError
from core.units import convert, find_unit, read_number

__all__ = ["Command", "Entered", "read_attempt", "read_command", "retyped", "write_value"]


class Entered(msgspec.Struct, frozen=True):
    """What one line of attempt entry says."""

    value: float | None  # in the unit of the test; None when aborted, or for a test in words
    text: str  # as typed, trimmed
    tags: tuple[str, ...] = ()  # codes of the tag table
    strike_code: str | None = None  # code of the strike table, when it is struck at once
    unsure: bool = False  # typed with ``?``
    kind: AttemptKind = "timed"
    question: Question | None = None  # to be answered before it is kept
    unit: str = ""  # symbol of the unit that was typed; empty: none, so it is that of the test


class Command(msgspec.Struct, frozen=True):
    """A line in the attempt field that is no attempt."""

    verb: Literal["strike", "tag", "undo", "read back"]
    code: str = ""  # of the strike or tag table; empty: still to be asked
    n: int | None = None  # number of the attempt; None: the last one


_NUMBER = re.compile(r"^([+\-−]?[0-9][0-9.,:']*|[+\-−]?[.,][0-9]+)(.*)$", re.DOTALL)
_CLOCK = re.compile(r"^([0-9]{1,3}):([0-5][0-9](?:[.,][0-9]*)?)$")
_ABORTED = ("abort", "aborted")
_WARM_UP = ("warm", "warmup", "warm-up")
_UNITS = {
    # unit of a test: the units that may be typed with it; single letters never clash with a tag
    "s": ("s", "min"),
    "km/h": ("km/h", "mph", "m/s", "kn", "ft/s"),
    "": (),
}


def read_attempt(text: str, test: Test, usual: tuple[float, float] | None = None) -> Entered:
    """Read one line of attempt entry.

    First the value: bare digits with the decimals that the test implies (``726`` is 7.26 s,
    ``771`` is 77.1 km/h), or with a point or comma, or minutes (``1:02.4``), or with a unit
    (``30mph``), which makes bare digits literal. Then, in any order: ``?`` for unsure, letters,
    codes or words of tags (``726 b``), ``warm`` for a warm-up attempt, ``x`` and a letter for one
    struck at once. ``abort`` stands in place of the value.

    Args:
        text: the line.
        test: the test it is an attempt of.
        usual: lowest and highest of this build so far, in the unit of the test; None: not known.

    Returns:
        What it says; with a question when the value is more than twice outside ``usual``, or
        without that, more than three times off what the test typically gives.

    Raises:
        AmbiguousInputError: the digits can be read in more than one way; ``choices`` has them.
        OutOfRangeError: outside the hard range of the test.
        InputError: zero, negative, no number, or a unit of another kind.
        NotFoundError: an unknown tag or strike letter.

    >>> from core.attempts.tests_table import find_test
    >>> entered = read_attempt("726 b", find_test("0-50"))
    >>> entered.value, entered.tags
    (7.26, ('BOG',))
    """
    line = text.strip()
    if not line:
        raise InputError("Nothing was typed.")
    if test.unit == "":
        return Entered(None, line)
    match = _NUMBER.match(line)
    if match is None:
        return _without_value(line)
    number, rest = match.groups()
    unsure, words = "?" in rest, rest.replace("?", " ").split()
    unit, words = _take_unit(words, test)
    kind, strike, tags = _marks(words)
    value = _value(number, unit, test, usual)
    question = shift_question(value, number, test, usual)
    return Entered(value, line, tags, strike, unsure, kind, question, unit)


def _without_value(line: str) -> Entered:
    head, *rest = line.replace("?", " ").split() or [""]
    if head.casefold() not in _ABORTED:
        raise InputError(
            f"{quoted(line)} is not a time or speed.",
            "Digits alone will do; “abort” for an attempt that was broken off.",
        )
    _, strike, tags = _marks(rest)
    return Entered(None, line, tags, strike, "?" in line, "aborted")


def _take_unit(words: list[str], test: Test) -> tuple[str, list[str]]:
    """Split off the unit, if the first word is one; a tag wins over a unit of another kind."""
    if not words:
        return "", words
    try:
        unit = find_unit(words[0]).symbol
    except InputError:
        return "", words
    if unit in _UNITS[test.unit]:
        return unit, words[1:]
    try:
        find_tag(words[0])
    except NotFoundError:
        message = f"{unit or words[0]} is not a unit of a test in {test.unit}."
        raise InputError(message, f"Leave it off for {test.unit}.") from None
    return "", words


def _value(number: str, unit: str, test: Test, usual: tuple[float, float] | None) -> float:
    clock = _CLOCK.match(number)
    if clock:
        if test.unit != "s" or unit:
            raise InputError(f"{quoted(number)} is minutes and seconds, and not {test.unit}.")
        return from_number(60 * int(clock[1]) + read_number(clock[2]), test)
    if ":" in number:
        raise InputError(f"{quoted(number)} is not minutes and seconds, such as 1:02.4.")
    if number.isdigit() and not unit:
        return from_digits(number, test, usual)
    typed = read_number(number)
    return from_number(convert(typed, unit, test.unit) if unit else typed, test)


def _marks(words: list[str]) -> tuple[AttemptKind, str | None, tuple[str, ...]]:
    """Read what follows the value: kind, strike code, tag codes."""
    kind: AttemptKind = "timed"
    strike: str | None = None
    tags: list[str] = []
    left = list(words)
    while left:
        word = left.pop(0)
        plain = word.casefold()
        if plain in _WARM_UP:
            kind = "warm-up"
        elif plain == "x":
            if not left:
                raise InputError("An x needs the letter of its reason behind it, such as x l.")
            strike = find_strike(left.pop(0)).code
        else:
            tags.append(find_tag(word).code)
    return kind, strike, tuple(dict.fromkeys(tags))


def write_value(value: float, test: Test) -> str:
    """Return a value as it is shown: the test's decimals, or more where it has them.

    >>> from core.attempts.tests_table import find_test
    >>> write_value(7.2, find_test("0-50")), write_value(7.263, find_test("0-50"))
    ('7.20', '7.263')
    """
    return shown(value, test.decimals)


_MARK = re.compile(r"^([xt])\s*([0-9]{1,4})?\s*([a-z][a-z \-]*)?$", re.IGNORECASE)


def read_command(text: str) -> Command | None:
    """Read a line of the attempt field as a command.

    ``x`` strikes the last attempt and ``x 4`` the fourth, with the letter, code or word of the
    reason behind it (``x l``, ``x4 late``); ``t`` puts a tag on one or takes it off (``t b``,
    ``t4 bog``); ``u`` undoes; ``.`` reads back.

    Returns:
        The command; None when the line is none, and is to be read as an attempt.

    Raises:
        NotFoundError: a strike without a known reason, a tag that is none.
        OutOfRangeError: attempt number zero.

    >>> read_command("x l")
    Command(verb='strike', code='LATE', n=None)
    """
    line = text.strip()
    if line == ".":
        return Command("read back")
    if line.casefold() == "u":
        return Command("undo")
    match = _MARK.match(line)
    if match is None:
        return None
    mark, number, word = match.groups()
    n = int(number) if number else None
    if n == 0:
        raise OutOfRangeError("Attempts are numbered from 1.")
    if mark in "xX":
        return Command("strike", find_strike(word).code if word else "", n)
    return Command("tag", find_tag(word).code if word else "", n)


def retyped(line: str, number: str) -> str:
    """Return a line of attempt entry with another number in place of the one typed.

    Args:
        line: as typed.
        number: one of the ``choices`` of an `AmbiguousInputError` about that line.

    >>> retyped("42 b", "4.20")
    '4.20 b'
    """
    match = _NUMBER.match(line.strip())
    return number if match is None else number + match[2]
