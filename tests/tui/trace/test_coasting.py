"""Coast-downs of a recording in the app: drag with its ranges, kept for the road load."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.clock import ManualClock
from core.session import Book
from core.session.dragging import drag_of_machine
from core.verdict import compare_sessions
from core.verdict.allowing.coasted import coasted
from tests.core.session.rides import coasts
from tests.tui.session.strip import new_session
from tests.tui.trace.desk import BEFORE, documents, on_the_strip, open_file, shown, until
from tui.cli import main
from tui.widgets.line_input import LineInput


async def test_drag_is_shown_and_kept(season: Path, tmp_path: Path) -> None:
    file, _, _ = coasts(tmp_path)
    session_id = new_session(season, clock=ManualClock(BEFORE))
    async with on_the_strip(season, session_id) as strip:
        await strip.press("a")
        await strip.type_in("18C 1012hPa 55%")
        await strip.press("enter")
        await open_file(strip, file)
        await strip.press("y")
        await shown(strip)
        await strip.press("g")
        assert "There are no coast-downs." in strip.flat
        await strip.press("enter", "t")
        strip.app.screen.query_one(LineInput).value = ""
        await strip.type_in("coast-45-15")
        await strip.press("enter")
        await shown(strip)
        assert "2 runs of coast-45-15." in strip.said
        await strip.press("g")
        assert "Mass of machine and rider" in strip.text
        strip.app.screen.query_one(LineInput).value = ""
        await strip.type_in("150")
        await strip.press("enter")
        await until(strip, "Drag area")
        await strip.press("k")
        assert "Kept" in strip.said
        (document,) = documents(season, session_id)
    assert document.drag is not None
    assert document.drag.f0.low < 35 < document.drag.f0.high
    assert document.drag.f2.low < 0.42 < document.drag.f2.high
    assert document.drag.air_density == pytest.approx(1.205, abs=0.01)


def test_the_road_load_is_worked_out_with_it(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What one session coasted is there for any later session of that machine."""
    file, _, _ = coasts(tmp_path)
    words = ["read", str(file), "--test", "coast-45-15", "--mass", "150", "--air-density", "1.2"]
    words += ["--columns", "time=1,speed=2:km/h", "--session", "S10", "--keep"]
    assert main([*words, "--log", str(season)]) == 0
    with Book.open(season, read_only=True) as book:
        machine = book.session("S10").machine
        drag = drag_of_machine(book, machine)
        rolling, area = coasted(book, machine)
        compared = compare_sessions(book, "S08", "S10")
    assert drag is not None
    assert drag.drag_area is not None
    assert (rolling.value, area.value) == (drag.rolling.value, drag.drag_area.value)
    assert compared.allowances is not None
    assert compared.allowances.model.endswith("of this machine and to its coast-downs.")
    capsys.readouterr()
    asked = ["reckon", "road-load", "speed=43.2", "mass=150", "--sheet", "S09"]
    assert main([*asked, "--log", str(season)]) == 0
    said = capsys.readouterr().out
    assert f"{drag.rolling.value:.4f}" in said
    force = float(said.partition("road load")[2].split()[0])
    assert force == pytest.approx(35 + 0.42 * 12**2, rel=0.02)
