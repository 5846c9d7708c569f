"""Cells of a CSV: defused for spreadsheets and back, quoted and split, and values as they read."""

from __future__ import annotations

import csv
import doctest
import importlib
import io
import pkgutil

import pytest
from hypothesis import given
from hypothesis import strategies as st

import core.exchange
from core.exchange.cells import cells_of, line_of
from core.exchange.defuse import defused, restored
from core.exchange.slot_cells import cell_of, key_of, read_cell
from core.setup import Reading, find_slot

TEXTS = st.text(st.characters(exclude_categories=["Cs"])) | st.text("'=+-@\t\r\n\",;1.,a ")
MODULES = [m.name for m in pkgutil.iter_modules(core.exchange.__path__, "core.exchange.")]


@pytest.mark.parametrize("name", MODULES)
def test_worked_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


@given(TEXTS)
def test_defusing_is_taken_back(text: str) -> None:
    assert restored(defused(text)) == text


@given(TEXTS)
def test_no_cell_begins_like_a_formula(text: str) -> None:
    # OWASP, CSV Injection: =, +, -, @, tab and carriage return (from memory)
    cell = defused(text)
    if cell[:1] in ("=", "+", "-", "@", "\t", "\r") and cell:
        float(cell.replace(",", "."))  # a plain number is no formula


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"),
        ("@x", "'@x"),
        ("+1 lb", "'+1 lb"),
        ("-0.5", "-0.5"),
        ("+12,5", "+12,5"),
        ("-", "'-"),
        ("\t=1", "'\t=1"),
        ("'tis", "'tis"),
        ("'=x", "''=x"),
    ],
)
def test_defused_cells(text: str, cell: str) -> None:
    assert defused(text) == cell


@given(st.lists(st.lists(TEXTS, min_size=3, max_size=3), min_size=1, max_size=4))
def test_lines_split_back_into_their_cells(rows: list[list[str]]) -> None:
    told = [("a", "b", "c"), *(tuple(row) for row in rows)]
    found = cells_of("".join(line_of(row) for row in told))
    assert [row.cells for row in found] == [r for r in told if any(c.strip() for c in r)]


@given(st.lists(TEXTS, min_size=1, max_size=4))
def test_lines_are_csv_for_others_too(cells: list[str]) -> None:
    if cells == [""]:
        return
    (found,) = csv.reader(io.StringIO(line_of(cells), newline=""), strict=True)
    assert found == [defused(cell) for cell in cells]


def test_line_numbers_count_lines_of_the_file() -> None:
    text = 'sep=;\na;b\n"one\ntwo";x\n\nlast;y\n'
    assert [row.line for row in cells_of(text)] == [2, 3, 6]


def test_a_bad_row_does_not_hold_up_the_next() -> None:
    found = cells_of('a,b\n"x"y,1\n2,3\n')
    assert [row.fault for row in found] == [
        "",
        "a quotation mark stands in the middle of a cell",
        "",
    ]
    assert found[2].cells == ("2", "3")


@pytest.mark.parametrize(
    ("slot", "typed"),
    [
        ("gasket_thickness", "48 thou"),
        ("gasket_thickness", "~1.1"),
        ("valve_gap_intake", ">2.0"),
        ("rod_rpm_limit", "6500 measured"),
        ("chamber_volume", "?"),
        ("main_jet", "95 x100mm"),
        ("chain_lube", "wax, warm"),
        ("chain_links", "98 links"),
    ],
)
def test_readings_are_written_as_they_were_typed(slot: str, typed: str) -> None:
    told = read_cell(slot, typed).reading
    assert cell_of(slot, told) == typed


def test_a_reading_whose_text_says_something_else_is_written_as_its_value() -> None:
    deck = find_slot("deck").id
    assert cell_of(deck, Reading(state="estimated", value=0.25, text="about a quarter")) == "~0.25"
    assert cell_of(deck, Reading(state="stated", value=0.25, text="0.3")) == "0.25 stated"
    assert cell_of(deck, Reading(state="bounded", value=0.1, bound="<")) == "<0.1"


def test_stale_and_copied_values_stay_so() -> None:
    for mark in ("stale", "copied"):
        reading = read_cell("chamber_volume", f"22.5 ({mark})").reading
        assert reading is not None
        assert getattr(reading, mark)
        assert cell_of("chamber_volume", reading) == f"22.5 ({mark})"


def test_sprockets_by_their_teeth() -> None:
    told = read_cell("final_sprocket", "66T")
    assert told.teeth is not None
    assert told.teeth.reading is not None
    assert told.teeth.reading.value == 66
    assert told.key == read_cell("final_sprocket", "66").key
    assert (
        read_cell("final_sprocket_teeth", "66T").key == read_cell("final_sprocket_teeth", "66").key
    )
    assert read_cell("clutch", "66T").teeth is None
    assert read_cell("engine_sprocket", "219").teeth is None  # a number of parts, not of teeth


@given(st.floats(0.2, 6))
def test_any_gap_reads_back_as_a_value(value: float) -> None:
    rounded = float(f"{value:.10g}")
    reading = Reading(state="measured", value=rounded)
    told = read_cell("piston_to_head_gap", cell_of("piston_to_head_gap", reading)).reading
    assert told is not None
    assert key_of(told) == key_of(reading)
