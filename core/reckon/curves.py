"""Lift, piston and gap over crank angle, for a picture; needs a lift table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.bench import ClayOnFile, LiftTables, Side
from core.engine import NEAR_TOP, LiftTable, ValveAngles, ValveTrain, gap_curve, travel_from
from core.errors import UnknownInputError
from core.reckon.builds import builds_between
from core.reckon.gaps import UPRIGHT
from core.setup import Sheet

__all__ = ["GapCurves", "gap_curves"]

_MM = 1e-3  # m in a mm


@dataclass(frozen=True)
class GapCurves:
    """Three curves over the same crank angles; all mm."""

    side: Side
    angles: tuple[float, ...]  # crank degrees after overlap top, -60 to 60
    lift: tuple[float, ...]  # of the valve
    piston: tuple[float, ...]  # below its top
    gap: tuple[float, ...]  # between them, normal to the piston's surface

    @property
    def closest(self) -> tuple[float, float]:
        """Crank angle and gap where they come closest."""
        i = self.gap.index(min(self.gap))
        return self.angles[i], self.gap[i]


def gap_curves(
    side: Side,
    sheet: Sheet,
    clay: ClayOnFile,
    tables: LiftTables,
    *,
    halves: Mapping[str, float] | None = None,
    angles: ValveAngles = UPRIGHT,
) -> GapCurves:
    """Return lift, piston and gap of a build over 60 degrees either side of top.

    Args:
        side: intake or exhaust.
        sheet: the build asked about.
        clay: reading on file, with the build it was taken on.
        tables: lift tables of the cam.
        halves: give or take of the sheet's values by slot.
        angles: of valve stem and crown.

    Raises:
        UnknownInputError: no lift table or clay of this side, or a value is not known.

    Source: ``A + (x + g) cos(phi) - L cos(beta - phi)``; closed form.
    """
    builds = builds_between(side, clay, sheet, tables, halves or {})
    reading, table = clay.sides[0 if side == "intake" else 1], builds.lobe
    if not isinstance(table, LiftTable):
        raise UnknownInputError(
            "Unknown: a curve needs the lift table of this side, stroke and rod length.",
            ("lift table",),
        )
    if reading is None:
        raise UnknownInputError("Unknown: no clay reading of this side is on file.", (side,))
    share, k = angles.piston_share, angles.valve_share
    old, new = builds.trains(builds.height.value, 0.0)
    moved = reading.gap - min(gap_curve(old, table, share, k)) + builds.height.value * share
    return GapCurves(
        side,
        NEAR_TOP,
        tuple(_lift(new, table, angle) / _MM for angle in NEAR_TOP),
        tuple(travel_from(a, new.stroke, new.rod, new.offset) / _MM for a in NEAR_TOP),
        tuple((gap + moved) / _MM for gap in gap_curve(new, table, share, k)),
    )


def _lift(train: ValveTrain, table: LiftTable, angle: float) -> float:
    return max(0.0, train.rocker_ratio * table.lift(angle + train.advance) - train.lash)
