"""Projection of clay readings, against a model that draws valve and piston in the plane.

The model knows nothing of the formula: it puts the edge of the valve head and the piston's face
where lift and crank angle put them, and measures the distance between point and line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from core.engine import (
    ClayReading,
    ClayState,
    LiftTable,
    LobeLift,
    Projection,
    ValveAngles,
    ValveTrain,
    gap_curve,
    project_clay,
)
from core.errors import InputError, OutOfRangeError, UnknownInputError
from core.ranged import Ranged, carry

MM = 1e-3
HIGHEST, HALF = 6.5 * MM, 150.0  # lobe: height, half width in crank degrees
FLAT = ValveAngles()
OLD = ValveTrain(rocker_ratio=1.0, lash=0.10 * MM, gasket=1.1 * MM)


def lobe(angle: float, centre: float) -> float:
    u = angle - centre
    return HIGHEST * math.cos(math.pi * u / (2 * HALF)) ** 2 if abs(u) < HALF else 0.0


def table(centre: float, step: float = 2.0) -> LiftTable:
    angles = [centre - 170 + step * i for i in range(int(340 / step) + 1)]
    return LiftTable(tuple(angles), tuple(round(lobe(a, centre), 7) for a in angles))


@dataclass(frozen=True)
class Drawing:
    """A valve and a piston face in one plane; the stem leans by beta, the face by phi."""

    beta: float
    phi: float
    centre: float
    start: float  # how far the face's point lies below the valve's edge, all shut and at top, m

    def gap(self, train: ValveTrain, angle: float) -> float:
        beta, phi = math.radians(self.beta), math.radians(self.phi)
        lift = train.rocker_ratio * lobe(angle + train.advance, self.centre) - train.lash
        lift = max(0.0, lift)
        edge = (-lift * math.sin(beta), -lift * math.cos(beta))
        face = (0.0, -self.start - train.gasket - train.deck - self._fall(train, angle))
        along = (math.cos(phi), -math.sin(phi))  # of the face; its normal leans by phi
        across = (edge[0] - face[0], edge[1] - face[1])
        return along[0] * across[1] - along[1] * across[0]

    @staticmethod
    def _fall(train: ValveTrain, angle: float) -> float:
        throw, turn = train.stroke / 2, math.radians(angle)
        pin = throw * math.cos(turn) + math.sqrt(train.rod**2 - (throw * math.sin(turn)) ** 2)
        return throw + train.rod - pin

    def smallest(self, train: ValveTrain) -> tuple[float, float]:
        """Return the smallest gap over all that matters, by a fine sweep, and its angle."""
        return min((self.gap(train, a / 10), a / 10) for a in range(-900, 901))


def read(drawing: Drawing) -> ClayReading:
    gap = drawing.smallest(OLD)[0]
    return ClayReading(ClayState.TOUCHED, gap)


def model(
    beta: float = 0.0, phi: float = 0.0, centre: float = 104.0, start: float = 2.0 * MM
) -> Drawing:
    return Drawing(beta, phi, centre, start)


TRAINS = st.builds(
    ValveTrain,
    rocker_ratio=st.floats(0.9, 1.3),
    lash=st.floats(0, 0.25 * MM),
    gasket=st.floats(0.25 * MM, 1.6 * MM),
    deck=st.floats(-0.3 * MM, 0.5 * MM),
    stroke=st.floats(0.050, 0.058),
    rod=st.floats(0.080, 0.100),
    advance=st.floats(-6, 6),
)
DRAWINGS = st.builds(
    Drawing,
    beta=st.floats(0, 15),
    phi=st.floats(0, 12),
    centre=st.one_of(st.floats(100, 112), st.floats(-114, -102)),
    start=st.just(2.5 * MM),
)


def check_order(found: Projection, truth: float) -> None:
    assert found.guaranteed_any_angle <= found.guaranteed_near_top + 1e-9
    assert found.guaranteed_near_top <= truth + 5e-6


@settings(max_examples=60, deadline=None)
@given(new=TRAINS, drawing=DRAWINGS)
def test_with_a_table_the_answer_is_exact(new: ValveTrain, drawing: Drawing) -> None:
    """Within 5 microns of the drawing, bounds on their own sides, for any change at once."""
    reading, angles = read(drawing), ValveAngles(drawing.beta, drawing.phi)
    truth, angle = drawing.smallest(new)
    if abs(angle) > 59 or drawing.smallest(OLD)[0] <= 0:
        return
    found = project_clay(reading, OLD, new, angles, table(drawing.centre))
    assert found.exact == pytest.approx(truth, abs=5e-6)
    assert found.closest_new == pytest.approx(angle, abs=0.6)
    assert found.optimistic is not None
    assert found.optimistic >= truth - 5e-6
    check_order(found, truth)


@settings(max_examples=60, deadline=None)
@given(new=TRAINS, drawing=DRAWINGS)
def test_without_a_table_the_bound_holds(new: ValveTrain, drawing: Drawing) -> None:
    """Guaranteed whatever the new ratio, gasket, deck, lash, stroke and rod."""
    new = replace(new, advance=0.0)
    truth, angle = drawing.smallest(new)
    if abs(angle) > 59 or drawing.smallest(OLD)[0] <= 0:
        return
    angles = ValveAngles(drawing.beta, drawing.phi)
    near = max(lobe(float(a), drawing.centre) for a in range(-60, 61))
    for known in (LobeLift(HIGHEST), LobeLift(HIGHEST, near)):
        found = project_clay(read(drawing), OLD, new, angles, known)
        assert found.exact is None
        check_order(found, truth)
        assert found.guaranteed == max(found.guaranteed_any_angle, found.guaranteed_near_top)
        assert found.optimistic is not None
        assert found.optimistic >= truth - 10e-6 or new.stroke != OLD.stroke


def test_same_build_projects_to_itself() -> None:
    reading = ClayReading(ClayState.TOUCHED, 2.06 * MM)
    found = project_clay(reading, OLD, OLD, FLAT, table(104))
    assert found.exact == pytest.approx(2.06 * MM)
    assert found.guaranteed_any_angle == pytest.approx(2.06 * MM)
    assert found.closest_old == found.closest_new


def test_bigger_rocker_and_thinner_gasket_by_the_bench_rule() -> None:
    """3.5 - 0.3 - 1.6 x 0.25 = 2.8 mm: common practice, no source."""
    new = replace(OLD, rocker_ratio=1.25, gasket=0.8 * MM)
    seen = LobeLift(6.0 * MM, tight_point=1.6 * MM)
    found = project_clay(ClayReading(ClayState.TOUCHED, 3.5 * MM), OLD, new, FLAT, seen)
    assert found.optimistic == pytest.approx(2.8 * MM)
    assert found.guaranteed == pytest.approx((3.5 - 0.3 - 6.0 * 0.25) * MM)
    assert found.text() == "at least 1.70 mm, at best 2.80 mm (no lift table)"


def test_clay_not_touched_stays_a_bound() -> None:
    new = replace(OLD, rocker_ratio=1.2)
    reading = ClayReading(ClayState.NOT_TOUCHED, applied=6 * MM)
    found = project_clay(reading, OLD, new, FLAT, LobeLift(6.5 * MM, 2.0 * MM))
    assert found.is_bound
    assert found.exact is None
    assert found.optimistic is None
    assert found.guaranteed_any_angle == pytest.approx(4.7 * MM)
    assert found.guaranteed == pytest.approx(5.6 * MM)
    assert found.text().startswith("at least 5.60 mm")


def test_a_table_makes_the_bound_of_untouched_clay_tighter() -> None:
    new = replace(OLD, rocker_ratio=1.2, gasket=0.8 * MM)
    reading = ClayReading(ClayState.NOT_TOUCHED, applied=2 * MM)
    found = project_clay(reading, OLD, new, FLAT, table(104))
    touched = project_clay(ClayReading(ClayState.TOUCHED, 2 * MM), OLD, new, FLAT, table(104))
    assert found.exact is None
    assert found.guaranteed == touched.exact
    assert found.guaranteed > found.guaranteed_near_top > found.guaranteed_any_angle


@pytest.mark.parametrize("state", [ClayState.TORN, ClayState.TOUCHED_UNMEASURED])
def test_nothing_follows_from_torn_or_unmeasured_clay(state: ClayState) -> None:
    with pytest.raises(UnknownInputError) as caught:
        project_clay(ClayReading(state), OLD, OLD, FLAT, table(104))
    assert caught.value.missing == ("thinnest clay",)
    assert str(caught.value).startswith("Unknown: the clay was")


def test_moved_cam_without_a_table_is_unknown() -> None:
    reading = ClayReading(ClayState.TOUCHED, 2 * MM)
    with pytest.raises(UnknownInputError) as caught:
        project_clay(reading, OLD, replace(OLD, advance=4.0), FLAT, LobeLift(HIGHEST))
    assert caught.value.missing == ("lift table",)


@given(degrees=st.floats(0.5, 8))
def test_advanced_cam_brings_the_intake_nearer(degrees: float) -> None:
    reading = ClayReading(ClayState.TOUCHED, 2 * MM)
    found = project_clay(reading, OLD, replace(OLD, advance=degrees), FLAT, table(104))
    back = project_clay(reading, OLD, replace(OLD, advance=-degrees), FLAT, table(104))
    assert found.exact is not None
    assert back.exact is not None
    assert found.exact < 2 * MM < back.exact


def test_longer_stroke_with_nothing_done_about_the_deck() -> None:
    """Piston 1.5 mm higher at top, falling away faster: the gap shrinks by a little less."""
    from core.engine import deck_after_stroke

    new = replace(OLD, stroke=0.057, deck=deck_after_stroke(0.0, 0.054, 0.057))
    reading = ClayReading(ClayState.TOUCHED, 3 * MM)
    found = project_clay(reading, OLD, new, FLAT, table(104))
    assert found.exact is not None
    assert 1.5 * MM < found.exact < 1.6 * MM


def test_table_read_at_the_valve_is_asked_about() -> None:
    rows = table(104)
    with pytest.raises(InputError, match="with which ratio and lash"):
        project_clay(
            ClayReading(ClayState.TOUCHED, 2 * MM),
            OLD,
            OLD,
            FLAT,
            LiftTable(rows.angles, rows.lifts, "valve"),
        )


def test_table_that_ends_while_the_valve_still_goes_up() -> None:
    rows = table(104)
    some = [(a, h) for a, h in zip(rows.angles, rows.lifts, strict=True) if a <= 20]
    short = LiftTable(tuple(a for a, _ in some), tuple(h for _, h in some))
    with pytest.raises(OutOfRangeError, match="ends at 20° with the valve still going up"):
        project_clay(ClayReading(ClayState.TOUCHED, 2 * MM), OLD, OLD, FLAT, short)


def test_range_of_the_clay_goes_through() -> None:
    """A gap moves one for one with the clay: 0.2 mm in, 0.2 mm out, and more with the gasket."""
    rows = table(104)

    def projected(clay: float, gasket: float) -> float:
        new = replace(OLD, rocker_ratio=1.2, gasket=gasket)
        found = project_clay(ClayReading(ClayState.TOUCHED, clay), OLD, new, FLAT, rows)
        assert found.exact is not None
        return found.exact

    found = carry(
        projected,
        clay=Ranged.within(2.06 * MM, 0.2 * MM),
        gasket=Ranged.within(0.8 * MM, 0.02 * MM),
    )
    assert found.high - found.value == pytest.approx(math.hypot(0.2, 0.02) * MM, rel=1e-6)


def test_curve_has_its_minimum_at_the_closest_approach() -> None:
    curve = gap_curve(OLD, table(104), 1.0, 1.0)
    found = project_clay(ClayReading(ClayState.TOUCHED, 2 * MM), OLD, OLD, FLAT, table(104))
    lowest = min(range(len(curve)), key=curve.__getitem__) - 60
    assert found.closest_old == pytest.approx(lowest, abs=1.0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"rocker_ratio": 0.0}, "Rocker ratio is 0"),
        ({"lash": -0.1 * MM}, "Lash is -0.1 mm"),
        ({"gasket": -0.1 * MM}, "Gasket thickness is -0.1 mm"),
        ({"rod": 0.02}, "cannot turn"),
    ],
)
def test_builds_that_are_none(change: dict[str, float], words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(OLD, **change)


def test_valve_that_lies_flat() -> None:
    with pytest.raises(OutOfRangeError, match="Stem angle is 85"):
        project_clay(
            ClayReading(ClayState.TOUCHED, 2 * MM), OLD, OLD, ValveAngles(85, 0), table(104)
        )
