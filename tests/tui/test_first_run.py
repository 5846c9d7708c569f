"""The first run: units, caution, log; each asked once."""

from __future__ import annotations

from pathlib import Path

from core.checks import CAUTION
from tests.tui.driving import opened, press
from tests.tui.season import small_season
from tests.tui.seeing import text
from tui.preferences import PreferencesFile, Units


async def test_units_and_caution_come_once_and_are_remembered(tmp_path: Path) -> None:
    """By enter each; afterwards the log is there at once."""
    path = tmp_path / "preferences.json"
    folder = small_season(tmp_path)
    async with opened(folder, wishes=PreferencesFile(path)) as pilot:
        assert "Which units" in text(pilot.app)
        await press(pilot, "1", "3", "3", "up", "space", "enter")
        assert CAUTION[:40] in text(pilot.app)
        assert not PreferencesFile(path).now.cautions_seen
        await press(pilot, "enter")
        assert "6 sessions" in text(pilot.app)
    kept = PreferencesFile(path).now
    assert kept.cautions_seen
    assert kept.units == Units(speed="mph", length="in", pressure="psi")
    async with opened(folder, wishes=PreferencesFile(path)) as pilot:
        assert "6 sessions" in text(pilot.app)


async def test_the_whole_caution_is_shown_and_only_its_key_goes_on(tmp_path: Path) -> None:
    """It cannot be skipped by esc; leaving without it asks again next time."""
    path = tmp_path / "preferences.json"
    async with opened(small_season(tmp_path), wishes=PreferencesFile(path)) as pilot:
        await press(pilot, "enter", "escape", "space", "n")
        shown = " ".join(text(pilot.app).split())
        assert CAUTION in shown
        await press(pilot, "ctrl+q")
    assert not PreferencesFile(path).now.cautions_seen


async def test_units_can_be_changed_later_or_left_as_they_were(tmp_path: Path) -> None:
    """By a key from anywhere."""
    path = tmp_path / "preferences.json"
    wishes = PreferencesFile(path)
    wishes.change(cautions_seen=True, units=Units(temperature="°F"))
    async with opened(small_season(tmp_path), wishes=wishes) as pilot:
        await press(pilot, "ctrl+u", "1", "escape")
        assert wishes.now.units == Units(temperature="°F")
        await press(pilot, "ctrl+u", "1", "enter")
        assert wishes.now.units == Units(temperature="°F", speed="mph")
        assert "6 sessions" in text(pilot.app)


async def test_a_broken_preferences_file_is_one_line_in_the_log_list(tmp_path: Path) -> None:
    """It asks again as on a first run, and is whole afterwards."""
    path = tmp_path / "preferences.json"
    path.write_text("{")
    async with opened(small_season(tmp_path), wishes=PreferencesFile(path)) as pilot:
        await press(pilot, "enter", "enter")
        assert "6 sessions" in text(pilot.app)
    assert PreferencesFile(path).now.cautions_seen
