"""The bench: readings kept with instrument and conditions, clay in every state, checks cleared."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.clock import ManualClock
from core.session import Book, Session, fill, put_on
from core.setup import Part
from tests.tui.bench.bench import At, at_the_bench, readings
from tests.tui.contrast import assert_readable
from tests.tui.driving import NOW
from tests.tui.session.strip import new_session
from tui.widgets.record_list import RecordList


def open_session(folder: Path) -> str:
    """Start a session of the Kettle Moth with other rockers, so that clay and lash are due."""
    clock = ManualClock(NOW)
    session_id = new_session(folder, ready=False, clock=clock)
    with Book.open(folder, clock=clock) as book:
        session = book.log.get(Session, session_id)
        for slot, text in (("rockers", "Thistle 1.35"), ("rocker_ratio", "1.35")):
            now = session.sheets[-1].readings
            session = put_on(book, session, fill(book, session.machine, now, slot, text))
    return session_id


def answers(folder: Path, session_id: str) -> dict[str, str]:
    with Book.open(folder, read_only=True) as book:
        return {r.rule: r.answer for r in book.log.get(Session, session_id).checks}


async def test_a_reading_with_instrument_condition_and_note_is_on_the_disk(season: Path) -> None:
    """No session is open, so no sheet changes; the history says all of it."""
    async with at_the_bench(season, "b") as at:
        assert "Kettle Moth, as in S10" in at.flat
        await at.press("f")
        await at.enter("chamber")
        await at.enter("99")
        assert "out of range" in at.flat
        at.app.focused.value = ""  # type: ignore[union-attr]
        await at.enter("31")
        assert "usual" in at.flat, "31 cm³ is unusual and asked about"
        await at.press("t")
        at.app.focused.value = ""  # type: ignore[union-attr]
        await at.enter("22.8")
        assert "burette and plate (usual), step 0.1, repeats within 0.2 cm³" in at.flat
        await at.press("3")
        at.app.focused.value = ""  # type: ignore[union-attr]
        await at.enter("3")
        await at.press("5", "c", "8")
        await at.enter("after cleaning")
        await at.press("enter")
        assert "Saved." in at.flat
        assert "22.8 cm³" in at.flat
        await at.press("h")
        assert (
            "12 Sep 2026 10:00 22.8 cm³ bench, burette and plate, cold, after cleaning" in at.flat
        )
        assert "12 Apr 2026" in at.flat
    (kept,) = readings(season)
    assert kept.readings["chamber_volume"].value == 22.8
    assert (kept.times, kept.condition, kept.note, kept.machine != "") == (
        3, "cold", "after cleaning", True,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("keys", "words", "cleared"),
    [
        (("t=3.1", "t=2.6", "=4"), "3.1 2.6 of 4", True),
        (("u", "n=2", "="), "touched >2", False),
    ],
)
async def test_clay_as_it_came_out_answers_the_check_that_is_due(
    season: Path, keys: tuple[str, ...], words: str, cleared: bool
) -> None:
    """Only what was measured clears it; not touched is a lower bound, told as such."""
    session_id = open_session(season)
    async with at_the_bench(season, "b") as at:
        await at.find("valve-to-piston gap")
        await at.press("enter")
        for key in keys:
            letter, typed, value = key.partition("=")
            if letter:
                await at.press(letter)
            if typed:
                await (at.enter(value) if value else at.press("enter"))
        await at.press("enter")
        assert ("Cleared: valve-to-piston gap." in at.flat) is cleared
        assert ("valve-to-piston gap" in _due(at)) is not cleared
    (kept,) = readings(season)
    assert kept.text.startswith(words)
    assert kept.clay is not None
    assert (answers(season, session_id)["valve_to_piston"] == "cleared") is cleared


def _due(at: At) -> set[str]:
    records = at.app.screen.query_one(RecordList).records
    return {str(getattr(r.cells[2], "text", "")) for r in records if r.id.startswith("check:")}


async def test_which_check_a_reading_answers_is_asked_first(season: Path) -> None:
    """There is no default; 'none' keeps the reading and clears nothing."""
    session_id = open_session(season)
    async with at_the_bench(season, "b") as at:
        for answer, state in (("n", "open"), ("1", "cleared")):
            await at.press("f")
            await at.enter("retainer")
            await at.enter("1.4")
            await at.press("enter")
            assert "Which check of S11 does it answer?" in at.flat
            assert "▸ n none: only keep it" in at.flat
            await at.press(answer)
            assert answers(season, session_id)["retainer_margin"] == state
    assert {one.rule for one in readings(season)} == {"", "retainer_margin"}


async def test_a_check_is_taken_at_the_bench_from_the_checks_stage(season: Path) -> None:
    """b in the checks goes to its line, and back with the check cleared."""
    session_id = open_session(season)
    async with at_the_bench(season, "enter", "tab") as at:
        await at.press("b")
        assert "Bench" in at.text.splitlines()[0]
        await at.press("enter", "t")
        await at.enter("3.3")
        await at.press("t")
        await at.enter("2.9")
        await at.press("enter", "enter", "escape")
        assert "▸Checks" in at.flat
        assert "3.3 / 2.9 mm" in at.flat
    assert answers(season, session_id)["valve_to_piston"] == "cleared"


async def test_a_loose_engine_is_made_and_read(season: Path) -> None:
    """Its readings are its own, and what follows from them is shown."""
    async with at_the_bench(season, "b", "m") as at:
        await at.enter("Spare 70")
        assert "Spare 70, loose" in at.flat
        for slot, value in (("bore", "70.02"), ("stroke", "54")):
            await at.press("f")
            await at.enter(slot)
            await at.enter(value)
            await at.press("enter")
        assert "207.9 cm³" in " ".join(
            str(getattr(cell, "text", cell))
            for record in at.app.screen.query_one(RecordList).records
            for cell in record.cells
        )
    with Book.open(season, read_only=True) as book:
        (part,) = (part for part in book.log.all(Part) if part.name == "Spare 70")
    assert {one.part for one in readings(season)} == {part.id}
    assert {one.machine for one in readings(season)} == {""}


async def test_an_instrument_is_put_right_and_counts(season: Path) -> None:
    """A burette of 0.05 cm³ makes the ratio surer."""
    async with at_the_bench(season, "b", "g") as at:
        await at.enter("burette")
        await at.enter("0.05")
        await at.enter("0.05")
        assert "Saved: burette and plate, step 0.05, repeats within 0.05." in at.flat
        await at.press("y")
        await at.enter("compression")
        assert "chamber volume 22.5 cm³ ±0.052 (burette and plate)" in at.flat


async def test_the_bench_stands_out_in_both_looks(season: Path) -> None:
    """Every letter by 7:1 or more, with the form of a reading and the lift table."""
    async with at_the_bench(season, "b") as at:
        assert_readable(at.app)
        await at.press("ctrl+t")
        assert_readable(at.app)
        await at.press("f")
        await at.enter("chamber")
        await at.enter("22.8")
        assert_readable(at.app)
        await at.press("escape", "escape")
        await at.find("lift table, intake")
        await at.press("enter")
        assert_readable(at.app)
