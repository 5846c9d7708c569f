"""A new session: picked, not typed; what is missing is asked for; everything is saved."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.screen import Screen

from core.session import Book, Session
from core.setup import Machine
from tests.making import bare_session
from tests.tui.driving import opened, preferences, press, type_in
from tests.tui.season import empty_log, small_season
from tests.tui.seeing import text


@pytest.fixture(autouse=True)
def _stay(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the app go to an empty screen: the session's own has tests of its own."""

    def stay(route: str, *arguments: object) -> Screen[Any]:
        return Screen()

    monkeypatch.setattr("tui.app.make_screen", stay)


def newest(folder: Path) -> Session:
    """Return the session that was started last."""
    with Book.open(folder, read_only=True) as book:
        return book.session(book.sessions()[-1].id)


async def test_two_keys_start_a_session_like_the_last_one(tmp_path: Path) -> None:
    """Machine, place, test, timing and gain are those of the newest session."""
    folder = small_season(tmp_path)
    wishes = preferences()
    async with opened(folder, wishes=wishes) as pilot:
        await press(pilot, "n")
        shown = text(pilot.app)
        for words in (
            "New session S07",
            "Low Badger",
            "Quillowmere lane   out / back",
            "hand watch",
        ):
            assert words in shown
        await press(pilot, "enter")
    with Book.open(folder, read_only=True) as book:
        made, last = book.session("S07"), book.session("S06")
    assert (made.state, made.machine, made.place) == ("open", last.machine, last.place)
    assert (made.test, made.timing, made.directions) == ("80m", "hand", ("out", "back"))
    assert wishes.now.machine == made.machine


async def test_another_machine_brings_what_was_usual_on_it(tmp_path: Path) -> None:
    """By a few letters; its test, place and gain come along."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "1")
        await type_in(pilot, "ket")
        await press(pilot, "enter", "enter")
    made = newest(folder)
    assert (made.test, made.timing, made.gain) == ("0-50", "logger-10hz", 0.15)
    assert made.directions == ("W", "E")


async def test_every_line_can_be_changed_before_starting(tmp_path: Path) -> None:
    """By its digit; typed values may carry a unit or a decimal comma."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "3")
        await type_in(pilot, "0-60")
        await press(pilot, "enter", "4")
        await type_in(pilot, "gates")
        await press(pilot, "enter", "5")
        await type_in(pilot, "left [/] low?")
        await press(pilot, "enter", "6")
        await type_in(pilot, "0,2")
        await press(pilot, "enter", "7")
        await type_in(pilot, ".3 quicker 0.1")
        await press(pilot, "enter")
        shown = text(pilot.app)
        for words in (
            "0-60   0 to 60 km/h",
            "light gates",
            "left [/] low?",
            "0.2 s",
            "0.3 s quicker +/- 0.1",
        ):
            assert words in shown
        await press(pilot, "enter")
    made = newest(folder)
    assert (made.test, made.timing, made.question, made.gain) == (
        "0-60",
        "gates",
        "left [/] low?",
        0.2,
    )
    assert made.prediction is not None
    assert (made.prediction.value, made.prediction.give_or_take) == (-0.3, 0.1)
    with Book.open(folder, read_only=True) as book:
        assert made.prediction.against == book.session("S06").id


async def test_the_first_session_of_an_empty_log_makes_machine_and_place(tmp_path: Path) -> None:
    """What is missing is said and the cursor goes there; names are typed once."""
    folder = empty_log(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "enter")
        assert "A session needs a machine: space picks it." in text(pilot.app)
        await press(pilot, "space")
        await type_in(pilot, "Kettle Moth")
        await press(pilot, "enter", "m", "enter")
        assert "A session needs a test: space picks it." in text(pilot.app)
        await press(pilot, "space")
        await type_in(pilot, "0-50")
        await press(pilot, "enter", "2")
        await type_in(pilot, "Vennimoor strip")
        await press(pilot, "enter", "1", "enter")
    with Book.open(folder, read_only=True) as book:
        made = book.session("S01")
        assert [(m.name, m.type) for m in book.machines()] == [("Kettle Moth", "minibike")]
        assert [(p.name, p.directions) for p in book.places()] == [("Vennimoor strip", ("W", "E"))]
    assert (made.machine, made.test, made.directions) == (
        made.machine,
        "0-50",
        ("W", "E"),
    )


async def test_a_new_machine_may_start_on_the_values_of_another(tmp_path: Path) -> None:
    """They are said to be copied; the first key is for an empty sheet."""
    moth = bare_session("S07", [], day=99, machine="moth", sheets=({"bore": 70.0},))
    folder = small_season(tmp_path, more=[moth])
    with Book.open(folder) as book:
        book.save(Machine(id="moth", name="Rust Moth"))
    async with opened(folder) as pilot:
        await press(pilot, "n", "1")
        await type_in(pilot, "Tin Wasp")
        await press(pilot, "enter", "k")
        assert "e  empty" in text(pilot.app)
        await press(pilot, "1")
        assert "Starts on the values of Rust Moth, copied" in text(pilot.app)
        await press(pilot, "enter")
    made = newest(folder)
    assert made.sheets[0].readings["bore"].copied
    assert made.sheets[0].readings["bore"].value == 70.0


async def test_directions_may_have_names_of_their_own(tmp_path: Path) -> None:
    """Two different ones, or it is said and asked again."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "2")
        await type_in(pilot, "gravel pit")
        await press(pilot, "enter", "7")
        await type_in(pilot, "gate gate")
        await press(pilot, "enter")
        assert "Two different names with a blank between them" in text(pilot.app)
        await press(pilot, *["backspace"] * 4)
        await type_in(pilot, "hedge")
        await press(pilot, "enter", "enter")
    assert newest(folder).directions == ("gate", "hedge")


@pytest.mark.parametrize(
    ("line", "typed", "said"),
    [
        ("6", "0", "must be above zero"),
        ("6", "-1", "must be above zero"),
        ("6", "ten", "is not a number"),
        ("6", "1,234.5", "can be read in two ways"),
        ("6", "0.1 mm", "cannot be turned into s"),
        ("7", "faster", "How much faster?"),
        ("3", "50-0", "is not a test I know"),
    ],
)
async def test_what_cannot_be_read_is_said_and_nothing_is_lost(
    tmp_path: Path, line: str, typed: str, said: str
) -> None:
    """The drawer waits; esc leaves the line as it was."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", line)
        await type_in(pilot, typed)
        await press(pilot, "enter")
        assert said in " ".join(text(pilot.app).split())
        await press(pilot, "escape")
        assert "New session S07" in text(pilot.app)


async def test_esc_starts_nothing_and_makes_nothing(tmp_path: Path) -> None:
    """A new machine that was named on the way is not left behind."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "1")
        await type_in(pilot, "Newt")
        await press(pilot, "enter", "k", "escape")
        assert "6 sessions" in text(pilot.app)
    with Book.open(folder, read_only=True) as book:
        assert sorted(m.name for m in book.machines()) == ["Kettle Moth", "Low Badger"]
        assert len(book.sessions()) == 6


async def test_what_was_typed_before_esc_is_offered_again(tmp_path: Path) -> None:
    """Until the session is started with it, or it is cleared."""
    folder = small_season(tmp_path)
    async with opened(folder) as pilot:
        await press(pilot, "n", "escape", "n")
        assert "As you left it" not in text(pilot.app)
        await press(pilot, "5")
        await type_in(pilot, "left?")
        await press(pilot, "enter", "escape")
        assert "What you typed is kept: n goes on with it." in text(pilot.app)
        await press(pilot, "n")
        assert "As you left it; x clears it." in text(pilot.app)
        assert "left?" in text(pilot.app)
        await press(pilot, "x")
        assert "left?" not in text(pilot.app)
        await press(pilot, "x")
        assert "left?" in text(pilot.app)
        await press(pilot, "x")
        await press(pilot, "5")
        await type_in(pilot, "kept?")
        await press(pilot, "enter", "escape", "n", "enter")
    assert newest(folder).question.endswith("kept?")


async def test_a_test_without_a_number_takes_neither_gain_nor_prediction(tmp_path: Path) -> None:
    """A plug reading is words."""
    async with opened(small_season(tmp_path)) as pilot:
        await press(pilot, "n", "3")
        await type_in(pilot, "plug")
        await press(pilot, "enter", "6")
        assert "Pick a test that gives a number first." in text(pilot.app)
