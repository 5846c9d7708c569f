"""Runs found in a recording: what counts, what does not, directions, starts, remarks."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError
from core.trace import FIRST_MOTION, StartRule, Wanted, read_start
from core.trace.runs import (
    Samples,
    bearings_of,
    direction_of,
    edge_near,
    find_rides,
    find_runs,
    read_bearings,
)
from tests.core.trace.runs_support import trace_of
from tests.core.trace.synthetic import (
    Drive,
    Floats,
    coast_time,
    coasting,
    recorded,
    speed_after,
    time_to,
    way_after,
)
from tests.core.trace.test_coverage import COAST, OVER_80, ROLLING, TO_50, TOP, plateau

RNG = np.random.default_rng(12)
WE = bearings_of(("W", "E"))


def record(drive: Drive, rate: float = 10, noise: float = 0.05) -> tuple[Floats, Floats, Floats]:
    return recorded(drive, rate, noise, np.random.default_rng(12))


def launched(seconds: float = 8.6, heading: float = 270.0, stand: float = 4.03) -> Drive:
    drive = Drive()
    drive.stand(stand)
    drive.launch(seconds, heading)
    drive.brake(float(speed_after(np.array(seconds))), heading=heading)
    drive.stand(4.0)
    return drive


def test_start_and_end_are_times_of_the_recording() -> None:
    found = find_runs(trace_of(*record(launched(), noise=0.01)), TO_50)
    (run,) = found.runs
    assert run.start == pytest.approx(4.03 + time_to(FIRST_MOTION), abs=0.02)
    assert run.end == pytest.approx(4.03 + time_to(50 / 3.6), abs=0.02)
    assert run.value == pytest.approx(run.end - run.start)
    assert (run.unit, run.direction, run.notes) == ("s", "", ())
    assert run.from_index == int(run.start * 10)
    assert found.missed == ()


@pytest.mark.parametrize(
    ("rule", "wanted"),
    [
        (StartRule(), time_to(50 / 3.6) - time_to(FIRST_MOTION)),
        (StartRule("rest"), time_to(50 / 3.6)),
        (StartRule("rollout", 0.3048), time_to(50 / 3.6) - 0.44508),
    ],
    ids=["motion", "rest", "one foot"],
)
def test_way_the_clock_starts_is_stated_and_changes_the_time(
    rule: StartRule, wanted: float
) -> None:
    """One foot is covered 0.44508 s after leaving: the closed form of the way, solved."""
    assert way_after(0.44508) == pytest.approx(0.3048, abs=1e-5)
    test = Wanted("0-50", "standing", to_speed=50 / 3.6, start=rule)
    (run,) = find_runs(trace_of(*record(launched(), 25, 0.02)), test).runs
    assert run.value == pytest.approx(wanted, abs=0.03)
    assert run.start_rule == rule.words


@pytest.mark.parametrize("text", ["3 ft later", "0m", "9m", "soon", "-1ft"])
def test_rules_that_are_none(text: str) -> None:
    with pytest.raises(InputError):
        read_start(text)


def test_first_motion_must_be_held() -> None:
    """A shove of 0.2 s before the start is no start; the launch after it is."""
    times, speed, _ = record(launched())
    shoved = speed.copy()
    shoved[20:22] = 1.0
    (plain,), (found,) = (find_runs(trace_of(times, v), TO_50).runs for v in (speed, shoved))
    assert found.start == pytest.approx(plain.start, abs=1e-9)


def test_roll_at_walking_pace_before_the_start_is_told() -> None:
    drive = Drive()
    drive.stand(3.0)
    drive.add(4.0, lambda s: np.full(len(s), 0.6))
    drive.add(9.0, lambda s: 0.6 + speed_after(s))
    drive.stand(2.0)
    (run,) = find_runs(trace_of(*record(drive)), TO_50).runs
    assert run.value > 9
    assert run.start == pytest.approx(3.0, abs=0.2)
    assert any(note.startswith("It crept for 4.") for note in run.notes)


def test_run_that_does_not_reach_the_speed_is_told() -> None:
    found = find_runs(trace_of(*record(launched(5.5))), TO_50)
    assert found.runs == ()
    top = float(speed_after(np.array(5.5))) * 3.6
    (reason,) = [miss.reason for miss in found.missed]
    match = re.fullmatch(r"It went up to ([0-9.]+) km/h only\.", reason)
    assert match is not None
    assert float(match[1]) == pytest.approx(top, abs=1.0)


def test_recording_that_begins_in_motion_has_no_start() -> None:
    times, speed, _ = record(launched())
    later = times > 5.0
    assert find_runs(trace_of(times[later], speed[later]), TO_50).runs == ()


def test_lifting_on_the_way_is_told() -> None:
    times, speed, _ = record(launched())
    dipped = speed - 4.0 * np.exp(-(((times - 8.0) / 0.4) ** 2))
    (run,) = find_runs(trace_of(times, dipped), TO_50).runs
    assert any(note.startswith("The speed fell back by") for note in run.notes)


def test_rows_missing_within_a_run_are_told() -> None:
    times, speed, _ = record(launched())
    keep = ~((times > 7.05) & (times < 7.85))
    (run,) = find_runs(trace_of(times[keep], speed[keep]), TO_50).runs
    assert run.notes == ("Rows are missing for 0.9 s within it.",)
    assert run.value == pytest.approx(time_to(50 / 3.6) - time_to(FIRST_MOTION), abs=0.08)


def test_distance_ends_where_the_way_is_covered() -> None:
    (run,) = find_runs(trace_of(*record(launched(9.5), 25, 0.02)), OVER_80).runs
    begun = time_to(FIRST_MOTION)
    covered = way_after(begun + run.value) - way_after(begun)
    assert covered == pytest.approx(80.0, abs=0.2)
    assert run.end_speed == pytest.approx(float(speed_after(np.array(begun + run.value))), abs=0.1)


def test_distance_not_covered_and_machine_pushed() -> None:
    short = find_runs(trace_of(*record(launched(6.0))), OVER_80)
    assert short.runs == ()
    assert [miss.reason for miss in short.missed] == ["It went 70 m only."]
    drive = Drive()
    drive.stand(3.0)
    drive.add(60.0, lambda s: np.minimum(s, 1.4))
    drive.stand(3.0)
    assert find_runs(trace_of(*record(drive)), OVER_80).runs == ()


def test_rolling_counts_the_run_up_alone() -> None:
    drive = Drive()
    drive.add(6.0, lambda s: np.full(len(s), 20 / 3.6))
    leaving = time_to(20 / 3.6)
    drive.add(9.0, lambda s: speed_after(s + leaving))
    drive.brake(float(speed_after(np.array(9.0 + leaving))))
    (run,) = find_runs(trace_of(*record(drive, 10, 0.02)), ROLLING).runs
    assert run.value == pytest.approx(time_to(50 / 3.6) - time_to(25 / 3.6), abs=0.03)
    assert run.notes == ()


def test_rolling_out_of_a_standing_start_is_told() -> None:
    (run,) = find_runs(trace_of(*record(launched())), ROLLING).runs
    assert run.notes == ("It left from rest just before.",)


def test_plateau_is_the_mean_and_not_the_peak() -> None:
    drive = Drive()
    plateau(18.0, 6.0, drive)
    times, speed, _ = record(drive, 10, 0.2)
    (run,) = find_runs(trace_of(times, speed), TOP).runs
    assert float(speed.max()) * 3.6 > 64.8 + 1.0
    assert run.value == pytest.approx(64.8, abs=0.3)
    assert run.unit == "km/h"
    assert run.end - run.start >= 2.0


def test_peak_without_a_plateau_is_no_top_speed() -> None:
    found = find_runs(trace_of(*record(launched())), TOP)
    assert found.runs == ()
    assert "did not hold it for 2 s" in found.missed[0].reason


def test_coasting_counts_and_braking_does_not() -> None:
    drive = Drive()
    plateau(13.0, 2.0, drive)
    drive.stand(2.0)
    drive.launch(8.6)
    drive.brake(float(speed_after(np.array(8.6))))
    found = find_runs(trace_of(*record(drive)), COAST)
    assert [run.value for run in found.runs] == pytest.approx(
        [coast_time(40 / 3.6, 15 / 3.6)], abs=0.25
    )
    assert [miss.reason for miss in found.missed] == ["It was braked, not left to coast."]


def test_coasting_with_a_hand_on_the_brake_is_told() -> None:
    drive = Drive()
    drive.stand(2.0)
    drive.launch(time_to(13.0))
    drive.add(10.0, lambda s: coasting(13.0, s))
    at = float(coasting(13.0, np.array(10.0)))
    drive.add(8.0, lambda s: np.maximum(at - 1.8 * s, 0.0))
    (run,) = find_runs(trace_of(*record(drive)), COAST).runs
    assert run.notes == ("It slowed harder at the end than at the start: was the brake on?",)


def test_direction_from_the_course() -> None:
    drive = Drive()
    for heading in (262.0, 95.0, 0.0):
        drive.stand(4.0)
        drive.launch(8.6, heading)
        drive.brake(float(speed_after(np.array(8.6))), heading=heading)
    drive.stand(3.0)
    runs = find_runs(trace_of(*record(drive)), TO_50, WE).runs
    assert [run.direction for run in runs] == ["W", "E", ""]
    assert [run.heading for run in runs] == pytest.approx([262.0, 95.0, 0.0], abs=0.1)


@given(course=st.floats(0, 360))
def test_direction_is_the_nearer_of_the_two(course: float) -> None:
    found = direction_of(course, WE)
    apart = {name: abs((course - b + 180) % 360 - 180) for name, b in WE.items()}
    assert found == (min(apart, key=lambda n: apart[n]) if min(apart.values()) <= 60 else "")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("W,E", {"W": 270.0, "E": 90.0}),
        ("out=250,back=70", {"out": 250.0, "back": 70.0}),
        ("out=250,back", {"out": 250.0, "back": 70.0}),
        ("out,back=70", {"out": 250.0, "back": 70.0}),
        ("nw , se", {"nw": 315.0, "se": 135.0}),
        ("out,back", {}),
    ],
)
def test_bearings_as_typed(text: str, wanted: dict[str, float]) -> None:
    assert dict(read_bearings(text)[1]) == wanted


@pytest.mark.parametrize("text", ["W", "W,E,N", "W,W", "out=400,back", "out=x,back"])
def test_bearings_that_are_none(text: str) -> None:
    with pytest.raises(InputError):
        read_bearings(text)


def test_rides_of_a_recording() -> None:
    (ride,) = find_rides(trace_of(*record(launched())))
    assert ride.top * 3.6 == pytest.approx(55.7, abs=0.5)
    assert ride.way == pytest.approx(way_after(8.6) + 15.56**2 / 6, abs=2)
    assert ride.heading == pytest.approx(270.0)
    assert ride.straight


@settings(max_examples=40, deadline=None)
@given(
    slope=st.floats(0.5, 4),
    start=st.floats(0.5, 5),
    share=st.floats(0.3, 0.7),
    rate=st.sampled_from([1, 5, 10, 25]),
)
def test_edge_of_a_straight_rise_is_exact(
    slope: float, start: float, share: float, rate: int
) -> None:
    times = np.arange(0, 12, 1 / rate)
    level = start + slope * share * 12
    rows = Samples(times, start + slope * times, 0.05, 0.0, 1 / rate)
    edge = edge_near(rows, level, 12 * share + 0.1, 0, len(times))
    assert edge is not None
    assert edge.time == pytest.approx(12 * share, abs=1e-6)
    assert edge.slope == pytest.approx(slope)


def test_what_is_looked_for_must_be_whole() -> None:
    with pytest.raises(InputError, match="does not say what to look for"):
        Wanted("50-25", "rolling", from_speed=14.0, to_speed=7.0)
