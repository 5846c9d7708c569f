"""The comparison screen over the demo season: what it says, and what its keys do."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from core.attempts import Strike
from core.session import Book, Session
from tests.making import bare_session
from tests.tui.compare.going import (
    app_of,
    bottom,
    comparing,
    page_text,
    press,
    settle,
    type_in,
    words,
)
from tests.tui.driving import opened
from tests.tui.seeing import lines, text
from tui.screens.compare import CompareScreen
from tui.widgets.big_text import big_lines

pytestmark = pytest.mark.xdist_group("season")


def screen_of(pilot: object) -> CompareScreen:
    """The comparison that is shown."""
    screen = app_of(pilot).screen  # type: ignore[arg-type]
    assert isinstance(screen, CompareScreen)
    return screen


def has_large(shown: str, word: str) -> bool:
    """Whether a word stands there in large letters."""
    return all(row.rstrip() in shown for row in big_lines(word, "half"))


async def test_two_marked_sessions_are_compared(season: Path) -> None:
    """From the list: mark one, mark another, c; the older one is the first. Esc goes back."""
    async with opened(season) as pilot:
        await press(pilot, "end", "space", "up", "up", "space", "c")
        shown = text(pilot.app)
        assert "S03 against S01" in shown
        assert has_large(shown, "QUICKER")
        await press(pilot, "escape")
        assert "Kettle Moth" in text(pilot.app)
        assert "against" not in text(pilot.app)


async def test_the_answer_comes_first_then_the_picture_then_what_limits_it(season: Path) -> None:
    """In this order; answer and picture on a small screen without scrolling."""
    async with comparing(season, "S01", "S03") as pilot:
        assert "1.31 s quicker" in words(pilot)
        shown = page_text(pilot)
        parts = (
            "S03 is 1.19 s quicker than S01",
            "1 S01 4 pairs",
            "2 S03 4 pairs",
            "quicker │",
            "net ",
            "the difference belongs to the pair",
        )
        places = [shown.find(part) for part in parts]
        assert -1 not in places
        assert places == sorted(places)
        assert "◂ S03 is" in shown


@pytest.mark.parametrize(
    ("first", "second", "word", "sign"),
    [
        ("S01", "S03", "QUICKER", "◂"),
        ("S05", "S05", "SLOWER", "▸"),
        ("S03", "S04", "CAN'T TELL YET", "?"),
    ],
)
async def test_each_answer_has_its_word_and_its_sign(
    season: Path, first: str, second: str, word: str, sign: str
) -> None:
    """Large where there is room, and as capitals where there is not."""
    async with comparing(season, first, second) as pilot:
        assert has_large(text(pilot.app), word)
        assert any(line.strip().startswith(sign) for line in lines(pilot.app))
        await pilot.resize_terminal(60, 14)
        await settle(pilot)
        assert word in text(pilot.app)


async def test_no_difference_worth_having_is_a_word_of_its_own(own_season: Path) -> None:
    """With a wide gain the same build twice is no difference."""
    async with comparing(own_season, "S09", "S09") as pilot:
        await press(pilot, "g")
        await type_in(pilot, "0.5")
        await press(pilot, "enter")
        assert has_large(text(pilot.app), "SLOWER")
    quiet = ["W7.50 E7.20 W7.52 E7.18", "W7.51 E7.19 W7.50 E7.21"]
    sheets = ({"final_sprocket_teeth": 60.0}, {"final_sprocket_teeth": 66.0})
    with Book.open(own_season) as book:
        machine = book.session("S01").machine
        book.save(bare_session("Q01", quiet, sheets=sheets, machine=machine, gain=0.9))
    async with comparing(own_season, "Q01", "Q01") as pilot:
        assert has_large(text(pilot.app), "NO DIFFERENCE")
        assert "= No difference worth having" in words(pilot)


async def test_what_follows_from_a_cause_is_folded_until_asked_for(season: Path) -> None:
    """Causes first; f shows the rest."""
    async with comparing(season, "S01", "S03") as pilot:
        assert "final sprocket: 60T -> 66T" in page_text(pilot)
        assert "final sprocket teeth" not in page_text(pilot)
        assert "more: what follows" in page_text(pilot)
        await press(pilot, "f")
        assert "final sprocket teeth: 60T -> 66T" in page_text(pilot)
        await press(pilot, "f")
        assert "final sprocket teeth" not in page_text(pilot)


async def test_what_it_rests_on_is_told(season: Path) -> None:
    """Counts, days, gear, scatter, day to day, gain and what would settle it."""
    async with comparing(season, "S03", "S04") as pilot:
        shown = page_text(pilot)
        assert "mean 7.20 s, 4 pairs, 3 May 2026, logger-10hz" in shown
        assert "mean 7.74 s, 3 pairs, 28 Jun 2026" in shown
        assert "scatter of one pair 0.10 s" in shown
        assert "day to day 0.1" in shown
        assert "smallest gain 0.15 s, as said in S04" in shown
        assert "to settle it your days differ too much" in shown
        assert "Nothing that could be a cause. 3 more: what follows from it" in shown


async def test_the_sides_are_swapped(season: Path) -> None:
    """The sign turns, and turns back."""
    async with comparing(season, "S01", "S03") as pilot:
        await press(pilot, "s")
        assert "S01 against S03" in lines(pilot.app)[0]
        assert "S01 is 1.19 s slower than S03" in words(pilot)
        await press(pilot, "s")
        assert "S03 is 1.19 s quicker than S01" in words(pilot)


async def test_another_build_of_a_session_is_chosen(season: Path) -> None:
    """S05 ran 66T and 60T; against S08 its 66T is nearest."""
    async with comparing(season, "S05", "S08") as pilot:
        assert "S08 against S05:A" in lines(pilot.app)[0]
        await press(pilot, "1")
        assert "S08 against S05:B" in lines(pilot.app)[0]
        assert "Build B of S05." in bottom(pilot)
        await press(pilot, "1")
        assert "S08 against S05:A" in lines(pilot.app)[0]
        await press(pilot, "2")
        assert bottom(pilot) == "S08 ran one build only."


async def test_two_builds_of_one_session_are_not_made_the_same(season: Path) -> None:
    """Both are on the screen already."""
    async with comparing(season, "S05", "S05") as pilot:
        assert "S05:B against S05:A" in lines(pilot.app)[0]
        await press(pilot, "2")
        assert "both are compared already" in bottom(pilot)
        await press(pilot, "s")
        assert "S05:A is 0.96 s quicker than S05:B" in words(pilot)


async def test_it_is_looked_at_without_what_stands_apart(season: Path) -> None:
    """The answer stays that of all that count; the picture is the other one."""
    async with comparing(season, "S05", "S08") as pilot:
        assert "◆" in text(pilot.app)
        before = screen_of(pilot).view
        await press(pilot, "o")
        assert bottom(pilot) == (
            "Looked at without attempt 5 of S08; the answer on top is as it counts."
        )
        assert "Without attempt 5 of S08: 0.04 s slower" in words(pilot)
        assert "the answer stays “can't tell yet”" in words(pilot)
        assert "2 S08 3 pairs" in words(pilot)
        assert screen_of(pilot).view is before
        await press(pilot, "o")
        assert "Looked at" not in words(pilot)
        assert "Without attempt 5" not in words(pilot)
        await press(pilot, "x")
        assert bottom(pilot) == "No attempt with a time is struck on either side."


async def test_it_is_looked_at_with_the_struck_ones(season: Path) -> None:
    """S07 has one struck attempt."""
    async with comparing(season, "S02", "S07") as pilot:
        await press(pilot, "x")
        assert "With attempt 7 of S07 counted, which finds no partner: 0.01 s" in words(pilot)
        await press(pilot, "o")
        assert bottom(pilot) == "Nothing stands apart on either side."


async def test_a_gain_that_is_typed_changes_the_look_and_no_session(own_season: Path) -> None:
    """It is said that it is not saved; empty goes back to what was said."""
    async with comparing(own_season, "S05", "S05") as pilot:
        await press(pilot, "g")
        assert "not saved to a session" in words(pilot)
        await type_in(pilot, "x")
        await press(pilot, "enter")
        assert "S05:B against S05:A" in lines(pilot.app)[0]
        assert app_of(pilot).screen is not screen_in(pilot)
        await press(pilot, "backspace")
        await type_in(pilot, "1,5")
        await press(pilot, "enter")
        assert "that is less than the 1.5 s you said matters" in words(pilot)
        assert "1.5 s, typed for this look, not saved" in page_text(pilot)
        await press(pilot, "g", *["backspace"] * 4, "enter")
        assert "0.15 s, as said in S05:B" in page_text(pilot)
        assert app_of(pilot).book.session("S05").gain == 0.15


def screen_in(pilot: object) -> CompareScreen:
    """The comparison among the screens that are open."""
    app = app_of(pilot)  # type: ignore[arg-type]
    return next(s for s in app.screen_stack if isinstance(s, CompareScreen))


async def test_different_tests_are_refused_in_a_sentence(season: Path) -> None:
    """And every key that needs a comparison says so."""
    async with comparing(season, "S01", "S09") as pilot:
        assert "S01 ran 0-50 and S09 ran 40-65: different tests cannot be" in words(pilot)
        assert "esc goes back" in words(pilot)
        await press(pilot, "1")
        assert "There is nothing to look at yet" in words(pilot)
        await press(pilot, "escape", "escape")
        assert "Question" in text(pilot.app) or "Kettle Moth" in text(pilot.app)


async def test_a_session_against_itself_says_nothing(season: Path) -> None:
    """One build only."""
    async with comparing(season, "S03", "S03") as pilot:
        assert "S03 against itself says nothing." in words(pilot)


async def test_a_session_that_was_stopped_has_nothing_to_compare(season: Path) -> None:
    """No large word, no picture, and still what changed."""
    async with comparing(season, "S02", "S06") as pilot:
        shown = words(pilot)
        assert "S06 was stopped" in shown
        assert "no attempts to compare" in shown
        assert "difference" not in shown
        assert "What changed, S02 to S06" in shown


async def test_all_struck_is_said_and_draws_nothing(own_season: Path) -> None:
    """Not a number that is none."""
    with Book.open(own_season) as book:
        session = book.session("S03")
        strike = Strike(code="GUST")
        tries = tuple(msgspec.structs.replace(a, strike=strike) for a in session.attempts)
        book.save(msgspec.structs.replace(session, attempts=tries))
    async with comparing(own_season, "S01", "S03") as pilot:
        assert "All attempts of S03 are struck: nothing to compare." in words(pilot)
        assert "nan" not in page_text(pilot)


async def test_another_test_that_both_ran_is_chosen(own_season: Path) -> None:
    """Each session ran 0-50 and two rolling tries."""
    with Book.open(own_season) as book:
        machine = book.session("S01").machine
        made: list[Session] = []
        for day, label in enumerate(("T01", "T02")):
            blocks = ["W7.50 E7.20 W7.52 E7.18 W5.41 E5.01"]
            session = bare_session(label, blocks, day=300 + day, machine=machine)
            tries = tuple(
                msgspec.structs.replace(a, test="40-65") if a.n > 4 else a for a in session.attempts
            )
            made.append(msgspec.structs.replace(session, attempts=tries))
        book.save(*made)
    async with comparing(own_season, "T01", "T02") as pilot:
        assert "0-50" in lines(pilot.app)[0]
        await press(pilot, "t")
        assert "40-65" in lines(pilot.app)[0]
        assert "On 40-65." in bottom(pilot)
        await press(pilot, "t")
        assert "0-50" in lines(pilot.app)[0]
    async with comparing(own_season, "S01", "S03") as pilot:
        await press(pilot, "t")
        assert bottom(pilot) == "Both ran one test only."


async def test_one_of_the_two_is_read(season: Path) -> None:
    """The choice starts on the second; esc comes back to the comparison."""
    async with comparing(season, "S01", "S03") as pilot:
        await press(pilot, "r")
        assert "Read which one?" in text(pilot.app)
        await press(pilot, "1")
        assert lines(pilot.app)[0].startswith(" S01  Kettle Moth")
        await press(pilot, "escape")
        assert "S03 against S01" in lines(pilot.app)[0]
    async with comparing(season, "S05", "S05") as pilot:
        await press(pilot, "enter")
        assert lines(pilot.app)[0].startswith(" S05  Kettle Moth")
