"""Projection of a clay reading to a new ratio, gasket, deck, lash, stroke and cam advance.

The gap normal to the piston's surface is ``C(a) = A + (x(a) + g) cos(phi) - L(a) cos(beta - phi)``
with the piston's travel x, gasket and deck g, valve lift L along the stem, stem angle beta and
surface angle phi; A is the same before and after. With a lift table the answer is exact within
this geometry. Without one there are two numbers, never one: a guaranteed lower bound and an
optimistic estimate. Rod stretch, valve float, flex and carbon are in none of them.
"""

from __future__ import annotations

import math
from functools import lru_cache

import msgspec

from core.engine.clay import ClayReading, ClayState
from core.engine.closest import (
    NEAR_TOP,
    gap_minimum,
    least_travel_change,
    lift_change,
    lift_curve,
    most_lift_change,
    same_crank,
    travel_change,
)
from core.engine.crank import travel_from
from core.engine.lift import LiftTable
from core.engine.train import LobeLift, ValveTrain, bounds_of_lift_change
from core.errors import InputError, UnknownInputError
from core.guards import between

__all__ = ["Projection", "ValveAngles", "project_clay"]

_REST_OF_TURN = tuple(float(angle) for angle in range(64, 300, 4))  # crank degrees


class ValveAngles(msgspec.Struct, frozen=True):
    """How valve and piston surface stand, both to the cylinder axis and in one plane."""

    stem: float = 0.0  # degrees, 0 upright
    surface: float = 0.0  # degrees of the surface's normal; 0 flat crown, = stem parallel pocket

    @property
    def piston_share(self) -> float:
        """``cos(phi)``: how much of the piston's travel counts."""
        return math.cos(math.radians(between("surface angle", self.surface, -60, 60, "°")))

    @property
    def valve_share(self) -> float:
        """``cos(beta - phi)``: how much of the valve's lift counts."""
        stem = between("stem angle", self.stem, -60, 60, "°")
        return math.cos(math.radians(stem - self.surface))


class Projection(msgspec.Struct, frozen=True):
    """What a clay reading says about another build; every number is m, and None is 'cannot say'.

    ``guaranteed`` is the best of the lower bounds that hold. ``exact`` exists only with a lift
    table and a measured reading. ``optimistic`` is the gap at the old tight point: the smallest
    gap may lie elsewhere and be less.
    """

    exact: float | None  # with a lift table, from a measured reading
    optimistic: float | None  # at the old tight point: an upper bound
    guaranteed: float  # lower bound: the gap is at least this
    guaranteed_any_angle: float  # lower bound wherever the tight point is, no table needed
    guaranteed_near_top: float  # lower bound with the tight point within 60° of top
    closest_old: float | None  # crank degrees after overlap top, with a table
    closest_new: float | None  # the same for the new build
    is_bound: bool  # the reading was a bound, so the answer is 'at least' and nothing more

    def text(self) -> str:
        """Return it as it is read out, each number named."""
        least = f"at least {self.guaranteed * 1000:.2f} mm"
        if self.is_bound:
            return f"{least} (the clay was not touched: there is no upper value)"
        if self.exact is not None:
            return f"{self.exact * 1000:.2f} mm (from the lift table)"
        hope = "" if self.optimistic is None else f", at best {self.optimistic * 1000:.2f} mm"
        return f"{least}{hope} (no lift table)"


def project_clay(
    reading: ClayReading,
    old: ValveTrain,
    new: ValveTrain,
    angles: ValveAngles,
    lobe: LobeLift | LiftTable,
) -> Projection:
    """Project a clay reading from the build it was taken on to another.

    Args:
        reading: touched and measured, or not touched (a bound).
        old: the build the clay was taken on; lash as it was then, zero if it was taken up.
        new: the build asked about.
        angles: of valve stem and piston surface.
        lobe: the table of lobe lift, or what is known of the lift without one.

    Returns:
        Exact: ``A = c1 - min[(x + g1) cos(phi) - L1 k]``,
        ``c2 = min[A + (x + g2) cos(phi) - L2 k]`` over 60 degrees either side of top,
        ``k = cos(beta - phi)``. Optimistic: the change of the gap at the old tight point.
        Guaranteed: ``c1 + (g2 - g1) cos(phi) + min(dx) cos(phi) - k max(dL)``.

    Raises:
        UnknownInputError: the clay was touched but not measured, or torn: nothing follows from it;
            or the cam was moved and there is no lift table.
        InputError: a build or the table is refused.

    Source: geometry of a valve along its stem and a piston along its axis; closed form, minimum
    found numerically. That the optimistic number is an upper bound: the gap at one angle is never
    below the smallest gap.
    """
    if reading.state is ClayState.TORN:
        raise UnknownInputError(
            "Unknown: the clay was torn, which is contact; nothing follows from it for another"
            " build.",
            ("thinnest clay",),
        )
    if isinstance(lobe, LiftTable):
        if lobe.measured_at == "valve":
            raise InputError(
                "The lift table was read at the valve: say with which ratio and lash first."
            )
        return _with_table(reading, old, new, angles, lobe)
    return _without_table(reading, old, new, angles, lobe)


def _with_table(
    reading: ClayReading, old: ValveTrain, new: ValveTrain, angles: ValveAngles, table: LiftTable
) -> Projection:
    share, k = angles.piston_share, angles.valve_share
    before, tight_old = gap_minimum(old, table, share, k)
    after, tight_new = gap_minimum(new, table, share, k)
    moved = reading.gap + (new.above_piston - old.above_piston) * share
    exact = moved + after - before
    any_lift = _most_lift_anywhere(old, new, table)
    lifts = zip(lift_curve(old, table), lift_curve(new, table), strict=True)
    near_lift = max(after_change - was for was, after_change in lifts)
    at_old = travel_change(old, new, tight_old) * share - k * lift_change(
        old, new, table, tight_old
    )
    anywhere = moved + _least_travel(old, new) * share - k * any_lift
    near = moved + least_travel_change(old, new) * share - k * near_lift
    return Projection(
        exact=None if reading.is_bound else exact,
        optimistic=None if reading.is_bound else moved + at_old,
        guaranteed=exact,
        guaranteed_any_angle=anywhere,
        guaranteed_near_top=near,
        closest_old=tight_old,
        closest_new=tight_new,
        is_bound=reading.is_bound,
    )


def _without_table(
    reading: ClayReading, old: ValveTrain, new: ValveTrain, angles: ValveAngles, lobe: LobeLift
) -> Projection:
    if old.advance != new.advance:
        raise UnknownInputError(
            "Unknown: the cam was moved, and without a lift table nothing is known of the lift"
            " at the new place.",
            ("lift table",),
        )
    share, k = angles.piston_share, angles.valve_share
    moved = reading.gap + (new.above_piston - old.above_piston) * share
    change = bounds_of_lift_change(old, new, lobe)
    near_lobe = LobeLift(lobe.highest if lobe.near_top is None else lobe.near_top)
    near_lift = bounds_of_lift_change(old, new, near_lobe).high
    near = moved + least_travel_change(old, new) * share - k * near_lift
    anywhere = moved + _least_travel(old, new) * share - k * change.high
    most_travel = max(travel_change(old, new, angle) for angle in (-lobe.tight_at, lobe.tight_at))
    best = moved + most_travel * share - k * change.low
    return Projection(
        exact=None,
        optimistic=None if reading.is_bound else best,
        guaranteed=max(anywhere, near),
        guaranteed_any_angle=anywhere,
        guaranteed_near_top=near,
        closest_old=None,
        closest_new=None,
        is_bound=reading.is_bound,
    )


def _most_lift_anywhere(old: ValveTrain, new: ValveTrain, table: LiftTable) -> float:
    if old.advance == new.advance:
        return bounds_of_lift_change(old, new, LobeLift(table.peak)).high
    return most_lift_change(old, new, table)


def _least_travel(old: ValveTrain, new: ValveTrain) -> float:
    if same_crank(old, new):
        return 0.0
    return _least_of_turn((old.stroke, old.rod, old.offset), (new.stroke, new.rod, new.offset))


@lru_cache(maxsize=256)
def _least_of_turn(old: tuple[float, float, float], new: tuple[float, float, float]) -> float:
    """Return the least change of travel over a turn between two cranks, m."""
    angles = (*NEAR_TOP, *_REST_OF_TURN)
    return min(travel_from(angle, *new) - travel_from(angle, *old) for angle in angles)
