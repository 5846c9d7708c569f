"""Bench readings in a real log: saved first, on the sheet of the open session, clearing checks."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

import demo
from core.bench import (
    USUAL_GAUGES,
    About,
    BenchReading,
    Gauge,
    last_before,
    put_right,
    take_check,
    take_clay,
    take_slots,
)
from core.errors import LogReadOnlyError
from core.exchange import export_lines, import_lines
from core.reckon import beside_check, what_if, why
from core.session import (
    Book,
    check_record,
    enter,
    fill,
    keep_reading,
    open_session,
    part_past,
    past_of,
    put_on,
    undo,
)
from tests.core.bench.in_a_log import Bench, rockers, tables
from tests.making import answered


def test_clay_clears_the_check_that_asked_for_it(bench: Bench) -> None:
    rockers(bench)
    assert "valve_to_piston" in bench.open()
    kept = keep_reading(bench.book, take_clay("3.1 2.6 of 4 own 1.5", bench.about()).reading)
    assert kept.cleared == ("valve_to_piston",)
    assert kept.warning == ""
    assert set(kept.slots) == {"valve_gap_intake", "valve_gap_exhaust", "valve_gap_method"}
    assert "valve_to_piston" not in bench.open()
    assert bench.sheet.readings["valve_gap_exhaust"].value == 2.6
    assert check_record(bench.now, "valve_to_piston").own == 1.5
    saved = bench.book.log.get(BenchReading, kept.reading.id)
    assert (saved, saved.session) == (kept.reading, bench.session.id)


def test_clay_not_touched_is_kept_and_clears_nothing(bench: Bench) -> None:
    rockers(bench)
    kept = keep_reading(bench.book, take_clay(">2.0", bench.about()).reading)
    assert kept.cleared == ()
    assert kept.warning.startswith("Kept, not cleared: not touched")
    assert "valve_to_piston" in bench.open()
    reading = bench.sheet.readings["valve_gap_intake"]
    assert (reading.state, reading.bound, reading.value) == ("bounded", ">", 2.0)
    again = keep_reading(bench.book, take_clay("1.8 2.6 of 4", bench.about()).reading)
    assert again.cleared == ("valve_to_piston",)
    assert "one of the two lay in the wrong place" in again.warning


def test_torn_clay_is_unknown_on_the_sheet(bench: Bench) -> None:
    rockers(bench)
    kept = keep_reading(bench.book, take_clay("torn 2.6", bench.about()).reading)
    assert kept.cleared == ()
    assert bench.sheet.readings["valve_gap_intake"].state == "unknown"


def test_slots_answer_the_check_that_they_are_the_numbers_of(bench: Bench) -> None:
    rockers(bench)
    both = take_slots({"lash_intake": "0.10", "lash_exhaust": "0.15"}, bench.about())
    kept = keep_reading(bench.book, both.reading)
    assert kept.cleared == ("lash",)
    assert "lash_recheck" in bench.open()
    assert bench.sheet.readings["lash_exhaust"].value == 0.15


def test_a_hot_lash_is_kept_and_clears_nothing(bench: Bench) -> None:
    rockers(bench)
    hot = take_check("lash", "0.08 0.12", bench.about(condition="hot", head_temperature=90.0))
    kept = keep_reading(bench.book, hot.reading)
    assert kept.cleared == ()
    assert "asks for a cold engine" in kept.warning
    assert "lash" in bench.open()
    assert bench.sheet.readings["lash_intake"].value == 0.08


def test_a_value_below_the_own_requirement_clears_nothing(bench: Bench) -> None:
    rockers(bench)
    kept = keep_reading(
        bench.book, take_check("spring_margin", "0.8 own 1.0", bench.about()).reading
    )
    assert kept.cleared == ()
    assert "below your own requirement" in kept.warning


def test_a_reading_may_stay_off_the_sheet(bench: Bench) -> None:
    before = bench.now
    reading = take_slots({"chamber_volume": "22.1"}, bench.about()).reading
    kept = keep_reading(bench.book, reading, on_sheet=False, answer=False)
    assert (kept.session, kept.slots, kept.cleared) == (None, (), ())
    assert bench.now == before
    assert bench.book.log.get(BenchReading, reading.id) == reading


def test_no_open_session_keeps_the_reading_and_says_so(bench: Bench) -> None:
    other = bench.book.add_machine("Low Badger").id
    assert open_session(bench.book, other) is None
    reading = take_slots({"chamber_volume": "22.1"}, bench.about(machine=other, sheet=None)).reading
    kept = keep_reading(bench.book, reading)
    assert "no session of this machine is open" in kept.warning
    assert past_of(bench.book, other).taken == (reading,)


def test_attempts_that_ran_on_the_sheet_keep_it_as_it_was(bench: Bench) -> None:
    bench.book.save(answered(bench.now, bench.clock()))
    bench.book.save(enter(bench.now, bench.clock(), value=8.0, text="8.00"))
    before = bench.now
    reading = take_slots({"chamber_volume": "22.1"}, bench.about()).reading
    kept = keep_reading(bench.book, reading)
    assert "Attempts already ran on this sheet" in kept.warning
    assert bench.now == before
    assert bench.book.log.get(BenchReading, reading.id).readings["chamber_volume"].value == 22.1


def test_undo_takes_the_sheet_back_and_leaves_the_reading(bench: Bench) -> None:
    before = bench.now
    reading = take_slots({"deck": "0.30"}, bench.about()).reading
    after = keep_reading(bench.book, reading).session
    assert after is not None
    assert after.sheets[-1].readings["deck"].value == 0.30
    assert undo(after, bench.clock()).sheets == before.sheets
    assert bench.book.bench_readings()[-1].id == reading.id


def test_a_full_or_read_only_log_does_nothing_at_all(bench: Bench, tmp_path: Path) -> None:
    reading = take_slots({"deck": "0.30"}, bench.about()).reading
    with Book.open(tmp_path / "log", read_only=True) as book, pytest.raises(LogReadOnlyError):
        keep_reading(book, reading)
    assert "deck 0.30" not in [head.text for head in bench.book.bench_readings()]


def test_a_loose_engine_has_a_history_of_its_own(bench: Bench) -> None:
    about = About(id=bench.book.fresh_id(), at=bench.clock(), part="block-two")
    reading = take_slots({"bore": "70.02"}, about).reading
    assert keep_reading(bench.book, reading).warning == ""
    assert part_past(bench.book, "block-two").taken == (reading,)
    assert past_of(bench.book, bench.machine).taken == ()


def test_a_loose_engine_counts_once_it_is_on_the_machine(bench: Bench) -> None:
    filled = fill(bench.book, bench.machine, {}, "engine_block", "Block two")
    bench.session = put_on(bench.book, bench.session, filled)
    block = bench.sheet.readings["engine_block"].part
    about = About(id=bench.book.fresh_id(), at=bench.clock(), part=block)
    reading = take_slots({"bore": "70.02"}, about).reading
    keep_reading(bench.book, reading)
    assert past_of(bench.book, bench.machine).taken == (reading,)


def test_the_rocker_and_gasket_plan_from_what_the_log_holds(bench: Bench) -> None:
    """Clay and lift tables from the bench make the gap exact; the check is due anyway."""
    keep_reading(bench.book, take_clay("3.5 3.0 own 1.5", bench.about()).reading)
    tables(bench)
    past = past_of(bench.book, bench.machine)
    plan = what_if(
        bench.sheet,
        {"rocker_ratio": "1.25", "gasket_thickness": "0.8"},
        clay=past.clay(bench.sheet),
        lift_tables=past.tables(bench.sheet),
        halves=past.halves(bench.sheet),
        history=past.answers,
    )
    gap = plan.after.gaps[0]
    assert gap.how == "from the lift table"
    assert gap.exact is not None
    assert 2.5 < gap.exact.value < 3.0
    assert gap.own == 1.5
    before = bench.sheet
    rockers(bench)
    record = check_record(bench.now, "valve_to_piston")
    said = beside_check(record, before, bench.sheet, past_of(bench.book, bench.machine))
    assert "from the lift table" in said
    assert said.endswith("Clay is due anyway.")


def test_the_clay_before_the_head_was_milled(bench: Bench) -> None:
    keep_reading(bench.book, take_clay("3.5 3.0", bench.about()).reading)
    bench.next_session()
    bench.touch("head_milled", "0.5")
    keep_reading(bench.book, take_clay("3.0 2.5", bench.about()).reading)
    history = past_of(bench.book, bench.machine, sheets=True).history("valve_gap_intake")
    assert [entry.words for entry in history] == ["3.5 mm", "3.0 mm"]
    found = last_before(history, "head_milled", bench.sheet)
    assert found is not None
    assert found.words == "3.5 mm"


def test_an_instrument_put_right_counts_from_then_on(bench: Bench) -> None:
    usual = why(bench.sheet, "compression_ratio", past=past_of(bench.book, bench.machine))
    bench.book.save(put_right(USUAL_GAUGES["burette"], bench.clock(), repeatability="0.5"))
    rough = why(bench.sheet, "compression_ratio", past=past_of(bench.book, bench.machine))
    assert (rough.high or 0) > (usual.high or 0)
    assert bench.book.log.get(Gauge, "burette").repeatability == 0.5


def test_what_export_writes_import_reads_back(bench: Bench, tmp_path: Path) -> None:
    rockers(bench)
    keep_reading(bench.book, take_clay("3.1 2.6", bench.about()).reading)
    tables(bench)
    bench.book.save(put_right(USUAL_GAUGES["clay"], bench.clock(), repeatability="0.15"))
    text = b"".join(export_lines(bench.book)).decode()
    with Book.open(tmp_path / "other") as other:
        made = import_lines(other, text, "file")
        assert made.rejected == ()
        assert made.conflicts == ()
        assert other.log.all(BenchReading) == bench.book.log.all(BenchReading)
        assert other.log.all(Gauge) == bench.book.log.all(Gauge)
        assert import_lines(other, text, "file").went_in == 0


def test_a_reading_of_hostile_text_round_trips(bench: Bench) -> None:
    note = "=1+1 [bold]\x1b[31m\nünï 名"
    reading = take_slots({"deck": "0.3"}, bench.about(note=note)).reading
    keep_reading(bench.book, reading, on_sheet=False, answer=False)
    with Book.open(bench.book.log.folder, read_only=True) as book:
        assert book.log.get(BenchReading, reading.id) == reading
        assert book.bench_readings()[-1].note == note


def test_the_demo_season_tells_of_its_clay(tmp_path: Path) -> None:
    """The clay of the bench day, entered as an answer to its check, serves a plan months later."""
    demo.build(tmp_path / "log")
    with Book.open(tmp_path / "log", read_only=True) as book:
        machine = book.machine("Kettle Moth").id
        past = past_of(book, machine, sheets=True)
        sheet = book.session("S10").sheets[-1]
        clay = past.clay(sheet)
        assert clay is not None
        assert clay.own == 1.5
        plan = what_if(
            sheet, {"gasket_thickness": "0.8"}, clay=clay, halves=past.halves(sheet),
            history=past.answers,
        )  # fmt: skip
        gap = plan.after.gaps[0]
        assert gap.unknown == ""
        assert [entry.words for entry in past.history("valve_gap_intake")] == ["3.1 mm", "3.9 mm"]


def test_opening_a_log_loads_no_formula_register() -> None:
    code = (
        "import sys, core.session, core.setup\n"
        "print(*[m for m in sys.modules if m.split('.')[:2] == ['core', 'reckon']"
        " or m in ('numpy', 'scipy', 'pint')])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""


def test_times_of_readings_keep_their_offset(bench: Bench) -> None:
    reading = take_slots({"deck": "0.3"}, bench.about()).reading
    shifted = msgspec.structs.replace(reading, at=reading.at.astimezone(None))
    bench.book.save(shifted)
    assert bench.book.log.get(BenchReading, reading.id).at - reading.at == timedelta(0)
