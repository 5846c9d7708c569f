"""A whole session by keyboard alone: sheet, checks, air, attempts, verdict, close-out."""

from __future__ import annotations

from pathlib import Path

from core.checks import rule_for
from tests.tui.session.strip import Strip, at_the_strip
from tui.widgets.record_list import RecordList

_NUMBERS = {"teeth_final": "60", "rpm_at_top": "5900", "run_out": "200", "chain_slack": "10"}


async def _answer_all(strip: Strip) -> None:
    """Answer every check that comes under the cursor, as its kind wants it, until none is open."""
    for _ in range(120):
        current = strip.screen.query_one("ChecksStage RecordList", RecordList).current
        assert current is not None
        record = next(r for r in strip.screen.desk.checks if r.rule == current.id)
        if not strip.screen.desk.stops:
            return
        if record.answer != "open":
            raise AssertionError(f"the cursor stayed on {record.rule}")
        kind = rule_for(record).answer
        if kind == "done":
            await strip.pilot.press("d")
        elif kind == "text":
            await strip.press("enter")
            if "as last time" in strip.flat:
                await strip.press("s")
            else:
                await strip.type_in("told")
                await strip.press("enter")
        else:
            await strip.type_in(_NUMBERS[record.rule])
            await strip.press("enter")
    raise AssertionError("the checks have no end")


async def test_a_whole_session_by_keyboard(season: Path) -> None:
    """From the list to the list; every action is on disk."""
    async with at_the_strip(season, ready=False) as strip:
        await strip.press("f")
        await strip.type_in("final")
        await strip.press("enter")
        await strip.type_in("60T")
        await strip.press("enter")
        assert "1 change since S10." in strip.flat

        await strip.press("tab")
        await _answer_all(strip)
        assert "● no stop check is open" in strip.text

        await strip.press("tab", "a")
        await strip.type_in("18C 1012hPa 55% 0.5m/s W gust 2")
        await strip.press("enter")
        for value in ("850", "831", "846 b", "828", "852", "835"):
            await strip.enter(value)
        waiting = strip.screen.desk.stops
        if waiting:
            await strip.press("c")
            await _answer_all(strip)
            await strip.go_to("Attempts")
        await strip.enter("930")
        await strip.enter("827")
        await strip.enter("x5 l", after=3)
        assert "Attempt 7" in strip.flat
        await strip.press("o", "l")

        await strip.press("tab")
        assert "S11 against S08" in strip.text or "S11 against S10" in strip.text
        await strip.press("enter")
        await strip.type_in("60T is slower off the line")
        await strip.press("enter", "2")
        await strip.press("f")
        assert "● closed" in strip.text

        saved = strip.saved
        assert saved.state == "closed"
        assert saved.close_out is not None
        assert saved.close_out.decision == "revert"
        assert [a.value for a in saved.attempts if a.strike] == [8.52]
        assert saved.attempts[6].note == "stands apart, no reason known"
        assert saved.attempts[2].tags == ("BOG",)
        assert len(saved.attempts) == 8
        assert saved.sheets[0].readings["final_sprocket"].text == "60T"
