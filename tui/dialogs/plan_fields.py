"""The lines of a planned session: what each one shows and how it is asked for."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from textual.app import App

from core.attempts import KNOWN_PAIRS, TESTS, TIMINGS, find_test
from core.errors import InputError
from core.units import format_number
from tui.dialogs.choice import Option, ask_choice
from tui.dialogs.pick import PickRow, pick
from tui.dialogs.typing_in import ask_text
from tui.drafts import (
    Draft,
    Named,
    held_against,
    numbered_test,
    read_gain,
    timing_title,
)
from tui.predictions import EXPECT, prediction_words, read_prediction, way_words

if TYPE_CHECKING:
    from core.session.book import Book

__all__ = ["FIELDS", "MACHINE_KINDS", "Asker", "Field"]

MACHINE_KINDS: Final = (
    Option("m", "minibike"),
    Option("k", "kart"),
    Option("o", "other"),
)
"""What a machine can be."""
_OWN_NAMES: Final = "other names"
_ONE_WAY: Final = "run one way, or no directions"


@dataclass(frozen=True)
class Asker:
    """What the questions need."""

    app: App[Any]
    book: Book
    fresh: Callable[[str], Draft]
    """Returns a draft that is like the last session of that machine."""


@dataclass(frozen=True)
class Field:
    """One line of a draft."""

    words: str
    """What stands before it."""
    shown: Callable[[Draft], tuple[str, str]]
    """Its value and a note beside it."""
    ask: Callable[[Asker, Draft], Awaitable[Draft | None]]
    """Asks for it; None when esc was pressed."""


async def _ask_machine(asker: Asker, draft: Draft) -> Draft | None:
    """With another machine, everything is as it was on that one last."""
    machines = [head for head in asker.book.machines() if not head.archived]
    rows = [PickRow(h.id, h.name, h.type, h.aliases) for h in machines]
    at = draft.machine.id if draft.machine else ""
    picked = await pick(asker.app, "Which machine?", rows, at=at, new="a new machine")
    if picked is None:
        return None
    if picked.id:
        return asker.fresh(picked.id) if picked.id != at else draft
    type_ = await ask_choice(asker.app, f"What is {picked.new}?", MACHINE_KINDS)
    if type_ is None:
        return None
    made = Named(picked.new, type=type_.words)
    source = await _ask_values(asker, picked.new)
    if source is None:
        return None
    return replace(
        draft,
        machine=made,
        before="",
        before_label="",
        prediction=None,
        copied_from=source if source.id else None,
    )


async def _ask_values(asker: Asker, name: str) -> Named | None:
    """Ask which machine's values a first sheet starts with; one without an id is none."""
    heads = [h for h in asker.book.machines() if asker.book.last_session(h.id) is not None]
    if not heads:
        return Named("")
    words = [f"the values of {head.name}, copied until each is confirmed" for head in heads[:9]]
    options = [Option("e", "empty")]
    options += [Option(str(number), text) for number, text in enumerate(words, 1)]
    answer = await ask_choice(asker.app, f"What does the sheet of {name} start with?", options)
    if answer is None:
        return None
    if answer is options[0]:
        return Named("")
    head = heads[int(answer.key) - 1]
    return Named(head.name, head.id, head.type)


async def _ask_place(asker: Asker, draft: Draft) -> Draft | None:
    heads = {head.id: head for head in asker.book.places()}
    rows = [PickRow(h.id, h.name, " / ".join(h.directions), h.aliases) for h in heads.values()]
    at = draft.place.id if draft.place else ""
    picked = await pick(asker.app, "Which place?", rows, at=at, new="a new place")
    if picked is None:
        return None
    if picked.id:
        head = heads[picked.id]
        return replace(draft, place=Named(head.name, head.id, directions=head.directions))
    directions = await _ask_directions(asker, picked.new)
    if directions is None:
        return None
    return replace(draft, place=Named(picked.new, directions=directions))


async def _ask_directions(asker: Asker, name: str) -> tuple[str, ...] | None:
    words = (*(" / ".join(pair) for pair in KNOWN_PAIRS), _OWN_NAMES, _ONE_WAY)
    options = [Option(str(number), text) for number, text in enumerate(words, 1)]
    title = f"What are the two directions of {name} called?"
    answer = await ask_choice(asker.app, title, options)
    if answer is None:
        return None
    if answer.words == _ONE_WAY:
        return ()
    if answer.words != _OWN_NAMES:
        return KNOWN_PAIRS[int(answer.key) - 1]
    said = "Two names with a blank between them; the one that is run first stands first."
    typed = await ask_text(asker.app, title, sentence=said, check=_two_names)
    return None if typed is None else _two_names(typed)


def _two_names(text: str) -> tuple[str, ...]:
    names = tuple(text.replace("/", " ").split())
    if len(names) != 2 or names[0].casefold() == names[1].casefold():
        raise InputError("Two different names with a blank between them, such as gate hedge.")
    return names


async def _ask_test(asker: Asker, draft: Draft) -> Draft | None:
    rows = [PickRow(test.name, test.name, test.title) for test in TESTS]
    at = draft.test.name if draft.test else ""
    new = "another test"
    picked = await pick(asker.app, "Which test?", rows, at=at, new=new, check=find_test)
    if picked is None:
        return None
    test = find_test(picked.id or picked.new)
    same = draft.test is not None and draft.test.unit == test.unit
    return replace(draft, test=test, gain=draft.gain if same else None, prediction=None)


async def _ask_timing(asker: Asker, draft: Draft) -> Draft | None:
    rows = [PickRow(timing.name, timing.title, timing.name) for timing in TIMINGS]
    picked = await pick(asker.app, "Timed with what?", rows, at=draft.timing)
    return None if picked is None else replace(draft, timing=picked.id)


async def _ask_question(asker: Asker, draft: Draft) -> Draft | None:
    title = "What is the question, in one line?"
    typed = await ask_text(asker.app, title, value=draft.question)
    return None if typed is None else replace(draft, question=" ".join(typed.split()))


async def _ask_gain(asker: Asker, draft: Draft) -> Draft | None:
    test = numbered_test(draft)
    typed = await ask_text(
        asker.app,
        f"Smallest gain worth having, {test.unit}",
        sentence="Less than this would not be worth the part or the work.",
        value="" if draft.gain is None else format_number(draft.gain),
        check=lambda text: read_gain(text, test),
    )
    return None if typed is None else replace(draft, gain=read_gain(typed, test))


async def _ask_prediction(asker: Asker, draft: Draft) -> Draft | None:
    test = numbered_test(draft)
    below, above = way_words(test)
    other, label = held_against(asker.book, draft)
    against = f" against {label}" if label else ""
    typed = await ask_text(
        asker.app,
        f"What do you expect{against}, {test.unit}?",
        sentence=EXPECT.format(below=below, above=above),
        check=lambda text: read_prediction(text, test),
    )
    if typed is None:
        return None
    made = read_prediction(typed, test)
    return replace(draft, prediction=made, against=other, against_label=label)


_NONE: Final = ("–", "")


def _named(named: Named | None) -> tuple[str, str]:
    if named is None:
        return _NONE
    note = " / ".join(named.directions)
    return named.name, note if named.id else f"new  {note}".strip()


def _machine(draft: Draft) -> tuple[str, str]:
    machine = draft.machine
    if machine is None:
        return _NONE
    kind = "other kind" if machine.type == "other" else machine.type
    return machine.name, kind if machine.id else f"new  {kind}"


def _gain(draft: Draft) -> tuple[str, str]:
    if draft.gain is None or draft.test is None:
        return _NONE
    return f"{format_number(draft.gain)} {draft.test.unit}", ""


def _prediction(draft: Draft) -> tuple[str, str]:
    if draft.prediction is None or draft.test is None:
        return _NONE
    against = f"against {draft.against_label}" if draft.against_label else ""
    return prediction_words(draft.prediction, draft.test), against


FIELDS: Final[dict[str, Field]] = {
    "machine": Field("Machine", _machine, _ask_machine),
    "place": Field("Place", lambda d: _named(d.place), _ask_place),
    "test": Field("Test", lambda d: (d.test.name, d.test.title) if d.test else _NONE, _ask_test),
    "timing": Field("Timing", lambda d: (timing_title(d.timing) or "–", ""), _ask_timing),
    "question": Field("Question", lambda d: (d.question or "–", ""), _ask_question),
    "gain": Field("Smallest gain", _gain, _ask_gain),
    "prediction": Field("Prediction", _prediction, _ask_prediction),
}
"""The lines by name, in the order they are shown."""
