"""The review screen over the demo season: everything readable, its parts and actions by key."""

from __future__ import annotations

import asyncio
import re
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from core.clock import ManualClock
from core.report.review import SECTIONS
from core.session import Book, Session, note, strike, undo
from core.setup import slot_of
from tests.making import START, bare_session
from tests.tui.compare.going import (
    bottom,
    page_text,
    press,
    reviewing,
    settle,
    words,
)
from tests.tui.contrast import assert_readable
from tests.tui.driving import opened
from tests.tui.season import HOSTILE
from tests.tui.seeing import lines, text
from tests.tui.test_text_on_screen import assert_sound
from tui.screens.review import ReviewScreen
from tui.themes import THEMES
from tui.widgets.page import PageView

pytestmark = pytest.mark.xdist_group("season")

LABELS = ("S01", "S02", "S03", "S04", "S05", "S06", "S07", "Bench", "S08", "S09", "S10")


def in_book(folder: Path, label: str) -> Session:
    """A session as it is on disk."""
    with Book.open(folder, read_only=True) as book:
        return book.session(label)


@pytest.mark.parametrize("label", LABELS)
async def test_every_session_of_the_season_is_read_in_full(season: Path, label: str) -> None:
    """Question, sheet, checks, attempts, strikes, notes, close-out and trail are all there."""
    session = in_book(season, label)
    async with reviewing(season, label, size=(104, 30)) as pilot:
        page = page_text(pilot)
        assert session.question in page
        for reading_of in session.sheets[0].readings if session.sheets else ():
            assert slot_of(reading_of).label.split(",")[0] in page
        for attempt in session.attempts:
            mark = "○" if attempt.strike else "[●◆]"
            row = rf"{mark} {attempt.n} (\w )?\d\d:\d\d {attempt.direction} {attempt.value:.2f} s"
            assert re.search(row, page), row
        for line in (*session.notes, session.stopped_because):
            assert line in page
        if session.close_out is not None:
            assert session.close_out.learnt in page
        assert page.count(f"{session.trail[-1].at:%H:%M:%S}") >= 1
        for _, title in SECTIONS:
            assert title in page


async def test_the_list_opens_a_closed_session_here(season: Path) -> None:
    """Enter on it; esc goes back to the list."""
    async with opened(season) as pilot:
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, ReviewScreen)
        assert lines(pilot.app)[0].startswith(" S10  Kettle Moth, 0-50")
        assert "6 Sep 2026  closed" in lines(pilot.app)[0]
        await press(pilot, "escape")
        assert "11 sessions" in text(pilot.app)


async def test_the_answer_the_prediction_and_what_was_learnt_are_on_top(season: Path) -> None:
    """Without scrolling, on a small screen."""
    async with reviewing(season, "S03") as pilot:
        shown = words(pilot)
        for part in (
            "What do stiffer clutch springs and a 66T give together?",
            "S03 against S01",
            "QUICKER",
            "◂ S03 is 1.19 s quicker than S01",
            "Predicted 0.90 s quicker; got 1.19 s quicker",
            "learnt: Much quicker, but two things were changed in one go.",
        ):
            assert part in shown


async def test_a_stopped_session_is_a_full_record(season: Path) -> None:
    """The reason first, no scolding; its open checks stand before all others."""
    async with reviewing(season, "S06") as pilot:
        assert "▲ Stopped: brake pedal reaches its stop" in words(pilot)
        await press(pilot, "3")
        shown = words(pilot)
        assert "Not cleared" in shown
        assert shown.index("Not cleared") < shown.find("Stop checks") or "Stop checks" not in shown
        assert "stop checks." in shown


async def test_the_first_of_its_kind_says_so(season: Path) -> None:
    """There is nothing to hold it against, and c says that too."""
    async with reviewing(season, "S01") as pilot:
        assert "it is the first of its kind" in words(pilot)
        await press(pilot, "c")
        assert "nothing yet that it could be held against" in bottom(pilot)


async def test_what_changed_stands_before_the_sheet(season: Path) -> None:
    """Against the session it came from, and each swap; what was entered today stands out."""
    async with reviewing(season, "S03") as pilot:
        page = page_text(pilot)
        assert page.index("What changed against S01") < page.index("The sheet")
        assert "final sprocket: 60T -> 66T" in page
        assert "● final sprocket 66T today" in page
        assert "· bore 70.00 mm S01" in page
        assert "stroke 54.00 mm" in page
        assert "stroke 54.00 mm, stated" not in page
        assert "lowest rpm limit 6,500 rpm" in page
        assert "Lowest limit you entered: 6,500 (rod)" in page
    async with reviewing(season, "S05") as pilot:
        page = page_text(pilot)
        assert page.index("Swap from A to B") < page.index("Swap from B to A")
        assert "overall ratio 5.50:1" in page
        assert "overall ratio 5.00:1" in page
        assert page.count("swept volume") == 1


async def test_a_struck_attempt_is_hollow_with_its_reason(season: Path) -> None:
    """In the table and in the picture."""
    async with reviewing(season, "S07") as pilot:
        await press(pilot, "5")
        shown = words(pilot)
        assert "› 13.10 struck, off the scale" in shown
        assert "○ 7 11:06 out 13.10 s struck: CHAIN (came off at 60 m)" in shown


async def test_a_late_strike_is_labelled(own_season: Path) -> None:
    """It was struck after its time was seen."""
    clock = ManualClock(START)
    with Book.open(own_season, clock=clock) as book:
        session = book.session("S03")
        reopened = msgspec.structs.replace(session, state="open")
        book.save(strike(reopened, 2, "l", clock(), late=True))
    async with reviewing(own_season, "S03") as pilot:
        assert "struck: LATE, after its time was seen" in page_text(pilot)


async def test_an_odd_attempt_is_marked_and_asked_about(season: Path) -> None:
    """Attempt 5 of S08."""
    async with reviewing(season, "S08") as pilot:
        page = page_text(pilot)
        assert "◆ 5 10:48 W 7.98 s stands apart" in page or "7.98 s stands apart" in page
        assert "What happened?" in page


async def test_what_was_taken_back_stays_in_the_trail(own_season: Path) -> None:
    """The line says so, and is hollow."""
    clock = ManualClock(START + timedelta(days=400))
    with Book.open(own_season, clock=clock) as book:
        session = msgspec.structs.replace(book.session("S04"), state="open")
        noted = note(session, "drum glowing", clock.advance(minutes=1))
        book.save(undo(noted, clock.advance(minutes=1)))
    async with reviewing(own_season, "S04") as pilot:
        page = page_text(pilot)
        assert "○ 08:01:00 note: drum glowing (taken back)" in page
        assert "● 08:02:00 took back: note: drum glowing" in page


async def test_digits_go_to_the_parts(season: Path) -> None:
    """The line of parts follows, by key, by next and before, and by scrolling."""
    async with reviewing(season, "S05") as pilot:
        for number, (id_, title) in enumerate(SECTIONS, 1):
            await press(pilot, str(number))
            assert f"▸{number} {title}" in lines(pilot.app)[1]
            assert pilot.app.screen.query_one(PageView).section == id_
        assert "7 Trail" in lines(pilot.app)[2]
        await press(pilot, "b")
        assert "▸6 Close-out" in lines(pilot.app)[1]
        await press(pilot, "home", "n")
        assert "▸2 Setup" in lines(pilot.app)[1]
        assert lines(pilot.app)[2].startswith(" 2 Setup ─")
        await press(pilot, "home", "tab", "shift+tab")
        assert "▸1 Result" in lines(pilot.app)[1]
        await press(pilot, "pagedown", "pagedown")
        assert "▸2 Setup" in lines(pilot.app)[1]


async def test_a_session_without_anything_is_read(own_season: Path) -> None:
    """No sheet, no checks, no attempts, no trail."""
    with Book.open(own_season) as book:
        machine = book.session("S01").machine
        empty = bare_session("E01", [], day=400, machine=machine)
        book.save(msgspec.structs.replace(empty, sheets=()))
    async with reviewing(own_season, "E01") as pilot:
        page = page_text(pilot)
        for part in (
            "No setup sheet was kept.",
            "No check was due.",
            "Air and wind: not recorded.",
            "No attempts were made.",
            "Nothing was noted, and it was not closed out.",
            "No trail was kept.",
        ):
            assert part in page
        await press(pilot, *"1234567")


async def test_hostile_words_are_shown_as_they_are(own_season: Path) -> None:
    """In every place that a session has for words of its own."""
    with Book.open(own_season) as book:
        session = book.session("S08")
        safe = [h.encode("utf-8", "replace").decode() for h in HOSTILE]
        book.save(
            msgspec.structs.replace(
                session,
                question=safe[0],
                notes=tuple(safe),
                rider=safe[1],
                attempts=tuple(msgspec.structs.replace(a, note=safe[2]) for a in session.attempts),
            )
        )
    async with reviewing(own_season, "S08") as pilot:
        assert "left [/] low" in words(pilot)
        for key in "1234567":
            await press(pilot, key)
            assert_sound(pilot.app)


@pytest.mark.parametrize("size", [(40, 10), (20, 5), (1, 1), (200, 60)])
async def test_any_size_is_survived_and_left_again(season: Path, size: tuple[int, int]) -> None:
    """Down and back; the part that was read stays."""
    async with reviewing(season, "S05") as pilot:
        await press(pilot, "5")
        before = text(pilot.app)
        await pilot.resize_terminal(*size)
        await settle(pilot)
        assert_sound(pilot.app)
        await pilot.resize_terminal(80, 24)
        await asyncio.sleep(0.1)  # the terminal's own pause after a resize
        await settle(pilot)
        assert text(pilot.app) == before


async def test_a_large_screen_uses_two_columns(season: Path) -> None:
    """Facts beside the answer, groups of the sheet side by side, attempts beside their picture."""
    async with reviewing(season, "S05", size=(120, 40)) as pilot:
        shown = lines(pilot.app)
        row = next(line for line in shown if "machine" in line)
        assert row.index("machine") > 50
        await press(pilot, "5")
        row = next(line for line in lines(pilot.app) if "7.30 ±0.11" in line)
        assert "●   2  A" in row


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_every_letter_stands_out(season: Path, theme: str, size: tuple[int, int]) -> None:
    """In every part, in both looks."""
    async with reviewing(season, "S07", size=size, theme=theme) as pilot:
        for number in range(1, len(SECTIONS) + 1):
            await press(pilot, str(number))
            assert_readable(pilot.app)


async def test_without_colour_it_says_the_same(
    season: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Signs and words do not change."""
    async with reviewing(season, "S08") as pilot:
        await press(pilot, "5")
        coloured = text(pilot.app)
    monkeypatch.setenv("NO_COLOR", "1")
    async with reviewing(season, "S08") as pilot:
        await press(pilot, "5")
        assert text(pilot.app) == coloured
        assert_readable(pilot.app)
