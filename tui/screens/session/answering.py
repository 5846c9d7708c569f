"""Asking for the result of a check that takes more than one key."""

from __future__ import annotations

from typing import Any, Final

from textual.app import App

from core.checks import Rule
from core.checks.answer import answer
from core.session import Answering, check_record
from tui.dialogs import Option, ask_choice, ask_text
from tui.screens.session.desk import Desk
from tui.text import plain

__all__ = ["ask_reason", "ask_result"]

_CLAY: Final = (
    "Thinnest clay, intake then exhaust: 3.1 2.6. Not touched: >2.0 with the thickness put on."
    " Also: touched (not measured), torn, dial 3.1 2.6; own 1.5 behind it is your own requirement."
)
_FORMS: Final = {
    "value": "A number; any unit can be typed.",
    "two values": "Two numbers with a blank between them: {first}, then {second}.",
    "text": "In your own words.",
    "clay": _CLAY,
}


async def ask_result(app: App[Any], desk: Desk, rule: Rule, typed: str = "") -> Answering | None:
    """Ask for a value or words, save the result and return it; None after esc.

    Args:
        app: the app.
        desk: the session.
        rule: what is asked.
        typed: what was typed already.
    """
    desk.need_writing()
    last = desk.words_before(rule.id) if rule.answer == "text" and not typed else ""
    if last:
        options = (
            Option("s", f"as last time: {plain(last)}"),
            Option("w", "write it anew"),
        )
        answered = await ask_choice(app, rule.question, options, at=1)
        if answered is None:
            return None
        if answered is options[0]:
            return desk.answer(rule.id, last)
    first, second = rule.sides
    said = await ask_text(
        app,
        rule.question,
        sentence=_FORMS[rule.answer].format(first=first, second=second),
        value=typed,
        hint=rule.unit,
        check=lambda text: _try(desk, rule, text),
    )
    return None if said is None else desk.answer(rule.id, said)


async def ask_reason(app: App[Any], desk: Desk, rule: Rule) -> Answering | None:
    """Ask why a check does not apply, save it and return what it came to; None after esc."""
    desk.need_writing()
    said = await ask_text(
        app,
        f"Why does it not apply? {rule.question}",
        check=lambda text: _try(desk, rule, f"n/a: {text}"),
    )
    return None if said is None else desk.answer(rule.id, f"n/a: {said}")


def _try(desk: Desk, rule: Rule, text: str) -> None:
    """Refuse in the drawer what would be refused when it is saved."""
    answer(check_record(desk.session, rule.id), text, desk.now(), desk.sheet)
