"""Rows out of order: said twice, running backwards, clock set, rows missing, two recordings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from core.errors import InputError
from core.trace import Wanted
from core.trace.formats import Finding
from core.trace.runs import find_runs
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import START, Floats, csv_text, nmea_text, recorded, season_day

TO_50 = Wanted("0-50", "standing", to_speed=50 / 3.6)


def kinds(findings: Sequence[Finding]) -> list[str]:
    return [finding.kind for finding in findings]


def drive(runs: int = 2, rate: float = 10, seed: int = 6) -> tuple[Floats, Floats, Floats]:
    rng = np.random.default_rng(seed)
    return recorded(season_day(runs, rng)[0], rate, 0.05, rng)


def csv_of(times: Floats, speed: Floats) -> str:
    return csv_text(times, speed)


def test_rows_said_twice_are_left_out_and_counted(read: Read) -> None:
    times, speed, heading = drive(1)
    lines = nmea_text(times, speed, heading).splitlines(keepends=True)
    trace = read("".join(line * (2 if i % 7 == 0 else 1) for i, line in enumerate(lines)))
    assert trace.rows == len(times)
    assert trace.duplicates == len(range(0, len(times), 7))
    assert trace.rejected_total == 0


def test_same_time_with_other_values_is_left_out_with_its_line(read: Read) -> None:
    times, speed, _ = drive(1)
    lines = csv_of(times, speed).splitlines(keepends=True)
    lines.insert(60, lines[59].replace(lines[59].split(",")[1], "33.3\n"))
    trace = read("".join(lines))
    assert trace.rows == len(times)
    assert [(r.line, r.reason) for r in trace.rejected] == [
        (61, "It has the time of the row before and says something else.")
    ]


def test_single_row_out_of_line_is_left_out(read: Read) -> None:
    times, speed, _ = drive(1)
    times = times.copy()
    times[50] -= 3.0
    times[90] += 500.0
    trace = read(csv_of(times, speed))
    assert [r.line for r in trace.rejected] == [52, 92]
    assert trace.parts == ((0, len(times) - 2),)
    assert trace.jumps == ()


def test_clock_set_back_begins_a_new_part_and_loses_nothing(read: Read) -> None:
    times, speed, _ = drive(2)
    half = len(times) // 2
    shifted = np.where(np.arange(len(times)) >= half, times - 40, times)
    trace = read(csv_of(shifted, speed))
    assert trace.rows == len(times)
    assert trace.parts == ((0, half), (half, len(times)))
    assert [(jump.line, round(jump.seconds, 3)) for jump in trace.jumps] == [(half + 2, -39.9)]
    assert kinds(trace.findings) == ["no clock", "clock jump"]
    assert len(find_runs(trace, TO_50).runs) == 2


def test_clock_set_ahead_by_days_is_a_jump(read: Read) -> None:
    times, speed, heading = drive(2)
    first = nmea_text(
        times[:100], speed[:100], heading[:100], start=datetime(1980, 1, 6, tzinfo=UTC)
    )
    rest = nmea_text(times[100:], speed[100:], heading[100:])
    trace = read(first + rest)
    assert trace.rows == len(times)
    assert len(trace.parts) == 2
    assert "clock jump" in kinds(trace.findings)
    assert "clock never set" in kinds(trace.findings)
    sentence = next(f.sentence for f in trace.findings if f.kind == "clock jump")
    assert sentence.startswith("The clock goes ahead by 16,")


def test_missing_rows_are_told_and_the_rate_is_measured(read: Read) -> None:
    times, speed, _ = drive(1)
    keep = np.ones(len(times), bool)
    keep[[30, 31, 32, 33, 80]] = False
    trace = read(csv_of(times[keep], speed[keep]))
    assert trace.rate == pytest.approx(10.0)
    assert trace.gap_count == 2
    assert [(gap.t, gap.seconds) for gap in trace.gaps] == [
        pytest.approx((2.9, 0.5)),
        pytest.approx((7.9, 0.2)),
    ]
    assert len(trace.parts) == 1


def test_long_break_ends_a_part(read: Read) -> None:
    times, speed, _ = drive(2)
    late = np.where(np.arange(len(times)) >= 150, times + 60, times)
    trace = read(csv_of(late, speed))
    assert trace.parts == ((0, 150), (150, len(times)))
    assert trace.duration == pytest.approx(times[-1] - 0.1)


@pytest.mark.parametrize("rate", [1, 5, 10, 25])
def test_rate_is_measured_not_assumed(read: Read, rate: float) -> None:
    assert read(csv_of(*drive(1, rate)[:2])).rate == pytest.approx(rate)


def test_times_backwards_all_through_are_refused(read: Read) -> None:
    times, speed, _ = drive(1)
    with pytest.raises(InputError, match="run backwards from row to row"):
        read(csv_of(times[::-1], speed[::-1]))


def test_two_devices_of_the_same_times_are_refused(read: Read) -> None:
    a = nmea_text(*drive(1, 5, 1)).splitlines(keepends=True)
    b = nmea_text(*drive(1, 5, 2)).splitlines(keepends=True)
    mixed = "".join(line for pair in zip(a, b, strict=False) for line in pair)
    with pytest.raises(InputError, match="two recordings in one file"):
        read(mixed)


def test_two_devices_of_times_in_between_are_refused(read: Read) -> None:
    """Two receivers 30 m apart, 10 rows a second each, the second 0.05 s later."""
    times, speed, heading = drive(1, 10, 1)
    a = nmea_text(times, speed, heading).splitlines(keepends=True)
    later = START + timedelta(milliseconds=50)
    b = nmea_text(
        np.concatenate(([-3.0], times)), np.concatenate(([10.0], speed)),
        np.concatenate(([270.0], heading)), start=later,
    ).splitlines(keepends=True)[1:]  # fmt: skip
    mixed = "".join(line for pair in zip(a, b, strict=True) for line in pair)
    with pytest.raises(InputError, match="jump to and fro at every row"):
        read(mixed)


def test_two_devices_whose_clocks_differ_are_refused(read: Read) -> None:
    times, speed, _ = drive(1)
    mixed = [0.0] * (2 * len(times))
    values = [0.0] * (2 * len(times))
    mixed[::2], mixed[1::2] = times.tolist(), (times + 7.03).tolist()
    values[::2], values[1::2] = speed.tolist(), speed.tolist()
    with pytest.raises(InputError, match="two recordings are mixed"):
        read(csv_of(np.array(mixed), np.array(values)))


def test_two_recordings_one_after_the_other_are_told(read: Read) -> None:
    times, speed, heading = drive(1)
    text = nmea_text(times, speed, heading)
    trace = read(text + text)
    assert kinds(trace.findings) == ["clock jump", "overlap"]
    assert trace.rows == 2 * len(times)


def test_times_without_fractions_keep_a_row_a_second(read: Read) -> None:
    times, speed, _ = drive(1)
    text = csv_of(times, speed)
    rows = text.split("\n")
    coarse = [
        rows[0],
        *(f"{int(float(row.split(',')[0]))},{row.split(',')[1]}" for row in rows[1:-1]),
    ]
    trace = read("\n".join(coarse) + "\n")
    assert trace.rate == pytest.approx(1.0)
    assert "no fractions" in kinds(trace.findings)


NOW = datetime(2026, 5, 1, tzinfo=UTC)


@pytest.mark.parametrize(
    ("start", "kind", "words"),
    [
        (datetime(1970, 1, 1, tzinfo=UTC), "clock never set", "1970-01-01"),
        (datetime(1980, 1, 6, tzinfo=UTC), "clock never set", "1980-01-06"),
        (datetime(2027, 1, 1, tzinfo=UTC), "clock ahead", "still to come"),
        (START - timedelta(weeks=1024), "week rollover", "1,024 weeks before 2026-04-12"),
    ],
)
def test_clocks_that_cannot_be(read: Read, start: datetime, kind: str, words: str) -> None:
    times, speed, heading = drive(1)
    trace = read(nmea_text(times, speed, heading, start=start), now=NOW)
    assert kinds(trace.findings) == [kind]
    assert words in trace.findings[0].sentence
    assert trace.clock.day == start.date()  # told, never put right by itself
    assert trace.rows == len(times)
    assert len(find_runs(trace, TO_50).runs) == 1


def test_rollover_offers_the_shift_that_puts_it_right(read: Read) -> None:
    times, speed, heading = drive(1)
    trace = read(nmea_text(times, speed, heading, start=START - timedelta(weeks=1024)), now=NOW)
    shift = trace.findings[0].shift
    assert shift is not None
    assert trace.moment(0.0, shift=shift) == START


def test_old_recording_of_another_week_is_believed(read: Read) -> None:
    """Of 2019 read in 2026: neither is a multiple of 1,024 weeks."""
    times, speed, heading = drive(1)
    trace = read(nmea_text(times, speed, heading, start=datetime(2019, 6, 1, tzinfo=UTC)), now=NOW)
    assert trace.findings == ()
    assert trace.clock.day == date(2019, 6, 1)
