"""Beside a check that is due stands what the sums say about it; they never answer it."""

from __future__ import annotations

from pathlib import Path

from core.clock import ManualClock
from core.session import Book, Session, fill, put_on
from tests.tui.session.strip import MORNING, Strip, at_the_strip, new_session
from tui.widgets.record_list import RecordList


def _changed(folder: Path, session_id: str, typed: dict[str, str]) -> None:
    """Change slots of a session's sheet, as the setup stage does."""
    with Book.open(folder, clock=ManualClock(MORNING)) as book:
        session = book.log.get(Session, session_id)
        for slot, text in typed.items():
            now = session.sheets[-1].readings
            session = put_on(book, session, fill(book, session.machine, now, slot, text))


async def _at(strip: Strip, rule: str) -> str:
    assert strip.screen.query_one("ChecksStage RecordList", RecordList).go_to(rule)
    around = [worker for worker in strip.app.workers if worker.group == "around"]
    for worker in around:
        await worker.wait()
    await strip.press()
    return strip.flat


async def test_gap_and_rpm_stand_beside_the_checks_of_rockers_and_sprocket(season: Path) -> None:
    """3.1 - 5.8 x 0.1 mm at least; 50 km/h at 1.06 m and 60/12 is 3,931 rpm: by hand.

    Without a lift table both bounds are named, and neither clears the check.
    """
    session_id = new_session(season, ready=False)
    typed = {"rockers": "Thistle 1.35", "rocker_ratio": "1.35", "final_sprocket": "60T"}
    _changed(season, session_id, typed)
    async with at_the_strip(season, session_id, stage="Checks") as strip:
        said = await _at(strip, "valve_to_piston")
        assert "Carried over from the clay of 26 Jul (intake 3.1 mm, exhaust 2.6 mm)" in said
        assert "guaranteed lower bound 2.52 mm" in said
        assert "optimistic estimate 3.10 mm" in said
        assert "Clay is due anyway." in said
        said = await _at(strip, "rpm_at_top")
        assert "50 km/h is 3,931 rpm, 4,052 with 3 % slip; lowest limit 6,500 (rod)." in said
        assert {c.answer for c in strip.saved.checks if c.rule == "valve_to_piston"} == {"open"}
