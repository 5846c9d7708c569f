"""Numbers of whole blocks against Python's own; plain rows against those read one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.trace import Columns
from core.trace.formats.csv_cells import numbers
from core.trace.formats.csv_layout import find_layout
from core.trace.formats.csv_plain import PlainBlock
from core.trace.formats.decimals import decimals
from core.trace.formats.line_ends import lines_in

PLAIN = st.from_regex(r"\A-?[0-9]{1,9}(\.[0-9]{0,4})?\Z")
ODD = st.text(st.characters(codec="ascii", exclude_characters=",\r\n"), max_size=12)


def read_all(fields: list[str]) -> tuple[list[float], list[bool]]:
    data = ",".join(fields).encode()
    ends = np.cumsum([len(field) + 1 for field in fields]) - 1
    starts = ends - [len(field) for field in fields]
    values, good = decimals(np.frombuffer(data + b",", np.uint8), starts, ends)
    return values.tolist(), good.tolist()


@given(fields=st.lists(PLAIN, min_size=1, max_size=30))
def test_plain_numbers_are_those_of_python(fields: list[str]) -> None:
    values, good = read_all(fields)
    wanted = [float(f) if len(f) <= 15 else math.nan for f in fields]
    assert good == [len(f) <= 15 for f in fields]
    assert [v for v in values if v == v] == [w for w in wanted if w == w]


@given(fields=st.lists(st.one_of(PLAIN, ODD, st.just("")), min_size=1, max_size=20))
def test_nothing_else_passes_for_a_number(fields: list[str]) -> None:
    values, good = read_all(fields)
    for field, value, sound in zip(fields, values, good, strict=True):
        if sound and field:
            assert value == float(field)
            assert set(field) <= set("-.0123456789")
        else:
            assert math.isnan(value)


@given(lines=st.lists(st.text(st.sampled_from("ab\r\n"), max_size=6), max_size=12))
def test_lines_as_python_splits_them(lines: list[str]) -> None:
    text = "".join(lines) + "\n"
    number, starts, ends = lines_in(np.frombuffer(text.encode(), np.uint8), 1)
    found = [(int(n), text[a:b]) for n, a, b in zip(number, starts, ends, strict=True)]
    assert found == [(i, line) for i, line in enumerate(text.splitlines(), start=1) if line]


CELL = st.one_of(
    st.decimals(0, 200, places=3).map(str), st.sampled_from(["", " 5", "5.", "1e2", "x", '"7"'])
)


@settings(max_examples=60, deadline=None)
@given(rows=st.lists(st.tuples(CELL, CELL), min_size=1, max_size=20))
def test_plain_rows_are_read_as_the_slow_way_reads_them(rows: list[tuple[str, str]]) -> None:
    """What the quick way takes agrees with cells read one by one; the rest is left to that."""
    head = ["Time (s),Speed (km/h)", "0.0,1.0", "0.1,2.0"]
    text = "\n".join([*head, *map(",".join, rows)]) + "\n"
    layout = find_layout("\n".join(head) + "\n", "x")
    columns = Columns("Time (s)", "seconds", "Speed (km/h)", "km/h")
    block = PlainBlock(text.encode(), 1, layout)
    number, found = block.columns({"time": 0, "speed": 1}, columns)
    left = {line for line, _ in block.left()}
    assert left.isdisjoint(number.tolist())
    assert left | set(number.tolist()) == {2, 3, *range(4, 4 + len(rows))}
    for line, t, v in zip(number.tolist(), found["time"], found["speed"], strict=True):
        if line < 4:
            continue
        cells = rows[line - 4]
        for cell, value in zip(cells, (float(t), float(v)), strict=True):
            wanted, sound = numbers([cell], ".")
            assert sound[0]
            assert value == wanted[0] or (math.isnan(value) and math.isnan(wanted[0]))


@pytest.mark.parametrize("cell", ["1e15", "-1e15", "1e300", "1e999", "9" * 40])
def test_what_is_larger_than_any_time_or_place_is_no_number(cell: str) -> None:
    """Whether it stands among plain numbers or among odd cells."""
    for others in (["1.5"], ["x"]):
        values, sound = numbers([cell, *others], ".")
        assert not sound[0]
        assert math.isnan(values[0])
    values, sound = numbers(["999999999999999", "1784000000123.5"], ".")
    assert sound.all()
    assert values.tolist() == [999999999999999.0, 1784000000123.5]
