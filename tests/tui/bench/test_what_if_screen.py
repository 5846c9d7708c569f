"""Plans on paper from a fresh demo log: rockers with a gasket, and a longer stroke."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.clock import ManualClock
from core.session import Book, Session
from tests.tui.bench.bench import At, at_the_bench, with_tables
from tests.tui.contrast import assert_readable
from tests.tui.driving import NOW
from tests.tui.session.strip import new_session
from tui.screens.what_if.screen import WhatIfScreen
from tui.widgets.record_list import RecordList


async def change(at: At, letters: str, value: str) -> None:
    """Change a slot on paper."""
    await at.press("f")
    await at.enter(letters)
    await at.enter(value)


def row(at: At, name: str) -> tuple[str, ...]:
    """Return the cells of a line by its id."""
    found = next(r for r in at.app.screen.query_one(RecordList).records if r.id == name)
    return tuple(str(getattr(cell, "text", cell)) for cell in found.cells)


def ids(at: At) -> set[str]:
    return {record.id for record in at.app.screen.query_one(RecordList).records}


def sheets(folder: Path) -> list[object]:
    """Return every sheet on the disk."""
    with Book.open(folder, read_only=True) as book:
        return [session.sheets for session in book.log.all(Session)]


async def test_a_rocker_and_gasket_plan_from_a_fresh_log(season: Path) -> None:
    """By hand: 3.1 - 0.3 - 0.1 x 5.8 = 2.22 mm at least, 2.80 at most; 21.0 - 12.4 - 7.73 = 0.87.

    Without a lift table both bounds stand under their names; nothing is saved.
    """
    before = sheets(season)
    async with at_the_bench(season, "i") as at:
        assert "Nothing is changed on paper yet" in at.flat
        await change(at, "rocker ratio", "1.35")
        await change(at, "gasket thick", "0.8")
        assert row(at, "slot:rocker_ratio")[2:] == ("1.25:1", "1.35:1")
        assert row(at, "gap_intake")[2] == "3.10 mm (2.90 to 3.30)"
        assert row(at, "gap_intake_guaranteed")[1] == "  guaranteed at least"
        assert row(at, "gap_intake_guaranteed")[3].startswith("2.22 mm")
        assert row(at, "gap_intake_optimistic")[1] == "  optimistic estimate"
        assert row(at, "gap_intake_optimistic")[3].startswith("2.80 mm")
        assert row(at, "compression_ratio")[3] == "8.80:1 (8.71 to 8.89)"
        assert row(at, "spring_margin_intake")[3].startswith("0.87 mm")
        assert row(at, "lowest_rpm_limit")[2:] == ("6,500 rpm", "6,500 rpm")
        assert {
            f"due:{rule}"
            for rule in ("valve_to_piston", "spring_margin", "retainer_margin", "pushrod_rub",
                         "piston_to_head", "ratio_fuel", "lash")
        } <= ids(at)  # fmt: skip
        assert "may be 1.49 mm, below your own 1.5 mm." in at.flat
        await at.find("intake valve to piston")
        assert "guaranteed lower bound" in at.flat
        assert "optimistic estimate" in at.flat
        await at.press("y")
        assert "Why intake valve-to-piston gap" in at.flat
        assert "rocker ratio 1.35:1 (under the clay 1.25:1)" in at.flat
        await at.press("escape", "escape", "i")
        assert row(at, "slot:rocker_ratio")[3] == "1.35:1", "the plan stays while the app runs"
        await at.find("rocker ratio")
        await at.press("x")
        assert "slot:rocker_ratio" not in ids(at)
    assert sheets(season) == before


async def test_a_stroke_plan_with_nothing_done_about_the_deck_and_with_it_kept(
    season: Path,
) -> None:
    """54 -> 57 mm, gasket 0.8: 219.4 cm³, the piston 1.5 mm higher: will hit; 9.24 with it kept.

    By hand, as in the worked examples of the sums.
    """
    async with at_the_bench(season, "i") as at:
        await change(at, "stroke", "57")
        await change(at, "gasket thick", "0.8")
        assert row(at, "swept_volume")[2:] == (
            "207.8 cm³ (207.7 to 207.9)", "219.4 cm³ (219.3 to 219.5)",
        )  # fmt: skip
        assert row(at, "head_gap")[3].startswith("-0.45 mm")
        assert "▲ Piston-to-head gap -0.45 mm: piston and head will hit." in at.flat
        assert "Nothing is done about the deck: -1.25 mm." in at.flat
        assert {"due:deck_height", "due:skirt_to_crank", "due:rod_clearance"} <= ids(at)
        await at.press("d")
        assert row(at, "compression_ratio")[3].startswith("9.24:1")
        assert row(at, "head_gap")[3].startswith("1.05 mm")
        assert "will hit" not in at.flat
        assert "with the deck kept at 0.25 mm" in at.flat
        await at.press("t")
        await at.enter("60")
        assert row(at, "rpm_at_top")[3] == "4,953 to 5,106 rpm"


async def test_with_lift_tables_the_gap_is_exact_and_the_curves_are_drawn(season: Path) -> None:
    """The letters tell the curves apart without colour; arrows read them off."""
    with_tables(season)
    async with at_the_bench(season, "i") as at:
        await change(at, "rocker ratio", "1.35")
        assert "gap_intake_guaranteed" not in ids(at)
        assert "mm (" in row(at, "gap_intake")[3]
        await at.press("v")
        shown = at.text
        for letter, name in (("g", "gap"), ("b", "gap before"), ("p", "piston"), ("l", "valve")):
            assert f"{letter} {name}" in shown
        closest = next(line for line in at.text.splitlines() if "Closest" in line)
        await at.press("right", "right")
        assert closest in at.text
        await at.press("s")
        assert "Curves exhaust" in at.flat
        assert closest not in at.text
        assert "Geometry only" in at.flat


async def test_a_plan_becomes_a_session_with_its_changes_on_the_sheet(season: Path) -> None:
    """Their checks come first, as after any change."""
    async with at_the_bench(season, "i") as at:
        await at.press("p")
        assert "nothing to plan" in at.flat
        await at.press("escape")
        await change(at, "gasket thick", "0.8")
        await at.press("p", "enter")
        assert "▸Setup" in at.flat
    with Book.open(season, read_only=True) as book:
        session = book.session("S11")
        assert session.sheets[-1].readings["gasket_thickness"].value == 0.8
        assert "piston_to_head" in {record.rule for record in session.checks}


async def test_a_plan_goes_onto_the_sheet_of_the_session_that_is_open(season: Path) -> None:
    """All of it at once, so that one undo takes it back; the session below shows it."""
    new_session(season, ready=False, clock=ManualClock(NOW))
    async with at_the_bench(season, "enter", "i") as at:
        await change(at, "gasket thick", "0.8")
        await change(at, "stroke", "57")
        await at.press("p", "y")
        assert "▸Setup" in at.flat
        assert "Back from the plan on paper." in at.flat
        assert "57.00 mm" in at.flat
        await at.press("u", "u")
    with Book.open(season, read_only=True) as book:
        readings = book.session("S11").sheets[-1].readings
    assert (readings["gasket_thickness"].value, readings["stroke"].value) == (1.1, 54.0)


async def test_what_if_why_and_curves_stand_out(season: Path) -> None:
    """Every letter by 7:1 or more, in both looks."""
    with_tables(season)
    async with at_the_bench(season, "i") as at:
        await change(at, "gasket thick", "0.8")
        for key in ("x", "y", "v"):
            if key != "x":
                await at.press(key)
            assert_readable(at.app)
            await at.press("ctrl+t")
            assert_readable(at.app)
            await at.press("escape" if key != "x" else "home")


@pytest.mark.parametrize("size", [(40, 12), (120, 40)])
async def test_it_has_room_at_every_size(season: Path, size: tuple[int, int]) -> None:
    """Both sides are there, and the list has lines."""
    async with at_the_bench(season, "i", size=size) as at:
        await change(at, "gasket thick", "0.8")
        screen = at.app.screen
        assert isinstance(screen, WhatIfScreen)
        assert screen.query_one(RecordList).size.height >= 3
        assert "0.80 mm" in at.flat or size[0] < 60
        assert "0.8 mm" in at.flat or "0.80" in at.flat
