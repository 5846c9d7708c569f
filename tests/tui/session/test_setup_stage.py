"""The setup stage: a copy of the last sheet, of which only what was touched is entered."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.session import Book
from tests.tui.session.strip import Strip, at_the_strip, new_session
from tui.widgets.record_list import RecordList


async def _find(strip: Strip, letters: str) -> None:
    """Find a slot by letters and open it."""
    await strip.press("f")
    await strip.type_in(letters)
    await strip.press("enter")


async def test_the_last_sheet_is_shown_by_group_with_where_it_is_from(season: Path) -> None:
    """Only recorded slots, each said to be carried from its session."""
    async with at_the_strip(season, ready=False, size=(120, 60)) as strip:
        assert strip.screen.stage.NAME == "Setup"
        assert "Nothing changed since S10." in strip.text
        assert strip.said == "All is as in S10: change only what you touched."
        shown = strip.screen.query_one("SetupStage RecordList", RecordList).records
        slots = [record.id for record in shown if not record.id.startswith("said:")]
        assert set(slots) == set(strip.screen.desk.sheet.readings)
        assert "63T" in strip.text
        assert "S10" in strip.text


async def test_any_slot_is_found_by_a_few_letters(season: Path) -> None:
    """Also one that was never recorded, by its trade name as well."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "pipe")
        await strip.type_in("Long pipe")
        await strip.press("enter")
        reading = strip.saved.sheets[-1].readings["exhaust"]
        assert (reading.text, reading.state, reading.carried) == ("Long pipe", "fitted", "")
        assert strip.said == "Exhaust: Long pipe is saved."


async def test_a_slot_is_found_by_what_is_on_it(season: Path) -> None:
    """By the name of the part on the sheet, or of one on the shelf."""
    async with at_the_strip(season, ready=False) as strip:
        for letters, slot in (("pepper", "clutch"), ("66t", "final_sprocket")):
            await strip.press("f")
            await strip.type_in(letters)
            await strip.press()
            shown = strip.screen.query_one("SetupStage RecordList", RecordList).records
            assert slot in [record.id for record in shown]
            await strip.press("escape")


async def test_a_value_is_typed_with_its_unit(season: Path) -> None:
    """It reads back as typed, with the slot's own unit beside it."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "gasket thickness, cr")
        await strip.type_in("48 thou")
        await strip.press("enter")
        reading = strip.saved.sheets[-1].readings["gasket_thickness"]
        assert (reading.value, reading.text) == (1.2192, "48 thou")
        assert "48 thou (1.2192 mm)" in strip.text
        assert "changed" in strip.text


async def test_what_is_not_simply_measured(season: Path) -> None:
    """Unknown, none, an estimate, a bound."""
    states = {"?": "unknown", "-": "not fitted", "~2": "estimated", ">3": "bounded"}
    async with at_the_strip(season, ready=False) as strip:
        for typed, state in states.items():
            await _find(strip, "tread depth")
            await strip.type_in(typed)
            await strip.press("enter")
            assert strip.saved.sheets[-1].readings["tread_front"].state == state


async def test_an_unusual_value_is_asked_about_with_one_key(season: Path) -> None:
    """And typing it again starts from what was typed."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "intake lash")
        await strip.type_in("0.3")
        await strip.press("enter")
        assert "sure?" in strip.flat
        await strip.press("t")
        assert "0.3" in strip.text
        await strip.press("enter", "y")
        assert strip.saved.sheets[-1].readings["lash_intake"].value == 0.3


async def test_a_refused_value_stays_to_be_mended(season: Path) -> None:
    """One line says why, nothing is saved, nothing is lost."""
    async with at_the_strip(season, ready=False) as strip:
        before = strip.saved.sheets[-1]
        await _find(strip, "intake lash")
        await strip.type_in("4")
        await strip.press("enter")
        assert "out of range" in strip.flat
        assert "4 thou (0.004 in) would be 0.10 mm" in strip.flat
        assert strip.saved.sheets[-1] == before
        await strip.type_in(" thou")
        await strip.press("enter")
        assert strip.saved.sheets[-1].readings["lash_intake"].value == pytest.approx(0.1016)


async def test_a_part_on_another_machine_raises_its_question(season: Path) -> None:
    """Moved, a second one, or a mistake; nothing is fitted before it is answered."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "engine spr")
        await strip.type_in("Badger")
        await strip.press()
        assert "on Low Badger" in strip.text
        await strip.press("enter")
        assert "Moved? Second one? Mistake?" in strip.flat
        await strip.press("k")
        assert strip.saved.sheets[-1].readings["engine_sprocket"].text == "12T"
        await _find(strip, "engine spr")
        await strip.type_in("Badger")
        await strip.press("enter", "m")
        assert strip.saved.sheets[-1].readings["engine_sprocket"].text == "Badger 12T"
        parts = {head.name: head.machine for head in strip.app.book.parts()}
        assert parts["Badger 12T"] == strip.saved.machine


async def test_a_part_that_went_elsewhere_is_said_on_the_sheet(season: Path) -> None:
    """The sheet still has it, the log has it on the other machine by now."""
    session_id = new_session(season, ready=False)
    other = new_session(season, ready=False, machine="Low Badger", test="80m", place="Quillowmere")
    async with at_the_strip(season, other) as strip:
        await _find(strip, "final spr")
        await strip.type_in("63T")
        await strip.press("enter", "m", "escape")
        strip.app.open_session(session_id)
        await strip.press("down")
        assert "63T is on Low Badger since 20 Sep. Moved? Second one? Mistake?" in strip.flat


async def test_more_than_one_change_is_said_and_blocks_nothing(season: Path) -> None:
    """The gain will belong to the package."""
    async with at_the_strip(season, ready=False) as strip:
        for slot, value in (("final spr", "60T"), ("planned", "6000")):
            await _find(strip, slot)
            await strip.type_in(value)
            await strip.press("enter")
        assert "2 changes since S10: the gain will belong to the package." in strip.flat
        assert "2 changes" in strip.text.splitlines()[1]


async def test_what_follows_from_the_sheet_stands_beside_it(season: Path) -> None:
    """Ratio, speed, limits; unknown is said aloud, and v shows the sums."""
    async with at_the_strip(season, ready=False) as strip:
        assert "compression    8.47:1" in strip.text
        assert "Lowest limit you entered: 6,500 (rod)." in strip.flat
        for slot in ("intake lash", "clutch rpm limit"):
            await _find(strip, slot)
            await strip.press("question_mark", "enter")
        assert "lift intake    unknown" in strip.text
        assert "Limits not entered: clutch - counted as 3,600." in strip.flat
        await strip.press("v")
        assert "0.7854 x bore² x stroke" in strip.flat


async def test_a_value_entered_again_is_of_today(season: Path) -> None:
    """Also when it is the same."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "intake lash")
        assert "Now 0.10 mm, carried from S" in strip.flat
        await strip.type_in("0.10")
        await strip.press("enter")
        reading = strip.saved.sheets[-1].readings["lash_intake"]
        assert (reading.carried, reading.stale, reading.at) == ("", False, strip.clock())
        assert "Nothing changed since S10." in strip.text


async def test_question_gain_and_prediction_are_lines_of_their_own(season: Path) -> None:
    """The prediction is locked with its time, before the first timed attempt."""
    async with at_the_strip(season, ready=False) as strip:
        await strip.press("down", "down", "enter")
        await strip.type_in("-0.30 0.10")
        await strip.press("enter")
        made = strip.saved.prediction
        assert made is not None
        assert (made.value, made.give_or_take, made.at) == (-0.3, 0.1, strip.clock())
        await strip.clear_checks()
        await strip.go_to("Attempts")
        await strip.enter("765")
        await strip.go_to("Setup")
        await strip.press("enter")
        assert "a prediction has to come before them" in strip.flat


async def test_the_elevation_belongs_to_the_place(season: Path) -> None:
    """It holds for every session there."""
    async with at_the_strip(season, ready=False) as strip:
        await strip.press(*["down"] * 5, "enter")
        await strip.type_in("120")
        await strip.press("enter")
    with Book.open(season, read_only=True) as book:
        assert book.place("Vennimoor strip").elevation == 120.0


async def test_a_change_after_attempts_is_a_swap(season: Path) -> None:
    """What ran stays on its sheet."""
    async with at_the_strip(season) as strip:
        await strip.enter("765")
        await strip.go_to("Setup")
        await _find(strip, "planned")
        await strip.type_in("6000")
        await strip.press("enter")
        assert len(strip.saved.sheets) == 2
        assert "Build B from here" in strip.said


async def test_a_slot_of_ones_own(season: Path) -> None:
    """For what no slot is for."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "seat foam")
        await strip.type_in("40 mm")
        await strip.press("enter")
        assert strip.saved.sheets[-1].readings["own:seat_foam"].text == "40 mm"


async def test_undo_in_the_setup_shows_what_it_takes_back(season: Path) -> None:
    """One key shows it, a second one does it."""
    async with at_the_strip(season, ready=False) as strip:
        await _find(strip, "planned")
        await strip.type_in("6000")
        await strip.press("enter", "u")
        assert "Take back: planned max rpm 6000?" in strip.flat
        await strip.press("u")
        assert strip.saved.sheets[-1].readings["planned_rpm"].value == 6500.0


async def test_the_cursor_stays_on_what_was_saved_and_in_view(season: Path) -> None:
    """Found by letters that begin the search by themselves; also a slot that was never recorded."""
    async with at_the_strip(season, ready=False) as strip:
        for letters, typed in (
            ("tyre pressure, r", "110"),
            ("plug gap", "0.7"),
            ("pushrod len", "140"),
        ):
            await strip.type_in(letters)
            await strip.press("enter")
            await strip.type_in(typed)
            await strip.press("enter")
            records = strip.screen.query_one("SetupStage RecordList", RecordList)
            assert records.current is not None
            assert strip.screen.desk.sheet.readings[records.current.id].text == typed
            (line,) = (line for line in strip.text.split("\n") if line.startswith("▸"))
            assert typed in line


async def test_letters_that_are_typed_on_the_way_into_help_end_nothing(season: Path) -> None:
    """Head gasket begins with the key that calls for help, and its blank marks the time."""
    async with at_the_strip(season, ready=False) as strip:
        await strip.type_in("head ")
        await strip.press()
        assert "You were typing" in strip.flat
        assert strip.saved.state == "open"
        said = strip.screen.desk.words_before("plan_number")
        assert f"Emergency number: {said} (as entered last time)" in strip.flat


async def test_the_kind_of_machine_is_shown_and_can_be_changed(season: Path) -> None:
    """It is of the machine, and holds for all its sessions."""
    async with at_the_strip(season, ready=False) as strip:
        records = strip.screen.query_one("SetupStage RecordList", RecordList)
        assert records.go_to("said:kind")
        await strip.press("enter", "k")
        assert strip.said == "Kettle Moth is saved as: kart."
        with Book.open(strip.folder, read_only=True) as book:
            assert book.machine("Kettle Moth").type == "kart"
