"""The invented minibike with what a plan needs: rod, cam, lift tables, a clay reading."""

from __future__ import annotations

import math

from core.bench import ClayOnFile, LiftTables, TableOnFile
from core.engine import ClayReading, ClayState, LiftTable
from core.setup import Sheet
from tests.core.setup.making import MOTH, NOON, sheet_of

__all__ = ["CLAY", "SHEET", "TABLES", "clay", "lift_table"]

MM = 1e-3

SHEET = Sheet(
    readings=MOTH.readings
    | sheet_of(
        rod_length="84",
        cam="moth",
        cam_centre="104",
        engine_block="block one",
        crank="stock crank",
        piston="stock piston",
        piston_pin_height="30",
        head="head one",
        head_gasket="gasket 1.1",
        springs="stock springs",
        retainer_margin="2.0",
        governor="removed",
    ).readings
)


def lift_table(centre: float, rows: int = 171, highest: float = 5.8) -> LiftTable:
    """Return a made-up lobe of 300 degrees, read at so many rows."""
    step = 340 / (rows - 1)
    angles = tuple(centre - 170 + step * i for i in range(rows))
    lifts = (
        highest * math.cos(math.pi * (a - centre) / 300) ** 2 if abs(a - centre) < 150 else 0.0
        for a in angles
    )
    return LiftTable(angles, tuple(round(lift, 4) * MM for lift in lifts))


def clay(
    intake: float | ClayReading | None = 3.5,
    exhaust: float | ClayReading | None = 3.0,
    sheet: Sheet = SHEET,
    *,
    own: float | None = 1.5,
    tight: float | None = None,
    lash_zero: bool = True,
) -> ClayOnFile:
    """Return a clay reading on file; a number is the thinnest clay, mm."""
    sides = [
        ClayReading(ClayState.TOUCHED, side * MM) if isinstance(side, float) else side
        for side in (intake, exhaust)
    ]
    return ClayOnFile(
        sides[0], sides[1], sheet, NOON, "check", lash_zero=lash_zero, own=own,
        tight_lift=(tight, tight),
    )  # fmt: skip


CLAY = clay()
TABLES = LiftTables(
    TableOnFile(lift_table(104), 104.0, NOON), TableOnFile(lift_table(-108), 104.0, NOON)
)
