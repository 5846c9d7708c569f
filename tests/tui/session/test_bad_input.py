"""What is typed wrongly, half or twice: a plain sentence, nothing lost, never a crash."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from core.clock import ManualClock
from core.session import Book, Plan
from core.setup import Part
from tests.making import answered
from tests.tui.season import HOSTILE
from tests.tui.session.strip import MORNING, Strip, at_the_strip, new_session
from tui.screens.session.attempts_view import number_lines
from tui.screens.session.setup_facts import facts_text
from tui.widgets.entry_line import EntryLine
from tui.widgets.line_input import LineInput


async def _change(strip: Strip, letters: str, value: str) -> None:
    """Type a value into a slot."""
    await strip.press("f")
    await strip.type_in(letters)
    await strip.press("enter")
    await strip.type_in(value)
    await strip.press("enter")


async def test_a_time_typed_in_any_usual_way(season: Path) -> None:
    """With a comma, a point, neither, as minutes, with blanks around; an unlikely one is asked."""
    ways = {"7,26": 7.26, "726": 7.26, "7.26": 7.26, " 726 ": 7.26, "1:02.4": 62.4}
    async with at_the_strip(season) as strip:
        for typed in ways:
            strip.clock.advance(minutes=4)
            strip.screen.query_one(EntryLine).put(typed)
            await strip.press("enter")
        assert "“1:02.4” is 62.40 s, and usual is 7.26 to 7.26: keep it?" in strip.flat
        await strip.press("k")
        assert [a.value for a in strip.saved.attempts] == list(ways.values())


_LINES = {
    "42": "42 has no clear decimal point",
    "72.6": "7.26 or 72.6?",
    "0": "a time must be above zero",
    "-7": "a time must be above zero",
    "7.26 q": "“q” is not a tag.",
    "7.26 mm": "not a unit of a test in s",
    "9999999999": "too many digits",
    "x9 l": "has no attempt 9",
    "x q": "“q” is not a reason to strike.",
    "x0 l": "Attempts are numbered from 1.",
    "t q": "“q” is not a tag.",
    "1,234.5": "1,234.5",
}


async def test_a_line_that_is_not_taken_says_why(season: Path) -> None:
    """Near the entry, and the line stays to be mended."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        for typed, words in _LINES.items():
            strip.screen.query_one(EntryLine).put(typed)
            await strip.press("enter")
            assert words in strip.flat, typed
            assert strip.entry == typed
            if strip.screen.query_one(EntryLine).is_asking:
                await strip.press("escape")
            strip.screen.query_one(EntryLine).put("")
        assert strip.screen.is_current
        assert [a.value for a in strip.saved.attempts] == [7.65]


_VALUES = (
    ("intake lash", "-0.1", "it cannot be below zero"),
    ("intake lash", "0", "0 means held open when hot: sure?"),
    ("intake lash", "4", "4 thou (0.004 in) would be 0.10 mm"),
    ("gasket thickness, cr", "11", "out of range"),
    ("gasket thickness, cr", "0.11", "sure?"),
    ("final sprocket teeth", "0", "out of range"),
    ("chain links", "97", "An odd number of links needs a half-link: sure?"),
    ("chain pitch", "10", "is not one of 6.35"),
    ("main jet", "95", "has no number system"),
    ("planned", "6,500", "has a comma: is it 6500"),
    ("planned", "", "nothing was typed, and a blank is not a value"),
    ("rear pressure, cold", "14 psix", "is not a unit I know"),
    ("bore", "seventy", "is not a number"),
)


async def test_a_value_that_is_not_taken_says_why(season: Path) -> None:
    """Refused, or asked about; the sheet stays as it was until that is answered."""
    async with at_the_strip(season, ready=False) as strip:
        before = strip.saved
        for slot, typed, words in _VALUES:
            await _change(strip, slot, typed)
            assert words in strip.flat, (slot, typed)
            while strip.app.screen is not strip.screen:
                await strip.press("escape")
        assert strip.saved == before


async def test_any_unit_can_be_typed(season: Path) -> None:
    """It is kept in the slot's unit, with what was typed.

    1 psi = 6.894757 kPa, 1 in = 25.4 mm: NIST SP 811, 2008, appendix B.
    """
    ways = (
        ("rear pressure, cold", "tyre_pressure_rear", "14 psi", 96.53),
        ("intake lash", "lash_intake", ".004in", 0.1016),
        ("clutch engagement", "engagement_rpm", "2600", 2600.0),
    )
    async with at_the_strip(season, ready=False) as strip:
        for letters, slot, typed, value in ways:
            await _change(strip, letters, typed)
            found = strip.saved.sheets[-1].readings[slot]
            assert found.text == typed
            assert found.value == pytest.approx(value, rel=1e-3)


async def test_a_ratio_with_a_stale_chamber_is_unknown(season: Path) -> None:
    """With what it was before milling; the old value is marked."""
    async with at_the_strip(season, ready=False, size=(120, 60)) as strip:
        await _change(strip, "milled", "0.5")
        shown = " ".join(facts_text(strip.screen.desk, 46, 40).split())
        assert "compression unknown (was 8.47 before milling; estimate" in shown
        assert "△ stale" in strip.text


async def test_missing_air_is_allowed_and_said(season: Path) -> None:
    """Nothing is kept out by it."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        assert "Air not read yet." in strip.text
        assert len(strip.saved.attempts) == 1


_AIR = {
    "": "Nothing was typed.",
    "18": "“18” has no unit",
    "18C 30hPa": "is it 30 inHg",
    "18C at 23:59": "still to come today",
    "0.5m/s gust 0.1": "below the mean wind",
    "potato": "potato",
}


async def test_air_that_is_not_taken_says_why(season: Path) -> None:
    """In the drawer, with the line kept."""
    async with at_the_strip(season) as strip:
        for typed, words in _AIR.items():
            await strip.press("a")
            await strip.type_in(typed)
            await strip.press("enter")
            assert words in strip.flat, typed
            await strip.press("escape")
        assert not strip.saved.air


async def test_two_timers_are_both_kept_and_compared(season: Path) -> None:
    """The first one counts; what lies between them is shown."""
    async with at_the_strip(season, size=(120, 40)) as strip:
        for value, other in (("765", "775"), ("731", "743")):
            await strip.enter(value)
            await strip.press("p", "y")
            await strip.type_in(other)
            await strip.press("enter")
        assert [a.second for a in strip.saved.attempts] == [7.75, 7.43]
        assert "second timer +0.11 (2)" in strip.flat


async def test_no_direction_and_no_place(season: Path) -> None:
    """Attempts are taken, and none is paired."""
    session_id = new_session(season, place="")
    async with at_the_strip(season, session_id) as strip:
        for value in ("765", "731", "759"):
            await strip.enter(value)
        await strip.press("d")
        assert "This place has no two directions." in strip.flat
        await strip.press("escape")
        assert {a.direction for a in strip.saved.attempts} == {""}
        assert "pairs" not in " ".join(number_lines(strip.screen.desk))


async def test_equal_times_and_one_time_alone(season: Path) -> None:
    """No spread of zero, no sum of nothing."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.go_to("Close-out")
        assert "One attempt, 7.65 s: no range from one." in strip.flat
        await strip.go_to("Attempts")
        for _ in range(4):
            await strip.enter("765")
        await strip.go_to("Close-out")
        assert "nan" not in strip.text.lower()
        assert "inf" not in strip.text.lower()


async def test_an_empty_session_has_an_honest_sentence(season: Path) -> None:
    """In all four stages."""
    async with at_the_strip(season, ready=False) as strip:
        for stage in ("Setup", "Checks", "Attempts", "Close-out"):
            await strip.go_to(stage)
        assert "No attempts yet." in strip.text


@pytest.mark.parametrize("hostile", HOSTILE)
async def test_any_text_is_kept_as_typed_and_shown_harmlessly(season: Path, hostile: str) -> None:
    """In names, notes, questions and the entry; no markup, no control codes."""
    words = hostile[:2000].encode("utf-8", "replace").decode()  # no terminal sends half a letter
    with Book.open(season) as book:
        machine = book.machine("Kettle Moth")
        book.save(msgspec.structs.replace(machine, name=words))
        head = next(h for h in book.parts() if h.name == "63T")
        book.save(msgspec.structs.replace(book.log.get(Part, head.id), name=words))
    session_id = _with_words(season, words)
    async with at_the_strip(season, session_id) as strip:
        await strip.press("n")
        strip.app.screen.query_one(LineInput).value = words
        await strip.press("enter")
        strip.screen.query_one(EntryLine).put(words)
        await strip.press("enter", "escape")
        for stage in ("Setup", "Checks", "Attempts", "Close-out"):
            await strip.go_to(stage)
            assert all(c.isprintable() or c == "\n" for c in strip.text)
        assert strip.screen.is_current
        assert words in strip.saved.notes
        assert strip.saved.question == words


def _with_words(season: Path, words: str) -> str:
    """Start a session whose question, rider and label are these words."""
    clock = ManualClock(MORNING)
    with Book.open(season, clock=clock) as book:
        machine = next(h for h in book.machines() if h.type == "minibike")
        place = book.place("Vennimoor strip")
        plan = Plan(
            machine=machine.id,
            place=place.id,
            test="0-50",
            question=words,
            label=words,
            rider=words,
        )
        session = answered(book.start(plan), clock())
        book.save(session)
        return session.id
