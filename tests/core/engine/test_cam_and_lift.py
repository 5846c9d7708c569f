"""Cam events, lift tables and durations: inverses, a known lobe, and tables that are none."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import engine
from core.errors import InputError, OutOfRangeError

EVENTS = st.builds(
    engine.CamEvents,
    st.floats(-40, 60),
    st.floats(0, 90),
    st.floats(0, 90),
    st.floats(-40, 60),
)
HIGHEST = 6.5e-3  # m


def lobe(angle: float, opening: float = 150.0, closing: float = 150.0, at: float = 105.0) -> float:
    """Return the lift of ``H cos²``, its flanks of given half width, m."""
    u = angle - at
    half = opening if u < 0 else closing
    return HIGHEST * math.cos(math.pi * u / (2 * half)) ** 2 if abs(u) < half else 0.0


def table(step: float, opening: float = 150.0, closing: float = 150.0) -> engine.LiftTable:
    angles = [-60 + step * i for i in range(int(340 / step) + 1)]
    lifts = tuple(round(lobe(a, opening, closing), 5) for a in angles)
    return engine.LiftTable(tuple(angles), lifts)


@given(events=EVENTS)
def test_events_and_centres_are_inverse(events: engine.CamEvents) -> None:
    timing = engine.cam_timing(events)
    back = engine.events_from_centres(
        timing.intake_duration,
        timing.exhaust_duration,
        timing.intake_centre,
        timing.exhaust_centre,
    )
    for name in ("intake_opens", "intake_closes", "exhaust_opens", "exhaust_closes"):
        assert getattr(back, name) == pytest.approx(getattr(events, name), abs=1e-9)


@given(events=EVENTS)
def test_overlap_by_the_other_equation(events: engine.CamEvents) -> None:
    timing = engine.cam_timing(events)
    half = (timing.intake_duration + timing.exhaust_duration) / 2
    assert timing.overlap == pytest.approx(half - 2 * timing.separation, abs=1e-9)


@given(events=EVENTS, degrees=st.floats(-15, 15))
def test_moving_the_cam_moves_only_the_advance(events: engine.CamEvents, degrees: float) -> None:
    before = engine.cam_timing(events)
    after = engine.cam_timing(engine.advanced(events, degrees))
    assert after.advance - before.advance == pytest.approx(degrees, abs=1e-9)
    assert after.separation == pytest.approx(before.separation, abs=1e-9)
    assert after.overlap == pytest.approx(before.overlap, abs=1e-9)
    assert after.intake_duration == pytest.approx(before.intake_duration, abs=1e-9)


def test_event_on_the_wrong_side() -> None:
    with pytest.raises(InputError, match="Intake duration comes to -20°"):
        engine.cam_timing(engine.CamEvents(-100, -100, 44, 8))
    with pytest.raises(OutOfRangeError, match="Intake opens is 200 °"):
        engine.cam_timing(engine.CamEvents(200, 42, 44, 8))


@pytest.mark.parametrize("step", [10, 5, 1])
@pytest.mark.parametrize("lift", [0.5e-3, 1.0e-3, 1.27e-3, 3.0e-3])
def test_duration_against_the_true_lobe(step: float, lift: float) -> None:
    """cos² solved for the lift: closed form. Off by rounding (5 microns) and by the bend between
    rows (curvature times step² over 8), both over the slope, at both crossings."""
    true = 4 * 150.0 / math.pi * math.acos(math.sqrt(lift / HIGHEST))
    half, bend = math.pi / 300, HIGHEST * math.pi**2 / (2 * 150**2)
    slope = HIGHEST * half * math.sin(2 * math.acos(math.sqrt(lift / HIGHEST)))
    off = 2 * (5e-6 + bend * step**2 / 8) / slope
    assert engine.checked_duration(table(step), lift).duration == pytest.approx(true, abs=off)


def test_lopsided_lobe() -> None:
    """Opening flank 130, closing flank 160: each crossing by its own flank; centre is not peak."""
    rows = table(2, 130, 160)
    found = engine.checked_duration(rows, 1.0e-3)
    share = 2 / math.pi * math.acos(math.sqrt(1.0e-3 / HIGHEST))
    assert found.opens == pytest.approx(105 - 130 * share, abs=0.2)
    assert found.closes == pytest.approx(105 + 160 * share, abs=0.2)
    assert rows.peak_angle == pytest.approx(105, abs=1.0)
    assert found.centre - rows.peak_angle > 8


@given(angle=st.floats(-45, 250), step=st.sampled_from([2.0, 4.0, 5.0]))
def test_lift_between_rows(angle: float, step: float) -> None:
    """The cubic stays within the rounding of the rows and a few microns of the true lobe."""
    assert table(step).lift(angle) == pytest.approx(lobe(angle), abs=12e-6)


@given(angle=st.floats(-45, 250), degrees=st.floats(-20, 20))
def test_advance_shifts_the_table(angle: float, degrees: float) -> None:
    rows = table(2)
    moved = engine.advanced_table(rows, degrees)
    assert moved.lift(angle - degrees) == pytest.approx(rows.lift(angle), abs=1e-12)
    assert moved.peak_angle == pytest.approx(rows.peak_angle - degrees)


@given(lift=st.floats(0, 0.01), ratio=st.floats(0.8, 1.6), lash=st.floats(0, 0.0004))
def test_valve_and_lobe_lift_are_inverse(lift: float, ratio: float, lash: float) -> None:
    lobe_lift = engine.lobe_lift_for(lift, ratio, lash)
    assert engine.valve_lift(lobe_lift, ratio, lash) == pytest.approx(lift, abs=1e-12)


def test_lash_on_the_pushrod_side_counts_times_the_ratio() -> None:
    at_valve = engine.valve_lift(0.0065, 1.3, 0.00013)
    at_pushrod = engine.valve_lift(0.0065, 1.3, 0.0001, "pushrod")
    assert at_valve == pytest.approx(at_pushrod, abs=1e-15)


@given(lift=st.floats(0.6e-3, 5e-3), more=st.floats(0.05e-3, 1e-3))
def test_duration_falls_with_lift_and_with_lash(lift: float, more: float) -> None:
    rows = table(5)
    at = engine.checked_duration(rows, lift)
    assert engine.checked_duration(rows, lift + more).duration < at.duration
    assert engine.checked_duration(rows, lift, 1.0, more).duration < at.duration


def test_table_at_the_valve_goes_back_to_the_lobe() -> None:
    rows = table(2)
    lifted = tuple(engine.valve_lift(h, 1.2, 0.1e-3) for h in rows.lifts)
    at_valve = engine.LiftTable(rows.angles, lifted, "valve")
    back = engine.lobe_table(at_valve, 1.2, 0.1e-3)
    for was, found in zip(rows.lifts, back.lifts, strict=True):
        assert found == pytest.approx(was, abs=1e-12) or (found == 0.0 and was <= 0.1e-3 / 1.2)
    with pytest.raises(InputError, match="ratio and lash are in it already"):
        engine.checked_duration(at_valve, 1e-3, 1.2)
    with pytest.raises(InputError, match="read at the lobe already"):
        engine.lobe_table(rows, 1.2, 0.0)


def test_durations_at_different_lifts_do_not_compare() -> None:
    rows = table(5)
    short, long = (engine.checked_duration(rows, lift) for lift in (1.27e-3, 1.0e-3))
    with pytest.raises(InputError) as caught:
        engine.duration_difference(short, long)
    assert str(caught.value) == (
        "One duration is at 1.27 mm lobe lift, the other at 1 mm lobe lift:"
        " they cannot be compared."
    )
    at_valve = engine.checked_duration(rows, 1.27e-3, 1.1, 0.1e-3)
    with pytest.raises(InputError, match="valve lift"):
        engine.duration_difference(short, at_valve)
    again = engine.checked_duration(table(2), 1.27e-3)
    assert engine.duration_difference(short, again) == pytest.approx(0, abs=0.5)


@pytest.mark.parametrize(
    ("angles", "lifts", "words"),
    [
        ((0, 10, 10, 30), (0, 1.5, 2.0, 0), "Angle 10° follows 10°: angles must increase"),
        ((0, 20, 10, 30), (0, 1.5, 2.0, 0), "Angle 10° follows 20°"),
        ((0, 10, 20, 30, 40), (0, 2, 1, 2.5, 0), "Lift at 20° dips before the peak"),
        ((0, 10, 20, 30, 40), (0, 2.5, 1, 2, 0), "Lift at 20° dips after the peak"),
        ((0, 10, 20, 30), (0, 0, 0, 0), "holds no lift"),
        ((0, 10, 20, 30), (0, 1, -1, 0), "Lift at 20° is -1 mm: it cannot be below zero"),
        ((0, 10, 20), (0, 1, 0), "has 3 rows"),
        ((0, 10, 20, 30), (0, 1, 0), "4 angles but 3 lifts"),
        ((0, 240, 480, 720), (0, 1, 2, 0), "spans 720° or more"),
        ((0, 10, math.nan, 30), (0, 1, 2, 0), "not a number"),
    ],
)
def test_tables_that_are_none(
    angles: tuple[float, ...], lifts: tuple[float, ...], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        engine.LiftTable(angles, tuple(lift * 1e-3 for lift in lifts))


def test_scatter_of_a_dial_near_the_nose_is_no_second_rise() -> None:
    lifts = (0, 2.0e-3, 3.00e-3, 2.99e-3, 3.01e-3, 2.0e-3, 0)
    rows = engine.LiftTable((0, 10, 20, 30, 40, 50, 60), lifts)
    assert rows.peak == 3.01e-3


def test_lift_at_or_above_the_highest() -> None:
    rows = engine.LiftTable((0, 10, 20, 30), (0, 0.3e-3, 0.8e-3, 1.0e-3))
    with pytest.raises(InputError, match=r"1\.27 mm is not below the highest lift of the table"):
        engine.checked_duration(rows, 1.27e-3)


def test_table_that_never_comes_down() -> None:
    rows = engine.LiftTable((0, 10, 20, 30), (0, 0.3e-3, 0.8e-3, 1.0e-3))
    with pytest.raises(InputError, match=r"does not pass 0\.5 mm on the way down"):
        engine.checked_duration(rows, 0.5e-3)
    with pytest.raises(OutOfRangeError, match="ends at 30° with the valve still going up"):
        rows.lift(40)
    assert rows.lift(-20) == 0.0


def test_flat_nose_has_its_peak_in_the_middle() -> None:
    rows = engine.LiftTable((0, 10, 20, 30, 40), (0, 1e-3, 2e-3, 2e-3, 0))
    assert rows.peak_angle == 25
