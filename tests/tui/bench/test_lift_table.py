"""A lift table in the app: row by row, from a file, left and gone on with; what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import BackToBackError
from tests.core.reckon.moth import lift_table
from tests.tui.bench.bench import At, at_the_bench, readings
from tui.screens.bench.lift_rows import read_row
from tui.widgets.record_list import RecordList


async def at_intake(at: At) -> None:
    await at.find("lift table, intake")
    await at.press("enter")


async def test_rows_are_on_the_disk_as_they_are_typed_and_gone_on_with_later(season: Path) -> None:
    """A decimal comma counts, an angle typed again is put right, k keeps the whole as a table."""
    async with at_the_bench(season, "b") as at:
        await at_intake(at)
        for row in ("-40 0", "34 1,5", "104 5.80", "250 0", "34 1.6"):
            await at.enter(row)
        assert "34°: 1.6 mm, it was 1.5. Saved." in at.flat
        assert "4 rows, highest 5.8 mm at 104°, read at the lobe." in at.flat
        (draft,) = readings(season)
        assert draft.lift is None
        assert "34; 1.6" in draft.text
        await at.press("escape")
        await at.find("lift table, intake")
        assert "none on file" in at.text, "unfinished rows are no table"
        await at.press("enter")
        assert "As it was left: 4 rows." in at.flat
        await at.press("down", "x")
        assert "3 rows" in at.flat
        await at.enter("34 1.55")
        await at.press("k")
        assert "4 rows to 5.80 mm" in at.flat
        assert "12 Sep 2026" in at.flat
    (kept,) = readings(season)
    assert (kept.id, kept.lift is not None) == (draft.id, True)
    assert kept.lift is not None
    assert kept.lift.lifts == (0.0, 1.55, 5.8, 0.0)


async def test_rows_of_a_file_in_thou_and_a_table_read_at_the_valve(
    season: Path, tmp_path: Path
) -> None:
    """At the valve the rocker ratio and the lash are asked for; 5.8 mm is 228.3 thou."""
    lobe = lift_table(-108, rows=69)
    path = tmp_path / "exhaust.csv"
    rows = (f"{a:g}; {x * 1000 / 0.0254:.2f}" for a, x in zip(lobe.angles, lobe.lifts, strict=True))
    path.write_text("degrees; lift thou\n" + "\n".join(rows), encoding="utf-8")
    async with at_the_bench(season, "b") as at:
        await at.find("lift table, exhaust")
        await at.press("enter", "a", "v", "o")
        await at.enter(str(tmp_path / "none.csv"))
        assert "cannot be read" in at.flat
        at.app.focused.value = ""  # type: ignore[union-attr]
        await at.enter(str(path))
        assert "69 rows taken from the file." in at.flat
        await at.press("k")
        assert "Rocker ratio that it was read with" in at.flat
        await at.press("enter", "enter")
        assert "69 rows to 4.64 mm" in at.flat, "5.8 mm at the valve over 1.25, by hand"
    (kept,) = readings(season)
    assert kept.lift is not None
    assert (kept.lift.measured_at, kept.lift.rocker_ratio, kept.lift.lash) == ("valve", 1.25, 0.0)
    assert max(kept.lift.lifts) == pytest.approx(5.8, abs=0.01)


async def test_rows_that_make_no_table_are_refused_and_nothing_is_lost(season: Path) -> None:
    """They have to rise and fall once, and the peak has to be where that valve opens."""
    async with at_the_bench(season, "b") as at:
        await at_intake(at)
        for row in ("-40 0", "20 3", "40 1", "104 5.8", "250 0"):
            await at.enter(row)
        await at.press("k")
        assert "rise" in at.flat
        await at.press("enter")
        assert len(at.app.screen.query_one(RecordList).records) == 5
        await at.press("c", "y")
        for row in ("-250 0", "-150 3", "-104 5.8", "40 0"):
            await at.enter(row)
        await at.press("k")
        assert "within 180° after the top between exhaust and intake" in at.flat
    (draft,) = readings(season)
    assert draft.lift is None


async def test_a_high_lift_is_asked_about_and_an_impossible_one_refused(season: Path) -> None:
    """By one key; what was typed stands there to be put right."""
    async with at_the_bench(season, "b") as at:
        await at_intake(at)
        await at.enter("104 11")
        assert "11 mm is a high lift: sure? y or n" in at.flat
        await at.press("n")
        assert readings(season) == []
        await at.press("enter", "y")
        assert len(readings(season)) == 1
        await at.enter("90 58")
        assert "A lift of 58 mm cannot be: 0 to 15 mm." in at.flat


@pytest.mark.parametrize("text", ["104", "a b", "104 5.8 3", "900 2", "10 -1", ""])
def test_what_is_no_row(text: str) -> None:
    with pytest.raises(BackToBackError):
        read_row(text, "mm")


def test_a_row_in_thou() -> None:
    """228 thou is 5.8 mm; 600 is more than any."""
    assert read_row("104 228", "thou") == ((104.0, 228.0), "")
    with pytest.raises(BackToBackError):
        read_row("104 600", "thou")
