"""Volumes, ratios, crank and motion: inverses, derivatives, a root finder, and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core import engine
from core.errors import InputError

BORES = st.floats(0.05, 0.09)
STROKES = st.floats(0.04, 0.07)
RODS = st.floats(0.075, 0.14)
OFFSETS = st.floats(-0.003, 0.003)
ANGLES = st.floats(-360, 720)
MM, CC = 1e-3, 1e-6


def pin_height(angle: float, stroke: float, rod: float, offset: float) -> float:
    """Return how high the pin is above the crank by bisection: the point at rod length from the
    crankpin on the line of the cylinder."""
    turn, throw = math.radians(angle), stroke / 2
    across, along = throw * math.sin(turn) - offset, throw * math.cos(turn)
    low, high = along, along + 2 * rod
    for _ in range(200):
        middle = (low + high) / 2
        if math.hypot(across, middle - along) < rod:
            low = middle
        else:
            high = middle
    return low


@given(angle=ANGLES, stroke=STROKES, rod=RODS, offset=OFFSETS)
def test_travel_against_a_root_finder(
    angle: float, stroke: float, rod: float, offset: float
) -> None:
    top = engine.dead_centres(stroke, rod, offset).top
    fall = pin_height(top, stroke, rod, offset) - pin_height(angle, stroke, rod, offset)
    assert engine.piston_travel(angle, stroke, rod, offset) == pytest.approx(fall, abs=1e-12)


@given(stroke=STROKES, rod=RODS, offset=OFFSETS)
def test_piston_turns_round_at_the_dead_centres(stroke: float, rod: float, offset: float) -> None:
    found = engine.dead_centres(stroke, rod, offset)
    for angle in (found.top, found.bottom):
        assert engine.piston_speed(angle, stroke, rod, 3000, offset) == pytest.approx(0, abs=1e-9)
    bottom = engine.piston_travel(found.bottom, stroke, rod, offset)
    assert bottom == pytest.approx(found.stroke, abs=1e-12)
    assert engine.piston_travel(found.top, stroke, rod, offset) == pytest.approx(0, abs=1e-12)


@given(angle=ANGLES, stroke=STROKES, rod=RODS, offset=OFFSETS)
def test_speed_and_acceleration_are_derivatives(
    angle: float, stroke: float, rod: float, offset: float
) -> None:
    """Central differences over a hundredth of a degree at 3,000 rpm (18,000 degrees a second)."""
    step, rpm = 0.01, 3000.0
    seconds = 2 * step / (6 * rpm)
    ends = [engine.piston_travel(angle + s, stroke, rod, offset) for s in (step, -step)]
    speed = engine.piston_speed(angle, stroke, rod, rpm, offset)
    assert (ends[0] - ends[1]) / seconds == pytest.approx(speed, abs=1e-5)
    rates = [engine.piston_speed(angle + s, stroke, rod, rpm, offset) for s in (step, -step)]
    found = engine.piston_acceleration(angle, stroke, rod, rpm, offset)
    assert (rates[0] - rates[1]) / seconds == pytest.approx(found, rel=1e-5, abs=1e-2)


@given(stroke=STROKES, rod=RODS)
def test_acceleration_at_top(stroke: float, rod: float) -> None:
    """r w² (1 + r/l), exact there without offset."""
    omega = 2 * math.pi * 4000 / 60
    wanted = stroke / 2 * omega**2 * (1 + stroke / 2 / rod)
    assert engine.piston_acceleration(0, stroke, rod, 4000) == pytest.approx(wanted, rel=1e-12)
    assert engine.inertia_force(0.25, stroke, rod, 4000) == pytest.approx(wanted / 4, rel=1e-12)


def test_peak_speed_is_the_highest_of_a_fine_sweep() -> None:
    sweep = max(engine.piston_speed(i / 100, 0.054, 0.084, 6200, 0.0012) for i in range(0, 18_000))
    assert engine.peak_piston_speed(0.054, 0.084, 6200, 0.0012) == pytest.approx(sweep, rel=1e-7)


@given(stroke=STROKES, rod=RODS, rpm=st.floats(500, 9000))
def test_mean_speed_is_the_mean_of_the_speeds(stroke: float, rod: float, rpm: float) -> None:
    steps = 720
    total = sum(abs(engine.piston_speed((i + 0.5) / 2, stroke, rod, rpm)) for i in range(steps))
    assert total / steps == pytest.approx(engine.mean_piston_speed(stroke, rpm), rel=1e-4)


@given(bore=BORES, stroke=STROKES, chamber=st.floats(15 * CC, 35 * CC), ratio=st.floats(5, 12))
def test_chamber_for_a_ratio_gives_that_ratio(
    bore: float, stroke: float, chamber: float, ratio: float
) -> None:
    swept = engine.swept_volume(bore, stroke)
    clearance = engine.clearance_volume(chamber, bore, 0.2 * MM, bore + MM, MM, 2 * CC)
    rest = clearance - chamber
    assume(swept / (ratio - 1) > rest)
    wanted = engine.chamber_for_ratio(ratio, swept, clearance, chamber)
    found = engine.clearance_volume(wanted, bore, 0.2 * MM, bore + MM, MM, 2 * CC)
    assert engine.compression_ratio(swept, found) == pytest.approx(ratio, rel=1e-9)


def test_longer_stroke_by_the_bench_book() -> None:
    """70 x 54 is 207.8 cm³, 57 is 219.4; deck kept, 8.80 goes to 9.24: common practice sums."""
    clearance = 207.8 / (8.80 - 1) * CC
    assert engine.swept_volume(0.070, 0.054) / CC == pytest.approx(207.8, abs=0.05)
    longer = engine.swept_volume(0.070, 0.057)
    assert longer / CC == pytest.approx(219.4, abs=0.05)
    assert engine.compression_ratio(longer, clearance) == pytest.approx(9.24, abs=0.01)


def test_longer_stroke_brings_the_piston_to_the_head() -> None:
    deck = engine.deck_after_stroke(0.25 * MM, 0.054, 0.057)
    assert deck == pytest.approx(-1.25 * MM)
    assert engine.head_gap(deck, 0.8 * MM) == pytest.approx(-0.45 * MM)
    assert engine.head_gap(0.25 * MM, 0.8 * MM) == pytest.approx(1.05 * MM)


@given(bore=BORES, stroke=STROKES, rod=RODS, closes=st.floats(0, 89), offset=OFFSETS)
def test_trapped_ratio_falls_the_later_the_valve_shuts(
    bore: float, stroke: float, rod: float, closes: float, offset: float
) -> None:
    swept = engine.swept_volume(bore, engine.dead_centres(stroke, rod, offset).stroke)
    clearance = swept / 7.5
    ratio = engine.trapped_ratio(bore, stroke, rod, clearance, closes, offset)
    later = engine.trapped_ratio(bore, stroke, rod, clearance, closes + 1, offset)
    assert later < ratio <= engine.compression_ratio(swept, clearance) * (1 + 1e-12)


def test_shut_at_bottom_traps_all() -> None:
    swept = engine.swept_volume(0.068, 0.054)
    assert engine.trapped_volume(0.068, 0.054, 0.084, 0) == pytest.approx(swept, rel=1e-12)
    assert engine.trapped_volume(0.068, 0.054, 0.084, 180) == pytest.approx(0, abs=1e-12)
    with pytest.raises(InputError, match="Swept volume is 0 cm³"):
        engine.trapped_ratio(0.068, 0.054, 0.084, 26 * CC, 180)


@given(rpm=st.floats(100, 9000))
def test_rod_load_goes_with_speed_squared(rpm: float) -> None:
    ratio = engine.inertia_force(0.2, 0.054, 0.084, rpm) / engine.inertia_force(
        0.2, 0.054, 0.084, 3600
    )
    assert engine.relative_rod_load(rpm) == pytest.approx(ratio, rel=1e-9)


def test_ring_stress_by_cutting_the_ring_in_half() -> None:
    """Half a thin ring is pulled apart by its inertia: 2 s A = integral of rho A v² sin."""
    rim = engine.rim_speed(0.160, 5500)
    steps = 20_000
    pull = sum(math.sin(math.pi * (i + 0.5) / steps) * math.pi / steps for i in range(steps))
    assert engine.ring_stress(rim) == pytest.approx(7200 * rim**2 * pull / 2, rel=1e-6)


@pytest.mark.parametrize(
    ("bore", "stroke", "words"),
    [
        (0.0, 0.054, "Bore is 0 mm: a bore must be above zero."),
        (-0.068, 0.054, "Bore is -68 mm: a bore must be above zero."),
        (0.068, 0.0, "Stroke is 0 mm: a stroke must be above zero."),
    ],
)
def test_no_bore_no_stroke(bore: float, stroke: float, words: str) -> None:
    with pytest.raises(InputError) as caught:
        engine.swept_volume(bore, stroke)
    assert str(caught.value) == words


def test_rod_shorter_than_the_throw() -> None:
    with pytest.raises(InputError) as caught:
        engine.piston_travel(90, 0.054, 0.020)
    assert str(caught.value) == (
        "Rod is 20 mm: it must be longer than throw and pin offset together (27 mm),"
        " or the crank cannot turn."
    )
    with pytest.raises(InputError, match="cannot turn"):
        engine.dead_centres(0.054, 0.0285, -0.002)


def test_nothing_left_above_the_piston() -> None:
    with pytest.raises(InputError, match="nothing is left above the piston"):
        engine.clearance_volume(20 * CC, 0.068, -8 * MM, 0.069, 1 * MM)


def test_ratio_that_no_chamber_gives() -> None:
    with pytest.raises(InputError, match="No chamber gives 60"):
        engine.chamber_for_ratio(60, 196 * CC, 27 * CC, 21 * CC)
    with pytest.raises(InputError, match="must be above 1"):
        engine.chamber_for_ratio(1, 196 * CC, 27 * CC, 21 * CC)
