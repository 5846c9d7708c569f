"""The newest clay on file, wherever it was entered, and the lift tables of the cam that is in."""

from __future__ import annotations

from datetime import timedelta

import msgspec
import pytest

from core.bench import (
    BenchReading,
    ClaySide,
    Past,
    clay_readings,
    latest_clay,
    lobe_of,
    tables_for,
    take_clay,
    take_lift_table,
)
from core.checks import CheckRecord, Cleared
from core.engine import ClayState
from core.errors import InputError
from core.setup import Sheet
from tests.core.bench.readings import about
from tests.core.reckon.moth import SHEET, TABLES
from tests.core.setup.making import NOON, changed

DAY = timedelta(days=1)


def answered(result: str, day: int = 0, **fields: object) -> Cleared:
    record = CheckRecord(rule="valve_to_piston", result=result, at=NOON + day * DAY, **fields)  # type: ignore[arg-type]
    return Cleared(session="s", sheet=SHEET, record=record)


def bench(text: str, day: int = 0, **more: object) -> BenchReading:
    told = about(at=NOON + day * DAY, id=f"20260726-12000{day}-aaaaaaaa", sheet=SHEET, **more)
    return take_clay(text, told).reading


def test_the_newest_counts_wherever_it_was_entered() -> None:
    old, new = answered("3.1 2.6 of 4 own 1.5"), bench("3.3 2.8", day=3)
    found = latest_clay(SHEET, (new,), (old,))
    assert found is not None
    assert (found.source, found.words) == ("bench reading", "intake 3.3 mm, exhaust 2.8 mm")
    later = answered("2.9 2.5", day=5)
    assert [c.source for c in clay_readings((new,), (old, later))] == [
        "check", "bench reading", "check",
    ]  # fmt: skip
    last = latest_clay(SHEET, (new,), (old, later))
    assert last is not None
    assert last.source == "check"


def test_clay_of_this_very_build_goes_before_newer_clay_of_another() -> None:
    """Rockers swapped off and on again: the reading under them still tells."""
    here, other = changed(SHEET, rocker_ratio="1.25"), SHEET
    own = Cleared(session="s", sheet=here, record=answered("3.1 2.6").record)
    newer = answered("3.9 3.4", day=9)
    for sheet, words in ((here, "intake 3.1 mm, exhaust 2.6 mm"), (other, "intake 3.9 mm")):
        found = latest_clay(sheet, (), (own, newer))
        assert found is not None
        assert found.words.startswith(words)
    third = latest_clay(changed(SHEET, rocker_ratio="1.1"), (), (own, newer))
    assert third is not None
    assert third.words.startswith("intake 3.9 mm")


def test_what_tells_nothing_is_passed_over() -> None:
    found = latest_clay(SHEET, (bench("3.3 2.8"), bench("touched", 1), bench("torn torn", 2)))
    assert found is not None
    assert found.words == "intake 3.3 mm, exhaust 2.8 mm"
    half_torn = latest_clay(SHEET, (bench("torn 2.6", 2),))
    assert half_torn is not None
    assert half_torn.intake is not None
    assert half_torn.intake.state is ClayState.TORN


@pytest.mark.parametrize("result", ["not done", "", "words from elsewhere", "n/a: no valves"])
def test_answers_that_are_no_readings(result: str) -> None:
    assert clay_readings((), (answered(result),)) == ()


def test_an_answer_taken_over_by_reference_is_not_a_second_reading() -> None:
    assert clay_readings((), (answered("3.1 2.6", by_reference="s0"),)) == ()


def test_a_check_that_a_bench_reading_cleared_is_one_reading() -> None:
    reading = bench("3.3 2.8")
    assert len(clay_readings((reading,), (answered("3.3 2.8"),))) == 1


def test_the_sheets_own_gaps_count_when_nothing_else_is_on_file() -> None:
    sheet = changed(SHEET, valve_gap_intake="3.2", valve_gap_exhaust=">2.0")
    found = latest_clay(sheet)
    assert found is not None
    assert found.source == "setup sheet"
    assert found.words == "intake 3.2 mm, exhaust at least 2.0 mm (not touched)"
    assert latest_clay(SHEET) is None
    stale = msgspec.structs.replace(sheet.readings["valve_gap_intake"], stale=True)
    gone = Sheet(readings={**SHEET.readings, "valve_gap_intake": stale})
    assert latest_clay(gone) is None


def test_a_dial_gauge_is_surer_than_clay() -> None:
    dial, clay = (latest_clay(SHEET, (bench(text),)) for text in ("dial 3.30 2.80", "3.3 2.8"))
    assert dial is not None
    assert clay is not None
    assert dial.half == pytest.approx(0.0501, abs=1e-4)
    assert clay.half == pytest.approx(0.2021, abs=1e-4)
    own = latest_clay(SHEET, (bench("3.3 2.8", repeatability=0.1),))
    assert own is not None
    assert own.half == pytest.approx((0.1**2 + 0.1**2 / 12) ** 0.5)


def test_a_document_that_makes_no_sense_tells_nothing() -> None:
    reading = bench("3.3 2.8")
    assert reading.clay is not None
    broken = msgspec.structs.replace(
        reading, clay=msgspec.structs.replace(reading.clay, intake=ClaySide(state="touched"))
    )
    (found,) = clay_readings((broken,))
    assert found.intake is None
    assert found.exhaust is not None


# -- lift tables ---------------------------------------------------------------------------------


def rows(side: str = "intake", unit: float = 1000.0) -> str:
    on_file = TABLES.intake if side == "intake" else TABLES.exhaust
    assert on_file is not None
    pairs = zip(on_file.table.angles, on_file.table.lifts, strict=True)
    return "\n".join(f"{angle}; {lift * unit:.6f}" for angle, lift in pairs)


def table(side: str = "intake", day: int = 0, sheet: Sheet = SHEET, **more: object) -> BenchReading:
    told = about(at=NOON + day * DAY, id=f"20260726-1200{day:02d}-{side}", sheet=sheet)
    return take_lift_table(rows(side), side, told, **more).reading  # type: ignore[arg-type]


def test_a_table_is_kept_as_it_was_typed_and_read_back() -> None:
    kept = table()
    back = msgspec.json.decode(msgspec.json.encode(kept), type=BenchReading)
    assert back == kept
    assert back.lift is not None
    assert TABLES.intake is not None
    found = lobe_of(back.lift)
    assert found.angles == TABLES.intake.table.angles
    assert found.lifts == pytest.approx(TABLES.intake.table.lifts, abs=1e-9)
    assert back.text == rows()
    assert back.around["cam"].text == "moth"


def test_the_newest_table_of_the_cam_that_is_in() -> None:
    old, new, exhaust = table(), table(day=1), table("exhaust")
    found = tables_for(SHEET, (new, old, exhaust))
    assert found.intake is not None
    assert found.intake.at == NOON + DAY
    assert found.intake.centre == 104.0
    assert found.exhaust is not None
    other = changed(SHEET, cam="wild cam")
    assert tables_for(other, (old, exhaust)).sides == (None, None)
    assert Past(taken=(old,)).tables(SHEET).intake is not None


def test_a_table_read_at_the_valve_is_turned_into_lobe_lift() -> None:
    """Lobe lift is (valve lift + lash)/ratio: by hand at the peak."""
    sheet = changed(SHEET, rocker_ratio="1.25")
    read = take_lift_table(
        "0;0\n60;5\n104;7\n150;5\n208;0",
        "intake",
        about(sheet=sheet),
        measured_at="valve",
        lash=0.1,
    ).reading
    assert read.lift is not None
    assert read.lift.rocker_ratio == 1.25
    assert lobe_of(read.lift).peak == pytest.approx((7 + 0.1) / 1.25 * 1e-3)
    with pytest.raises(InputError, match="needs the rocker ratio"):
        take_lift_table("0;0\n60;5\n104;7\n150;5", "intake", about(), measured_at="valve")


@pytest.mark.parametrize("heading", ["deg lift_thou", "degrees, lift in thou", "DEG;THOU"])
def test_lifts_in_thousandths(heading: str) -> None:
    read = take_lift_table(f"{heading}\n0 0\n60 200\n104 300\n150 200", "intake", about())
    assert read.reading.lift is not None
    inches = take_lift_table("0 0\n60 .2\n104 .3\n150 .2", "intake", about(), unit="in")
    assert inches.reading.lift is not None
    assert inches.reading.lift.lifts == pytest.approx(read.reading.lift.lifts)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("0;0\n60;5\n104;7\noops\n150;5", "Line 4 is no row of crank degrees and lift"),
        ("0;0\n60;5\n90;3\n104;7\n150;5", "a lobe must rise and fall once"),
        ("0;0\n60;5\n50;6\n104;7", "angles must increase"),
        ("0;0\n60;5\n104;-1\n150;5", "cannot be below zero"),
        ("0;0\n60;200\n104;300\n150;200", "that looks like another unit"),
        ("0;0\n60;5", "needs at least four"),
        ("", "0 rows"),
        ("-208;0\n-150;5\n-104;7\n-60;5", "that of the intake valve lies within"),
        ("360;0\n420;5\n464;7\n510;5", "Count the angles from the top"),
    ],
)
def test_tables_that_are_none(text: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        take_lift_table(text, "intake", about())
    assert words in f"{caught.value.message} {caught.value.hint}"
