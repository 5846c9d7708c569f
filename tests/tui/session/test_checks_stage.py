"""The checks stage: answered one at a time, stops first, and nothing opens the way but a result."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.checks import rule_for
from tests.tui.seeing import lines
from tests.tui.session.strip import Strip, at_the_strip
from tui.screens.session.checks_stage import HELD, ChecksStage
from tui.widgets.record_list import RecordList


async def _at(strip: Strip, rule: str) -> None:
    """Put the cursor on a check."""
    assert strip.screen.query_one("ChecksStage RecordList", RecordList).go_to(rule)
    await strip.press()


async def _change(strip: Strip, letters: str, value: str) -> None:
    await strip.go_to("Setup")
    await strip.press("f")
    await strip.type_in(letters)
    await strip.press("enter")
    await strip.type_in(value)
    await strip.press("enter")


async def test_one_key_one_check_and_the_cursor_goes_on(season: Path) -> None:
    """Each answer is on disk when it is shown."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        before = len(strip.screen.desk.stops)
        assert f"▲ {before} stop checks open" in strip.text
        first = strip.screen.desk.stops[0]
        await strip.press("d")
        answers = {record.rule: record.answer for record in strip.saved.checks}
        assert answers[first.rule] == "cleared"
        assert list(answers.values()).count("cleared") == 1
        assert f"▲ {before - 1} stop checks open" in strip.text
        current = strip.screen.query_one("ChecksStage RecordList", RecordList).current
        assert current is not None
        assert answers[current.id] == "open"


async def test_a_key_that_is_held_down_answers_one_check(season: Path) -> None:
    """There is no yes to all, not even with a thumb on the key."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        stage = strip.screen.stage
        assert isinstance(stage, ChecksStage)
        now = 100.0
        stage.clock = lambda: now
        await strip.press("d")
        for _ in range(12):
            now += HELD / 4
            await strip.press("d")
        cleared = [record for record in strip.saved.checks if record.answer == "cleared"]
        assert len(cleared) == 1


async def test_enter_is_no_answer(season: Path) -> None:
    """A stop has no default."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        await strip.press("enter", "enter", "space")
        assert {record.answer for record in strip.saved.checks} == {"open"}
        assert strip.said.startswith("d done, n not done")


async def test_reason_and_consequence_stand_beside_each_check(season: Path) -> None:
    """Stops come before advice."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        await _at(strip, "brake_holds")
        assert rule_for(strip.screen.desk.stops[0]).is_stop
        assert "Otherwise: Many of these machines have no second brake." in strip.flat
        assert "stop before the first attempt" in strip.flat
        assert "If in doubt, don't run." in strip.text
        kinds = [line.cells[3] for line in strip.screen.query(RecordList)[1].records]
        words = [getattr(kind, "text", kind) for kind in kinds]
        assert words == sorted(words, key=("stop", "advice").index)


async def test_an_open_stop_bars_attempts_and_says_so(season: Path) -> None:
    """c goes to it."""
    async with at_the_strip(season, ready=False, stage="Attempts") as strip:
        count = len(strip.screen.desk.stops)
        assert f"▲ {count} stop checks are open, first:" in strip.flat
        await strip.enter("765")
        assert not strip.saved.attempts
        assert strip.entry == "765"
        await strip.press("c")
        assert strip.screen.stage.NAME == "Checks"


async def test_not_done_offers_to_save_as_stopped_by_check(season: Path) -> None:
    """It stays a full record, with its reason, and leads back to the list."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        await _at(strip, "brake_holds")
        await strip.press("n")
        assert "z saves the session as stopped by check" in strip.said
        await strip.press("z")
        assert "Stopped by check: brake holds against a push" in strip.flat
        await strip.press("enter")
        saved = strip.saved
        assert saved.state == "stopped"
        assert saved.stopped_because.startswith("Stopped by check: brake holds against a push")
        assert "▲ stopped" in strip.text


async def test_does_not_apply_needs_a_reason_and_a_check_that_allows_it(season: Path) -> None:
    """Others always apply."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        await _at(strip, "brake_holds")
        await strip.press("a")
        assert "always applies" in strip.flat
        await strip.press("escape")
        await _at(strip, "rider_minor")
        await strip.press("a", "enter")
        assert "Say why it does not apply." in strip.flat
        await strip.type_in("rider is 41")
        await strip.press("enter")
        record = next(r for r in strip.saved.checks if r.rule == "rider_minor")
        assert (record.answer, record.note) == ("does not apply", "rider is 41")


async def test_a_digit_starts_the_value_and_a_doubt_is_said(season: Path) -> None:
    """Kept, not cleared, when the sheet says something else."""
    async with at_the_strip(season, ready=False) as strip:
        await _change(strip, "final spr", "60T")
        await strip.go_to("Checks")
        await _at(strip, "teeth_final")
        await strip.type_in("63")
        await strip.press("enter")
        record = next(r for r in strip.saved.checks if r.rule == "teeth_final")
        assert (record.answer, record.value) == ("open", 63.0)
        assert strip.said.startswith("▲ Kept, not cleared: 63 teeth counted, 60 on the sheet")
        await strip.type_in("60")
        await strip.press("enter")
        record = next(r for r in strip.saved.checks if r.rule == "teeth_final")
        assert record.answer == "cleared"


@pytest.mark.parametrize(
    ("typed", "answer"),
    [(">2.0", "open"), ("touched", "open"), ("torn", "open"), ("3.1 2.6 own 1.5", "cleared")],
)
async def test_clay_that_was_not_touched_is_an_answer_and_clears_nothing(
    season: Path, typed: str, answer: str
) -> None:
    """It is kept as a bound, and thicker clay is asked for."""
    async with at_the_strip(season, ready=False) as strip:
        await _change(strip, "cam", "Other cam")
        await strip.go_to("Checks")
        await _at(strip, "valve_to_piston")
        await strip.press("enter")
        await strip.type_in(typed)
        await strip.press("enter")
        record = next(r for r in strip.saved.checks if r.rule == "valve_to_piston")
        assert record.answer == answer
        assert record.result == typed
        if typed == ">2.0":
            assert record.bound == ">"
            assert "thicker clay that does touch" in strip.flat or strip.said.endswith("…")
        if answer == "cleared":
            assert (record.value, record.second, record.own) == (3.1, 2.6, 1.5)


async def test_geometry_of_parts_that_were_on_before_is_taken_over_by_reference(
    season: Path,
) -> None:
    """With the session it is from; lash is asked afresh."""
    async with at_the_strip(season, ready=False) as strip:
        await _change(strip, "rockers", "Stock")
        await strip.go_to("Checks")
        records = {record.rule: record for record in strip.screen.desk.checks}
        reused = [r for r in records.values() if r.by_reference]
        assert records["lash"].answer == "open"
        for record in reused:
            await _at(strip, record.rule)
            assert f"as in {strip.screen.desk.label_of(record.by_reference)}" in strip.flat


async def test_an_answer_can_be_taken_back(season: Path) -> None:
    """It is open again, as before."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        await strip.press("d")
        done = next(r.rule for r in strip.saved.checks if r.answer == "cleared")
        await _at(strip, done)
        await strip.press("o")
        assert {record.answer for record in strip.saved.checks} == {"open"}


async def test_words_of_the_last_time_here_are_taken_over_by_one_key(season: Path) -> None:
    """One by one, each after it was read."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        words = strip.screen.desk.words_before("plan_number")
        assert words
        await _at(strip, "plan_number")
        assert f"Last time (S10): {words}" in strip.flat
        assert "s As last time" in lines(strip.app)[-1]
        await strip.press("enter")
        assert f"as last time: {words}" in strip.flat
        await strip.press("escape", "s")
        record = next(r for r in strip.saved.checks if r.rule == "plan_number")
        assert (record.answer, record.result) == ("cleared", words)
        assert [r.rule for r in strip.saved.checks if r.answer == "cleared"] == ["plan_number"]


async def test_the_keys_below_are_answers_to_the_check_under_the_cursor(season: Path) -> None:
    """A word where a word will do, a result where one is needed."""
    async with at_the_strip(season, ready=False) as strip:
        await _change(strip, "final spr", "60T")
        await strip.go_to("Checks")
        keys = {}
        for rule in ("brake_holds", "teeth_final", "rider_minor"):
            await _at(strip, rule)
            keys[rule] = lines(strip.app)[-1].split("   ")[:3]
        assert keys == {
            "brake_holds": [" d Done", "n Not done", "tab Stage"],
            "teeth_final": [" enter Result", "n Not done", "tab Stage"],
            "rider_minor": [" d Done", "n Not done", "a Not here"],
        }


async def test_the_last_stop_opens_the_attempts(season: Path) -> None:
    """And says where to go."""
    async with at_the_strip(season, ready=False, stage="Checks") as strip:
        last = strip.screen.desk.stops[0]
        for record in strip.screen.desk.stops[1:]:
            rule = rule_for(record)
            strip.screen.desk.answer(
                record.rule, {"text": "told", "value": "200"}.get(rule.answer, "done")
            )
        strip.screen.refresh_stages()
        await _at(strip, last.rule)
        await strip.press("d")
        assert "No stop check is open: tab goes on to the attempts." in strip.said
        await strip.go_to("Attempts")
        await strip.enter("765")
        assert len(strip.saved.attempts) == 1
