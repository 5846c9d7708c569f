"""Asking for what was read: a number with its unit and doubts, two of them, or clay."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from textual.app import App

from core.bench import Took
from core.checks import find_rule
from core.session import Book
from core.setup import Slot, number_words, reading_words, slot_of
from core.units import read_quantity
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.bench.taken import Taking
from tui.subject import Subject

__all__ = ["ask_value"]

_SIDES: Final = (
    Option("t", "touched, and measured"),
    Option("u", "touched, not measured"),
    Option("n", "not touched"),
    Option("x", "torn"),
    Option("l", "type both on one line: 3.1 2.6 of 4"),
    Option("d", "no clay: light springs and a dial gauge"),
)
_WORDS: Final = {"u": "touched", "x": "torn"}
_LINE: Final = (
    "Intake, then exhaust: 3.1 2.6. Not touched: >2.0 with the thickness put on. Also: touched"
    " (not measured), torn; of 4 behind them is the thickness put on."
)


async def ask_value(app: App[Any], book: Book, subject: Subject, taking: Taking) -> Taking | None:
    """Ask for what was read; an unusual value is asked about, an impossible one refused.

    Args:
        app: the app.
        book: the open log.
        subject: what it is read on.
        taking: the reading so far.

    Returns:
        The reading with it, or None after esc.
    """
    if taking.what == "clay":
        return await _ask_clay(app, book, subject, taking)
    while True:
        typed = await _ask_typed(app, book, subject, taking)
        if typed is None:
            return None
        taking = replace(taking, text=typed)
        questions = taking.took(book, subject).questions
        options = (Option("y", "yes, that is it"), Option("t", "type it again"))
        if not questions or await ask_choice(app, questions[0], options, at=1) is options[0]:
            return taking


async def _ask_typed(app: App[Any], book: Book, subject: Subject, taking: Taking) -> str | None:
    title, sentence = taking.title, ""
    if taking.what == "slot":
        sentence = _slot_sentence(subject, slot_of(taking.key))
    else:
        rule = find_rule(taking.key)
        title = rule.question
        first, second = rule.sides
        sentence = f"Two numbers: {first}, then {second}." if rule.answer == "two values" else ""
    return await ask_text(
        app,
        title,
        sentence=sentence or "A number; any unit can be typed.",
        value=taking.text,
        hint=taking.unit,
        check=lambda text: _try(book, subject, taking, text),
    )


def _try(book: Book, subject: Subject, taking: Taking, text: str) -> Took:
    return replace(taking, text=text).took(book, subject)


def _slot_sentence(subject: Subject, slot: Slot) -> str:
    now = reading_words(slot, subject.sheet.readings.get(slot.id))
    usual = ""
    if slot.typical is not None:
        low, high = (number_words(slot, end) for end in slot.typical)
        usual = f" Usual is {low} to {high}."
    return f"Now {now}.{usual} Any unit can be typed; ~ estimate, > more than, < less than."


# -- clay --------------------------------------------------------------------------------------


async def _ask_clay(app: App[Any], book: Book, subject: Subject, taking: Taking) -> Taking | None:
    """Ask how the clay came out, one valve after the other, or for both on one line."""
    title = "How did the clay come out under the intake valve?"
    answer = await ask_choice(app, title, _SIDES, sentence="Oiled, lash zero, two turns by hand.")
    if answer is None:
        return None
    if answer.key in ("l", "d"):
        return await _ask_line(app, book, subject, taking, dial=answer.key == "d")
    intake = await _ask_side(app, answer.key, "intake")
    if intake is None:
        return None
    title = "And under the exhaust valve?"
    answer = await ask_choice(app, title, _SIDES[:4], sentence=f"Intake: {intake}.")
    exhaust = None if answer is None else await _ask_side(app, answer.key, "exhaust")
    if exhaust is None:
        return None
    applied = ""
    if not (intake.startswith(">") and exhaust.startswith(">")):
        applied = await _ask_applied(app, book, subject, taking, f"{intake} {exhaust}") or ""
    return replace(taking, text=f"{intake} {exhaust}{applied}")


async def _ask_side(app: App[Any], key: str, side: str) -> str | None:
    if key in _WORDS:
        return _WORDS[key]
    touched = key == "t"
    said = await ask_text(
        app,
        f"Thinnest clay under the {side} valve" if touched else f"How thick was it, {side}?",
        sentence="" if touched else "The thickness put on: the gap is more than this, no more.",
        hint="mm",
        check=lambda text: read_quantity(text, "mm"),
    )
    if said is None:
        return None
    return said.strip() if touched else f">{said.strip()}"


async def _ask_applied(
    app: App[Any], book: Book, subject: Subject, taking: Taking, text: str
) -> str | None:
    """Ask how thick the clay was that was put on; blank leaves it open."""

    def check(applied: str) -> None:
        _try(book, subject, taking, f"{text} of {applied}" if applied.strip() else text)

    said = await ask_text(
        app, "How thick was the clay put on, mm?", hint="mm; blank: not noted", check=check
    )
    return f" of {said.strip()}" if said and said.strip() else ""


async def _ask_line(
    app: App[Any], book: Book, subject: Subject, taking: Taking, *, dial: bool
) -> Taking | None:
    title = "Gap by the dial gauge, intake then exhaust" if dial else "Thinnest clay, both valves"
    head = "dial " if dial else ""
    said = await ask_text(
        app,
        title,
        sentence="Two numbers with a blank between them: 3.10 2.60." if dial else _LINE,
        value=taking.text.removeprefix("dial ") if dial else taking.text,
        hint="mm",
        check=lambda text: _try(book, subject, taking, head + text),
    )
    return None if said is None else replace(taking, text=f"{head}{said.strip()}")
