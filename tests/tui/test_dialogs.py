"""Questions are awaited, answered by letters, digits, enter, space and esc, and never lose one."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, ClassVar

import pytest
from textual import events
from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Input, Static

from core.attempts import Choice
from core.errors import BlockedError
from core.units import read_number
from tests.tui.seeing import text
from tui.dialogs import (
    MessageDrawer,
    Option,
    Picked,
    PickRow,
    ask_choice,
    ask_text,
    asking,
    confirm,
    pick,
    show_message,
)

Ask = Callable[[App[Any]], Awaitable[Any]]


class Asking(App[None]):
    """An app that asks one question when a is pressed and keeps what comes of it."""

    BINDINGS: ClassVar[list[BindingType]] = [("a", "ask", "Ask")]

    def __init__(self, ask: Ask) -> None:
        super().__init__()
        self._ask = ask
        self.answers: list[Any] = []

    def compose(self) -> ComposeResult:
        """Yield something to see above the drawer."""
        yield Static("the screen above")

    @asking
    async def action_ask(self) -> None:
        """Ask and keep the answer."""
        self.answers.append(await self._ask(self))


async def answers(ask: Ask, *keys: str) -> list[Any]:
    """Return what was answered after these keys."""
    app = Asking(ask)
    async with app.run_test(size=(60, 16)) as pilot:
        await pilot.press("a")
        await pilot.pause(0.05)
        await pilot.press(*keys)
        await pilot.pause(0.05)
        return app.answers


def letters(app: App[Any]) -> Awaitable[Option | None]:
    """Ask for one of three, on keys that lists use too."""
    options = (Option("j", "jet"), Option("k", "kick"), Option("2", "two"))
    return ask_choice(app, "Which?", options)


@pytest.mark.parametrize(
    ("keys", "answer"),
    [
        (["j"], "jet"),
        (["k"], "kick"),
        (["K"], "kick"),
        (["2"], "two"),
        (["enter"], "jet"),
        (["down", "enter"], "kick"),
        (["z", "end", "enter"], "two"),
        (["escape"], None),
    ],
)
async def test_a_choice_is_one_key(keys: list[str], answer: str | None) -> None:
    """Its own, or enter on the line under the cursor; esc takes none."""
    got = await answers(letters, *keys)
    assert [option and option.words for option in got] == [answer]


async def test_the_choices_of_the_core_can_be_asked_as_they_are() -> None:
    """They have a key and words as well."""
    choices = (Choice("1", "7.26 s", 7.26), Choice("2", "72.6 s", 72.6))
    got = await answers(lambda app: ask_choice(app, "7.26 or 72.6?", choices), "2")
    assert got == [choices[1]]


@pytest.mark.parametrize(
    ("keys", "answer"),
    [
        (["y"], True),
        (["n"], False),
        (["enter"], False),
        (["escape"], False),
        (["up", "enter"], True),
    ],
)
async def test_yes_has_to_be_meant(keys: list[str], answer: bool) -> None:
    """Enter alone means no."""
    assert await answers(lambda app: confirm(app, "Close it?"), *keys) == [answer]


@pytest.mark.parametrize(
    ("keys", "answer"),
    [
        (["8", ".", "3", "enter"], "8.3"),
        (["escape"], None),
        (["x", "enter", "backspace", "7", "enter"], "7"),
    ],
)
async def test_a_refused_text_is_said_and_can_be_corrected(
    keys: list[str], answer: str | None
) -> None:
    """The drawer stays until the check takes it."""
    got = await answers(lambda app: ask_text(app, "How much?", check=read_number), *keys)
    assert got == [answer]


async def test_the_complaint_is_shown_in_the_drawer() -> None:
    """With sentence and hint, until something else is typed."""
    app = Asking(lambda app: ask_text(app, "How much?", check=read_number))
    async with app.run_test(size=(60, 16)) as pilot:
        await pilot.press("a", "x", "enter")
        await pilot.pause(0.05)
        assert "“x” is not a number." in text(app)
        assert "the screen above" in text(app)
        await pilot.press("backspace")
        await pilot.pause(0.05)
        assert "is not a number" not in text(app)


ROWS = (
    PickRow("m1", "Kettle Moth", "minibike"),
    PickRow("m2", "Low Badger", "kart", ("Red One",)),
    PickRow("m3", "Low [/] Otter", "kart"),
)


@pytest.mark.parametrize(
    ("keys", "answer"),
    [
        (["enter"], Picked(id="m2")),
        (["k", "e", "t", "enter"], Picked(id="m1")),
        (["l", "o", "w", "down", "enter"], Picked(id="m3")),
        (["l", "o", "w", "space", "o", "t", "enter"], Picked(id="m3")),
        (["k", "a", "r", "t", "enter"], Picked(id="m2")),
        (["r", "e", "d", "space", "O", "n", "e", "enter"], Picked(id="m2")),
        (["N", "e", "w", "t", "enter"], Picked(new="Newt")),
        (["n", "e", "w", "enter"], Picked(new="new")),
        (["escape"], None),
    ],
)
async def test_a_pick_takes_a_few_letters_or_a_new_name(
    keys: list[str], answer: Picked | None
) -> None:
    """The cursor starts on what was picked last."""
    got = await answers(lambda app: pick(app, "Which?", ROWS, at="m2", new="a new one"), *keys)
    assert got == [answer]


async def test_what_is_not_there_cannot_be_picked_where_nothing_new_is_allowed() -> None:
    """The drawer says so and waits."""
    app = Asking(lambda app: pick(app, "Which?", ROWS))
    async with app.run_test(size=(60, 16)) as pilot:
        await pilot.press("a", "z", "z", "enter")
        await pilot.pause(0.05)
        assert "Nothing fits what is typed." in text(app)
        await pilot.press("escape")
        await pilot.pause(0.05)
        assert app.answers == [None]


@pytest.mark.parametrize("key", ["enter", "space", "escape"])
async def test_a_message_goes_away_by_any_glove_key(key: str) -> None:
    """And the answer is awaited until then."""
    assert await answers(lambda app: show_message(app, "Title", "Sentence.", "Hint."), key) == [
        None
    ]


async def test_a_refusal_of_the_core_ends_the_question_and_is_shown() -> None:
    """With its title, its sentence and its hint."""

    async def refuse(app: App[Any]) -> None:
        raise BlockedError("A stop check is open.", "Clear it first.")

    app = Asking(refuse)
    async with app.run_test(size=(60, 16)) as pilot:
        await pilot.press("a")
        await pilot.pause(0.05)
        assert isinstance(app.screen, MessageDrawer)
        for words in ("Not open now", "A stop check is open.", "Clear it first."):
            assert words in text(app)
        await pilot.press("enter")
        await pilot.pause(0.05)
        assert not isinstance(app.screen, MessageDrawer)


async def test_a_second_press_while_a_question_is_open_asks_nothing_new() -> None:
    """Two presses in one go, as cold fingers do."""
    app = Asking(lambda app: confirm(app, "Sure?"))
    async with app.run_test(size=(60, 16)) as pilot:
        app.action_ask()
        app.action_ask()
        await pilot.pause(0.1)
        assert len(app.screen_stack) == 2
        await pilot.press("y")
        await pilot.pause(0.05)
        assert app.answers == [True]


async def test_a_pasted_line_end_does_not_answer() -> None:
    """The first line is taken into the field; enter is a key of its own."""
    app = Asking(lambda app: ask_text(app, "Note"))
    async with app.run_test(size=(60, 16)) as pilot:
        await pilot.press("a")
        await pilot.pause(0.05)
        app.screen.query_one(Input).post_message(events.Paste("one\ntwo\n"))
        await pilot.pause(0.05)
        assert app.answers == []
        await pilot.press("enter")
        await pilot.pause(0.05)
        assert app.answers == ["one"]
