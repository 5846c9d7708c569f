"""CSV recordings: delimiters, decimals, headers, units rows, ways to tell time, columns."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from core.errors import AmbiguousInputError, InputError
from core.trace import Columns
from core.trace.formats import find_layout, propose_columns, read_columns
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import csv_text

T = np.arange(60) / 10
V = 5 + 0.3 * T


def table(header: str, times: list[str], *, unit_row: str = "", more: str = "") -> str:
    rows = [header, *([unit_row] if unit_row else [])]
    rows += [f"{t},{v * 3.6:.3f}{more}" for t, v in zip(times, V.tolist(), strict=False)]
    return "\n".join(rows) + "\n"


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("decimal", [".", ","])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("bom", ["", "\ufeff"])
def test_any_delimiter_decimal_and_line_end(
    read: Read, delimiter: str, decimal: str, end: str, bom: str
) -> None:
    if delimiter == decimal == ",":
        return  # no table
    header = delimiter.join(("Time (s)", "Speed (km/h)"))
    text = csv_text(T, V, header=header, delimiter=delimiter, decimal=decimal, end=end)
    trace = read(bom + text)
    assert trace.t == pytest.approx(T)
    assert trace.speed == pytest.approx(V, abs=1e-3)
    assert trace.rejected_total == 0


@pytest.mark.parametrize(
    ("header", "unit_row", "factor"),
    [
        ("Time (s),Speed (km/h)", "", 1.0),
        ("time,speed_kmh", "", 1.0),
        ("T,V [mph]", "", 1.609344),
        ("Time,GPS Speed", "s,m/s", 3.6),
        ("Time,Speed", "(s),(kn)", 1.852),
        ("elapsed,velocity", "[s],[ft/s]", 1.09728),
        ("timestamp,Ground Speed (kph)", "s,", 1.0),
    ],
)
def test_unit_from_the_header_or_the_units_row(
    read: Read, header: str, unit_row: str, factor: float
) -> None:
    trace = read(table(header, [f"{t:.2f}" for t in T.tolist()], unit_row=unit_row))
    assert trace.speed == pytest.approx(V * factor, abs=1e-3)


START = datetime(2026, 4, 12, 23, 59, 58, tzinfo=UTC)


def stamps(form: str) -> list[str]:
    found = []
    for t in T.tolist():
        at = START + timedelta(seconds=round(t, 1))
        found.append(at.strftime(form).replace("%m", f"{at.microsecond // 1000:03d}"))
    return found


@pytest.mark.parametrize(
    ("times", "day", "utc"),
    [
        (stamps("%H:%M:%S.%%m"), None, False),
        (stamps("%Y-%m-%dT%H:%M:%S.%%mZ"), date(2026, 4, 12), True),
        (stamps("%Y-%m-%d %H:%M:%S.%%m"), date(2026, 4, 12), False),
        (stamps("%Y-%m-%dT%H:%M:%S.%%m+00:00"), date(2026, 4, 12), True),
        ([f"{START.timestamp() + t:.1f}" for t in T.tolist()], date(2026, 4, 12), True),
        ([f"{(START.timestamp() + t) * 1000:.0f}" for t in T.tolist()], date(2026, 4, 12), True),
    ],
    ids=["clock", "iso", "iso without zone", "iso with offset", "epoch", "epoch ms"],
)
def test_ways_to_tell_time(read: Read, times: list[str], day: date | None, utc: bool) -> None:
    trace = read(table("Time,Speed (km/h)", times))
    assert trace.t == pytest.approx(T, abs=1e-6)
    assert trace.clock.second == pytest.approx(86398.0)
    assert (trace.clock.day, trace.clock.utc) == (day, utc)


def test_milliseconds(read: Read) -> None:
    trace = read(table("Time (ms),Speed (km/h)", [f"{t * 1000:.0f}" for t in T.tolist()]))
    assert trace.t == pytest.approx(T)
    assert trace.clock.second is None


def test_date_and_clock_in_two_columns(read: Read) -> None:
    rows = [
        f"{at:%d.%m.%Y};{at:%H:%M:%S},{at.microsecond // 1000:03d};{v * 3.6:.2f}".replace(
            ".", ",", 0
        )
        for t, v in zip(T.tolist(), V.tolist(), strict=True)
        for at in [START + timedelta(seconds=round(t, 1))]
    ]
    text = "Date;Time;Speed (km/h)\n" + "\n".join(row.replace(".", ",", 0) for row in rows)
    trace = read(text + "\n")
    assert trace.t == pytest.approx(T, abs=1e-6)
    assert trace.clock.day == date(2026, 4, 12)


def test_day_or_month_first_is_asked(read: Read) -> None:
    rows = [f"04/05/2026,10:00:{i:02d},{20 + i}" for i in range(10)]
    text = "\n".join(["Date,Time,Speed (km/h)", *rows]) + "\n"
    with pytest.raises(AmbiguousInputError, match="day first or month first") as asked:
        read(text)
    assert asked.value.choices == ("day first", "month first")
    columns = read_columns("date=Date:month,time=Time,speed=Speed", find_layout(text, "x"))
    assert read(text, columns=columns).clock.day == date(2026, 4, 5)


def test_lines_above_the_header_are_passed_over(read: Read) -> None:
    text = "Recorder: 7\nfirmware,1.2,b\n\n" + csv_text(T, V)
    trace = read(text)
    assert trace.t == pytest.approx(T)
    assert trace.line[0] == 5


def test_quoted_cells_and_blanks(read: Read) -> None:
    rows = [f'"{t:.1f}" , "{v * 3.6:.2f}"' for t, v in zip(T.tolist(), V.tolist(), strict=True)]
    trace = read("\n".join(['"Time (s)","Speed (km/h)"', *rows]).replace(" , ", ",") + "\n")
    assert trace.speed == pytest.approx(V, abs=1e-2)


def test_other_columns_of_numbers_are_kept(read: Read) -> None:
    text = table("Time (s),Speed (km/h),RPM,Note", [f"{t:.2f}" for t in T.tolist()], more=",4100,x")
    trace = read(text)
    assert list(trace.extra) == ["RPM"]
    assert trace.extra["RPM"].tolist() == [4100.0] * 60


def test_bad_rows_are_left_out_with_line_and_reason(read: Read) -> None:
    lines = csv_text(T, V).split("\n")
    lines[5], lines[6], lines[7] = "0.4", "x,20", "0.6,fast"
    lines[8], lines[9], lines[10] = '0.7,"20', "0.8,", "0.9,1e400"
    trace = read("\n".join(lines))
    assert trace.rows == 54
    assert [(r.line, r.reason) for r in trace.rejected] == [
        (6, "It has 1 cell, and the header 2."),
        (7, "“x” in the column “Time (s)” cannot be."),
        (8, "“fast” in the column “Speed (km/h)” cannot be."),
        (9, "It has 1 cell, and the header 2."),
        (10, "It has no speed."),
        (11, "“1e400” in the column “Speed (km/h)” cannot be."),
    ]


def test_cut_off_last_row(read: Read) -> None:
    """Cut within the time it is left out; cut within the speed nobody can tell, so it is said."""
    text = csv_text(T, V)
    short = read(text[:-10])
    assert (short.rows, short.reject_counts) == (59, {"cells": 1})
    cut = read(text[:-3])
    assert cut.rows == 60
    assert [f.kind for f in cut.findings] == ["no end", "no clock"]
    assert [f.kind for f in read(text).findings] == ["no clock"]


def test_umlauts_of_an_old_code_page(read: Read) -> None:
    text = csv_text(T, V, header="Time (s);Speed (km/h);Öl °C", delimiter=";")
    rows = text.split("\n")
    data = "\n".join([rows[0], *(f"{row};80" for row in rows[1:-1])]) + "\n"
    trace = read(data.encode("cp1252"))
    assert list(trace.extra) == ["Öl °C"]


def test_columns_named_by_hand(read: Read) -> None:
    text = table("a,b", [f"{t:.2f}" for t in T.tolist()])
    layout = find_layout(text, "x")
    with pytest.raises(InputError, match="No column can be the time; there are: a, b"):
        propose_columns(layout)
    for typed in ("time=a,speed=b:km/h", "time=1,speed=2:kmh"):
        columns = read_columns(typed, layout)
        assert columns == Columns("a", "seconds", "b", "km/h", confirmed=True)
    assert read(text, columns=columns).speed == pytest.approx(V, abs=1e-3)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("speed=b:km/h", "Time is needed"),
        ("time=a,speed=b", "The unit of “b” is missing"),
        ("time=a,speed=q:km/h", "There is no column “q”"),
        ("colour=a", "names no column"),
        ("time=c,speed=b:km/h", "tells no time"),
    ],
)
def test_columns_that_cannot_be(typed: str, words: str) -> None:
    rows = [f"{t:.2f},{v:.2f},red" for t, v in zip(T.tolist(), V.tolist(), strict=True)]
    layout = find_layout("\n".join(["a,b,c", *rows]), "x")
    with pytest.raises(InputError, match=words):
        read_columns(typed, layout)


def test_without_a_header_columns_are_numbered(read: Read) -> None:
    text = csv_text(T, V).split("\n", 1)[1]
    with pytest.raises(InputError, match="there are: column 1, column 2"):
        read(text)
    columns = read_columns("time=1,speed=2:km/h", find_layout(text, "x"))
    trace = read(text, columns=columns)
    assert trace.rows == 60


def test_unit_that_is_not_told_is_asked(read: Read) -> None:
    with pytest.raises(AmbiguousInputError, match="In which unit is the column “Speed”"):
        read(table("Time,Speed", [f"{t:.2f}" for t in T.tolist()]))


def test_name_and_units_row_that_contradict_are_asked(read: Read) -> None:
    text = table("Time,Speed (mph)", [f"{t:.2f}" for t in T.tolist()], unit_row="s,km/h")
    with pytest.raises(AmbiguousInputError, match="named mph and its units row says km/h") as asked:
        read(text)
    assert asked.value.choices == ("mph", "km/h")


def test_header_is_remembered_by_its_words() -> None:
    layouts = [find_layout(csv_text(T, V, header=h), "x") for h in ("Time (s),Speed  (km/h)",
               "time (s),SPEED (km/h)", "Time (s),Speed (mph)")]  # fmt: skip
    assert layouts[0].key == layouts[1].key != layouts[2].key


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("just words\nand more\n", "no table"),
        ("1.5,20,3\n", "can be the time"),
        ("Time (s),Note\n" + "1.0,2026-04-12\n" * 5, "No column can be the speed"),
    ],
)
def test_what_is_no_recording(read: Read, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read(text)
