"""Rows put together: sessions, times, directions, sheets, and what the file makes in the log."""

from __future__ import annotations

import time
from datetime import datetime
from pathlib import Path

import pytest

from core.session import Place, Session
from core.setup import Machine, Part, build_letters
from tests.core.exchange.samples import HEADER, empty, only_session, read_in, row, rows

SLOTS = f"{HEADER},slot:final_sprocket,slot:lash in,slot:Seat foam"


@pytest.fixture
def _east_of_greenwich(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "XXX-3")  # three hours ahead, no summer time
    time.tzset()


def test_rows_of_one_label_and_machine_are_one_session(tmp_path: Path) -> None:
    lines = [
        row(value="7.26"),
        row(value="9.60", machine="Low Badger", test="80m"),
        row(value="7.31", session="s01"),
        row(value="8.10", session="S02", started="2026-05-03"),
    ]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*lines))
        assert made.sessions_new == ("S01", "S01", "S02")
        assert made.made.machines == ("Kettle Moth", "Low Badger")
        assert [len(h.attempts) for h in book.sessions()] == [2, 1, 1]
        assert {h.name for h in book.machines()} == {"Kettle Moth", "Low Badger"}


@pytest.mark.usefixtures("_east_of_greenwich")
def test_dates_without_time_keep_the_order_of_the_file(tmp_path: Path) -> None:
    lines = [row(value=v, started="2026-04-12", session=s) for s, v in [("b", "7.5"), ("a", "7.1")]]
    with empty(tmp_path) as book:
        read_in(book, rows(*lines, row(value="7.4", started="2026-04-12", session="b")))
        heads = book.sessions()
        assert [h.label for h in heads] == ["b", "a"]
        assert [a.value for a in heads[0].attempts] == [7.5, 7.4]
        assert [a.at for a in heads[0].attempts] == [None, None]
        assert heads[0].started.isoformat() == "2026-04-12T00:00:00+03:00"


@pytest.mark.usefixtures("_east_of_greenwich")
def test_own_times_of_attempts_put_them_in_order(tmp_path: Path) -> None:
    times = ["2026-04-12T10:12", "2026-04-12 10:04+03:00", "2026-04-12T07:08Z"]
    lines = [row(value=f"7.{i}", started=t) for i, t in enumerate(times)]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*lines))
        session = only_session(book)
        assert [a.value for a in session.attempts] == [7.1, 7.2, 7.0]
        assert [a.n for a in session.attempts] == [1, 2, 3]
        assert session.started == datetime.fromisoformat("2026-04-12T07:04Z")
        assert made.remarks == (
            "S01: its rows are not in the order of their times; they were put in order.",
        )


def _on(started: str, label: str = "S01") -> str:
    return row(value="7.2", session=label, started=started)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("2026-04-11", "2026-04-12"),
        ("2026-04-11T10:00+02:00", "2026-04-12T09:00+02:00"),
        ("2026-04-11T14:00+02:00", "2026-04-12T09:00+02:00"),
        ("2026-04-11T10:00+02:00", "2026-04-12T10:00+02:00"),
    ],
)
def test_one_label_on_two_days_is_not_one_session(tmp_path: Path, first: str, second: str) -> None:
    """Else two days would be held for one, and their difference for scatter."""
    with empty(tmp_path) as book:
        made = read_in(book, rows(_on(first), _on(second)))
        assert (made.went_in, len(made.rejected)) == (1, 1)
        assert "2026-04-12 is another day than the start of S01" in made.rejected[0].reason


def test_a_session_goes_on_past_midnight(tmp_path: Path) -> None:
    late = [f"2026-04-1{t}+02:00" for t in ("1T22:30", "1T23:59", "2T00:01", "2T10:00")]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*map(_on, late)))
        assert (made.went_in, made.rejected) == (4, ())
        assert len(only_session(book).attempts) == 4


def test_an_hour_that_comes_twice_is_put_in_order_by_utc(tmp_path: Path) -> None:
    twice = ["02:10+02:00", "02:40+02:00", "02:10+01:00", "02:40+01:00"]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*(_on(f"2025-10-26T{time}") for time in twice)))
        assert (made.went_in, made.remarks) == (4, ())
        times = [a.at.isoformat()[11:16] for a in only_session(book).attempts if a.at]
        assert times == ["02:10", "02:40", "02:10", "02:40"]


def test_column_at_tells_when_each_attempt_ran(tmp_path: Path) -> None:
    lines = [
        row(",2026-04-12T10:40+02:00", value="7.2"),
        row(",", value="7.3"),
        row(",2026-04-12T10:32+02:00", value="7.4"),
    ]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*lines, header=f"{HEADER},at"))
        session = only_session(book)
        assert made.is_clean
        assert session.started == datetime.fromisoformat("2026-04-12T10:05+02:00")
        assert [a.at and a.at.minute for a in session.attempts] == [40, None, 32]


@pytest.mark.parametrize(
    ("ways", "names", "told"),
    [
        (["E", "west", "W"], ("W", "E"), ["E", "W", "W"]),
        (["back", "out", ""], ("out", "back"), ["back", "out", ""]),
        (["N", "N", "N"], ("N", "S"), ["N", "N", "N"]),
        (["hill", "dale", "hill"], ("hill", "dale"), ["hill", "dale", "hill"]),
        (["", "", ""], (), ["", "", ""]),
    ],
)
def test_directions_are_learnt_from_the_file(
    tmp_path: Path, ways: list[str], names: tuple[str, ...], told: list[str]
) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*(row(value="7.2", direction=way) for way in ways)))
        session = only_session(book)
        assert session.directions == names
        assert [a.direction for a in session.attempts] == told
        assert book.log.get(Place, session.place).directions == names


def test_directions_of_a_place_the_log_knows(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        book.add_place("Vennimoor strip", ("N", "S"))
        lines = [row(value="7.2", direction=way) for way in ("N", "W")]
        made = read_in(book, rows(*lines))
        assert "not a direction here: N or S" in made.rejected[0].reason
        assert made.made.places == ()


def test_a_swap_within_the_session_starts_the_next_sheet(tmp_path: Path) -> None:
    cells = [",66T,0.10,thin", ",,,", ",60T,,", ",60,,", ",66T,,"]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*(row(c, value="7.2") for c in cells), header=SLOTS))
        session = only_session(book)
        assert made.made.parts == ("66T", "60T")
        assert [a.sheet for a in session.attempts] == [0, 0, 1, 1, 2]
        assert build_letters(session.sheets) == ("A", "B", "A")
        second = session.sheets[1].readings
        assert second["final_sprocket"].part != session.sheets[0].readings["final_sprocket"].part
        assert second["final_sprocket"].part in {p.id for p in book.log.all(Part)}
        assert second["final_sprocket_teeth"].value == 60
        assert (second["lash_intake"].value, second["own:seat_foam"].text) == (0.10, "thin")


def test_slot_cells_as_they_would_be_typed(tmp_path: Path) -> None:
    header = (
        f"{HEADER},slot:gasket thickness,slot:valve gap intake,slot:silencer,slot:rod limit,"
        "slot:governor,slot:chamber volume,slot:deck,slot:exhaust"
    )
    cells = ",48 thou,>2.0,-,6500 stated,rem,?,~0.25,not fitted"
    with empty(tmp_path) as book:
        made = read_in(book, rows(row(cells, value="7.2"), header=header))
        assert made.is_clean
        got = only_session(book).sheets[0].readings
        gasket = got["gasket_thickness"]
        assert (gasket.value, gasket.text) == (1.2192, "48 thou")
        assert (got["valve_gap_intake"].bound, got["valve_gap_intake"].state) == (">", "bounded")
        assert (got["rod_rpm_limit"].value, got["rod_rpm_limit"].state) == (6500, "stated")
        assert got["governor"].text == "removed"
        assert (got["chamber_volume"].state, got["deck"].state) == ("unknown", "estimated")
        assert (got["silencer"].state, got["exhaust"].state) == ("not fitted", "not fitted")


def test_slot_cell_out_of_range_turns_its_row_down(tmp_path: Path) -> None:
    header = f"{HEADER},slot:lash_intake"
    lines = [row(",4", value="7.2"), row(",0.10", value="7.3")]
    with empty(tmp_path) as book:
        made = read_in(book, rows(*lines, header=header))
        assert made.rejected[0].line == 2
        assert "4 thou (0.004 in) would be 0.10 mm" in made.rejected[0].reason
        assert only_session(book).attempts[0].n == 2


def test_facts_of_a_part_go_with_it(tmp_path: Path) -> None:
    header = f"{HEADER},slot:rod,slot:rod_rpm_limit"
    lines = [row(c, value="7.2") for c in (",Forged one,6500 stated", ",,", ",Cast two,")]
    with empty(tmp_path) as book:
        read_in(book, rows(*lines, header=header))
        session = only_session(book)
        assert session.sheets[0].readings["rod_rpm_limit"].value == 6500
        assert "rod_rpm_limit" not in session.sheets[1].readings


def test_a_known_part_is_used_and_an_alias_counts(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        book.save(Machine(id="m1", name="Kettle Moth", aliases=("Moth",)))
        book.save(Part(id="p1", name="Salt", slot="clutch", aliases=("Pepper",)))
        header = f"{HEADER},slot:clutch"
        made = read_in(book, rows(row(",pepper", value="7.2", machine="MOTH"), header=header))
        assert (made.made.machines, made.made.parts) == ((), ())
        session = only_session(book)
        assert (session.machine, session.sheets[0].readings["clutch"].part) == ("m1", "p1")


def test_two_machines_of_one_name_are_not_guessed_between(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        for id_ in ("m1", "m2"):
            book.save(Machine(id=id_, name="Kettle Moth"))
        made = read_in(book, rows(row(value="7.2"), row(value="7.3")))
        assert [r.line for r in made.rejected] == [2, 3]
        assert "2 machines in the log are called “Kettle Moth”" in made.rejected[0].reason
        assert book.log.all(Session) == []


def test_other_tests_and_gear_within_a_session(tmp_path: Path) -> None:
    lines = [row(value="7.2"), row(value="75", test="top", timing="hand"), row(value="7.3")]
    with empty(tmp_path) as book:
        read_in(book, rows(*lines))
        session = only_session(book)
        assert (session.test, session.timing) == ("0-50", "logger-10hz")
        assert [(a.test, a.timing) for a in session.attempts] == [
            ("", ""),
            ("top", "hand"),
            ("", ""),
        ]


def test_read_in_sessions_are_closed_and_have_no_checks(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(row(value="7.2")))
        session = only_session(book)
        assert (session.state, session.checks, session.trail[0].words) == (
            "closed",
            (),
            "read in from a file: 1 attempts",
        )
