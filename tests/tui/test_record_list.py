"""The list of records: cursor, marks, what is drawn, and that it is quick for thousands."""

from __future__ import annotations

from typing import Any

import pytest
from textual.app import App, ComposeResult

from tests.tui.seeing import lines
from tui.widgets.columns import Column
from tui.widgets.record_list import RecordList
from tui.widgets.records import Line, Toned

COLUMNS = (Column("Name", 6, 12), Column("Number", 4, 9, right=True, rank=1))


def records(count: int) -> list[Line]:
    """Return so many lines."""
    return [Line(f"r{i}", (f"row {i}", Toned(f"{i}.5", "quiet"))) for i in range(count)]


class OneList(App[None]):
    """A list and nothing else."""

    CSS = "RecordList { height: 1fr; } RecordList > .record-list--cursor { text-style: reverse; }"

    def __init__(self, count: int) -> None:
        super().__init__()
        self.count = count
        self.heard: list[Any] = []

    def compose(self) -> ComposeResult:
        """Yield the list."""
        yield RecordList(COLUMNS)

    def on_mount(self) -> None:
        """Fill it."""
        self.records.set_records(records(self.count))

    @property
    def records(self) -> RecordList:
        """The list."""
        return self.query_one(RecordList)

    def on_record_list_moved(self, event: RecordList.Moved) -> None:
        """Remember where the cursor came to."""
        self.heard.append(event.record.id if event.record else None)

    def on_record_list_chosen(self, event: RecordList.Chosen) -> None:
        """Remember what was chosen."""
        self.heard.append(("chosen", event.record.id))


@pytest.mark.parametrize(
    ("keys", "cursor"),
    [
        (["down", "down", "up"], 1),
        (["j", "j", "k"], 1),
        (["up"], 0),
        (["end"], 99),
        (["end", "down"], 99),
        (["pagedown"], 9),
        (["pagedown", "pagedown", "pageup"], 9),
        (["end", "home"], 0),
    ],
)
async def test_keys_move_the_cursor_and_keep_it_in_view(keys: list[str], cursor: int) -> None:
    """By arrows, letters and pages; never beyond either end."""
    app = OneList(100)
    async with app.run_test(size=(30, 10)) as pilot:
        await pilot.press(*keys)
        await pilot.pause(0.05)
        assert app.records.cursor == cursor
        here = [line.split()[:4] for line in lines(app) if line.startswith("▸")]
        assert here == [["▸", "row", str(cursor), f"{cursor}.5"]]
        assert app.heard[-1] == f"r{cursor}"


async def test_titles_stay_above_while_the_rest_scrolls() -> None:
    """In the first line, underlined, at the same columns as what is under them."""
    app = OneList(100)
    async with app.run_test(size=(30, 10)) as pilot:
        await pilot.press("end")
        await pilot.pause(0.05)
        assert lines(app)[0].startswith("   Name    Number")
        assert lines(app)[9].startswith("▸  row 99    99.5")


async def test_narrowing_keeps_the_cursor_on_its_record_where_it_can() -> None:
    """Else it goes to the first one; with nothing left there is no record under it."""
    app = OneList(100)
    async with app.run_test(size=(30, 10)) as pilot:
        app.records.go_to("r40")
        app.records.narrow([10, 40, 70])
        assert (app.records.current, app.records.cursor) == (app.records.records[40], 1)
        app.records.narrow([10, 70])
        assert app.records.current == app.records.records[10]
        app.records.narrow([])
        assert app.records.current is None
        await pilot.press("down", "end", "pageup")
        assert app.records.current is None
        app.records.narrow(range(100))
        assert app.records.current == app.records.records[0]
        assert not app.records.go_to("nobody")


async def test_marks_belong_to_records_and_are_shown_with_a_sign() -> None:
    """They outlive narrowing, and go with their record."""
    app = OneList(5)
    async with app.run_test(size=(30, 10)) as pilot:
        app.records.set_marked(frozenset({"r1", "r3"}))
        app.records.narrow([2, 3])
        await pilot.pause(0.05)
        assert [line[:3] for line in lines(app)[1:3]] == ["▸  ", " ✓ "]
        app.records.set_records(records(2))
        assert app.records.marked == {"r1"}


async def test_a_click_moves_and_a_second_one_chooses() -> None:
    """The mouse is not needed, and works."""
    app = OneList(5)
    async with app.run_test(size=(30, 10)) as pilot:
        await pilot.click(RecordList, offset=(5, 3))
        assert app.records.cursor == 2
        await pilot.click(RecordList, offset=(5, 3))
        await pilot.pause()
        assert app.heard[-1] == ("chosen", "r2")
        await pilot.click(RecordList, offset=(5, 0))
        await pilot.click(RecordList, offset=(5, 9))
        assert app.records.cursor == 2


async def test_a_text_that_would_be_cut_gives_way_to_its_stand_in() -> None:
    """Half a number would be another number."""
    app = OneList(0)
    async with app.run_test(size=(30, 6)) as pilot:
        app.records.set_records([Line("a", ("x", Toned("8.07 · 7.98 · 8.28", short="3 parts")))])
        await pilot.pause(0.05)
        assert lines(app)[1] == "▸  x         3 parts"


async def test_a_list_survives_any_size() -> None:
    """Down to a single cell, and back."""
    app = OneList(100)
    async with app.run_test(size=(30, 10)) as pilot:
        app.records.go_to("r50")
        for size in ((40, 2), (1, 1), (3, 1), (200, 60), (30, 10)):
            await pilot.resize_terminal(*size)
            await pilot.pause(0.05)
            assert app.records.current == app.records.records[50]
        assert any(line.startswith("▸  row 50") for line in lines(app))
