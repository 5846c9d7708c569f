"""Every cell of a row: what is forgiven, what it comes to, what is turned down and why."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import InputError
from core.session import Session
from tests.core.exchange.samples import HEADER, empty, only_session, read_in, row, rows


def one(tmp_path: Path, line: str) -> Session:
    """Read one row in and return its session."""
    with empty(tmp_path) as book:
        made = read_in(book, rows(line))
        assert made.is_clean, made.rejected
        return only_session(book)


def reason(tmp_path: Path, line: str) -> str:
    """Read a good row and a bad one in; return why the bad one was turned down."""
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="7.26", direction="W"), line))
        assert (made.went_in, len(made.rejected), made.is_clean) == (1, 1, False)
        assert made.rejected[0].line == 3
        assert made.summary == "a.csv: 1 row in, 1 rejected."
        return made.rejected[0].reason


@pytest.mark.parametrize(
    ("cells", "value", "text"),
    [
        ({"value": "7.26"}, 7.26, "7.26"),
        ({"value": '"7,26"'}, 7.26, "7,26"),
        ({"value": "8"}, 8.0, "8"),  # as a spreadsheet writes 8.00; no decimals are implied
        ({"value": "7.26 s"}, 7.26, "7.26"),
        ({"value": "7.26", "unit": "s"}, 7.26, "7.26"),
        ({"value": "1:02.4", "test": "coast-40-15"}, 62.4, "1:02.4"),
        ({"value": "47", "unit": "mph", "test": "top"}, 75.639168, "47 mph"),
        ({"value": "47mph", "test": "top"}, 75.639168, "47 mph"),
        ({"value": "77.1", "test": "TOP"}, 77.1, "77.1"),
    ],
)
def test_values(tmp_path: Path, cells: dict[str, str], value: float, text: str) -> None:
    (attempt,) = one(tmp_path, row(**cells)).attempts
    assert attempt.value == pytest.approx(value, rel=1e-9)  # 1 mi = 1.609344 km, exact since 1959
    assert attempt.text == text


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"value": "726"}, "out of range for 0-50"),
        ({"value": "0"}, "must be above zero"),
        ({"value": "-7.26"}, "must be above zero"),
        ({"value": "0.2"}, "out of range"),
        ({"value": "nan"}, "not a number"),
        ({"value": "1e999"}, "not a number"),
        ({"value": "fast"}, "not a number"),
        ({"value": '"1,234.5"'}, "two ways"),
        ({"value": ""}, "value is missing"),
        ({"value": "7.2", "unit": "mph"}, "cannot be turned into s"),
        ({"value": "7.2 s", "unit": "min"}, "which?"),
        ({"value": "7.2", "unit": "furlongs"}, "not a unit"),
        ({"value": "7.2", "kind": "aborted"}, "aborted attempt has no value"),
        ({"value": "7.2", "kind": "practice"}, "timed, warm-up or aborted"),
        ({"value": "7.2", "tag": "BOG WHAT"}, "not a tag"),
        ({"value": "7.2", "struck": "felt wrong"}, "CHAIN (chain came off)"),
        ({"value": "7.2", "struck": "yes"}, "FALSE (false start)"),
        ({"value": "7.2", "test": "quarter mile"}, "not a test"),
        ({"value": "7.2", "test": ""}, "test is missing"),
        ({"value": "7.2", "timing": "sundial"}, "not timing gear"),
        ({"value": "7.2", "session": ""}, "session is missing"),
        ({"value": "7.2", "machine": " "}, "machine is missing"),
        ({"value": "7.2", "started": "12.04.2026"}, "not a date such as 2026-04-12"),
        ({"value": "7.2", "started": "0001-01-01"}, "year 1 cannot be meant"),
        ({"value": "7.2", "started": "2026-05-03"}, "and so another session"),
        ({"value": "7.2", "started": "2026-04-12T10:05:00+02:00:30"}, "no place has that offset"),
        ({"value": "7.2", "started": "2026-04-12T10:05+23:00"}, "no place has that offset"),
        ({"value": "7.2", "direction": "N"}, "not a direction here: W or E"),
        ({"value": "7.2", "place": "Quillowmere lane"}, "one session runs at one place"),
        ({"value": "7.2", "session": "x" * 300}, "longer than 200 letters"),
    ],
)
def test_turned_down_with_its_line(tmp_path: Path, cells: dict[str, str], words: str) -> None:
    assert words in reason(tmp_path, row(**cells))


def test_decimal_comma_without_quotation_marks(tmp_path: Path) -> None:
    assert "decimal comma without quotation marks" in reason(tmp_path, row(value="7,26") + ",x")


def test_marks_and_words_of_an_attempt(tmp_path: Path) -> None:
    line = row(value="7.98", tag="bogged + p ?", struck="Chain came off at 60 m", note="third gear")
    (attempt,) = one(tmp_path, line).attempts
    assert attempt.tags == ("BOG", "SPIN")
    assert attempt.unsure
    assert attempt.strike is not None
    assert (attempt.strike.code, attempt.strike.note) == ("CHAIN", "came off at 60 m")
    assert not attempt.strike.late
    assert (attempt.note, attempt.entered, attempt.kind) == ("third gear", "imported", "timed")


@pytest.mark.parametrize(
    ("cell", "code"),
    [("late", "LATE"), ("false start", "FALSE"), ("l", "LATE"), ("chain off", "CHAIN")],
)
def test_words_that_are_in_the_table_become_the_code(tmp_path: Path, cell: str, code: str) -> None:
    (attempt,) = one(tmp_path, row(value="7.2", struck=cell)).attempts
    assert attempt.strike is not None
    assert (attempt.strike.code, attempt.strike.note) == (code, "")


@pytest.mark.parametrize(
    ("cell", "kind"), [("", "timed"), ("Warm Up", "warm-up"), ("warmup", "warm-up")]
)
def test_kinds(tmp_path: Path, cell: str, kind: str) -> None:
    assert one(tmp_path, row(value="7.2", kind=cell)).attempts[0].kind == kind


def test_aborted_has_no_value(tmp_path: Path) -> None:
    (attempt,) = one(tmp_path, row(kind="aborted")).attempts
    assert (attempt.kind, attempt.value) == ("aborted", None)


def test_header_is_forgiven(tmp_path: Path) -> None:
    text = (
        "\ufeffVALUE; Machine ;Started;SESSION;test;Lap colour;Slot: Rear Sprocket\r\n"
        "7,26;Moth;2026-04-12;S01;0-50;red;66T\r\n"
        "7,31;Moth;2026-04-12;S01;0-50;blue;\r\n"
    )
    with empty(tmp_path) as book:
        made = read_in(book, text.removeprefix("\ufeff"))
        assert made.is_clean
        assert made.remarks == ("Not read, as no such column is known: Lap colour.",)
        session = only_session(book)
        assert [a.value for a in session.attempts] == [7.26, 7.31]
        assert session.sheets[0].readings["final_sprocket"].text == "66T"


@pytest.mark.parametrize("head", ["sep=;\n", "sep=\t\n", "\n\n"])
def test_separators(tmp_path: Path, head: str) -> None:
    mark = head[4:5] or ","
    lines = rows(row(value="7.26"), row(value="7.31")).replace(",", mark)
    with empty(tmp_path) as book:
        assert read_in(book, head + lines).went_in == 2


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("session,started,machine,value", "a.csv has no column test."),
        ("value,x", "a.csv has no columns session, started, machine, test."),
        (f"{HEADER},Value", "a.csv has the column value twice."),
        (f"{HEADER},slot:rear sprocket,slot:final_sprocket", "column final_sprocket twice"),
    ],
)
def test_header_that_cannot_be_used(tmp_path: Path, header: str, words: str) -> None:
    with empty(tmp_path) as book, pytest.raises(InputError) as refusal:
        read_in(book, f"{header}\n1,2,3\n")
    assert words in refusal.value.message


def test_short_rows_are_filled_up_but_a_cut_last_one_is_not(tmp_path: Path) -> None:
    good = "S01,2026-04-12,Moth,,0-50,,W,7.26\n"
    with empty(tmp_path) as book:
        made = read_in(book, f"{HEADER}\n{good}S01,2026-04-12,Moth,,0-50,,E,7.3")
        assert made.went_in == 1
        assert made.rejected[0].reason == "the file ends in the middle of this row."


def test_quotation_mark_never_closed(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="7.26"), row(value="7.31", note='"gust')))
        assert made.went_in == 1
        assert "quotation mark is never closed" in made.rejected[0].reason


def test_unusual_value_goes_in_with_a_remark(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="72.6"), row(value="7.31")))
        assert (made.went_in, made.is_clean) == (2, True)
        (remark,) = made.remarks
        assert remark.startswith("line 2: 7.26 or 72.6?")


def test_clock_that_was_never_set_is_remarked(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="7.2", started="1970-01-01T00:10Z")))
        assert made.remarks == ("S01 started 1970-01-01: was that clock right?",)
        assert only_session(book).started.year == 1970


def test_an_attempt_far_from_the_start_of_its_session_is_remarked(tmp_path: Path) -> None:
    header = f"{HEADER},at"
    lines = [row(value="7.2") + f",{at}" for at in ("2026-04-13T02:00Z", "2027-04-12T12:00Z")]
    made = read_in(empty(tmp_path), rows(*lines, header=header))
    assert (made.went_in, made.is_clean) == (2, True)
    (remark,) = made.remarks
    assert remark.startswith("line 3: it ran 2027-04-12 and S01 started 2026-04-12")


def test_started_is_missing(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(value="7.2", started=""), row(value="7.3", started="")))
        assert [r.line for r in made.rejected] == [2, 3]
        assert "without a day" in made.rejected[0].reason
        assert book.log.all(Session) == []


def test_hostile_texts_are_kept_as_text(tmp_path: Path) -> None:
    note = "\x1b[31mred\x07 =1+1 表示 " + "x" * 20_000
    line = row(value="7.2", note=f'"{note}\nsecond line"', machine="Größe 火")
    session = one(tmp_path, line)
    assert session.attempts[0].note == f"{note}\nsecond line"


def test_an_unusual_value_of_a_slot_goes_in_and_is_remarked(tmp_path: Path) -> None:
    """Nobody is there to be asked: what would be a question says what became of it."""
    text = rows(row(",11 psi", value="7.2"), header=f"{HEADER},slot:rear pressure cold")
    with empty(tmp_path) as book:
        made = read_in(book, text)
        (remark,) = made.remarks
        assert remark.startswith("line 2: 75.84 kPa is outside the usual")  # 11 psi
        assert remark.endswith(". It went in as written.")
        assert "sure?" not in remark
        (reading,) = only_session(book).sheets[0].readings.values()
        assert reading.text == "11 psi"
